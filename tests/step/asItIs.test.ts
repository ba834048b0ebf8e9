/** Parts unfolded as they are, against the direct solve, and parts that are no sheet. */
import { describe, expect, it } from 'vitest';
import { distanceToPiece, pointOnPiece } from '../../src/outline/arc.ts';
import type { Path } from '../../src/outline/path.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { developPart } from '../../src/step/asItIs/developPart.ts';
import { flatten } from '../../src/step/asItIs/flatten.ts';
import { factorSkyline } from '../../src/step/asItIs/skyline.ts';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { kernel, withLivePart } from './kernel.ts';
import { demo } from './trays.ts';

const TIME = 120_000;
const GIVEN = {
  name: 'part',
  material: 'DC04',
  grain: 0,
  thickness: null,
  trim: 0,
  cut: { process: 'laser', kerf: 0, compensate: false },
} as const;

/** Largest distance of one closed path from another, mm. */
function farthest(from: Path, to: Path): number {
  const count = to.vertices.length;
  let most = 0;
  from.vertices.forEach((vertex, i) => {
    for (const share of [0, 0.25, 0.5, 0.75]) {
      const p = pointOnPiece(vertex, from.vertices[(i + 1) % from.vertices.length]!, share);
      const nearest = Math.min(
        ...to.vertices.map((other, j) => distanceToPiece(p.x, p.y, other, to.vertices[(j + 1) % count]!)),
      );
      most = Math.max(most, nearest);
    }
  });
  return most;
}

describe('a formed tray unfolded as it is', () => {
  it.each(['propagator-drip-tray', 'seed-bench-drip-tray'])(
    '%s has the outline of the direct solve within 0.1 mm',
    async (name) => {
      const spec = demo(name);
      const direct = developTray(spec);
      const pattern = await withLivePart(writeFormedSolid(spec, name, 'AP214'), (live) =>
        developPart(live, { ...GIVEN, material: spec.sheet.material as string, grain: spec.sheet.grain }),
      );
      expect(farthest(pattern.rim, direct.rim)).toBeLessThan(0.1);
      expect(farthest(direct.rim, pattern.rim)).toBeLessThan(0.1);
      expect(pattern.sheet.thickness).toBeCloseTo(spec.sheet.thickness, 6);
      expect(Math.abs(pattern.report.thickness.max - direct.report.thickness.max)).toBeLessThan(0.02);
      // Every triangle of the blank lies the right way round.
      const { flat, triangles } = pattern.field;
      for (let t = 0; t < triangles.length; t += 6) {
        const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
        const area =
          (flat[2 * b]! - flat[2 * a]!) * (flat[2 * c + 1]! - flat[2 * a + 1]!) -
          (flat[2 * b + 1]! - flat[2 * a + 1]!) * (flat[2 * c]! - flat[2 * a]!);
        expect(area).toBeGreaterThan(0);
      }
    },
    TIME,
  );
});

describe('a part that is no one sheet is refused in a sentence', () => {
  const refused = async (make: (k: Awaited<ReturnType<typeof kernel>>) => unknown): Promise<string> => {
    const k = await kernel();
    const writer = new k.STEPControl_Writer_1();
    writer.Transfer(make(k), k.STEPControl_StepModelType.STEPControl_AsIs, true);
    writer.Write('o.stp');
    const bytes: Uint8Array = k.FS.readFile('/o.stp');
    k.FS.unlink('/o.stp');
    try {
      await withLivePart(bytes, (live) => developPart(live, GIVEN));
    } catch (error) {
      return (error as Error).message;
    }
    return 'accepted';
  };

  it(
    'a block, a ball, two solids, a surface without a thickness',
    async () => {
      expect(await refused((k) => new k.BRepPrimAPI_MakeBox_1(100, 80, 30).Shape())).toMatch(/skin|edges/);
      expect(await refused((k) => new k.BRepPrimAPI_MakeSphere_1(50).Shape())).toMatch(/skins/);
      expect(
        await refused((k) => {
          const both = new k.TopoDS_Compound();
          const builder = new k.BRep_Builder();
          builder.MakeCompound(both);
          builder.Add(both, new k.BRepPrimAPI_MakeBox_1(100, 80, 30).Shape());
          builder.Add(both, new k.BRepPrimAPI_MakeBox_2(new k.gp_Pnt_3(200, 0, 0), 100, 80, 30).Shape());
          return both;
        }),
      ).toMatch(/2 solids/);
      expect(
        await refused((k) => {
          const plane = new k.gp_Pln_3(new k.gp_Pnt_3(0, 0, 0), new k.gp_Dir_4(0, 0, 1));
          return new k.BRepBuilderAPI_MakeFace_9(plane, 0, 100, 0, 80).Shape();
        }),
      ).toMatch(/--thickness/);
    },
    TIME,
  );
});

describe('the first flat shape', () => {
  it('of a cone is the sector that rolls up into it', () => {
    // A quarter of a cone's side with slant 100 and half-angle 30°: a flat sector of the same slant, developable.
    const position: number[] = [];
    const normals: number[] = [];
    const triangles: number[] = [];
    const [rows, columns] = [8, 12];
    for (let i = 0; i <= rows; i++) {
      for (let j = 0; j <= columns; j++) {
        const slant = 40 + (60 * i) / rows;
        const angle = (Math.PI * j) / columns / 2;
        position.push(
          0.5 * slant * Math.cos(angle),
          0.5 * slant * Math.sin(angle),
          slant * Math.cos(Math.PI / 6),
        );
        normals.push(Math.cos(Math.PI / 6) * Math.cos(angle), Math.cos(Math.PI / 6) * Math.sin(angle), -0.5);
        if (i === rows || j === columns) continue;
        const at = i * (columns + 1) + j;
        triangles.push(at, at + columns + 1, at + 1, at + 1, at + columns + 1, at + columns + 2);
      }
    }
    const at = (i: number, j: number): number => i * (columns + 1) + j;
    const loop = [
      ...Array.from({ length: rows }, (_, i) => at(i, 0)),
      ...Array.from({ length: columns }, (_, j) => at(rows, j)),
      ...Array.from({ length: rows }, (_, i) => at(rows - i, columns)),
      ...Array.from({ length: columns }, (_, j) => at(0, columns - j)),
    ];
    const flat = flatten(position, triangles, [loop], Float64Array.from(normals));
    const apart = (p: number, q: number): number =>
      Math.hypot(flat[2 * p]! - flat[2 * q]!, flat[2 * p + 1]! - flat[2 * q + 1]!);
    // Sector angle: 90° · sin 30° = 45°; chord of the outer arc 2·100·sin 22.5°.
    expect(apart(at(rows, 0), at(rows, columns))).toBeCloseTo(200 * Math.sin(Math.PI / 8), 0);
    expect(apart(at(0, 0), at(rows, 0))).toBeCloseTo(60, 0);
  });
});

it('the envelope factor solves what it was given', () => {
  // A ring with chords, diagonally dominant; the right-hand side is made from a known solution.
  const count = 40;
  const entries: [number, number, number][] = [];
  for (let i = 0; i < count; i++) entries.push([i, (i + 1) % count, -1], [i, (i + 7) % count, -0.5]);
  const diagonal = new Float64Array(count).fill(3.5);
  const x = Float64Array.from({ length: count }, (_, i) => Math.sin(3 * i));
  const b = diagonal.map((d, i) => d * x[i]!);
  for (const [i, j, value] of entries) {
    b[i] = b[i]! + value * x[j]!;
    b[j] = b[j]! + value * x[i]!;
  }
  factorSkyline(count, entries, diagonal).solve(b);
  expect(Math.max(...b.map((value, i) => Math.abs(value - x[i]!)))).toBeLessThan(1e-12);
});

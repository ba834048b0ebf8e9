import { describe, expect, it } from 'vitest';
import type { PartMesh } from '../../../src/step/freeForm/partMesh.ts';
import { PLACED_SIZE } from '../../../src/tray/neutralSurface.ts';
import { meshed } from './meshed.ts';
import { bend, folded } from './patches.ts';

const [BASE, RADIUS, WALL, WIDTH, DEPTH] = [20, 8, 15, 30, 0.5];
const ARC = (Math.PI / 2) * RADIUS;
/** A base, a bend and a wall, the skin half a millimetre inside the sheet's middle. */
const BENT = meshed(bend([BASE, WALL], RADIUS, WIDTH), { depth: DEPTH });
/** A plate with a square hole in it. */
const [plate] = folded([[40, 0]], 30, 6);
const HOLED = meshed([{ ...plate!, hole: { u: [2, 4], v: [1, 3] } }]);

const SIZES = [12, 5] as const;

/** Owners of each edge, by its middle node. */
function owners({ mesh: { triangles } }: PartMesh): Map<number, { from: number; to: number }[]> {
  const out = new Map<number, { from: number; to: number }[]>();
  for (let t = 0; t < triangles.length; t += 6)
    for (let e = 0; e < 3; e++) {
      const own = { from: triangles[t + e]!, to: triangles[t + ((e + 1) % 3)]! };
      const middle = triangles[t + 3 + e]!;
      out.set(middle, [...(out.get(middle) ?? []), own]);
    }
  return out;
}

const areaOf = (nodes: ArrayLike<number>, start: Float64Array): number =>
  Array.from(nodes).reduce((sum, node, i) => {
    const next = nodes[(i + 1) % nodes.length]!;
    return sum + (start[2 * node]! * start[2 * next + 1]! - start[2 * next]! * start[2 * node + 1]!) / 2;
  }, 0);

describe.each([
  ['a bend', BENT, (BASE + ARC + WALL) * WIDTH, 0],
  ['a plate with a hole', HOLED, 40 * 30 - (40 / 3) * 10, 1],
])('the triangles of %s', (_, sheet, area, holes) => {
  it.each(SIZES)('cover it once, of a size of %s mm', (size) => {
    const part = sheet.mesh(size);
    const { triangles } = part.mesh;
    let sum = 0;
    for (let t = 0; t < triangles.length; t += 6) {
      const own = areaOf(triangles.subarray(t, t + 3), part.start);
      expect(own).toBeGreaterThan(0);
      sum += own;
    }
    expect(sum).toBeCloseTo(area, 6);
    const edges = owners(part);
    for (const [first, second] of edges.values())
      if (second !== undefined) expect(second).toEqual({ from: first!.to, to: first!.from });
    // Euler's formula, of a disc with holes.
    const vertices = new Set([...edges.values()].flat().flatMap(({ from, to }) => [from, to]));
    expect(vertices.size - edges.size + triangles.length / 6).toBe(1 - holes);
    expect(part.mesh.nodeCount).toBe(vertices.size + edges.size);
  });

  it('end in loops of free edges, each once: the rim counter-clockwise, holes clockwise', () => {
    const part = sheet.mesh(5);
    expect(part.holes).toHaveLength(holes);
    const free = new Map([...owners(part)].filter(([, uses]) => uses.length === 1));
    for (const loop of [part.mesh.rim, ...part.holes]) {
      for (let i = 1; i < loop.length; i += 2) {
        expect(free.get(loop[i]!)).toEqual([{ from: loop[i - 1], to: loop[(i + 1) % loop.length] }]);
        free.delete(loop[i]!);
      }
    }
    expect(free.size).toBe(0);
    expect(areaOf(part.mesh.rim, part.start)).toBeGreaterThan(0);
    for (const hole of part.holes) expect(areaOf(hole, part.start)).toBeCloseTo((-40 / 3) * 10, 6);
  });

  it('are as large as is asked for, along the edges', () => {
    const { mesh, start } = sheet.mesh(5);
    for (let i = 0; i < mesh.rim.length; i += 2) {
      const [a, b] = [mesh.rim[i]!, mesh.rim[(i + 2) % mesh.rim.length]!];
      const length = Math.hypot(start[2 * b]! - start[2 * a]!, start[2 * b + 1]! - start[2 * a + 1]!);
      expect(length).toBeGreaterThan(5 / 1.5);
      expect(length).toBeLessThan(5 * 1.5);
    }
  });
});

describe.each(SIZES)('on the sheet of a bend, with triangles of %s mm', (size) => {
  const part = BENT.mesh(size);
  const { mesh, start, places } = part;
  const nodes = Array.from({ length: mesh.nodeCount }, (_, node) => node);
  /** Length along the skin's section, from the end of the base. */
  const lengthOf = (node: number): number => start[2 * node]! - BASE;

  it('every node lies in the middle of the sheet, where its flat point is', () => {
    for (const node of nodes) {
      const [x, y, z] = mesh.placed.slice(PLACED_SIZE * node, PLACED_SIZE * node + 3) as unknown as [
        number,
        number,
        number,
      ];
      const s = lengthOf(node);
      // The skin is the inside: the middle's radius is larger, the base's middle is z = 0.
      const angle = Math.max(0, Math.min(ARC, s)) / RADIUS;
      const above = Math.max(0, s - ARC);
      expect(y).toBeCloseTo(start[2 * node + 1]!, 9);
      expect(x).toBeCloseTo(BASE + Math.min(0, s) + (RADIUS + DEPTH) * Math.sin(angle), 6);
      expect(z).toBeCloseTo((RADIUS + DEPTH) * (1 - Math.cos(angle)) + above, 6);
    }
  });

  it('every node knows its place on each face it lies on', () => {
    const counts = new Set<number>();
    for (const node of nodes) {
      const s = lengthOf(node);
      const faces = [
        [0, s + BASE, s < 1e-6],
        [1, s, s > -1e-6 && s < ARC + 1e-6],
        [2, s - ARC, s > ARC - 1e-6],
      ] as const;
      const expected = faces.filter(([, , on]) => on);
      counts.add(expected.length);
      const own = [...places[node]!].sort((a, b) => a.face - b.face);
      expect(own.map(({ face }) => face)).toEqual(expected.map(([face]) => face));
      for (const [i, { u, v }] of own.entries()) {
        expect(u).toBeCloseTo(expected[i]![1], 6);
        expect(v).toBeCloseTo(start[2 * node + 1]!, 6);
      }
    }
    expect(counts).toEqual(new Set([1, 2]));
  });

  it('the borders of the bend are edges of the mesh, the lower face on the left', () => {
    for (const [number, s] of [
      [0, 0],
      [1, ARC],
    ] as const) {
      const own = part.borders.filter(({ border }) => border === BENT.jumps[number]);
      let width = 0;
      for (const { nodes: edge } of own) {
        for (const node of edge) expect(lengthOf(node)).toBeCloseTo(s, 6);
        const [from, middle, to] = edge.map((node) => start[2 * node + 1]!) as [number, number, number];
        // The lower face is nearer to the base, so that it lies on the left of what runs along y.
        expect(to).toBeGreaterThan(from);
        expect(middle).toBeCloseTo((from + to) / 2, 6);
        width += to - from;
      }
      expect(width).toBeCloseTo(WIDTH, 6);
    }
  });

  it('the base is what lies in its plane, and is held along x and y', () => {
    let area = 0;
    for (const [t, level] of mesh.base.entries()) {
      const own = mesh.triangles.subarray(6 * t, 6 * t + 6);
      expect(level === 1).toBe(own.every((node) => lengthOf(node) < 1e-6));
      if (level === 0) continue;
      area += areaOf(own.subarray(0, 3), start);
      for (const node of own)
        expect([...mesh.placed.slice(PLACED_SIZE * node + 3, PLACED_SIZE * node + 9)]).toEqual([
          1, 0, 0, 0, 1, 0,
        ]);
    }
    expect(area).toBeCloseTo(BASE * WIDTH, 6);
  });
});

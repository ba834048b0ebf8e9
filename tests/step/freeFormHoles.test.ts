/**
 * Holes drilled through the corners of a tub by the geometry kernel, which a sheet is solved without: their cover goes on
 * where their faces go on, and the blank with a hole in it is the blank without.
 */
import { describe, expect, it } from 'vitest';
import { pathArea, pathBounds } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { FlatFinder } from '../../src/pattern/flatFinder.ts';
import { rimEdges } from '../../src/step/freeForm/boundaryEdges.ts';
import { developPart, type PartPattern } from '../../src/step/freeForm/developPart.ts';
import { fillHoles } from '../../src/step/freeForm/filledHoles.ts';
import { boundaryLoops, edgeMap } from '../../src/step/freeForm/skinMesh.ts';
import { findSkin } from '../../src/step/freeForm/skins.ts';
import { trayFrame } from '../../src/step/freeForm/trayFrame.ts';
import type { Bound } from '../../src/step/occt/instance.ts';
import { randomNumbers } from '../support/drawnTrays.ts';
import { LONG } from '../support/long.ts';
import { cut, cylinder, shelledBox } from './foreignParts.ts';
import { COARSE, GIVEN } from './given.ts';
import { withLivePart } from './occt.ts';
import { writtenPart } from './parts.ts';

const T = 1;
const [A, B, H, PLAN, BOTTOM] = [120, 90, 26, 34, 10];

/** How far inside the plan's outline a point is, mm. */
function depthIn(x: number, y: number): number {
  const [px, py] = [Math.abs(x - A / 2) - (A / 2 - PLAN), Math.abs(y - B / 2) - (B / 2 - PLAN)];
  if (px > 0 && py > 0) return PLAN - Math.hypot(px, py);
  return PLAN - Math.max(px, py);
}

/** How far a point is from the inside of the tub without a hole, mm. */
function offTub(x: number, y: number, z: number): number {
  const d = depthIn(x, y);
  if (d >= BOTTOM) return Math.abs(z - T);
  if (z >= BOTTOM) return Math.abs(d - T);
  return Math.abs(Math.hypot(BOTTOM - d, BOTTOM - z) - (BOTTOM - T));
}

/** A drill of radius `r` through the wall at a height, level and square to the outline; `turn` is where round the corner. */
const drilled =
  (turn: number, z: number, r: number) =>
  (k: Bound): Bound => {
    const [dx, dy] = [Math.cos(turn), Math.sin(turn)];
    const from = [A - PLAN + (PLAN - 15) * dx, B - PLAN + (PLAN - 15) * dy, z];
    return cut(k, shelledBox(k, [A, B, H], PLAN, BOTTOM, T), cylinder(k, from, [dx, dy, 0], r, 30));
  };

// By default `freeForm/filledHoles.test.ts` says the same of skins that need no geometry kernel.
describe.runIf(LONG)('the cover of a hole', () => {
  it('closes it with triangles on the surface that it was cut in, over one face, two or three', async () => {
    const random = randomNumbers(20261);
    const faces = new Set<number>();
    const kinds = { filled: 0, left: 0 };
    for (let i = 0; i < 60; i++) {
      const [turn, z, r] = [random() * 1.57, 6 + 12 * random(), 1 + 3 * random()];
      await withLivePart(await writtenPart(drilled(turn, z, r)), (live) => {
        const skin = findSkin(live, null);
        const { mesh } = skin;
        const [vertices, triangles] = [mesh.position.length / 3, mesh.face.length];
        expect(boundaryLoops(mesh)).toHaveLength(2);
        const { holes } = fillHoles(live, skin, new Set());
        if (holes.length === 0) {
          kinds.left++;
          expect([vertices, triangles]).toEqual([mesh.position.length / 3, mesh.face.length]);
          return;
        }
        kinds.filled++;
        faces.add(new Set(mesh.face.slice(triangles)).size);
        const said = `turn ${turn}, z ${z}, r ${r}`;
        expect(boundaryLoops(mesh), said).toHaveLength(1);
        const edges = edgeMap(mesh.triangles, mesh.position.length / 3);
        expect(Math.max(...[...edges.values()].map(({ length }) => length))).toBe(2);
        for (let v = vertices; v < mesh.position.length / 3; v++) {
          const [x, y, w] = mesh.position.slice(3 * v, 3 * v + 3) as [number, number, number];
          expect(offTub(x, y, w), said).toBeLessThan(1e-6);
        }
        // The hole's edge on the middle of the sheet, half a thickness from the inside.
        for (const [x, y, w] of holes[0]!.points) {
          expect(Math.abs(offTub(x, y, w) - T / 2), said).toBeLessThan(1e-3);
        }
        // As large as the hole on the drill's own plane, and larger for lying aslant.
        let cover = 0;
        for (let t = triangles; t < mesh.face.length; t++) {
          const [p, q, s] = [0, 1, 2].map((k) => {
            const vertex = mesh.triangles[3 * t + k]!;
            return mesh.position.slice(3 * vertex, 3 * vertex + 3);
          }) as [number[], number[], number[]];
          const along = (v: number[]): [number, number] => [
            -Math.sin(turn) * v[0]! + Math.cos(turn) * v[1]!,
            v[2]!,
          ];
          const [a, b, c] = [along(p), along(q), along(s)];
          cover += Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2;
        }
        expect(Math.abs(cover / (Math.PI * r * r) - 1), said).toBeLessThan(0.02);
      });
    }
    expect(faces.has(1) && faces.has(2)).toBe(true);
    expect(kinds.filled).toBeGreaterThan(kinds.left);
  });
});

it('a hole close under the rim is no part of the rim, which keeps its eight edges', async () => {
  const random = randomNumbers(20263);
  for (let i = 0; i < (LONG ? 40 : 3); i++) {
    const [turn, r] = [0.5 + 0.6 * random(), 1 + 2 * random()];
    const z = H - r - 0.3 - 2 * random();
    await withLivePart(await writtenPart(drilled(turn, z, r)), (live) => {
      const skin = findSkin(live, null);
      const edges = rimEdges(live, skin, boundaryLoops(skin.mesh));
      expect(edges, `turn ${turn}, z ${z}, r ${r}`).toHaveLength(8);
      for (const edge of edges)
        for (let k = 2; k < live.part.edges[edge]!.samples.length; k += 3)
          expect(live.part.edges[edge]!.samples[k]).toBeCloseTo(H, 6);
    });
  }
});

/** The pattern, and the place of a point of the part's own space in its blank. */
async function solved(
  make: (k: Bound) => Bound,
): Promise<{ pattern: PartPattern; at: (point: readonly number[]) => { x: number; y: number } }> {
  return withLivePart(await writtenPart(make), (live) => {
    const pattern = flatPatternOf(developPart(live, GIVEN, COARSE));
    const { axes, origin } = trayFrame(live, findSkin(live, null));
    const finder = new FlatFinder(pattern.field);
    return {
      pattern,
      at: (point) =>
        finder.find(
          axes.map((axis) => axis.reduce((sum, value, i) => sum + value * (point[i]! - origin[i]!), 0)) as [
            number,
            number,
            number,
          ],
        ),
    };
  });
}

describe('a hole in the gathered wall of a corner', () => {
  it('in one face and over two gives the blank of the tray without it, a hole in its place, and a warning', async () => {
    const plain = await solved((k) => shelledBox(k, [A, B, H], PLAN, BOTTOM, T));
    const size = pathBounds(plain.pattern.rim);
    for (const z of [19, BOTTOM]) {
      const { pattern } = await solved(drilled(Math.PI / 4, z, 2));
      const own = pathBounds(pattern.rim);
      for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const) {
        expect(Math.abs(own[side] - size[side]), `${z} ${side}`).toBeLessThan(0.1);
      }
      expect(Math.abs(pathArea(pattern.rim) / pathArea(plain.pattern.rim) - 1)).toBeLessThan(2e-3);
      expect(pattern.holes).toHaveLength(1);
      const out = Math.SQRT1_2 * (PLAN - T / 2);
      const centre = plain.at([A - PLAN + out, B - PLAN + out, z]);
      const hole = pathBounds(pattern.holes[0]!.path);
      const away = Math.hypot((hole.minX + hole.maxX) / 2 - centre.x, (hole.minY + hole.maxY) / 2 - centre.y);
      expect(away, `z ${z}`).toBeLessThan(0.5);
      expect(JSON.stringify(pattern.report.warnings)).toMatch(/strain|distort/i);
    }
  });
});

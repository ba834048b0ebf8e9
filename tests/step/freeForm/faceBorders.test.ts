/** Where the curvature of a skin jumps, by sections in closed form; and edges in the order in which they follow each other. */
import { describe, expect, it } from 'vitest';
import {
  type Border,
  borderChains,
  borderLength,
  faceBorders,
} from '../../../src/step/freeForm/faceBorders.ts';
import { bend, extruded, livePart, type Patch, plane, roundDish, skinOf } from './patches.ts';

describe('borders of faces', () => {
  const R = 6;

  it('are the two lines at which a bend begins and ends, whole, with one over its radius on its side', () => {
    const live = livePart(bend([20, 15], R, 30));
    const skin = skinOf(live);
    const found = faceBorders(live, skin);
    expect(found).toHaveLength(2);
    for (const { borders } of found)
      expect(borders.reduce((sum, border) => sum + borderLength(skin, border), 0)).toBeCloseTo(30, 9);
    const [start, end] = found.map(({ curvatures }) => curvatures);
    expect(start![0]).toBeCloseTo(0, 12);
    expect(start![1]).toBeCloseTo(1 / R, 12);
    expect(end![0]).toBeCloseTo(1 / R, 12);
    expect(end![1]).toBeCloseTo(0, 12);
    // Each edge starts in the triangles at the corners that are told, the one of the lower number first.
    const { triangles, face } = skin.mesh;
    for (const { from, to, sides } of found.flatMap(({ borders }) => borders)) {
      const [[t, k], [s, l]] = sides as readonly [readonly [number, number], readonly [number, number]];
      expect(face[t]).toBeLessThan(face[s]!);
      expect([triangles[3 * t + k], triangles[3 * t + ((k + 1) % 3)]]).toEqual([from, to]);
      expect([triangles[3 * s + l], triangles[3 * s + ((l + 1) % 3)]]).toEqual([to, from]);
    }
  });

  it('have the other sign where the skin is seen from behind', () => {
    const live = livePart(bend([20, 15], R, 30));
    const [start] = faceBorders(live, skinOf(live, { turned: true }));
    expect(start!.curvatures[1]).toBeCloseTo(-1 / R, 12);
  });

  it('have the curvature across the border, not the largest: that of a torus along its circles is not told', () => {
    const live = livePart(roundDish(5, 20, R, 10));
    const found = faceBorders(live, skinOf(live));
    // Ring to bend, and bend to the wall, which is round too, but level.
    expect(found).toHaveLength(2);
    expect(found[0]!.curvatures[0]).toBeCloseTo(0, 12);
    expect(found[1]!.curvatures[0]).toBeCloseTo(1 / R, 3);
    expect(found[1]!.curvatures[1]).toBeCloseTo(0, 3);
  });

  it('are none in a plane, none in one cylinder, none where the curvature hardly changes, and none where it is slight', () => {
    const sheet = (curvatures: readonly [number, number]): number => {
      const faces = curvatures.map((curvature, i): Patch => {
        const surface = extruded({ x: 0, z: 0, angle: 0, curvature });
        return { surface, u: i === 0 ? [-10, 0] : [0, 10], v: [0, 20], cells: [2, 3] };
      });
      const live = livePart(faces);
      return faceBorders(live, skinOf(live)).length;
    };
    const size = Math.sqrt(400 / 2);
    expect(sheet([0, 0])).toBe(0);
    expect(sheet([0.1, 0.1])).toBe(0);
    expect(sheet([0.1, 0.096])).toBe(0);
    expect(sheet([0.1, 0.09])).toBe(1);
    expect(sheet([0.1, -0.1])).toBe(1);
    // Twenty times the part's size is the largest radius.
    expect(sheet([0, 1 / (22 * size)])).toBe(0);
    expect(sheet([0, 1 / (18 * size)])).toBe(1);
  });

  it('are no free edges', () => {
    const live = livePart([
      { surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]), u: [0, 1], v: [0, 1], cells: [2, 2] },
    ]);
    expect(faceBorders(live, skinOf(live))).toEqual([]);
  });
});

describe('chains of edges', () => {
  const edge = (from: number, to: number): Border => ({ from, to, sides: [] });
  /** Vertices in the order in which a chain passes them. */
  const passed = (borders: readonly Border[]): { closed: boolean; vertices: number[] }[] =>
    borderChains(borders).map(({ steps, closed }) => {
      const ways = steps.map(({ border: { from, to }, forward }) => (forward ? [from, to] : [to, from]));
      for (const [i, way] of ways.entries()) if (i > 0) expect(way[0]).toBe(ways[i - 1]![1]);
      return { closed, vertices: [ways[0]![0]!, ...ways.map((way) => way[1]!)] };
    });

  it('pass each edge once, whichever way it is given', () => {
    expect(passed([edge(3, 2), edge(0, 1), edge(3, 4), edge(1, 2)])).toEqual([
      { closed: false, vertices: [0, 1, 2, 3, 4] },
    ]);
  });

  it('come back where they are closed', () => {
    expect(passed([edge(5, 6), edge(7, 6), edge(7, 5)])).toEqual([{ closed: true, vertices: [5, 6, 7, 5] }]);
  });

  it('stop where three meet', () => {
    const found = passed([edge(0, 1), edge(1, 2), edge(3, 1), edge(2, 4)]);
    expect(found.map(({ closed }) => closed)).toEqual([false, false, false]);
    expect(found.map(({ vertices }) => vertices.length).sort()).toEqual([2, 2, 3]);
    for (const { vertices } of found) expect([vertices[0], vertices.at(-1)]).toContain(1);
  });

  it('run round a dish', () => {
    const live = livePart(roundDish(5, 20, 6, 10));
    for (const { borders } of faceBorders(live, skinOf(live))) {
      const [chain, ...others] = borderChains(borders);
      expect(others).toEqual([]);
      expect(chain!.closed).toBe(true);
      expect(chain!.steps).toHaveLength(12);
    }
  });
});

/** The boundary of a skin by the part's edges: closed loops, the rim apart from holes, and where it turns. */
import { describe, expect, it } from 'vitest';
import type { Vector3 } from '../../../src/geometry/vector3.ts';
import { boundaryBreaks, boundaryEdges, rimEdges } from '../../../src/step/freeForm/boundaryEdges.ts';
import { boundaryLoops } from '../../../src/step/freeForm/skinMesh.ts';
import type { LivePart } from '../../../src/step/occt/livePart.ts';
import { EDGE_SAMPLES } from '../../../src/step/part.ts';
import { bend, livePart, openBox, type Patch, plane, revolved, skinOf, vertexAt } from './patches.ts';

const LAST = 3 * (EDGE_SAMPLES - 1);

const heights = (live: LivePart, edges: readonly number[]): number[] =>
  edges.flatMap((edge) => Array.from(live.part.edges[edge]!.samples.filter((_, i) => i % 3 === 2)));

/** Times that edges begin or end at each place. */
function endsAt(live: LivePart, edges: readonly number[]): Map<string, number> {
  const out = new Map<string, number>();
  for (const edge of edges)
    for (const from of [0, LAST]) {
      const key = Array.from(live.part.edges[edge]!.samples.slice(from, from + 3), (x) =>
        x.toFixed(6),
      ).join();
      out.set(key, (out.get(key) ?? 0) + 1);
    }
  return out;
}

/** A box with a square hole in its base. */
function holedBox(): LivePart {
  const [base, ...walls] = openBox(40, 30, 10, 4);
  return livePart([{ ...base!, hole: { u: [1, 3], v: [1, 3] } }, ...walls]);
}

/** A tube that stands upright, in some faces round it: one has a seam. */
const tube = (faces = 1): LivePart =>
  livePart(
    Array.from({ length: faces }, (_, i) => ({
      surface: revolved({ x: 10, z: 0, angle: Math.PI / 2, curvature: 0 }),
      u: [0, 25] as const,
      v: [(2 * Math.PI * i) / faces, (2 * Math.PI * (i + 1)) / faces] as const,
      cells: [3, 12] as const,
    })),
  );

describe('the edges of a boundary', () => {
  it('form closed loops, each edge once', () => {
    const live = holedBox();
    const edges = boundaryEdges(live, skinOf(live));
    expect(edges).toHaveLength(8);
    expect(new Set(edges).size).toBe(8);
    const ends = endsAt(live, edges);
    expect(ends.size).toBe(8);
    expect(new Set(ends.values())).toEqual(new Set([2]));
  });

  it('are not the seam at which a face meets itself', () => {
    const live = tube();
    expect(live.part.edges).toHaveLength(3);
    const edges = boundaryEdges(live, skinOf(live));
    expect(edges).toHaveLength(2);
    expect(new Set(heights(live, edges).map(Math.round))).toEqual(new Set([0, 25]));
  });

  it('are those of the faces in the skin alone', () => {
    const live = livePart(openBox(40, 30, 10));
    const skin = skinOf(live, {}, new Set([0, 1]));
    expect(boundaryEdges(live, skin)).toHaveLength(6);
  });
});

it('the rim is the longest loop and none of the hole’s edges', () => {
  const live = holedBox();
  const skin = skinOf(live);
  const rim = rimEdges(live, skin, boundaryLoops(skin.mesh));
  expect(rim).toHaveLength(4);
  expect(new Set(heights(live, rim))).toEqual(new Set([10]));
});

describe('a boundary breaks', () => {
  const breaks = (live: LivePart): { found: number[]; at: (point: Vector3) => number } => {
    const skin = skinOf(live);
    const found = boundaryBreaks(live, skin, boundaryLoops(skin.mesh));
    return {
      found: [...found].sort((a, b) => a - b),
      at: (point) => vertexAt(skin.mesh, point),
    };
  };
  const sorted = (list: number[]): number[] => list.sort((a, b) => a - b);

  it('at the corners of a bent strip, and not where its arcs go on as lines', () => {
    const { found, at } = breaks(livePart(bend([20, 15], 6, 30)));
    const corners: Vector3[] = [0, 30].flatMap((y): Vector3[] => [
      [0, y, 0],
      [26, y, 21],
    ]);
    expect(found).toEqual(sorted(corners.map(at)));
  });

  it('at the corners of a rim and of a hole', () => {
    const { found, at } = breaks(holedBox());
    const corners: Vector3[] = [-1, 1].flatMap((i) =>
      [-1, 1].flatMap((j): Vector3[] => [
        [i * 20, j * 15, 10],
        [i * 10, j * 7.5, 0],
      ]),
    );
    expect(found).toEqual(sorted(corners.map(at)));
  });

  it.each([1, 2, 3])('nowhere on a circle of %s edges', (faces) => {
    expect(breaks(tube(faces)).found).toEqual([]);
  });

  it.each([
    [0.005, false],
    [0.02, true],
    [-0.02, true],
  ])('where two straight edges meet at %s rad: %s', (turn, expected) => {
    const face = (along: Vector3): Patch => ({
      surface: plane([0, 0, 0], along, [0, 1, 0]),
      u: [0, 10],
      v: [0, 10],
      cells: [2, 2],
    });
    const right = face([Math.cos(turn), Math.sin(turn), 0]);
    const { found, at } = breaks(livePart([{ ...face([1, 0, 0]), u: [-10, 0] }, right]));
    for (const y of [0, 10]) expect(found.includes(at([0, y, 0]))).toBe(expected);
    expect(found).toHaveLength(expected ? 6 : 4);
  });
});

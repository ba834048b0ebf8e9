import { describe, expect, it } from 'vitest';
import { bendKinds } from '../../../src/step/freeForm/bendLines.ts';
import { type FaceBorder, faceBorders } from '../../../src/step/freeForm/faceBorders.ts';
import type { Skin } from '../../../src/step/freeForm/skin.ts';
import { edgeMap } from '../../../src/step/freeForm/skinMesh.ts';
import { bend, extruded, folded, laidOut, livePart, plane, skinOf } from './patches.ts';

/** The border of two faces of a skin, with curvatures that are given. */
function borderOf(
  { mesh }: Skin,
  lower: number,
  upper: number,
  curvatures: FaceBorder['curvatures'],
): FaceBorder {
  const { triangles, face, position } = mesh;
  const borders = [...edgeMap(triangles, position.length / 3).values()].flatMap((uses) => {
    const sides = uses
      .map((use) => [Math.floor(use / 3), use % 3] as const)
      .sort(([t], [s]) => face[t]! - face[s]!);
    if (sides.map(([t]) => face[t]).join() !== `${lower},${upper}`) return [];
    const [t, k] = sides[0]!;
    return [{ from: triangles[3 * t + k]!, to: triangles[3 * t + ((k + 1) % 3)]!, sides }];
  });
  return { borders, curvatures };
}

/** Base, bend up, wall, bend down, lip. */
const TRAY = folded(
  [
    [20, 0],
    [9, 1 / 6],
    [12, 0],
    [8, -1 / 5],
    [10, 0],
  ],
  30,
);

describe('where bends begin and end', () => {
  it('is told outwards from the base, whichever numbers the faces have', () => {
    for (const turnedRound of [false, true]) {
      // The faces the other way round have the base last, and each border's first side farther out.
      const patches = turnedRound ? [...TRAY].reverse() : TRAY;
      const live = livePart(patches);
      const skin = skinOf(live);
      const flat = laidOut(skin, patches, TRAY);
      const fromBase = ({ borders }: FaceBorder): number => flat[2 * borders[0]!.from]!;
      const found = [...faceBorders(live, skin)].sort((a, b) => fromBase(a) - fromBase(b));
      expect(bendKinds(skin, flat, turnedRound ? 4 : 0, found)).toEqual(
        ['bend-begin', 'bend-end', 'bend-begin', 'bend-end'].map((kind) => ({
          kind,
          insideFirst: !turnedRound,
        })),
      );
    }
  });

  it('from one bend into another is a beginning: the farther one is not straight', () => {
    const patches = folded(
      [
        [20, 0],
        [5, 1 / 6],
        [5, -1 / 6],
      ],
      30,
    );
    const live = livePart(patches);
    const skin = skinOf(live);
    const kinds = bendKinds(skin, laidOut(skin, patches), 0, faceBorders(live, skin));
    expect(kinds.map((each) => each?.kind)).toEqual(['bend-begin', 'bend-begin']);
  });

  it('counts a curvature of less than a fiftieth as straight', () => {
    const skin = skinOf(livePart(bend([20, 15], 6, 30)));
    const flat = laidOut(skin, bend([20, 15], 6, 30));
    const kindWith = (outside: number) =>
      bendKinds(skin, flat, 0, [borderOf(skin, 1, 2, [0.2, outside])])[0]?.kind;
    expect(kindWith(0.0039)).toBe('bend-end');
    expect(kindWith(-0.0041)).toBe('bend-begin');
  });

  it('is seen from the middle of the blank where there is no base', () => {
    // Of a strip of 50 mm the middle is in the bend, from 20 to 29: at both its ends it is the inside.
    const patches = folded(
      [
        [20, 0],
        [9, 1 / 6],
        [21, 0],
      ],
      6,
    );
    const live = livePart(patches);
    const skin = skinOf(live);
    const kinds = bendKinds(skin, laidOut(skin, patches), -1, faceBorders(live, skin));
    expect(kinds).toEqual([
      { kind: 'bend-end', insideFirst: false },
      { kind: 'bend-end', insideFirst: true },
    ]);
  });
});

it('a border that runs away from the base bounds a corner, and is no bend', () => {
  // A base, a wall along its side, and a corner that goes on from the wall; the blank is base, wall and corner beside.
  const live = livePart([
    { surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]), u: [0, 30], v: [0, 20], cells: [3, 3] },
    { surface: plane([0, 20, 0], [1, 0, 0], [0, 0, 1]), u: [0, 30], v: [0, 10], cells: [3, 3] },
    {
      surface: (u, v) => upright(extruded({ x: 30, z: 20, angle: 0, curvature: -1 / 8 })(u, v)),
      u: [0, 6],
      v: [0, 10],
      cells: [3, 3],
    },
  ]);
  const skin = skinOf(live);
  const { position } = skin.mesh;
  const flat = Float64Array.from({ length: (2 * position.length) / 3 }, (_, i) => {
    const [x, y, z] = position.slice(3 * Math.floor(i / 2)) as [number, number, number];
    return i % 2 === 0 ? x : Math.min(20, y > 19.999 || x > 30 ? 20 : y) + z;
  });
  const [foot, side] = [borderOf(skin, 0, 1, [0, 0.2]), borderOf(skin, 1, 2, [0, 1 / 8])];
  expect([foot.borders.length, side.borders.length]).toEqual([3, 3]);
  expect(bendKinds(skin, flat, 0, [foot, side])).toEqual([{ kind: 'bend-begin', insideFirst: true }, null]);
});

/** A section in x and z moved along y, as a section in x and y moved along z. */
function upright<T extends readonly (readonly [number, number, number])[]>(vectors: T): T {
  return vectors.map(([x, y, z]) => [x, z, y]) as unknown as T;
}

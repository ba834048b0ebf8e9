import { describe, expect, it } from 'vitest';
import {
  cross,
  distance,
  dot,
  minus,
  moved,
  unit,
  type Vector3,
  vectorAt,
} from '../../../src/geometry/vector3.ts';
import { edgeFaces, type OnSkin, sheetEnd } from '../../../src/step/freeForm/sheetEdge.ts';
import type { LivePart } from '../../../src/step/occt/livePart.ts';
import { radians } from '../../../src/units.ts';
import { extruded, livePart, type Patch, plane, skinOf, turnedOver } from './patches.ts';

const DEPTH = 0.75;
const CELLS = [2, 2] as const;

it('the faces of the edge are those that go from skin to skin', () => {
  // A plate from above and below, three sides that go through, and one in two strips, of which none does.
  const [a, b, t] = [60, 40, 2];
  const side = (corner: Vector3, along: Vector3, size: number, depth = t): Patch => ({
    surface: plane(corner, [0, 0, -1], along),
    u: [0, depth],
    v: [0, size],
    cells: CELLS,
  });
  const { part } = livePart(
    [
      { surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]), u: [0, a], v: [0, b], cells: CELLS },
      { surface: plane([0, 0, -t], [0, 1, 0], [1, 0, 0]), u: [0, b], v: [0, a], cells: CELLS },
      side([0, 0, 0], [1, 0, 0], a),
      side([a, b, 0], [-1, 0, 0], a),
      side([0, b, 0], [0, -1, 0], b),
      side([a, 0, 0], [0, 1, 0], b, 1),
      side([a, 0, -1], [0, 1, 0], b, t - 1),
    ],
    'solid',
  );
  const found = edgeFaces({ part }, new Set([0]), new Set([1]));
  expect([...found.values()].sort()).toEqual([2, 3, 4]);
  for (const [edge, face] of found) {
    expect(part.faces[0]!.wires.flat()).toContain(edge);
    expect(part.faces[face]!.wires.flat()).toContain(edge);
  }
});

/** A skin with one straight side along y at its end, and a face that leans outwards below it. */
function leaning(
  skin: Patch,
  degrees: number,
  turned: boolean,
): { live: LivePart; edge: number; at: Vector3 } {
  const [point, normal, along] = skin.surface(skin.u[1], 0);
  const outward = unit(along);
  const [s, c] = [Math.sin(radians(degrees)), Math.cos(radians(degrees))];
  const under = moved(
    [0, 0, 0].map((_, i) => s * outward[i]!),
    -c,
    normal,
  );
  const end: Patch = { surface: plane(point, under, [0, 1, 0]), u: [0, 2], v: skin.v, cells: CELLS };
  const own = turned ? { ...skin, surface: turnedOver(skin.surface), u: skin.v, v: skin.u } : skin;
  const live = livePart([own, end]);
  const [first, second] = live.part.faces.map(({ wires }) => wires.flat()) as [number[], number[]];
  return { live, edge: first.find((edge) => second.includes(edge))!, at: [point[0], 7.3, point[2]] };
}

/** @param short of the edge by which the guess is, mm */
function endOf(
  patch: Patch,
  degrees: number,
  turned: boolean,
  short = 0.4,
): { end: OnSkin | null; at: Vector3; live: LivePart } {
  const { live, edge, at } = leaning(patch, degrees, turned);
  const skin = skinOf(live, { depth: DEPTH, turned, edgeFaces: new Map([[edge, 1]]) }, new Set([0]));
  const near = [patch.u[1] - short, 6.8] as const;
  const [u, v] = turned ? [near[1], near[0]] : near;
  return { end: sheetEnd(live, skin, edge, at, { face: 0, u, v }), at, live };
}

const FLAT: Patch = { surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]), u: [0, 30], v: [0, 20], cells: CELLS };
const RADIUS = 9;
const BENT: Patch = {
  surface: extruded({ x: 0, z: 0, angle: 0, curvature: 1 / RADIUS }),
  u: [0, 12],
  v: [0, 20],
  cells: CELLS,
};

describe('the end of the sheet’s middle', () => {
  it.each([25, -25, 45])('of a plane lies depth × tangent beyond the edge: %s°', (degrees) => {
    for (const turned of [false, true]) {
      const { end, at } = endOf(FLAT, degrees, turned);
      const beyond = DEPTH * Math.tan(radians(degrees));
      expect(distance(end!.point, [30 + beyond, at[1], 0])).toBeLessThan(1e-9);
      expect(distance(end!.normal, [0, 0, 1])).toBeLessThan(1e-12);
    }
  });

  it.each([25, -25, 45])(
    'of a cylinder lies on the edge’s own face, and its skin on the cylinder: %s°',
    (degrees) => {
      for (const turned of [false, true]) {
        const { end, at, live } = endOf(BENT, degrees, turned);
        const { point, normal } = end!;
        const middle = moved(point, -DEPTH, normal);
        const across = vectorAt(live.part.faces[1]!.normals);
        expect(Math.abs(dot(across, minus(middle, at)))).toBeLessThan(1e-9);
        expect(point[1]).toBeCloseTo(at[1], 9);
        // The axis runs along y at the height of the radius; the normal points to it.
        const axis: Vector3 = [0, point[1], RADIUS];
        expect(distance(axis, point)).toBeCloseTo(RADIUS, 9);
        expect(distance(cross(minus(axis, point), normal), [0, 0, 0])).toBeLessThan(1e-9);
        // Outwards for a face that leans outwards: farther along the section than the edge.
        const angle = Math.atan2(point[0], RADIUS - point[2]);
        expect(Math.sign(angle * RADIUS - BENT.u[1])).toBe(Math.sign(degrees));
      }
    },
  );

  it('is not looked for where the edge is square, or does not go through', () => {
    for (const patch of [FLAT, BENT]) expect(endOf(patch, 0, false, 0).end).toBeNull();
    const { live, edge, at } = leaning(FLAT, 30, false);
    expect(sheetEnd(live, skinOf(live, { depth: DEPTH }), edge, at, { face: 0, u: 29, v: 7 })).toBeNull();
  });
});

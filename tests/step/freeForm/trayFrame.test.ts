import { describe, expect, it } from 'vitest';
import {
  cross,
  distance,
  dot,
  minus,
  scaled,
  squareTo,
  unit,
  type Vector3,
  vectorAt,
} from '../../../src/geometry/vector3.ts';
import { alignFlat, trayFrame } from '../../../src/step/freeForm/trayFrame.ts';
import { randomNumbers } from '../../support/drawnTrays.ts';
import { livePart, movedTo, openBox, type Patch, plane, revolved, skinOf, turnedOver } from './patches.ts';

const DEPTH = 0.6;

/** Axes turned any way, and an origin anywhere. */
function anywhere(random: () => number): { axes: Vector3[]; origin: Vector3 } {
  const some = (): Vector3 => [random() - 0.5, random() - 0.5, random() - 0.5];
  const z = unit(some());
  const [p, q] = squareTo(z);
  const turn = 2 * Math.PI * random();
  const x = unit([0, 1, 2].map((i) => Math.cos(turn) * p[i]! + Math.sin(turn) * q[i]!));
  return { axes: [x, cross(z, x), z], origin: scaled(200, some()) };
}

const seenFromBehind = (patches: readonly Patch[]): Patch[] =>
  patches.map(({ surface, u, v, cells, ...rest }) => ({
    ...rest,
    surface: turnedOver(surface),
    u: v,
    v: u,
    cells: [cells[1], cells[0]],
  }));

/** An open box whose base has a middle that stands higher by `step`, on four upright strips: face 0 and 5. */
function stepped(hole: readonly [number, number], step: number): Patch[] {
  const [a, b, cells] = [60, 40, 8];
  const [base, ...walls] = openBox(a, b, 12, cells) as [Patch, ...Patch[]];
  const [x0, x1] = hole.map((i) => (a * i) / cells - a / 2) as [number, number];
  const [y0, y1] = hole.map((i) => (b * i) / cells - b / 2) as [number, number];
  const own: Patch['cells'] = [hole[1] - hole[0], hole[1] - hole[0]];
  const strip = (corner: Vector3, along: Vector3, length: number): Patch => ({
    surface: plane(corner, along, [0, 0, 1]),
    u: [0, length],
    v: step > 0 ? [0, step] : [step, 0],
    cells: [own[0], 1],
  });
  return [
    { ...base, hole: { u: hole, v: hole } },
    ...walls,
    { surface: plane([x0, y0, step], [1, 0, 0], [0, 1, 0]), u: [0, x1 - x0], v: [0, y1 - y0], cells: own },
    strip([x0, y0, 0], [1, 0, 0], x1 - x0),
    strip([x1, y0, 0], [0, 1, 0], y1 - y0),
    strip([x1, y1, 0], [-1, 0, 0], x1 - x0),
    strip([x0, y1, 0], [0, -1, 0], y1 - y0),
  ];
}

describe('the frame of a part', () => {
  it('stands on the base of a box however that lies in space, its middle at z = 0', () => {
    const random = randomNumbers(20265);
    for (let i = 0; i < 12; i++) {
      const { axes, origin } = anywhere(random);
      const box = movedTo(openBox(40, 30, 10), axes, origin);
      for (const turned of [false, true]) {
        const live = livePart(turned ? seenFromBehind(box) : box);
        const found = trayFrame(live, skinOf(live, { depth: DEPTH, turned }));
        expect(found.base).toBe(0);
        const [x, y, z] = found.axes as [Vector3, Vector3, Vector3];
        expect(distance(z, axes[2]!)).toBeLessThan(1e-12);
        expect(distance(cross(x, y), z)).toBeLessThan(1e-12);
        expect(Math.abs(dot(x, z))).toBeLessThan(1e-12);
        const { points } = live.part.faces[0]!;
        for (let k = 0; k < points.length; k += 3)
          expect(dot(z, minus(vectorAt(points, k), found.origin))).toBeCloseTo(DEPTH, 9);
      }
    }
  });

  it('keeps the file’s own x where the base is level', () => {
    const live = livePart(openBox(40, 30, 10));
    expect(trayFrame(live, skinOf(live)).axes).toEqual([
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]);
  });

  it('stands on the middle of a stepped base, the farthest from the rim, unless that is small', () => {
    // Of 60 × 40 in 8 × 8 cells: half by half is a third of the rest, a quarter by a quarter a fifteenth.
    for (const step of [3, -3]) {
      for (const [hole, base] of [
        [[2, 6], 5],
        [[3, 5], 0],
      ] as const) {
        const live = livePart(stepped(hole, step));
        const skin = skinOf(live, { depth: DEPTH });
        const found = trayFrame(live, skin);
        expect(found.base).toBe(base);
        expect(found.origin[2]).toBeCloseTo((base === 5 ? step : 0) - DEPTH, 12);
      }
    }
  });

  it('without a plane stands square to the mean of the sheet: a bowl on its axis, whatever its faces and their nets', () => {
    const random = randomNumbers(20266);
    const bowl = revolved({ x: 0, z: 0, angle: 0, curvature: 1 / 30 });
    const around = [0, 2 * Math.PI] as const;
    for (const patches of [
      [{ surface: bowl, u: [0, 24], v: around, cells: [6, 24] }],
      // The same from the rim to the pole, so that its first point is far from the pole.
      [{ surface: bowl, u: [24, 0], v: [2 * Math.PI, 0], cells: [6, 24] }],
      [0, 1, 2].map(
        (k): Patch => ({
          surface: bowl,
          u: [0, 24],
          v: [2 * k, k === 2 ? 2 * Math.PI : 2 * k + 2],
          cells: [4, 9],
        }),
      ),
    ] satisfies Patch[][]) {
      const { axes, origin } = anywhere(random);
      const live = livePart(movedTo(patches, axes, origin));
      const skin = skinOf(live);
      const found = trayFrame(live, skin);
      expect(found.base).toBe(-1);
      // The sum of a net's triangles is that of any other one over its boundary, here a polygon square to the axis.
      expect(distance(found.axes[2]!, axes[2]!)).toBeLessThan(1e-9);
    }
  });
});

describe('the flat laid on the formed part', () => {
  const random = randomNumbers(20267);
  const points = (count: number): Float64Array =>
    Float64Array.from({ length: 2 * count }, () => 100 * random() - 50);
  const turnedBy = (from: Float64Array, angle: number, dx: number, dy: number): Float64Array => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    return from.map((_, i) => {
      const [x, y] = [from[i & ~1]!, from[i | 1]!];
      return i % 2 === 0 ? c * x - s * y + dx : s * x + c * y + dy;
    });
  };
  const weights = (count: number): Map<number, number> =>
    new Map(Array.from({ length: count }, (_, i) => [i, 0.1 + random()]));

  it('takes back any turn and shift, and tells the angle', () => {
    for (let i = 0; i < 20; i++) {
      const formed = points(9);
      const angle = Math.PI * (2 * random() - 1);
      const flat = turnedBy(formed, angle, 30 * random(), -20 * random());
      // A few of the points are enough to go by.
      expect(alignFlat(flat, formed, weights(4))).toBeCloseTo(-angle, 9);
      for (const [k, value] of formed.entries()) expect(flat[k]!).toBeCloseTo(value, 9);
    }
  });

  it('is as near as turning and shifting can bring it, by the weights', () => {
    for (let i = 0; i < 10; i++) {
      const [formed, flat, chosen] = [points(6), points(6), weights(5)];
      alignFlat(flat, formed, chosen);
      const off = (own: Float64Array): number =>
        [...chosen].reduce(
          (sum, [k, weight]) =>
            sum +
            weight * ((own[2 * k]! - formed[2 * k]!) ** 2 + (own[2 * k + 1]! - formed[2 * k + 1]!) ** 2),
          0,
        );
      const least = off(flat);
      for (const [angle, dx, dy] of [
        [0.01, 0, 0],
        [-0.01, 0, 0],
        [0, 0.1, 0],
        [0, -0.1, 0],
        [0, 0, 0.1],
        [0, 0, -0.1],
        [Math.PI, 0, 0],
      ] as const)
        expect(off(turnedBy(flat, angle, dx, dy))).toBeGreaterThan(least);
    }
  });
});

/** Plates in the plane, whose rim is a loop of lines and arcs: the corners are where these say. */
import { describe, expect, it } from 'vitest';
import type { FlatField } from '../../../src/geometry/flatField.ts';
import { cross, moved, type Vector3 } from '../../../src/geometry/vector3.ts';
import { cornerReportsOf, cornersOfRim, partCorners } from '../../../src/step/freeForm/partCorners.ts';
import type { PartSkin } from '../../../src/step/freeForm/skin.ts';
import { EDGE_SAMPLES } from '../../../src/step/part.ts';

/** A point of an edge at a share of it. */
type Curve = (share: number) => readonly [x: number, y: number];

const line =
  (ax: number, ay: number, bx: number, by: number): Curve =>
  (s) => [ax + s * (bx - ax), ay + s * (by - ay)];
/** Angles in quarter turns. */
const arc =
  (x: number, y: number, radius: number, from: number, to: number, flattened = 1): Curve =>
  (s) => {
    const angle = (Math.PI / 2) * (from + s * (to - from));
    return [x + radius * Math.cos(angle), y + flattened * radius * Math.sin(angle)];
  };

const [A, B, R] = [50, 35, 12];
/** Counter-clockwise, from the middle of no edge; the corner next to x = 0 from above is the first. */
const ROUNDED: Curve[] = [
  line(A, R - B, A, B - R),
  arc(A - R, B - R, R, 0, 1),
  line(A - R, B, R - A, B),
  arc(R - A, B - R, R, 1, 2),
  line(-A, B - R, -A, R - B),
  arc(R - A, R - B, R, 2, 3),
  line(R - A, -B, A - R, -B),
  arc(A - R, R - B, R, 3, 4),
];

const EACH = 8;
const [THICKNESS, DEPTH] = [1.5, 0.75];
/** The part lies elsewhere than the tray's frame. */
const ORIGIN: Vector3 = [40, -20, 7];
const X: Vector3 = [0.6, 0.8, 0];
const FRAME = { axes: [X, cross([0, 0, 1], X), [0, 0, 1]] as Vector3[], origin: ORIGIN, base: 0 };

/** A plate with this rim: its edges in the part's space, a fan of triangles for its net, the field with a flat `grown` times as large. */
function plate(curves: readonly Curve[], backwards: ReadonlySet<number> = new Set(), grown = 1) {
  const rim = curves.flatMap((curve) => Array.from({ length: 2 * EACH }, (_, i) => curve(i / (2 * EACH))));
  const inPart = (x: number, y: number): Vector3 => moved(moved(ORIGIN, x, X), y, FRAME.axes[1]!);
  const edges = curves.map((curve, number) => ({
    samples: Float64Array.from(
      Array.from({ length: EDGE_SAMPLES }, (_, i) => {
        const share = i / (EDGE_SAMPLES - 1);
        return [...inPart(...curve(backwards.has(number) ? 1 - share : share))];
      }).flat(),
    ),
  }));
  const points = [[0, 0] as const, ...rim];
  const count = rim.length;
  const triangles = rim.flatMap((_, i) => [0, 1 + i, 1 + ((i + 1) % count)]);
  const own = {
    live: {
      part: { edges },
      evaluate: (_face: number, u: number, v: number, out: Float64Array) =>
        out.set([...moved(inPart(u, v), DEPTH, [0, 0, 1]), 0, 0, 1]),
      differentiate: (_face: number, u: number, v: number, out: Float64Array) =>
        out.set([
          ...moved(inPart(u, v), DEPTH, [0, 0, 1]),
          0,
          0,
          1,
          ...X,
          ...FRAME.axes[1]!,
          0,
          0,
          0,
          0,
          0,
          0,
        ]),
    },
    skin: {
      mesh: {
        position: points.flatMap(([x, y]) => [...moved(inPart(x, y), DEPTH, [0, 0, 1])]),
        triangles,
        face: Array.from({ length: count }, () => 0),
        parameters: triangles.flatMap((vertex) => [...points[vertex]!]),
      },
      turned: false,
      thickness: THICKNESS,
      depth: DEPTH,
    },
    frame: FRAME,
  } as unknown as PartSkin;
  const values = (value: number): Float64Array => new Float64Array(count).fill(value);
  const field: FlatField = {
    formed: Float64Array.from(rim.flatMap(([x, y]) => [x, y, 0])),
    flat: Float64Array.from(rim.flatMap(([x, y]) => [grown * x, grown * y])),
    triangles: new Uint32Array(),
    rimNodes: Uint32Array.from(rim, (_, i) => i),
    rimCorner: new Int32Array(count),
    majorStrain: values(0.02),
    minorStrain: values(-0.05),
    thicknessStrain: values(0.03),
    equivalentStrain: values(0.05),
  };
  return { own, field, numbers: curves.map((_, number) => number) };
}

describe('the corners of a rim', () => {
  it('are its arcs, counter-clockwise from the x axis, whichever way its edges run and are numbered', () => {
    for (const backwards of [new Set<number>(), new Set([1, 4, 5]), new Set([0, 1, 2, 3, 4, 5, 6, 7])]) {
      const { own, field, numbers } = plate(ROUNDED, backwards);
      const corners = partCorners(own, field, [...numbers.slice(5), ...numbers.slice(0, 5)].reverse());
      expect(corners).toHaveLength(4);
      for (const [i, { circle, sweep, begin, end }] of corners.entries()) {
        const [sx, sy] = [[1, -1, -1, 1][i]!, [1, 1, -1, -1][i]!];
        expect(sweep).toBeCloseTo(Math.PI / 2, 5);
        expect(circle!.x).toBeCloseTo(sx * (A - R), 6);
        expect(circle!.y).toBeCloseTo(sy * (B - R), 6);
        expect(circle!.radius).toBeCloseTo(R, 6);
        const [from, to] = [ROUNDED[2 * i + 1]!(0), ROUNDED[2 * i + 1]!(1)];
        expect(Math.hypot(begin.x - from[0], begin.y - from[1])).toBeLessThan(1e-5);
        expect(Math.hypot(end.x - to[0], end.y - to[1])).toBeLessThan(1e-5);
      }
    }
  });

  it('own the nodes of the rim on their arcs', () => {
    const { own, field, numbers } = plate(ROUNDED);
    const found = cornersOfRim(partCorners(own, field, numbers), field.rimNodes);
    for (const [i, corner] of found.entries()) {
      // The end of an arc is the first node of the line after it.
      const [edge, first] = [Math.floor(i / (2 * EACH)), i % (2 * EACH) === 0];
      const on = edge % 2 === 1 ? (edge - 1) / 2 : first ? ((edge + 6) % 8) / 2 : -1;
      expect(corner, `node ${i}`).toBe(on);
    }
  });

  it('of two arcs one after the other are one, and an edge that hardly turns is none', () => {
    // Each corner in two halves; the lower side bulges by a hundredth of a radian.
    const halves = ROUNDED.flatMap((curve, i) =>
      i % 2 === 0 ? [curve] : [(s: number) => curve(s / 2), (s: number) => curve(0.5 + s / 2)],
    );
    const low = line(R - A, -B, A - R, -B);
    halves[9] = (s) => [low(s)[0], -B - 0.05 * 4 * s * (1 - s)];
    const { own, field, numbers } = plate(halves);
    const corners = partCorners(own, field, numbers);
    expect(corners).toHaveLength(4);
    for (const { circle, sweep } of corners) {
      expect(circle!.radius).toBeCloseTo(R, 5);
      expect(sweep).toBeCloseTo(Math.PI / 2, 4);
    }
  });

  it('that turn inwards have a sweep below zero', () => {
    // A bay in the right side: in, round the other way, out.
    const bay: Curve[] = [
      line(A, -B, A, -10),
      line(A, -10, 30, -10),
      arc(30, 0, 10, 3, 1),
      line(30, 10, A, 10),
      line(A, 10, A, B),
      line(A, B, -A, B),
      line(-A, B, -A, -B),
      line(-A, -B, A, -B),
    ];
    const { own, field, numbers } = plate(bay);
    const [only, ...others] = partCorners(own, field, numbers);
    expect(others).toEqual([]);
    expect(only!.sweep).toBeCloseTo(-Math.PI, 4);
    expect(only!.circle!.x).toBeCloseTo(30, 5);
    expect(only!.circle!.y).toBeCloseTo(0, 5);
  });

  it('of a round rim are one, all round', () => {
    const { own, field, numbers } = plate([0, 1, 2, 3].map((k) => arc(5, -3, 40, k, k + 1)));
    const corners = partCorners(own, field, numbers);
    expect(corners).toHaveLength(1);
    expect(corners[0]!.sweep).toBeCloseTo(2 * Math.PI, 3);
    expect(corners[0]!.circle!.radius).toBeCloseTo(40, 4);
  });

  it('in no arc have no circle', () => {
    const { own, field, numbers } = plate([0, 1, 2, 3].map((k) => arc(0, 0, 40, k, k + 1, 0.7)));
    expect(partCorners(own, field, numbers).map(({ circle }) => circle)).toEqual([null]);
  });
});

describe('what is told of a corner', () => {
  const GROWN = 1.1;
  const reports = (curves: readonly Curve[], grown = 1) => {
    const { own, field, numbers } = plate(curves, new Set(), grown);
    return cornerReportsOf(own, partCorners(own, field, numbers), field, []);
  };

  it('in a plate that stays as it is all radii are its own', () => {
    const found = reports(ROUNDED);
    expect(found.map(({ letter }) => letter)).toEqual(['A', 'B', 'C', 'D']);
    for (const each of found) {
      expect(each.cornerRadius).toBeCloseTo(R + THICKNESS / 2, 5);
      expect(each.formedRimLength).toBeCloseTo((R * Math.PI) / 2, 4);
      expect(each.arcRimToLose).toBeCloseTo(0, 9);
      expect(each.flatCornerRadius).toBeCloseTo(R, 3);
      // The net's edges are chords.
      expect(each.arcLengthCornerRadius / R).toBeCloseTo(1, 2);
      expect(each.equalAreaCornerRadius / R).toBeCloseTo(1, 2);
      expect(each.arcLengthCornerRadius).toBeLessThan(R + 1e-9);
      expect([each.rimToLose, each.rimToLoseCorners]).toEqual([null, []]);
    }
  });

  it('lengths of a larger flat are larger by as much, strains those of the field', () => {
    for (const each of reports(ROUNDED, GROWN)) {
      expect(each.flatRimLength / each.formedRimLength).toBeCloseTo(GROWN, 9);
      expect(each.arcRimToLose).toBeCloseTo((GROWN - 1) * each.formedRimLength, 9);
      expect(each.netRimThickness).toBeCloseTo(THICKNESS * Math.exp(0.03), 9);
      expect(each.thickest).toBeCloseTo(THICKNESS * Math.exp(0.03), 9);
      expect(each.thinnest).toBeCloseTo(THICKNESS, 9);
      expect(each.peakGather).toBeCloseTo(100 * (1 - Math.exp(-0.05)), 9);
      expect(each.peakStretch).toBeCloseTo(100 * (Math.exp(0.02) - 1), 9);
      const middle = [Math.abs(each.at.x) - (A - R), Math.abs(each.at.y) - (B - R)];
      for (const value of middle) expect(value).toBeCloseTo(R * Math.SQRT1_2, 3);
      const flat = middle.map((value, i) => GROWN * (value + [A - R, B - R][i]!) - [A - R, B - R][i]!);
      expect(each.flatCornerRadius).toBeCloseTo(Math.hypot(...flat), 3);
    }
  });

  it('without an arc it has no classical radii', () => {
    const [each] = reports([0, 1, 2, 3].map((k) => arc(0, 0, 40, k, k + 1, 0.7)));
    expect([each!.flatCornerRadius, each!.arcLengthCornerRadius, each!.equalAreaCornerRadius]).toEqual([
      NaN,
      NaN,
      NaN,
    ]);
    // Its radius is that of its length over its turn, which samples of the edge tell to a hundredth or so.
    const mean = each!.formedRimLength / (2 * Math.PI);
    expect(Math.abs((each!.cornerRadius - THICKNESS / 2) / mean - 1)).toBeLessThan(0.02);
  });
});

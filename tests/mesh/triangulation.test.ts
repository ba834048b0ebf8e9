/** The pieces a mesh is made of: graded spacing, and the triangulation of the flat of the base. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gradedFractions } from '../../src/mesh/gradedSpacing.ts';
import { triangulatePolygon } from '../../src/mesh/triangulation.ts';

describe('graded spacing', () => {
  // The running integral is sampled at 256 places, so lengths stay within a hundred of the pieces asked for.
  const gradings = fc
    .record({
      atStart: fc.double({ min: 0.5, max: 50, noNaN: true }),
      endOverStart: fc.constantFrom(0.5, 1, 2, Infinity),
      lengthOverStart: fc.double({ min: 0.2, max: 60, noNaN: true }),
      growth: fc.double({ min: 0.1, max: 0.5, noNaN: true }),
    })
    .map(({ atStart, endOverStart, lengthOverStart, growth }) => ({
      atStart,
      atEnd: endOverStart * atStart,
      length: lengthOverStart * atStart,
      growth,
    }));

  test('runs from 0 to 1, always upwards, with steps near those wanted', () => {
    fc.assert(
      fc.property(gradings, ({ length, atStart, atEnd, growth }) => {
        const longest = Math.max(length, atStart);
        const fractions = gradedFractions(length, { atStart, atEnd, longest, growth });
        expect(fractions[0]).toBe(0);
        expect(fractions[fractions.length - 1]).toBe(1);
        for (let i = 1; i < fractions.length; i++) {
          const step = (fractions[i]! - fractions[i - 1]!) * length;
          expect(step).toBeGreaterThan(0);
          const middle = ((fractions[i]! + fractions[i - 1]!) / 2) * length;
          const wanted = Math.min(longest, atStart + growth * middle, atEnd + growth * (length - middle));
          // Rounding the number of pieces changes all steps by at most half a piece of the whole.
          if (fractions.length > 3) expect(step / wanted).toBeLessThan(1.7);
          if (fractions.length > 3) expect(step / wanted).toBeGreaterThan(0.55);
        }
      }),
      { seed: 31, numRuns: 300 },
    );
  });

  test('is the same from both ends when it is asked the same at both', () => {
    const fractions = gradedFractions(137, { atStart: 4, atEnd: 4, longest: 50, growth: 0.3 });
    fractions.forEach((value, i) => {
      expect(value + fractions[fractions.length - 1 - i]!).toBe(1);
    });
  });
});

/** Area of a polygon, and of a triangle list over points. */
const polygonArea = (xy: Float64Array): number => {
  let twice = 0;
  for (let i = 0; i < xy.length; i += 2) {
    const j = (i + 2) % xy.length;
    twice += xy[i]! * xy[j + 1]! - xy[j]! * xy[i + 1]!;
  }
  return twice / 2;
};

const triangleArea = (p: Float64Array, i: number, j: number, k: number): number =>
  ((p[2 * j]! - p[2 * i]!) * (p[2 * k + 1]! - p[2 * i + 1]!) -
    (p[2 * j + 1]! - p[2 * i + 1]!) * (p[2 * k]! - p[2 * i]!)) /
  2;

/** Smallest angle of a triangle, degrees. */
function smallestAngle(p: Float64Array, corners: readonly [number, number, number]): number {
  let least = Infinity;
  corners.forEach((at, e) => {
    const [b, c] = [corners[(e + 1) % 3]!, corners[(e + 2) % 3]!];
    const one = Math.atan2(p[2 * b + 1]! - p[2 * at + 1]!, p[2 * b]! - p[2 * at]!);
    const two = Math.atan2(p[2 * c + 1]! - p[2 * at + 1]!, p[2 * c]! - p[2 * at]!);
    const turn = Math.abs(one - two);
    least = Math.min(least, (Math.min(turn, 2 * Math.PI - turn) * 180) / Math.PI);
  });
  return least;
}

/** A closed outline with points every so often along it. */
function boundaryOf(
  corners: readonly (readonly [number, number])[],
  spacing: (i: number) => number,
): Float64Array {
  const out: number[] = [];
  corners.forEach(([x, y], i) => {
    const [nx, ny] = corners[(i + 1) % corners.length]!;
    const pieces = Math.max(1, Math.round(Math.hypot(nx - x, ny - y) / spacing(i)));
    for (let k = 0; k < pieces; k++) out.push(x + ((nx - x) * k) / pieces, y + ((ny - y) * k) / pieces);
  });
  return Float64Array.from(out);
}

describe('triangulation of the base', () => {
  const shapes: readonly (readonly [string, Float64Array])[] = [
    [
      'square',
      boundaryOf(
        [
          [0, 0],
          [100, 0],
          [100, 100],
          [0, 100],
        ],
        () => 10,
      ),
    ],
    [
      'long strip',
      boundaryOf(
        [
          [0, 0],
          [900, 0],
          [900, 40],
          [0, 40],
        ],
        () => 13,
      ),
    ],
    [
      'fine on one side',
      boundaryOf(
        [
          [0, 0],
          [100, 0],
          [100, 100],
          [0, 100],
        ],
        (i) => (i === 1 ? 2 : 20),
      ),
    ],
    [
      'triangle',
      boundaryOf(
        [
          [0, 0],
          [120, 10],
          [40, 90],
        ],
        () => 9,
      ),
    ],
    [
      'L with an inward corner',
      boundaryOf(
        [
          [0, 0],
          [100, 0],
          [100, 40],
          [40, 40],
          [40, 100],
          [0, 100],
        ],
        () => 8,
      ),
    ],
  ];
  test.each(shapes)('%s: fills the outline, keeps its points first, no slivers', (_, boundary) => {
    const { points: all, triangles } = triangulatePolygon(boundary);
    const points = Float64Array.from(all);
    expect(points.slice(0, boundary.length)).toEqual(boundary);
    let area = 0;
    const edges = new Map<string, number>();
    for (let t = 0; t < triangles.length; t += 3) {
      const corners = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!] as const;
      const own = triangleArea(points, ...corners);
      expect(own).toBeGreaterThan(0);
      area += own;
      expect(smallestAngle(points, corners)).toBeGreaterThan(12);
      corners.forEach((from, e) => {
        const to = corners[(e + 1) % 3]!;
        const key = from < to ? `${from} ${to}` : `${to} ${from}`;
        edges.set(key, (edges.get(key) ?? 0) + 1);
      });
    }
    expect(area / polygonArea(boundary)).toBeCloseTo(1, 12);
    // Every piece of the outline is an edge of exactly one triangle, all others of two.
    const count = boundary.length / 2;
    for (let i = 0; i < count; i++) {
      const j = (i + 1) % count;
      expect(edges.get(i < j ? `${i} ${j}` : `${j} ${i}`)).toBe(1);
    }
    expect([...edges.values()].filter((n) => n === 1).length).toBe(count);
  });

  test('does the same for the same input', () => {
    const boundary = shapes[4]![1];
    expect(triangulatePolygon(boundary)).toEqual(triangulatePolygon(boundary));
  });
});

/** Hulls around outlines, and sums of convex polygons. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcOf, pieceCount, pieceEnd } from '../../src/geometry/arc.ts';
import { extentOf } from '../../src/geometry/extent.ts';
import type { Path } from '../../src/geometry/path.ts';
import {
  convexHull,
  discAround,
  hullAround,
  minkowskiSum,
  type Polygon,
  reflected,
  turned,
} from '../../src/layout/convex.ts';
import { concavePattern, roundedRectangle, samplePattern } from '../exporters/samplePattern.ts';
import { between } from '../support/randomTrays.ts';
import { convexPolygon, rectangle, shoelace } from './shapes.ts';

/** Points on the outline itself, arcs at every 0.5 degrees. */
function pointsOn(path: Path): [number, number][] {
  const points: [number, number][] = [];
  for (let i = 0; i < pieceCount(path); i++) {
    const from = path.vertices[i]!;
    points.push([from.x, from.y]);
    const arc = arcOf(from, pieceEnd(path, i));
    if (arc === null) continue;
    const count = Math.ceil(Math.abs(arc.sweep) / (Math.PI / 360));
    for (let k = 1; k < count; k++) {
      const angle = arc.startAngle + (arc.sweep * k) / count;
      points.push([arc.centre.x + arc.radius * Math.cos(angle), arc.centre.y + arc.radius * Math.sin(angle)]);
    }
  }
  return points;
}

/** How far outside the polygon a point is; negative inside. */
function outside(polygon: Polygon, [x, y]: [number, number]): number {
  let most = -Infinity;
  for (let i = 0; i < polygon.length; i += 2) {
    const j = (i + 2) % polygon.length;
    const [dx, dy] = [polygon[j]! - polygon[i]!, polygon[j + 1]! - polygon[i + 1]!];
    most = Math.max(most, (dy * (x - polygon[i]!) - dx * (y - polygon[i + 1]!)) / Math.hypot(dx, dy));
  }
  return most;
}

describe('the hull around an outline', () => {
  const outlines: [string, Path][] = [
    ['a tray', roundedRectangle(420, 300, 60)],
    ['a small one', roundedRectangle(60, 40, 15)],
    ['one with concave corners', concavePattern().outline],
    ['the sample', samplePattern().outline],
  ];
  it.each(outlines)('%s: holds all of it and is larger by 0.4 mm at most', (_name, outline) => {
    const hull = hullAround(outline);
    const points = pointsOn(outline);
    for (const point of points) expect(outside(hull, point)).toBeLessThan(1e-9);
    const exact = convexHull(Float64Array.from(points.flat()));
    for (let i = 0; i < hull.length; i += 2) {
      expect(outside(exact, [hull[i]!, hull[i + 1]!])).toBeLessThan(0.41);
    }
  });

  it('a rectangle is its own hull', () => {
    const vertices = [
      { x: 0, y: 0, bulge: 0 },
      { x: 300, y: 0, bulge: 0 },
      { x: 300, y: 200, bulge: 0 },
      { x: 0, y: 200, bulge: 0 },
    ];
    expect([...hullAround({ vertices, closed: true })]).toEqual([...rectangle(300, 200)]);
  });
});

/** Two corners of the first are almost one, beside an almost upright edge of the second. */
const NARROW = Float64Array.of(
  -6.337628725712545,
  2.3205821666452833,
  10,
  0,
  10,
  2.0519440369071162e-8,
  -2.0525840973326814,
  2.936123442075278,
);
const SLANTED = Float64Array.of(
  -13.404761901248259,
  45.97032032605552,
  47.88514871692443,
  0,
  47.88403110568605,
  0.3271562605652904,
);

describe('sums of convex polygons', () => {
  it('are the hull of the sums of all corners', () => {
    fc.assert(
      fc.property(convexPolygon, convexPolygon, (a, b) => {
        const all: number[] = [];
        for (let i = 0; i < a.length; i += 2) {
          for (let j = 0; j < b.length; j += 2) all.push(a[i]! + b[j]!, a[i + 1]! + b[j + 1]!);
        }
        const expected = shoelace(convexHull(Float64Array.from(all)));
        expect(Math.abs(shoelace(minkowskiSum(a, b)) - expected)).toBeLessThan(1e-9 * expected);
      }),
      { numRuns: 50, seed: 12, examples: [[NARROW, SLANTED]] },
    );
  });

  it('with a disc grow every side by the radius, level and upright ones to the last digit', () => {
    const grown = extentOf(minkowskiSum(rectangle(300, 200), discAround(2.5)));
    expect(grown.minX).toBeCloseTo(-2.5, 12);
    expect(grown.maxX).toBeCloseTo(302.5, 12);
    expect(grown.minY).toBeCloseTo(-2.5, 12);
    expect(grown.maxY).toBeCloseTo(202.5, 12);
  });

  it('turning keeps the area; a quarter turn of a rectangle is exact', () => {
    fc.assert(
      fc.property(convexPolygon, between(-7, 7), (polygon, angle) => {
        const area = shoelace(polygon);
        expect(Math.abs(shoelace(turned(polygon, angle)) - area)).toBeLessThan(1e-9 * area);
        expect(Math.abs(shoelace(reflected(polygon)) - area)).toBeLessThan(1e-9 * area);
      }),
      { numRuns: 50, seed: 7 },
    );
    expect([...turned(rectangle(3, 2), Math.PI / 2)]).toEqual(
      [-0, 0, -0, 3, -2, 3, -2, 0].map((value) => value + 0),
    );
  });
});

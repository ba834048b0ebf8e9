import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  arcOf,
  containsPoint,
  distanceToPath,
  pathArea,
  pathBounds,
  pathLength,
  pointAlong,
  reversePath,
  tangentBreaks,
  windingNumber,
} from '../../src/geometry/measure.ts';
import type { Path, Point } from '../../src/geometry/path.ts';
import { circle, finePolygon, moved, QUARTER, roundedRectangle, roundedStar, stadium } from './shapes.ts';

// The same random cases every time.
fc.configureGlobal({ seed: 1 });

function polygonArea(points: readonly Point[]): number {
  let twice = 0;
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length]!;
    twice += p.x * q.y - p.y * q.x;
  });
  return twice / 2;
}

/** Sum of the angles under which the point sees the polygon's sides: the winding number by its definition. */
function anglesAround(points: readonly Point[], { x, y }: Point): number {
  let sum = 0;
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length]!;
    sum += Math.atan2(
      (p.x - x) * (q.y - y) - (p.y - y) * (q.x - x),
      (p.x - x) * (q.x - x) + (p.y - y) * (q.y - y),
    );
  });
  return Math.round(sum / (2 * Math.PI)) || 0; // no -0
}

function distanceToPolygon(points: readonly Point[], { x, y }: Point, closed = true): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < points.length - (closed ? 0 : 1); i++) {
    const p = points[i]!;
    const q = points[(i + 1) % points.length]!;
    const dx = q.x - p.x;
    const dy = q.y - p.y;
    const t = Math.min(Math.max(((x - p.x) * dx + (y - p.y) * dy) / (dx * dx + dy * dy), 0), 1);
    least = Math.min(least, Math.hypot(x - p.x - t * dx, y - p.y - t * dy));
  }
  return least;
}

describe('area, length and bounds against closed forms (elementary geometry)', () => {
  it('circle', () => {
    const path = circle(7, 3, -2);
    expect(pathArea(path)).toBeCloseTo(Math.PI * 49, 10);
    expect(pathLength(path)).toBeCloseTo(Math.PI * 14, 11);
    const box = pathBounds(path);
    expect([box.minX, box.minY, box.maxX, box.maxY].map((v) => +v.toFixed(12))).toEqual([-4, -9, 10, 5]);
  });

  it('rounded rectangle: a·b - (4 - π) r²', () => {
    const path = roundedRectangle(330, 230, 15);
    expect(pathArea(path)).toBeCloseTo(330 * 230 - (4 - Math.PI) * 225, 8);
    expect(pathLength(path)).toBeCloseTo(2 * 300 + 2 * 200 + 2 * Math.PI * 15, 10);
    expect(pathBounds(path)).toEqual({ minX: -165, minY: -115, maxX: 165, maxY: 115 });
  });

  it('stadium, turned: bounds come from the arcs, not from the vertices', () => {
    const path = moved(stadium(100, 20), Math.PI / 6);
    expect(pathArea(path)).toBeCloseTo(100 * 40 + Math.PI * 400, 9);
    expect(pathLength(path)).toBeCloseTo(200 + 40 * Math.PI, 10);
    const box = pathBounds(path);
    expect(box.maxX).toBeCloseTo(50 * Math.cos(Math.PI / 6) + 20, 10);
    expect(box.minY).toBeCloseTo(-50 * Math.sin(Math.PI / 6) - 20, 10);
  });

  it('an arc so flat that its centre is 12 km away still has its sagitta: area 2/3 · chord · sagitta', () => {
    // Parabola segment, the limit of a flat circular segment: Archimedes.
    const bulge = 2e-6; // sagitta = bulge · chord / 2
    const flat: Path = {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge },
        { x: 100, y: 0, bulge: 0 },
      ],
    };
    expect(pathArea(flat)).toBeCloseTo((2 / 3) * 100 * ((bulge * 100) / 2), 13);
    expect(distanceToPath({ x: 50, y: 1 }, { ...flat, closed: false })).toBeCloseTo(
      1 + (bulge * 100) / 2,
      14,
    );
  });

  it('agrees with a fine polygon on random loops, and the difference falls by four with every halving', () => {
    fc.assert(
      fc.property(roundedStar, (path) => {
        const area = pathArea(path);
        const coarse = area - polygonArea(finePolygon(path, 4));
        const fine = area - polygonArea(finePolygon(path, 5));
        expect(Math.abs(coarse)).toBeLessThan(1);
        expect(Math.abs(fine - coarse / 4)).toBeLessThan(1e-3 * Math.abs(coarse) + 1e-9);
      }),
    );
  });
});

describe('arcOf', () => {
  it('positive bulge turns counter-clockwise: quarter circle about the origin', () => {
    const arc = arcOf({ x: 5, y: 0, bulge: QUARTER }, { x: 0, y: 5 })!;
    expect(arc.centre.x).toBeCloseTo(0, 14);
    expect(arc.centre.y).toBeCloseTo(0, 14);
    expect(arc.radius).toBeCloseTo(5, 14);
    expect(arc.startAngle).toBeCloseTo(0, 14);
    expect(arc.sweep).toBeCloseTo(Math.PI / 2, 14);
  });
  it('negative bulge turns clockwise, more than a half circle too', () => {
    const arc = arcOf({ x: 5, y: 0, bulge: -Math.tan((3 * Math.PI) / 8) }, { x: 0, y: 5 })!;
    expect(arc.sweep).toBeCloseTo((-3 * Math.PI) / 2, 13);
    expect(arc.centre.x).toBeCloseTo(0, 13);
    expect(arc.radius).toBeCloseTo(5, 13);
  });
  it('null for a line', () => {
    expect(arcOf({ x: 0, y: 0, bulge: 0 }, { x: 1, y: 1 })).toBeNull();
  });
});

describe('reversePath', () => {
  it('turns the sign of the area, keeps length and bounds, and twice is the same path', () => {
    fc.assert(
      fc.property(roundedStar, fc.boolean(), (star, closed) => {
        const path: Path = closed
          ? star
          : {
              closed,
              vertices: star.vertices.map((v, i, all) => (i < all.length - 1 ? v : { ...v, bulge: 0 })),
            };
        const back = reversePath(path);
        expect(pathArea(back)).toBeCloseTo(-pathArea(path), 7);
        expect(pathLength(back)).toBeCloseTo(pathLength(path), 9);
        expect(reversePath(back)).toEqual(path);
      }),
    );
  });
});

describe('pointAlong', () => {
  it('walks a circle', () => {
    const at = pointAlong(circle(10), (10 * Math.PI) / 3);
    expect(at.x).toBeCloseTo(5, 12);
    expect(at.y).toBeCloseTo(10 * Math.sin(Math.PI / 3), 12);
    expect(at.tangent).toBeCloseTo(Math.PI / 3 + Math.PI / 2, 12);
  });
  it('goes round on a closed path and stops at the ends of an open one', () => {
    const path = roundedRectangle(100, 60, 10);
    const a = pointAlong(path, -5);
    const b = pointAlong(path, pathLength(path) - 5);
    expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeLessThan(1e-10);
    const open: Path = {
      closed: false,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 3, y: 4, bulge: 0 },
      ],
    };
    expect(pointAlong(open, 99)).toMatchObject({ x: 3, y: 4 });
  });
  it('every point lies on the path, and the tangent is the slope between close points', () => {
    fc.assert(
      fc.property(roundedStar, fc.double({ min: 0, max: 1, noNaN: true }), (path, where) => {
        const s = where * pathLength(path);
        const p = pointAlong(path, s);
        expect(distanceToPath(p, path)).toBeLessThan(1e-10);
        const before = pointAlong(path, s - 1e-4);
        const after = pointAlong(path, s + 1e-4);
        const slope = Math.atan2(after.y - before.y, after.x - before.x);
        expect(Math.abs(Math.sin(slope - p.tangent))).toBeLessThan(1e-4);
        expect(Math.cos(slope - p.tangent)).toBeGreaterThan(0);
      }),
    );
  });
});

describe('tangentBreaks', () => {
  it('is zero on tangent-continuous loops and ±90° at the corners of a square', () => {
    for (const b of tangentBreaks(roundedRectangle(90, 70, 12))) expect(Math.abs(b)).toBeLessThan(1e-14);
    const square: Path = {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 1, y: 0, bulge: 0 },
        { x: 1, y: 1, bulge: 0 },
        { x: 0, y: 1, bulge: 0 },
      ],
    };
    for (const b of tangentBreaks(square)) expect(b).toBeCloseTo(Math.PI / 2, 14);
    for (const b of tangentBreaks(reversePath(square))) expect(b).toBeCloseTo(-Math.PI / 2, 14);
  });
});

describe('points and paths, against a fine polygon', () => {
  const somewhere = fc.record({
    x: fc.double({ min: -110, max: 110, noNaN: true }),
    y: fc.double({ min: -110, max: 110, noNaN: true }),
  });
  it('winding number by summing angles (the definition)', () => {
    fc.assert(
      fc.property(roundedStar, somewhere, fc.boolean(), (star, point, back) => {
        const path = back ? reversePath(star) : star;
        const fine = finePolygon(path, 8);
        fc.pre(distanceToPolygon(fine, point) > 1e-3);
        expect(windingNumber(path, point)).toBe(anglesAround(fine, point));
        expect(containsPoint(path, point)).toBe(anglesAround(fine, point) !== 0);
      }),
      { numRuns: 300 },
    );
  });
  it('points exactly on a chord, at the height of vertices, and on a grid', () => {
    const path = stadium(8, 3); // its arcs' chords are the upright lines x = ±4
    for (let x = -9; x <= 9; x++) {
      for (let y = -5; y <= 5; y++) {
        const distance = Math.hypot(Math.max(Math.abs(x) - 4, 0), y) - 3;
        if (Math.abs(distance) < 1e-9) continue;
        for (const turned of [path, reversePath(path), moved(path, Math.PI / 2)]) {
          const at = turned.vertices[0]!.x === path.vertices[0]!.x ? { x, y } : { x: -y, y: x };
          expect(containsPoint(turned, at), `${x}, ${y}`).toBe(distance < 0);
        }
      }
    }
  });
  it('distance', () => {
    fc.assert(
      fc.property(roundedStar, somewhere, (path, point) => {
        const fine = distanceToPolygon(finePolygon(path, 9), point);
        expect(Math.abs(distanceToPath(point, path) - fine)).toBeLessThan(2e-4);
      }),
      { numRuns: 200 },
    );
  });
  it('distance to a circle and to an arc of more than a half circle, in closed form', () => {
    expect(distanceToPath({ x: 3, y: 4 }, circle(7))).toBeCloseTo(2, 13);
    expect(distanceToPath({ x: 0, y: 0 }, circle(7))).toBeCloseTo(7, 13);
    const threeQuarters: Path = {
      closed: false,
      vertices: [
        { x: 5, y: 0, bulge: Math.tan((3 * Math.PI) / 8) },
        { x: 0, y: -5, bulge: 0 },
      ],
    };
    expect(distanceToPath({ x: -8, y: 0 }, threeQuarters)).toBeCloseTo(3, 13);
    expect(distanceToPath({ x: 5, y: -5 }, threeQuarters)).toBeCloseTo(5, 13); // nearest are the two ends
  });
});

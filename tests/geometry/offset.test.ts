import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { meetings, selfIntersections } from '../../src/geometry/intersect.ts';
import {
  containsPoint,
  distanceToPath,
  pathArea,
  pathBounds,
  pathLength,
  reversePath,
  tangentBreaks,
} from '../../src/geometry/measure.ts';
import { offsetPath } from '../../src/geometry/offset.ts';
import type { Path, Point } from '../../src/geometry/path.ts';
import { refusal } from '../support/refusal.ts';
import {
  circle,
  finePolygon,
  moved,
  roundedPolygon,
  roundedRectangle,
  roundedStar,
  stadium,
} from './shapes.ts';

// The same random cases every time.
fc.configureGlobal({ seed: 1 });

const polygon = (...corners: readonly (readonly [number, number])[]): Path => ({
  closed: true,
  vertices: corners.map(([x, y]) => ({ x, y, bulge: 0 })),
});

/**
 * Steiner's formulas for the parallel curve of a smooth closed curve: area + length · d + π d², length + 2 π d
 * (J. Steiner 1840, for convex curves; L. A. Santaló, Integral Geometry and Geometric Probability, 1976; both
 * from memory). They hold for hollow curves too as long as no centre of curvature is passed.
 */
function expectSteiner(offset: Path, path: Path, d: number): void {
  const size = pathArea(path) + pathLength(path) * Math.abs(d) + d * d;
  expect(Math.abs(pathArea(offset) - pathArea(path) - pathLength(path) * d - Math.PI * d * d)).toBeLessThan(
    1e-11 * size,
  );
  expect(Math.abs(pathLength(offset) - pathLength(path) - 2 * Math.PI * d)).toBeLessThan(1e-9);
}

/** Every point of the offset is at the distance from the path, to the side wanted. */
function expectParallel(offset: Path, path: Path, d: number): void {
  for (const point of finePolygon(offset, 3)) {
    expect(Math.abs(distanceToPath(point, path) - Math.abs(d))).toBeLessThan(1e-6);
    expect(containsPoint(path, point)).toBe(d * Math.sign(pathArea(path)) < 0);
  }
}

describe('smooth outlines', () => {
  it.each([3, -3, 40, 0.1])('rounded rectangle, stadium and circle by %f mm: Steiner', (d) => {
    for (const path of [roundedRectangle(330, 230, 15), stadium(100, 20), circle(30, 5, 6)]) {
      const offset = offsetPath(path, d);
      expectSteiner(offset, path, d);
      expectParallel(offset, path, d);
      expect(offset.vertices).toHaveLength(path.vertices.length);
    }
  });

  it('the offset of a rounded rectangle is the rounded rectangle', () => {
    const offset = offsetPath(roundedRectangle(100, 60, 10), 4);
    for (const [i, v] of roundedRectangle(108, 68, 14).vertices.entries()) {
      expect(offset.vertices[i]!.x).toBeCloseTo(v.x, 12);
      expect(offset.vertices[i]!.y).toBeCloseTo(v.y, 12);
      expect(offset.vertices[i]!.bulge).toBe(v.bulge);
    }
  });

  it('by nothing is the outline itself', () => {
    const path = stadium(10, 4);
    expect(offsetPath(path, 0)).toBe(path);
  });

  it('stays symmetric to the last bit', () => {
    const { vertices } = offsetPath(roundedRectangle(330.7, 230.3, 15.1), 2.3);
    for (const { x, y } of vertices) {
      expect(vertices.some((v) => v.x === -x && v.y === y)).toBe(true);
      expect(vertices.some((v) => v.x === x && v.y === -y)).toBe(true);
    }
  });

  it('random loops, hollow ones too: Steiner, parallel, smooth; out and in again is the same loop', () => {
    fc.assert(
      fc.property(roundedStar, fc.double({ min: -1.9, max: 1.9, noNaN: true }), (path, d) => {
        fc.pre(Math.abs(d) > 1e-3);
        let offset: Path;
        try {
          offset = offsetPath(path, d);
        } catch (error) {
          // Radii may be as small as a few tenths where the corners are close: those are for another test.
          expect(error).toBeInstanceOf(GatherpanError);
          return;
        }
        expectParallel(offset, path, d);
        if (offset.vertices.length !== path.vertices.length) return; // trimmed
        expectSteiner(offset, path, d);
        for (const turn of tangentBreaks(offset)) expect(Math.abs(turn)).toBeLessThan(1e-7);
        const back = offsetPath(offset, -d);
        expect(back.vertices).toHaveLength(path.vertices.length);
        for (const [i, v] of path.vertices.entries()) {
          expect(Math.hypot(back.vertices[i]!.x - v.x, back.vertices[i]!.y - v.y)).toBeLessThan(1e-9);
          expect(Math.abs(back.vertices[i]!.bulge - v.bulge)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('a clockwise loop shrinks by a positive distance: there is more material', () => {
    const hole = reversePath(circle(10));
    expect(pathArea(offsetPath(hole, 2))).toBeCloseTo(-64 * Math.PI, 9);
    expect(pathArea(offsetPath(hole, -2))).toBeCloseTo(-144 * Math.PI, 9);
  });
});

describe('real corners', () => {
  const square = polygon([0, 0], [60, 0], [60, 60], [0, 60]);
  it('outward they are rounded with the distance', () => {
    const offset = offsetPath(square, 5);
    expect(offset.vertices).toHaveLength(8);
    expectSteiner(offset, square, 5);
    expectParallel(offset, square, 5);
  });
  it('inward they stay corners', () => {
    const offset = offsetPath(square, -5);
    expect(offset.vertices).toHaveLength(4);
    expect(pathArea(offset)).toBeCloseTo(2500, 8);
    expect(pathBounds(offset)).toEqual({
      minX: expect.closeTo(5, 9),
      minY: expect.closeTo(5, 9),
      maxX: expect.closeTo(55, 9),
      maxY: expect.closeTo(55, 9),
    });
  });
  it('outward a hollow corner is trimmed: area + length · d + 5 · π d² / 4 - d²', () => {
    // Five corners of 90° add a quarter circle each, the hollow one loses the square that both sides sweep.
    const ell = polygon([0, 0], [80, 0], [80, 30], [30, 30], [30, 80], [0, 80]);
    for (const d of [1, 6, 25]) {
      const offset = offsetPath(ell, d);
      expect(pathArea(offset)).toBeCloseTo(
        pathArea(ell) + pathLength(ell) * d + (5 / 4) * Math.PI * d * d - d * d,
        7,
      );
      expectParallel(offset, ell, d);
      expect(offset.vertices).toHaveLength(11);
    }
  });
  it('inward a hollow corner is rounded', () => {
    const ell = polygon([0, 0], [80, 0], [80, 30], [30, 30], [30, 80], [0, 80]);
    const d = 6;
    // Five corners lose the square, the hollow one keeps all but its quarter circle.
    const area = pathArea(ell) - pathLength(ell) * d + 5 * d * d - (Math.PI / 4) * d * d;
    const offset = offsetPath(ell, -d);
    expect(pathArea(offset)).toBeCloseTo(area, 7);
    expect(offset.vertices).toHaveLength(7);
  });
});

describe('hollows smaller than the distance', () => {
  const corners = [
    { x: 0, y: 0 },
    { x: 90, y: 0 },
    { x: 90, y: 80 },
    { x: 50, y: 40 },
    { x: 0, y: 70 },
  ];
  const path = roundedPolygon(corners, [9, 9, 9, 5, 9]);
  it('the hollow arc of 5 mm is still an arc at 4 mm, and gone at 8', () => {
    const whole = offsetPath(path, 4);
    expect(whole.vertices).toHaveLength(10);
    expectSteiner(whole, path, 4);
    const trimmed = offsetPath(path, 8);
    expect(trimmed.vertices).toHaveLength(9);
    expectParallel(trimmed, path, 8);
    expect(tangentBreaks(trimmed).filter((turn) => Math.abs(turn) > 1e-6)).toHaveLength(1);
    // The sides meet where those of the outline with a sharp hollow do: its area is less by the fillet, and so
    // is its length, and it gives the same offset.
    const sharp = offsetPath(roundedPolygon(corners, [9, 9, 9, 1e-3, 9]), 8);
    expect(pathArea(trimmed)).toBeCloseTo(pathArea(sharp), 6);
  });
  it('an inward offset larger than a radius makes it a corner', () => {
    const offset = offsetPath(roundedRectangle(100, 60, 10), -14);
    expect(offset.vertices).toHaveLength(4);
    expect(pathArea(offset)).toBeCloseTo(72 * 32, 8);
  });
});

describe('trimmed or not, the offset encloses what it should', () => {
  // Minkowski: outward, all points inside or nearer than d; inward, all points inside and not nearer than d.
  it('random loops and points', () => {
    let trimmed = 0;
    let refused = 0;
    const somewhere = fc.record({
      x: fc.double({ min: -120, max: 120, noNaN: true }),
      y: fc.double({ min: -120, max: 120, noNaN: true }),
    });
    fc.assert(
      fc.property(
        roundedStar,
        fc.double({ min: -14, max: 14, noNaN: true }),
        fc.array(somewhere, { minLength: 30, maxLength: 30 }),
        (path, d, points) => {
          fc.pre(Math.abs(d) > 1e-2);
          let offset: Path;
          try {
            offset = offsetPath(path, d);
          } catch (error) {
            expect(error).toBeInstanceOf(GatherpanError);
            refused++;
            return;
          }
          if (offset.vertices.length !== path.vertices.length) trimmed++;
          expectParallel(offset, path, d);
          for (const point of points) {
            const distance = distanceToPath(point, path);
            if (Math.abs(distance - Math.abs(d)) < 1e-5) continue;
            const inside = containsPoint(path, point);
            expect(containsPoint(offset, point)).toBe(
              d > 0 ? inside || distance < d : inside && distance > -d,
            );
          }
        },
      ),
      { numRuns: 200 },
    );
    expect(trimmed).toBeGreaterThan(20);
    expect(refused).toBeLessThan(20);
  });
});

describe('what does not work is refused with the largest distance that does', () => {
  const largest = (error: GatherpanError) => Number(/at most ([\d.]+) mm/.exec(error.message)?.[1]);
  it('a circle and a rectangle used up', () => {
    const error = refusal(() => offsetPath(circle(30), -31));
    expect(error.code).toBe('NOT_MAKEABLE');
    expect(error.message).toContain('inward by 31 mm');
    expect(largest(error)).toBeGreaterThan(29.8);
    expect(largest(error)).toBeLessThanOrEqual(30);
    expect(largest(refusal(() => offsetPath(roundedRectangle(100, 60, 10), -35)))).toBeCloseTo(30, 1);
  });
  it('a waist that splits', () => {
    // Two fields of 60 joined by a neck 20 wide.
    const path = roundedPolygon(
      [
        { x: 0, y: 0 },
        { x: 60, y: 0 },
        { x: 60, y: 20 },
        { x: 100, y: 20 },
        { x: 100, y: 0 },
        { x: 160, y: 0 },
        { x: 160, y: 60 },
        { x: 100, y: 60 },
        { x: 100, y: 40 },
        { x: 60, y: 40 },
        { x: 60, y: 60 },
        { x: 0, y: 60 },
      ],
      new Array(12).fill(4),
    );
    const error = refusal(() => offsetPath(path, -12));
    expect(largest(error)).toBeCloseTo(10, 1);
    expectParallel(offsetPath(path, -9.5), path, -9.5);
  });
  it('a gap that closes to a hole', () => {
    // A C: mouth 10 wide, room of 40 behind it.
    const path = roundedPolygon(
      [
        { x: 0, y: 0 },
        { x: 80, y: 0 },
        { x: 80, y: 35 },
        { x: 60, y: 35 },
        { x: 60, y: 20 },
        { x: 20, y: 20 },
        { x: 20, y: 60 },
        { x: 60, y: 60 },
        { x: 60, y: 45 },
        { x: 80, y: 45 },
        { x: 80, y: 80 },
        { x: 0, y: 80 },
      ],
      new Array(12).fill(2),
    );
    expect(largest(refusal(() => offsetPath(path, 7)))).toBeCloseTo(5, 1);
  });
  it('open paths and no number', () => {
    const open: Path = { closed: false, vertices: circle(3).vertices };
    expect(refusal(() => offsetPath(open, 1)).code).toBe('BAD_INPUT');
    expect(refusal(() => offsetPath(circle(3), Number.NaN)).code).toBe('BAD_INPUT');
  });
});

describe('selfIntersections', () => {
  it('two lines: a bow tie', () => {
    const [only, ...rest] = selfIntersections(polygon([0, 0], [10, 10], [10, 0], [0, 10]));
    expect(rest).toEqual([]);
    expect(only).toMatchObject({ first: 0, second: 2, x: expect.closeTo(5, 12), y: expect.closeTo(5, 12) });
  });
  it('line and arc, arc and arc, in closed form', () => {
    const at = (points: readonly Point[]) =>
      points
        .map(({ x, y }) => [+x.toFixed(9) + 0, +y.toFixed(9) + 0])
        .sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]!);
    // Upper half of x² + y² = 25 and the line y = 3; the circle (x - 6)² + y² = 25 meets it at (3, 4).
    const upper = [
      { x: 5, y: 0, bulge: 1 },
      { x: -5, y: 0 },
    ] as const;
    expect(at(meetings({ x: -9, y: 3, bulge: 0 }, { x: 9, y: 3 }, ...upper))).toEqual([
      [-4, 3],
      [4, 3],
    ]);
    expect(at(meetings({ x: 0, y: 3, bulge: 0 }, { x: 9, y: 3 }, ...upper))).toEqual([[4, 3]]);
    expect(at(meetings({ x: 11, y: 0, bulge: 1 }, { x: 1, y: 0 }, ...upper))).toEqual([[3, 4]]);
    // Touching: the line y = 5, and a circle of radius 2 about (0, 7).
    expect(at(meetings({ x: -9, y: 5, bulge: 0 }, { x: 9, y: 5 }, ...upper))).toEqual([[0, 5]]);
    expect(at(meetings({ x: -2, y: 7, bulge: 1 }, { x: 2, y: 7 }, ...upper))).toEqual([[0, 5]]);
    // Lines on top of each other meet at the ends of what they share.
    expect(
      at(meetings({ x: 0, y: 0, bulge: 0 }, { x: 9, y: 0 }, { x: 4, y: 0, bulge: 0 }, { x: 20, y: 0 })),
    ).toEqual([
      [4, 0],
      [9, 0],
    ]);
  });
  it('arcs so flat that their centres are 1,000 km away', () => {
    const bulge = 2.5e-8; // sagitta 1.25e-6 mm over 100 mm
    const [only, ...rest] = meetings(
      { x: 0, y: 0, bulge },
      { x: 100, y: 0 },
      { x: 30, y: -1, bulge: -bulge },
      { x: 30, y: 1 },
    );
    expect(rest).toEqual([]);
    expect(only!.x).toBeCloseTo(30, 7);
    expect(only!.y).toBeCloseTo((-2 * bulge * 30 * 70) / 100, 12); // parabola y = -4 · sagitta · t (1 - t)
  });
  it('none on simple smooth loops', () => {
    for (const path of [circle(5), stadium(30, 4), roundedRectangle(90, 50, 20)])
      expect(selfIntersections(path)).toEqual([]);
    fc.assert(
      fc.property(roundedStar, (path) => {
        expect(selfIntersections(path)).toEqual([]);
      }),
    );
  });
  it('random closed chains of arcs: as many crossings as a fine polygon has, at the same places', () => {
    const vertex = fc.record({
      x: fc.integer({ min: -50, max: 50 }),
      y: fc.integer({ min: -50, max: 50 }),
      bulge: fc.double({ min: -0.9, max: 0.9, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(vertex, { minLength: 3, maxLength: 7 }), (grid) => {
        // Off the grid, so that no vertex lies on another piece by chance.
        const vertices = grid.map((v, i) => ({
          ...v,
          x: v.x + Math.sin(7 * i + 1),
          y: v.y + Math.cos(5 * i),
        }));
        const path = moved({ closed: true, vertices }, 0.1234);
        const n = vertices.length;
        for (let i = 0; i < n; i++) {
          const [a, b] = [vertices[i]!, vertices[(i + 1) % n]!];
          fc.pre(a.x !== b.x || a.y !== b.y);
        }
        const found = selfIntersections(path);
        const fine = finePolygon(path, 7);
        const per = 2 ** 7;
        const crossings: Point[] = [];
        for (let i = 0; i < fine.length; i++) {
          for (let j = i + 2; j < fine.length; j++) {
            if (i === 0 && j === fine.length - 1) continue;
            const [p, q, r, s] = [fine[i]!, fine[i + 1]!, fine[j]!, fine[(j + 1) % fine.length]!];
            if (Math.max(p.x, q.x) < Math.min(r.x, s.x) || Math.min(p.x, q.x) > Math.max(r.x, s.x)) continue;
            const side = (a: Point, b: Point, c: Point) =>
              (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
            if (side(p, q, r) * side(p, q, s) >= 0 || side(r, s, p) * side(r, s, q) >= 0) continue;
            const t = side(r, s, p) / (side(r, s, p) - side(r, s, q));
            crossings.push({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) });
          }
        }
        // Every clear crossing of the polygon is found, and the other way round, within its sagittas' reach.
        const sagitta = 100 / per / 4;
        for (const { x, y } of crossings) {
          const shared = path.vertices.some((v) => Math.hypot(v.x - x, v.y - y) < 4 * sagitta);
          if (!shared)
            expect(Math.min(...found.map((f) => Math.hypot(f.x - x, f.y - y)))).toBeLessThan(4 * sagitta);
        }
        for (const { x, y, first, second } of found) {
          const piece = (k: number): Path => ({
            closed: false,
            vertices: [path.vertices[k]!, { ...path.vertices[(k + 1) % n]!, bulge: 0 }],
          });
          expect(distanceToPath({ x, y }, piece(first))).toBeLessThan(1e-7);
          expect(distanceToPath({ x, y }, piece(second))).toBeLessThan(1e-7);
        }
      }),
      { numRuns: 150 },
    );
  });
});

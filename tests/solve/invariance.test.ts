/** What must not matter: strength of the sheet, size, place and turn of the plan, and how symmetry is used. */
import { describe, expect, test } from 'vitest';
import { COARSE } from '../../src/mesh/traySkeleton.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { TraySolution } from '../../src/solve/solveTray.ts';
import type { PlanVertex, TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { distanceToPolyline, formedPoint, type Point2, rimPoints, wholeRim } from '../support/measures.ts';
import { rotation } from '../support/smallMatrices.ts';
import { EARING, planarIsotropic, polygon, rectangle, solveSpec } from '../support/trays.ts';
import { AA6016 } from '../support/yieldLaws.ts';

const MILLIONTH: Tolerance = { why: 'a millionth of the blank', relative: 1e-6 };
/** Two solves of one mesh that each stop at a residual of 1e-8. */
const SAME = 1e-6; // mm

const ISOTROPIC = planarIsotropic(1.6, 0.21);
const TRAY = rectangle(300, 200, 40, { bottomRadius: 20, height: 50 });

/** Largest difference between nodes of two solves of the same mesh, after one is scaled. */
function largestDifference(a: TraySolution, b: TraySolution, scale = 1): number {
  expect(b.mesh.nodeCount).toBe(a.mesh.nodeCount);
  return a.flat.reduce((worst, value, i) => Math.max(worst, Math.abs(value * scale - b.flat[i]!)), 0);
}

describe('strength of the sheet', () => {
  test.each([0.1, 10, 1.7])('K × %d gives the same blank and strains', (factor) => {
    for (const sheet of [ISOTROPIC, EARING]) {
      const one = solveSpec(TRAY, sheet);
      const other = solveSpec(TRAY, { ...sheet, K: factor * sheet.K });
      closeTo(
        largestDifference(one, other) / 300,
        0,
        { ...MILLIONTH, absolute: 1e-6 },
        'largest move of a node',
      );
    }
  });

  test('while n and r do matter', () => {
    const rim = (r: number, n: number): number => rimPoints(solveSpec(TRAY, planarIsotropic(r, n)))[0]![0];
    const corner = (r: number, n: number): number =>
      Math.max(...rimPoints(solveSpec(TRAY, planarIsotropic(r, n))).map(([x, y]) => x + y));
    expect(Math.abs(corner(1, 0.2) - corner(1, 0.35))).toBeGreaterThan(0.05);
    expect(corner(1, 0.2) - corner(2, 0.2)).toBeGreaterThan(0.5);
    expect(rim(1, 0.2)).toBeGreaterThan(150);
  });
});

describe('size', () => {
  test.each([7, 0.2])('everything × %d gives the blank × the same', (factor) => {
    const scaled = rectangle(300 * factor, 200 * factor, 40 * factor, {
      bottomRadius: 20 * factor,
      height: 50 * factor,
    });
    // The same mesh for both: density and refinement go by accuracy in mm, which does not scale.
    const options = { accuracy: 1e9, density: COARSE };
    const one = solveSpec(TRAY, ISOTROPIC, options);
    const other = solveSpec(scaled, ISOTROPIC, options);
    closeTo(
      largestDifference(one, other, factor) / (300 * factor),
      0,
      { ...MILLIONTH, absolute: 1e-6 },
      'largest move',
    );
  });

  test('thickness only counts through the neutral surface', () => {
    // The same neutral surface from a thick sheet: inside sizes less the part of the thickness below the fibre.
    const thickness = 2;
    const inside = 19; // over five thicknesses, so the fibre runs in the middle (DIN 6935)
    const thick = rectangle(298, 198, 39, { bottomRadius: inside, height: 49, thickness });
    const a = solveSpec(TRAY, ISOTROPIC);
    const b = solveSpec(thick, ISOTROPIC);
    closeTo(largestDifference(a, b) / 300, 0, { ...MILLIONTH, absolute: 1e-6 }, 'largest move');
  });
});

const SAMPLE_PLAN: readonly PlanVertex[] = [
  { x: 150, y: 100, radius: 40 },
  { x: -150, y: 100, radius: 40 },
  { x: -150, y: -100, radius: 40 },
  { x: 150, y: -100, radius: 40 },
];

const turned = (vertices: readonly PlanVertex[], angle: number): PlanVertex[] => {
  const [[a, b], [c, d]] = rotation(angle);
  return vertices.map(({ x, y, radius }) => ({ x: a * x + b * y, y: c * x + d * y, radius }));
};

/** Farthest that any point of one closed chain of rim points lies from the other chain. */
const apart = (points: readonly Point2[], others: readonly Point2[]): number => {
  const closed = [...others, others[0]!];
  return points.reduce((worst, point) => Math.max(worst, distanceToPolyline(point, closed)), 0);
};

describe('the plan turned with its grain', () => {
  test.each([
    [30, 'r-values', EARING],
    [77, 'r-values', EARING],
    [30, 'r-values and strengths', { ...EARING, strengths: { exponent: 6, at45: 1.02, at90: 0.99 } }],
    [77, 'r-values and strengths', AA6016],
  ] as const)(
    'by %d degrees, of a sheet with %s, turns the blank and changes nothing else',
    (angle, _, sheet) => {
      const sizes = { bottomRadius: 20, height: 40 };
      const straight = solveSpec(polygon(SAMPLE_PLAN, { ...sizes, grain: 0 }), sheet);
      const skew = solveSpec(polygon(turned(SAMPLE_PLAN, radians(angle)), { ...sizes, grain: angle }), sheet);
      const [[a, b], [c, d]] = rotation(radians(angle));
      const expected = wholeRim(straight).map(([x, y]): Point2 => [a * x + b * y, c * x + d * y]);
      const found = wholeRim(skew);
      expect(found.length).toBe(expected.length);
      expect(apart(found, expected)).toBeLessThan(SAME);
      expect(apart(expected, found)).toBeLessThan(SAME);
    },
  );

  test('a rectangle given as vertices is the rectangle', () => {
    const sizes = { bottomRadius: 20, height: 50 };
    const a = solveSpec(rectangle(300, 200, 40, sizes), EARING);
    const b = solveSpec(polygon(SAMPLE_PLAN, sizes), EARING);
    expect(largestDifference(a, b)).toBeLessThan(1e-9);
  });

  test('turning the grain alone moves the rim', () => {
    const sizes = { bottomRadius: 20, height: 50 };
    const along = wholeRim(solveSpec(polygon(SAMPLE_PLAN, { ...sizes, grain: 0 }), EARING));
    const across = wholeRim(solveSpec(polygon(SAMPLE_PLAN, { ...sizes, grain: 90 }), EARING));
    expect(apart(along, across)).toBeGreaterThan(0.1);
  });
});

describe('the plan moved', () => {
  test('moves the blank and changes nothing else', () => {
    const sizes = { bottomRadius: 20, height: 50 };
    const moved = SAMPLE_PLAN.map((vertex) => ({ ...vertex, x: vertex.x + 1234, y: vertex.y - 567 }));
    const here = wholeRim(solveSpec(polygon(SAMPLE_PLAN, sizes), EARING));
    const there = wholeRim(solveSpec(polygon(moved, sizes), EARING)).map(
      ([x, y]): Point2 => [x - 1234, y + 567],
    );
    expect(apart(there, here)).toBeLessThan(SAME);
  });
});

describe('use of symmetry', () => {
  const cases: readonly (readonly [string, TraySpec, typeof EARING])[] = [
    ['rectangle, grain along it', TRAY, EARING],
    ['rectangle with draft', rectangle(300, 200, 50, { bottomRadius: 20, height: 45, draft: 20 }), ISOTROPIC],
    [
      'square, corners of the bottom radius',
      rectangle(120, 120, 20, { bottomRadius: 20, height: 30 }),
      ISOTROPIC,
    ],
    [
      'trapezium, one mirror line',
      rectangle(200, 160, [40, 25, 25, 40], { bottomRadius: 20, height: 30 }),
      ISOTROPIC,
    ],
  ];
  test.each(cases)('%s: a piece, half and all of the tray agree to 1e-6 mm', (_, spec, sheet) => {
    const options = { accuracy: 1e9 };
    const piece = solveSpec(spec, sheet, { ...options, symmetryUse: 'all' });
    const half = solveSpec(spec, sheet, { ...options, symmetryUse: 'half' });
    const whole = solveSpec(spec, sheet, { ...options, symmetryUse: 'none' });
    expect(piece.mesh.mirrorLines).not.toBeNull();
    expect(half.mesh.mirrorLines).not.toBeNull();
    expect(whole.mesh.mirrorLines).toBeNull();
    const rim = wholeRim(whole);
    for (const other of [wholeRim(piece), wholeRim(half)]) {
      expect(other.length).toBe(rim.length);
      expect(apart(rim, other)).toBeLessThan(SAME);
      expect(apart(other, rim)).toBeLessThan(SAME);
    }
    // Formed nodes of the piece are among those of the whole.
    const [x, y, z] = formedPoint(piece.mesh, piece.mesh.rim[1]!);
    const found = Array.from({ length: whole.mesh.nodeCount }, (_, node) =>
      formedPoint(whole.mesh, node),
    ).some((point) => Math.hypot(point[0] - x, point[1] - y, point[2] - z) < 1e-9);
    expect(found).toBe(true);
  });

  test('the whole solve of a mirror-symmetric tray is mirror-symmetric', () => {
    const rim = wholeRim(solveSpec(TRAY, EARING, { accuracy: 1e9, symmetryUse: 'none' }));
    for (const [sx, sy] of [
      [-1, 1],
      [1, -1],
      [-1, -1],
    ] as const) {
      expect(
        apart(
          rim.map(([x, y]): Point2 => [sx * x, sy * y]),
          rim,
        ),
      ).toBeLessThan(SAME);
    }
  });

  test('the mirrored tray, without symmetry of its own, gives the mirrored blank', () => {
    const sizes = { bottomRadius: 20, height: 30 };
    const one = wholeRim(solveSpec(rectangle(200, 160, [40, 25, 30, 20], { ...sizes, grain: 20 }), EARING));
    const other = wholeRim(
      solveSpec(rectangle(200, 160, [25, 40, 20, 30], { ...sizes, grain: -20 }), EARING),
    );
    // The meshes are not mirror images (diagonals alternate), so only to the accuracy of the default mesh.
    expect(
      apart(
        one.map(([x, y]): Point2 => [-x, y]),
        other,
      ),
    ).toBeLessThan(0.05);
  });
});

describe('inside and outside sizes of one tray', () => {
  test.each([
    [1.2, 0],
    [3, 0],
    [2, 12],
  ] as const)('sheet of %d mm, draft %d: the same blank to 1e-9 mm', (thickness, draft) => {
    // Skins are parallel: a plan line drawn where the planes of wall and base meet lies t·tan((90° − draft)/2)
    // further in on the inside skin, its corner radius is smaller by as much, its height by t.
    const step = thickness * Math.tan(radians(90 - draft) / 2);
    const [length, width, radius, bottom, height] = [300, 200, 45, 22, 50];
    const outside = rectangle(length, width, radius, {
      bottomRadius: bottom,
      height,
      draft,
      thickness,
      measured: 'outside',
    });
    const inside = rectangle(length - 2 * step, width - 2 * step, radius - step, {
      bottomRadius: bottom - thickness,
      // The rim is cut square to the wall: its inside edge stands t·sin(draft) higher than its outside edge.
      height: height - thickness + thickness * Math.sin(radians(draft)),
      draft,
      thickness,
      measured: 'inside',
    });
    const a = flatPatternOf(developTray(outside)).outline.vertices;
    const b = flatPatternOf(developTray(inside)).outline.vertices;
    expect(b.length).toBe(a.length);
    a.forEach((vertex, i) => {
      for (const key of ['x', 'y', 'bulge'] as const) {
        closeTo(b[i]![key], vertex[key], { why: 'the same blank', absolute: 1e-9 }, `${key} of vertex ${i}`);
      }
    });
  });
});

/** Mirror lines found, and found only where they are. */
import { describe, expect, test } from 'vitest';
import type { PlanVertex, TraySpec } from '../../src/tray/spec.ts';
import { degrees, radians } from '../../src/units.ts';
import { meshOf, polygon, rectangle, symmetryOf } from '../support/trays.ts';

const SIZES = { bottomRadius: 20, height: 40 };

const ngon = (sides: number, turn = 0): PlanVertex[] =>
  Array.from({ length: sides }, (_, k) => ({
    x: 150 * Math.cos((2 * k * Math.PI) / sides + turn),
    y: 150 * Math.sin((2 * k * Math.PI) / sides + turn),
    radius: 30,
  }));

const cases: readonly (readonly [string, TraySpec, number | null, number])[] = [
  ['rectangle', rectangle(300, 200, 40, SIZES), null, 2],
  ['rectangle, grain along', rectangle(300, 200, 40, SIZES), 0, 2],
  ['rectangle, grain across', rectangle(300, 200, 40, SIZES), 90, 2],
  ['rectangle, grain at 30°', rectangle(300, 200, 40, SIZES), 30, 0],
  ['square', rectangle(200, 200, 40, SIZES), null, 4],
  ['square, grain along', rectangle(200, 200, 40, SIZES), 0, 2],
  ['square, grain on the diagonal', rectangle(200, 200, 40, SIZES), 45, 2],
  ['square, grain at 20°', rectangle(200, 200, 40, SIZES), 20, 0],
  ['two radii, left and right', rectangle(300, 200, [40, 25, 25, 40], SIZES), null, 1],
  ['two radii, crosswise', rectangle(300, 200, [40, 25, 40, 25], SIZES), null, 0],
  ['two radii crosswise on a square', rectangle(200, 200, [40, 25, 40, 25], SIZES), null, 2],
  ['four radii', rectangle(300, 200, [40, 35, 30, 25], SIZES), null, 0],
  ['triangle', polygon(ngon(3), SIZES), null, 3],
  ['pentagon, turned by 0.3', polygon(ngon(5, 0.3), SIZES), null, 5],
  ['hexagon', polygon(ngon(6), SIZES), null, 6],
  ['hexagon with grain', polygon(ngon(6), SIZES), 30, 2],
  [
    'parallelogram: a half turn is no mirror',
    polygon(
      [
        { x: 100, y: 80, radius: 30 },
        { x: -180, y: 80, radius: 30 },
        { x: -100, y: -80, radius: 30 },
        { x: 180, y: -80, radius: 30 },
      ],
      SIZES,
    ),
    null,
    0,
  ],
];

describe('number of mirror lines', () => {
  test.each(cases)('%s', (_, spec, grain, order) => {
    const symmetry = symmetryOf(spec, grain === null ? null : radians(grain));
    expect(symmetry?.order ?? 0).toBe(order);
    if (symmetry === null) return;
    // 2m pieces of equal angle only for regular plans, but always all of them together a full turn.
    expect(symmetry.endAngle).toBeGreaterThan(symmetry.startAngle);
    if (grain !== null) {
      for (const angle of [symmetry.startAngle, symmetry.endAngle]) {
        expect(Math.abs(Math.sin(2 * (angle - radians(grain))))).toBeLessThan(1e-9);
      }
    }
  });
});

test('a rectangle is solved in its first quadrant', () => {
  const symmetry = symmetryOf(rectangle(300, 200, 40, SIZES))!;
  expect([degrees(symmetry.startAngle), degrees(symmetry.endAngle)]).toEqual([0, 90]);
});

test('a plan far from the origin has its centre there', () => {
  const moved = ngon(4, Math.PI / 4).map((vertex) => ({ ...vertex, x: vertex.x + 700, y: vertex.y - 300 }));
  const symmetry = symmetryOf(polygon(moved, SIZES))!;
  expect(symmetry.order).toBe(4);
  expect(symmetry.centreX).toBeCloseTo(700, 9);
  expect(symmetry.centreY).toBeCloseTo(-300, 9);
});

test('a hair of difference breaks the symmetry', () => {
  const vertices = ngon(6).map((vertex, k) => (k === 1 ? { ...vertex, x: vertex.x + 1e-3 } : vertex));
  expect(symmetryOf(polygon(vertices, SIZES))?.order ?? 0).toBeLessThan(2);
  const radii = rectangle(300, 200, [40, 40, 40, 40.001], SIZES);
  expect(symmetryOf(radii)).toBeNull();
});

test('the piece of a tray is smaller the more mirror lines it has', () => {
  const whole = meshOf(rectangle(200, 200, [40, 39, 38, 37], SIZES)).triangles.length;
  const quarter = meshOf(rectangle(201, 200, 40, SIZES)).triangles.length;
  const eighth = meshOf(rectangle(200, 200, 40, SIZES)).triangles.length;
  expect(quarter).toBeLessThan(whole / 3);
  expect(eighth).toBeLessThan(quarter / 1.5);
});

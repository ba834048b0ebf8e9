/**
 * Area of the meshed surface against the theorems of Pappus and Guldin: length of a line times the way of its
 * centroid. Catches a piece that is missing, doubled or off the surface.
 */
import { describe, expect, test } from 'vitest';
import type { TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { formedAreaByQuadrature } from '../support/measures.ts';
import { hemisphere, meshOf, polygon, rectangle, roundPan, symmetryOf } from '../support/trays.ts';

/** Area of a polygon with rounded corners, moved in by `inset`; and its perimeter. */
function outline(spec: TraySpec, inset: number): { area: number; perimeter: number } {
  const { plan } = spec;
  const vertices =
    'vertices' in plan
      ? plan.vertices
      : (
          [
            [1, 1],
            [-1, 1],
            [-1, -1],
            [1, -1],
          ] as const
        ).map(([x, y], i) => ({
          x: (x * plan.length) / 2,
          y: (y * plan.width) / 2,
          radius: typeof plan.cornerRadius === 'number' ? plan.cornerRadius : plan.cornerRadius[i]!,
        }));
  let area = 0;
  let perimeter = 0;
  vertices.forEach((vertex, i) => {
    const next = vertices[(i + 1) % vertices.length]!;
    const before = vertices[(i + vertices.length - 1) % vertices.length]!;
    area += (vertex.x * next.y - next.x * vertex.y) / 2;
    perimeter += Math.hypot(next.x - vertex.x, next.y - vertex.y);
    const turn =
      Math.atan2(next.y - vertex.y, next.x - vertex.x) - Math.atan2(vertex.y - before.y, vertex.x - before.x);
    const sweep = turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI));
    // A rounded corner cuts off R²·(tan(τ/2) − τ/2) and shortens the way round by R·(2·tan(τ/2) − τ).
    area -= vertex.radius ** 2 * (Math.tan(sweep / 2) - sweep / 2);
    perimeter -= vertex.radius * (2 * Math.tan(sweep / 2) - sweep);
  });
  // Steiner: parallel curves of a convex outline.
  return {
    area: area - inset * perimeter + Math.PI * inset * inset,
    perimeter: perimeter - 2 * Math.PI * inset,
  };
}

/** Area of the whole tray: base, then bend and wall swept along the outline. */
function trayArea(spec: TraySpec): number {
  const { bottomRadius: r, height, draft } = spec.section;
  const angle = Math.PI / 2 - radians(draft);
  const base = outline(spec, r * Math.tan(angle / 2));
  const wall = (height - r * (1 - Math.cos(angle))) / Math.sin(angle);
  // A line at run u from the base's edge goes round perimeter + 2π·u (a closed convex outline turns once).
  const bendRun = (r * r * (1 - Math.cos(angle))) / (r * angle); // centroid of the arc
  const wallRun = r * Math.sin(angle) + (wall / 2) * Math.cos(angle);
  return (
    base.area +
    r * angle * (base.perimeter + 2 * Math.PI * bendRun) +
    wall * (base.perimeter + 2 * Math.PI * wallRun)
  );
}

const ngon = (sides: number, radius: number) =>
  Array.from({ length: sides }, (_, k) => ({
    x: 150 * Math.cos((2 * k * Math.PI) / sides),
    y: 150 * Math.sin((2 * k * Math.PI) / sides),
    radius,
  }));

const TRAYS: readonly (readonly [string, TraySpec])[] = [
  ['rectangle', rectangle(300, 200, 40, { bottomRadius: 20, height: 60 })],
  ['rectangle, corners of the bottom radius', rectangle(300, 200, 20, { bottomRadius: 20, height: 60 })],
  ['square, corners of the bottom radius', rectangle(150, 150, 25, { bottomRadius: 25, height: 25 })],
  ['square, wide corners', rectangle(150, 150, 50, { bottomRadius: 25, height: 60 })],
  ['four radii', rectangle(360, 240, [60, 45, 30, 25], { bottomRadius: 22, height: 45 })],
  [
    'trapezium of radii, one mirror line',
    rectangle(200, 160, [40, 25, 25, 40], { bottomRadius: 20, height: 30 }),
  ],
  ['draft 12', rectangle(300, 200, 40, { bottomRadius: 18, height: 40, draft: 12 })],
  ['draft 30', rectangle(300, 200, 40, { bottomRadius: 20, height: 60, draft: 30 })],
  ['long and narrow', rectangle(2000, 60, 30, { bottomRadius: 3, height: 9 })],
  ['round', roundPan(120, { bottomRadius: 20, height: 40 })],
  ['hemisphere', hemisphere(25)],
  ['bowl with a wall', roundPan(40, { bottomRadius: 20, height: 50 })],
  ['trough with round bottom', rectangle(200, 40, 20, { bottomRadius: 20, height: 30 })],
  ['triangle', polygon(ngon(3, 30), { bottomRadius: 20, height: 40 })],
  ['pentagon, corners of the bottom radius', polygon(ngon(5, 20), { bottomRadius: 20, height: 40 })],
  ['hexagon, corners of the bottom radius', polygon(ngon(6, 20), { bottomRadius: 20, height: 40 })],
];

test('the formula knows a hemisphere, a torus corner and a cylinder', () => {
  closeTo(
    trayArea(hemisphere(25)),
    2 * Math.PI * 25 ** 2,
    { why: 'rounding', relative: 1e-12 },
    'hemisphere',
  );
  // Pan of radius 60 with a quarter-torus bottom of 20 and a wall of 20: π40² + 2π(40·10π + 400) + 2π·60·20.
  const pan = Math.PI * 1600 + 2 * Math.PI * (400 * Math.PI + 400) + 2 * Math.PI * 1200;
  closeTo(
    trayArea(roundPan(120, { bottomRadius: 20, height: 40 })),
    pan,
    { why: 'rounding', relative: 1e-12 },
    'pan',
  );
});

describe.each(TRAYS)('%s', (_, spec) => {
  const order = symmetryOf(spec)?.order ?? 0;
  const pieces = order === 0 ? 1 : 2 * order;

  test('the mesh has the area of the surface, the more exactly the finer', () => {
    const exact = trayArea(spec);
    const errors = [0, 1, 2].map((k) =>
      Math.abs((pieces * formedAreaByQuadrature({ mesh: meshOf(spec, k) })) / exact - 1),
    );
    const THREE_LEVELS: readonly Tolerance[] = [
      { why: 'coarsest mesh', absolute: 3e-3 },
      { why: 'refined once', absolute: 3e-4 },
      { why: 'refined twice', absolute: 3e-5 },
    ];
    for (const [k, error] of errors.entries())
      closeTo(error, 0, THREE_LEVELS[k]!, 'relative error of the area');
    // Parabolas on circles: fourth order, so sixteen times at a halving; eight is safe before rounding shows.
    if (errors[1]! > 1e-8) expect(errors[1]! / errors[2]!).toBeGreaterThan(8);
  });
});

/** The neutral surface: points on it, frames of a roll-up without strain, and the fibre that is neither skin. */
import { describe, expect, test } from 'vitest';
import { neutralFactor } from '../../src/material/neutralFactor.ts';
import { neutralSurface, PLACED_SIZE } from '../../src/tray/neutralSurface.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { implicitSurface } from '../support/implicitSurface.ts';
import { formedPoint } from '../support/measures.ts';
import { meshOf, polygon, rectangle, roundPan } from '../support/trays.ts';

const FRAME: Tolerance = { why: 'rounding of sums of unit vectors', absolute: 1e-10 };
/** Radii of the fibre are settled to 1e-9 mm, so that both skins give the same one. */
const FIBRE: Tolerance = { why: 'rounded to 1e-9 mm', absolute: 1e-9 };
const ON_SURFACE: Tolerance = { why: 'rounding, and foil a nanometre thick', absolute: 1e-8 };

const TRAYS: readonly (readonly [string, TraySpec])[] = [
  ['rectangle', rectangle(300, 200, 40, { bottomRadius: 20, height: 60 })],
  ['corners of the bottom radius', rectangle(150, 150, 25, { bottomRadius: 25, height: 25 })],
  ['four radii', rectangle(360, 240, [60, 45, 30, 25], { bottomRadius: 22, height: 45 })],
  ['draft 12', rectangle(300, 200, 40, { bottomRadius: 18, height: 40, draft: 12 })],
  ['draft 30, long thin', rectangle(900, 120, 60, { bottomRadius: 10, height: 25, draft: 30 })],
  ['round', roundPan(120, { bottomRadius: 20, height: 40 })],
  [
    'pentagon',
    polygon(
      Array.from({ length: 5 }, (_, k) => ({
        x: 150 * Math.cos((2 * k * Math.PI) / 5),
        y: 150 * Math.sin((2 * k * Math.PI) / 5),
        radius: 30,
      })),
      { bottomRadius: 20, height: 40, draft: 5 },
    ),
  ],
];

describe.each(TRAYS)('%s', (_, spec) => {
  const mesh = meshOf(spec, 1);
  const surface = implicitSurface(spec);
  const nodes = Array.from({ length: mesh.nodeCount }, (_, node) => node);

  test('every node lies on the surface', () => {
    for (const node of nodes) {
      const point = formedPoint(mesh, node);
      closeTo(surface(point).f, 0, ON_SURFACE, `distance of ${point} from the surface`);
      expect(point[2]).toBeGreaterThanOrEqual(0);
      expect(point[2]).toBeLessThanOrEqual(spec.section.height + 1e-8);
    }
  });

  test('the rim stands at the height asked for, where the wall gets to with its draft', () => {
    const { draft, bottomRadius, height } = spec.section;
    const angle = Math.PI / 2 - radians(draft);
    const wall = (height - bottomRadius * (1 - Math.cos(angle))) / Math.sin(angle);
    const run = bottomRadius * Math.sin(angle) + wall * Math.cos(angle);
    for (const node of mesh.rim) {
      const point = formedPoint(mesh, node);
      closeTo(point[2], height, ON_SURFACE, 'height of the rim');
      closeTo(surface(point).run, run, ON_SURFACE, 'run of the rim');
    }
  });

  test('frames are square to each other, of unit length, and tangent', () => {
    for (const node of nodes) {
      const at = PLACED_SIZE * node;
      const [e1, e2] = [3, 6].map((k) => [0, 1, 2].map((i) => mesh.placed[at + k + i]!)) as [
        number[],
        number[],
      ];
      const dot = (a: readonly number[], b: readonly number[]): number =>
        a.reduce((sum, value, i) => sum + value * b[i]!, 0);
      closeTo(dot(e1, e1), 1, FRAME, 'first axis');
      closeTo(dot(e2, e2), 1, FRAME, 'second axis');
      closeTo(dot(e1, e2), 0, FRAME, 'angle between them');
      // A step along an axis leaves the surface only to second order.
      const [x, y, z] = formedPoint(mesh, node);
      for (const e of [e1, e2]) {
        const h = 1e-4;
        const f = surface([x + h * e[0]!, y + h * e[1]!, z + h * e[2]!]).f;
        closeTo(f, 0, { why: 'curvature over a step of 1e-4 mm', absolute: 1e-7 }, 'step along an axis');
      }
    }
  });

  test('above straight sides the frame is the flat rolled up: edges keep their length, axes their images', () => {
    let checked = 0;
    for (let t = 0; t < mesh.triangles.length / 6; t++) {
      const [a, m, b] = [0, 3, 1].map((k) => mesh.triangles[6 * t + k]!) as [number, number, number];
      const flat = (node: number, k: number): number => mesh.placed[PLACED_SIZE * node + 9 + k]!;
      const difference = [0, 1].map((k) => flat(b, k) - flat(a, k)) as [number, number];
      const length = Math.hypot(...difference);
      const [pa, pb] = [formedPoint(mesh, a), formedPoint(mesh, b)];
      // Only level edges and edges on flats are straight when formed.
      const formed = Math.hypot(pb[0] - pa[0], pb[1] - pa[1], pb[2] - pa[2]);
      if (Math.abs(formed - length) > 1e-7 * length) continue;
      checked++;
      for (const i of [0, 1, 2]) {
        const image =
          difference[0] * mesh.placed[PLACED_SIZE * m + 3 + i]! +
          difference[1] * mesh.placed[PLACED_SIZE * m + 6 + i]!;
        closeTo(pb[i]! - pa[i]!, image, { why: 'rounding', absolute: 1e-6 }, 'image of an edge');
      }
    }
    expect(checked).toBeGreaterThan(0);
  });
});

describe('the neutral fibre', () => {
  test.each([
    [1, 1],
    [1, 2.5],
    [2, 4],
    [3, 10],
    [1, 30],
  ] as const)('sheet %d, inside radius %d: at k·s/2 from the inside skin (DIN 6935)', (thickness, inside) => {
    const k = Math.min(1, 0.65 + 0.5 * Math.log10(inside / thickness));
    closeTo(neutralFactor(inside, thickness), k, { why: 'rounding', absolute: 1e-12 }, 'k');
    const spec = rectangle(300, 200, 40, { bottomRadius: inside, height: 50, thickness, measured: 'inside' });
    const { section } = neutralSurface(spec);
    const bend = section.pieces[0]!;
    closeTo(bend.radius, inside + (k * thickness) / 2, FIBRE, 'radius of the fibre');
    closeTo(bend.length, (Math.PI / 2) * bend.radius, FIBRE, 'length of the bend');
    // Straight wall and base do not depend on the fibre.
    closeTo(section.developed - bend.length, 50 - inside, FIBRE, 'straight wall');
  });

  test('inside and outside sizes of one tray give one surface', () => {
    const t = 1.5;
    for (const draft of [0, 12, 30]) {
      const step = t * Math.tan(radians(90 - draft) / 2);
      const outside = rectangle(300, 200, 45, {
        bottomRadius: 22,
        height: 50,
        draft,
        thickness: t,
        measured: 'outside',
      });
      const inside = rectangle(300 - 2 * step, 200 - 2 * step, 45 - step, {
        bottomRadius: 22 - t,
        height: 50 - t + t * Math.sin(radians(draft)),
        draft,
        thickness: t,
        measured: 'inside',
      });
      const [a, b] = [meshOf(outside), meshOf(inside)];
      expect(b.nodeCount).toBe(a.nodeCount);
      a.placed.forEach((value, i) => {
        closeTo(b.placed[i]!, value, { why: 'rounding', absolute: 1e-11 }, `number ${i}, draft ${draft}`);
      });
    }
  });
});

/**
 * A blank whose plan has no mirror lines is held at two nodes of its base. Which nodes these are must not show: they
 * only keep it in place, and the way it lies against its grain is that of the base.
 */
import { expect, it } from 'vitest';
import { pathArea, pathBounds } from '../../src/geometry/measure.ts';
import { densityFor } from '../../src/mesh/traySkeleton.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { neutralSurface } from '../../src/tray/neutralSurface.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

it('the outline is the same on meshes that are held at different nodes', () => {
  const spec = readTray({
    name: 'corner-tray',
    measured: 'outside',
    plan: {
      vertices: [
        { x: 0, y: 0, radius: 30 },
        { x: 300, y: 0, radius: 30 },
        { x: 300, y: 120, radius: 30 },
        { x: 150, y: 120, radius: 80 },
        { x: 150, y: 260, radius: 30 },
        { x: 0, y: 260, radius: 30 },
      ],
    },
    section: { bottomRadius: 20, height: 60 },
    sheet: { material: '1.4301', thickness: 1 },
    forming: { trim: 0 },
  });
  const usual = densityFor(neutralSurface(spec));
  const [one, other] = [1, 0.8].map((share) =>
    flatPatternOf(
      developTray(spec, {
        ...OUTLINE_ONLY,
        solve: {
          minimumRefinements: 1,
          maximumRefinements: 1,
          density: { angle: share * usual.angle, size: share * usual.size, growth: share * usual.growth },
        },
      }),
    ),
  );
  const [a, b] = [pathBounds(one!.rim), pathBounds(other!.rim)];
  for (const side of ['minX', 'maxX', 'minY', 'maxY'] as const) {
    expect(Math.abs(a[side] - b[side])).toBeLessThan(0.1);
  }
  expect(Math.abs(pathArea(one!.rim) / pathArea(other!.rim) - 1)).toBeLessThan(1e-4);
  // At the convex corners, where a turn against the grain shows most: the rim node on the corner's own diagonal.
  const reach = ({ field }: typeof one & object): number[] =>
    [
      [270, 30],
      [270, 90],
      [120, 230],
      [30, 230],
      [30, 30],
    ].map(([x, y]) => {
      const node = [...field.rimNodes].reduce((best, each) => {
        const off = (n: number): number => {
          const [dx, dy] = [field.formed[3 * n]! - x!, field.formed[3 * n + 1]! - y!];
          return Math.abs(Math.abs(dx) - Math.abs(dy)) + (Math.hypot(dx, dy) < 31 ? 0 : 1e3);
        };
        return off(each) < off(best) ? each : best;
      });
      return Math.hypot(field.flat[2 * node]! - x!, field.flat[2 * node + 1]! - y!);
    });
  const [from, to] = [reach(one!), reach(other!)];
  for (const [i, value] of from.entries()) expect(Math.abs(value - to[i]!)).toBeLessThan(0.02);
});

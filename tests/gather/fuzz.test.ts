/** Zones of many trays at many thresholds: whatever comes out must be sound. */
import { describe, expect, it } from 'vitest';
import { gatherZones, zoneContours } from '../../src/gather/zones.ts';
import { containsPoint, distanceToPath, pathArea } from '../../src/geometry/measure.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { solved } from '../support/solved.ts';
import { benchTray } from './benchTrays.ts';

const ell: TraySpec['plan'] = {
  vertices: [
    [0, 0],
    [300, 0],
    [300, 120],
    [140, 120],
    [140, 260],
    [0, 260],
  ].map(([x, y]) => ({ x: x!, y: y!, radius: 40 })),
};
const triangle: TraySpec['plan'] = {
  vertices: [
    { x: -150, y: -90, radius: 35 },
    { x: 160, y: -70, radius: 50 },
    { x: 10, y: 140, radius: 25 },
  ],
};
// One turned in is as wide as its corners gather evenly.
const lip = (direction: 'in' | 'out') =>
  ({ kind: 'lip', direction, bendRadius: 4, width: direction === 'in' ? 8 : 12 }) as const;

const TRAYS: readonly (readonly [string, TraySpec])[] = [
  ['a rectangle', benchTray()],
  ['a square with corners of sphere', benchTray({ plan: { length: 150, width: 150, cornerRadius: 15 } })],
  ['a round tray', benchTray({ plan: { length: 160, width: 160, cornerRadius: 80 } })],
  ['unlike corners', benchTray({ plan: { length: 300, width: 200, cornerRadius: [60, 20, 45, 30] } })],
  ['a triangle', benchTray({ plan: triangle, section: { height: 28 } })],
  ['an L with an inward corner', benchTray({ plan: ell, section: { bottomRadius: 12, height: 17 } })],
  ['a lip turned out', benchTray({ section: { rim: lip('out') } })],
  ['a lip turned in', benchTray({ section: { rim: lip('in') } })],
  ['leaning walls', benchTray({ section: { draft: 20 } })],
];

describe.each(TRAYS)('zones of %s', (_, spec) => {
  const { field, workedRim: rim, sheet } = solved(spec);

  it.each([0.6, 1, 2, 3.3, 5, 8, 13, 21, 30, 45])('are sound from %d %% on', (threshold) => {
    const zones = gatherZones(field, rim, sheet.thickness, { threshold });
    const contours = zoneContours({ field, workedRim: rim, sheet, gather: { threshold } });
    for (const [number, zone] of zones.entries()) {
      expect(zone.peak.percent).toBeGreaterThanOrEqual(threshold);
      expect(zone.area).toBeGreaterThan(sheet.thickness ** 2);
      const [outer, ...gaps] = zone.boundary;
      expect(pathArea(outer!)).toBeGreaterThan(0);
      for (const gap of gaps) expect(pathArea(gap)).toBeLessThan(0);
      const drawn = zone.boundary.reduce((sum, path) => sum + pathArea(path), 0);
      // A contour is drawn within a quarter of a millimetre (2.5 ‰ of its length) of the traced one.
      const around = zone.boundary.flatMap(({ vertices }) => vertices);
      const size = Math.max(...around.map(({ x }) => x)) - Math.min(...around.map(({ x }) => x));
      expect(Math.abs(drawn - zone.area)).toBeLessThan(0.02 * zone.area + 0.3 * size + 2);
      for (const path of [...zone.boundary, ...contours[number]!.flatMap(({ paths }) => paths)]) {
        expect(path.vertices.length).toBeGreaterThan(1);
        for (const { x, y, bulge } of path.vertices) {
          expect(Number.isFinite(x + y + bulge)).toBe(true);
          expect(distanceToPath({ x, y }, rim) < 0.6 || containsPoint(rim, { x, y })).toBe(true);
        }
      }
      if (zone.rim === null) continue;
      expect(Number.isFinite(zone.rim.reachBefore + zone.rim.reachAfter)).toBe(true);
      const sign = zone.kind === 'shrink' ? 1 : -1;
      expect(sign * zone.rim.toLose).toBeGreaterThan(0);
    }
    const percents = zones.map(({ peak }) => peak.percent);
    if (threshold <= 21) expect(Math.max(0, ...percents)).toBeGreaterThan(0);
  });
});

describe('an inward corner', () => {
  it('is a stretch zone, thinned, whose rim has to get longer', () => {
    const { gather } = solved(
      benchTray({ plan: ell, section: { bottomRadius: 12, height: 17 }, forming: { trim: 0 } }),
    );
    const stretched = gather.zones.filter(({ kind }) => kind === 'stretch');
    expect(stretched.map(({ corners }) => corners)).toEqual([[3]]);
    expect(stretched[0]!.rim!.toLose).toBeLessThan(-5);
    expect(stretched[0]!.thickness.value).toBeLessThan(1);
    expect(gather.zones.filter(({ kind }) => kind === 'shrink')).toHaveLength(5);
    expect(gather.tucks).toHaveLength(5);
  });
});

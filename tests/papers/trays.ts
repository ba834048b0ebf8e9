/** Trays for the tests of papers. */
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { TraySpec } from '../../src/tray/spec.ts';

/** A tray for small pots; the wall leans out so that trays nest. */
export const NESTING: TraySpec = {
  name: 'nesting-pot-tray',
  measured: 'outside',
  plan: { length: 300, width: 200, cornerRadius: 40 },
  section: { bottomRadius: 18, height: 40, draft: 12, rim: { kind: 'plain' } },
  sheet: { material: 'DC04', thickness: 0.8, grain: 90 },
  forming: { trim: 5 },
  cut: { process: 'hand', kerf: 0, compensate: false },
};

/** Upright walls, four unlike corners. */
export const UPRIGHT: TraySpec = {
  name: 'seedling-bench-tray',
  measured: 'inside',
  plan: { length: 240, width: 170, cornerRadius: [45, 38, 32, 28] },
  section: { bottomRadius: 15, height: 28, draft: 0, rim: { kind: 'plain' } },
  sheet: { material: 'DX51D+Z', thickness: 1, grain: 0 },
  forming: { trim: 4 },
  cut: { process: 'laser', kerf: 0.2, compensate: false },
};

/** A round tray that leans out. */
export const ROUND_PAN: TraySpec = {
  ...NESTING,
  name: 'pot-saucer',
  plan: {
    vertices: [
      { x: 90, y: 0, radius: 0, bulge: 1 },
      { x: -90, y: 0, radius: 0, bulge: 1 },
    ],
  },
  section: { bottomRadius: 15, height: 24, draft: 10, rim: { kind: 'plain' } },
};

/** With a lip turned outwards. */
export const WITH_LIP: TraySpec = {
  ...NESTING,
  name: 'lipped-pot-tray',
  section: {
    bottomRadius: 12,
    height: 30,
    draft: 3,
    rim: { kind: 'lip', direction: 'out', bendRadius: 5, width: 15 },
  },
};

/** A strip to be welded on. */
export const STRIP = {
  height: 25,
  thickness: 0,
  flush: 'inside',
  joint: 'butt',
  allowance: 1,
  stockLength: 2000,
} as const;

/** The same pattern with as many corners as a plan may have, each with a rim of its own to lose. */
export function withManyCorners(pattern: FlatPattern): FlatPattern {
  const [corner] = pattern.report.corners;
  const corners = Array.from({ length: 200 }, (_, index) => ({
    ...corner!,
    index,
    rimToLose: index / 10,
    rimToLoseCorners: [index],
  }));
  return { ...pattern, report: { ...pattern.report, corners } };
}

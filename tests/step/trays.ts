/** Trays of every kind that a formed solid must be right for. */
import { readFileSync } from 'node:fs';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';

const sheet = { material: 'DC04', thickness: 1.2 };
const section = { bottomRadius: 25, height: 60 };
const rectangle = (length: number, width: number, cornerRadius: number | number[]): unknown => ({
  length,
  width,
  cornerRadius,
});
const polygon = (list: readonly (readonly [number, number, number])[]): unknown => ({
  vertices: list.map(([x, y, radius]) => ({ x, y, radius })),
});

const FILES: Readonly<Record<string, unknown>> = {
  'plan radius equals bottom radius: spheres': { plan: rectangle(200, 150, 25), section, sheet },
  'plan radius larger: tori': { plan: rectangle(200, 150, 60), section, sheet },
  'plan radius a little larger: tube wider than its ring': { plan: rectangle(200, 150, 30), section, sheet },
  'height equals bottom radius: no wall': {
    plan: rectangle(200, 150, 25),
    section: { bottomRadius: 25, height: 25 },
    sheet,
  },
  'draft: cones': { plan: rectangle(200, 150, 40), section: { ...section, draft: 8 }, sheet },
  'a different radius at each corner': { plan: rectangle(240, 180, [30, 40, 50, 60]), section, sheet },
  'a round tray': { plan: rectangle(200, 200, 100), section: { ...section, draft: 3 }, sheet },
  'a stadium': { plan: rectangle(260, 160, 80), section, sheet },
  'a hexagon': {
    plan: polygon(
      [0, 1, 2, 3, 4, 5].map(
        (i) => [100 * Math.cos((i * Math.PI) / 3), 100 * Math.sin((i * Math.PI) / 3), 30 + i] as const,
      ),
    ),
    section: { ...section, draft: 7 },
    sheet,
  },
  'an inward corner': {
    plan: polygon([
      [0, 0, 30],
      [300, 0, 30],
      [300, 120, 30],
      [150, 120, 60],
      [150, 260, 30],
      [0, 260, 30],
    ]),
    section: { bottomRadius: 20, height: 40, draft: 5 },
    sheet,
  },
  'a lip turned out': {
    plan: rectangle(300, 200, 40),
    section: {
      bottomRadius: 20,
      height: 60,
      draft: 5,
      rim: { kind: 'lip', direction: 'out', bendRadius: 5, width: 15 },
    },
    sheet,
  },
  'a lip turned in, measured inside': {
    measured: 'inside',
    plan: rectangle(300, 200, 40),
    section: {
      bottomRadius: 20,
      height: 60,
      rim: { kind: 'lip', direction: 'in', bendRadius: 5, width: 15 },
    },
    sheet,
  },
};

/** A tray file as JSON holds it, with its defaults. */
export const trayFile = (name: string): Record<string, unknown> => ({
  name: 'drip-tray',
  measured: 'outside',
  ...(FILES[name] as Record<string, unknown>),
});

export const TRAY_NAMES = Object.keys(FILES);
export const tray = (name: string): TraySpec => readTray(trayFile(name));

export const DEMO_NAMES = [
  'nesting-drip-tray',
  'potting-bench-drip-tray-large',
  'propagator-drip-tray',
  'seed-bench-drip-tray',
] as const;

export const demo = (name: string): TraySpec =>
  readTray(JSON.parse(readFileSync(new URL(`../../samples/${name}.json`, import.meta.url), 'utf8')));

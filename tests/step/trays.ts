/** Trays of every kind that a formed solid must be right for. */
import { readdirSync, readFileSync } from 'node:fs';
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

/** Trays that are not one section all round. */
const VARIED: Readonly<Record<string, unknown>> = {
  'walls of four heights: helicoids on the rim': {
    plan: rectangle(300, 200, 40),
    section: { bottomRadius: 20, heights: [60, 45, 30, 40] },
    sheet,
  },
  'a high back with draft, the rim run out over the sides': {
    plan: rectangle(300, 200, 40),
    section: { bottomRadius: 20, draft: 6, heights: [60, 40, 40, 40], runOut: 30 },
    sheet,
  },
  'heights at an inward corner': {
    plan: polygon([
      [0, 0, 40],
      [300, 0, 40],
      [300, 160, 40],
      [150, 160, 60],
      [150, 260, 40],
      [0, 260, 40],
    ]),
    section: { bottomRadius: 20, heights: [30, 30, 30, 50, 50, 50], draft: 4 },
    sheet,
  },
  'one side open': {
    measured: 'inside',
    plan: { ...(rectangle(300, 200, 40) as object), openEdges: [1] },
    section: { bottomRadius: 20, height: 40 },
    sheet,
  },
  'two sides open, with a lip': {
    plan: { ...(rectangle(300, 200, 40) as object), openEdges: [1, 3] },
    section: {
      bottomRadius: 20,
      height: 40,
      draft: 5,
      rim: { kind: 'lip', direction: 'out', bendRadius: 5, width: 15 },
    },
    sheet,
  },
  'two neighbouring sides open, two heights': {
    plan: { ...(rectangle(300, 200, 40) as object), openEdges: [1, 2] },
    section: { bottomRadius: 20, heights: [50, 50, 50, 35], draft: 5 },
    sheet,
  },
  'an open side that is an arc, bowed out': {
    plan: {
      vertices: [
        { x: 150, y: 100, radius: 40 },
        { x: -150, y: 100, radius: 0, bulge: 0.2 },
        { x: -150, y: -100, radius: 0 },
        { x: 150, y: -100, radius: 40 },
      ],
      openEdges: [1],
    },
    section: { bottomRadius: 20, height: 40, draft: 5 },
    sheet,
  },
  'half a round tray, open along its straight side': {
    plan: {
      vertices: [
        { x: 0, y: -100, radius: 0 },
        { x: 0, y: 100, radius: 0, bulge: Math.tan(Math.PI / 8) },
        { x: -100, y: 0, radius: 0, bulge: Math.tan(Math.PI / 8) },
      ],
      openEdges: [0],
    },
    section: { bottomRadius: 20, height: 40 },
    sheet,
  },
  'four notched corners, welded skin to skin': {
    plan: rectangle(300, 200, [0, 0, 0, 0]),
    section: { bottomRadius: 20, height: 40 },
    sheet,
    forming: { corners: 'notch' },
  },
  'two notched corners with draft': {
    plan: rectangle(300, 200, [0, 40, 0, 40]),
    section: { bottomRadius: 20, height: 40, draft: 10 },
    sheet,
    forming: { corners: ['notch', 'gather', 'notch', 'gather'] },
  },
  'notched corners with a weld gap': {
    plan: rectangle(300, 200, [0, 0, 0, 0]),
    section: { bottomRadius: 20, height: 40 },
    sheet,
    forming: { corners: 'notch', weldGap: 1 },
  },
  'a weld gap that is fully open part of the way up a leaning wall': {
    plan: rectangle(300, 200, [0, 0, 0, 0]),
    section: { bottomRadius: 20, height: 60, draft: 20 },
    sheet,
    forming: { corners: 'notch', weldGap: 1 },
  },
  'notched lips with a weld gap, out': {
    plan: rectangle(300, 200, [0, 0, 0, 0]),
    section: {
      bottomRadius: 20,
      height: 60,
      rim: { kind: 'lip', direction: 'out', bendRadius: 5, width: 15 },
    },
    sheet,
    forming: { corners: 'notch', weldGap: 1 },
  },
  'notched lips with a weld gap, in': {
    plan: rectangle(300, 200, [0, 0, 0, 0]),
    section: {
      bottomRadius: 10,
      height: 60,
      draft: 15,
      rim: { kind: 'lip', direction: 'in', bendRadius: 5, width: 25 },
    },
    sheet,
    forming: { corners: 'notch', weldGap: 1 },
  },
  'holes in leaning walls': {
    plan: rectangle(300, 200, 40),
    section: { bottomRadius: 20, height: 60, draft: 7 },
    sheet,
    holes: [
      {
        name: 'hole-1',
        shape: { kind: 'round', diameter: 12 },
        place: { on: 'wall', edge: 0, along: 20, height: 40 },
      },
      {
        name: 'hole-2',
        shape: {
          kind: 'polygon',
          points: [
            { x: -4, y: -3 },
            { x: 8, y: -3 },
            { x: -4, y: 6 },
          ],
        },
        place: { on: 'wall', edge: 2, along: -5, height: 40 },
      },
      {
        name: 'hole-3',
        shape: { kind: 'slot', length: 30, width: 8, angle: 20 },
        place: { on: 'wall', edge: 3, along: -5, height: 40 },
      },
    ],
  },
};

/** A tray file as JSON holds it, with its defaults. */
export const trayFile = (name: string): Record<string, unknown> => ({
  name: 'drip-tray',
  measured: 'outside',
  ...((FILES[name] ?? VARIED[name]) as Record<string, unknown>),
});

export const TRAY_NAMES = Object.keys(FILES);
export const VARIED_NAMES = Object.keys(VARIED);
export const tray = (name: string): TraySpec => readTray(trayFile(name));

/** Every sample, and those of them whose plan a solid can tell only in other words: bulged edges are arcs as corners are. */
export const DEMO_NAMES = readdirSync(new URL('../../samples/', import.meta.url))
  .filter((file) => file.endsWith('.json'))
  .map((file) => file.slice(0, -5))
  .sort();
export const DEMOS_WITH_BULGES = ['column-side-tray', 'downpipe-sump', 'pot-saucer'];

const inSamples = (file: string): string =>
  readFileSync(new URL(`../../samples/${file}`, import.meta.url), 'utf8');

export const demo = (name: string): TraySpec =>
  readTray(JSON.parse(inSamples(`${name}.json`)), { planDxf: inSamples });

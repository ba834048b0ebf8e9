/** The demo trays must always be readable, and show what they are there to show. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { planVertices } from '../../src/tray/planLoop.ts';
import { parseTray, readTray } from '../../src/tray/readTray.ts';
import { turns } from '../../src/tray/smoothJoints.ts';

const folder = new URL('../../samples/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
const textOf = (name: string): string => readFileSync(new URL(name, folder), 'utf8');
const read = (name: string) => readTray(parseTray(textOf(name)), { planDxf: textOf });

test.each(files)('%s is sound and named like its file', (file) => {
  expect(`${read(file).name}.json`).toBe(file);
});

test('between them they show four different radii, draft, an inside-measured and a large tray', () => {
  const trays = files.map(read);
  expect(
    trays.some(({ plan }) => 'cornerRadius' in plan && new Set([plan.cornerRadius].flat()).size === 4),
  ).toBe(true);
  expect(trays.some(({ section }) => section.draft > 0)).toBe(true);
  expect(trays.some(({ measured, sheet }) => measured === 'inside' && sheet.material === '1050A-O')).toBe(
    true,
  );
  expect(trays.some(({ plan }) => 'length' in plan && plan.length >= 1000)).toBe(true);
});

test('between them they show every kind of plan, rim and hole', () => {
  const trays = files.map(read);
  const plans = trays.map(({ plan }) => planVertices(plan));
  expect(plans.some((plan) => turns(plan).some((turn) => turn < -1))).toBe(true);
  expect(plans.some((plan) => plan.length === 2)).toBe(true);
  expect(plans.some((plan) => plan.length === 6 && turns(plan).every((turn) => turn > 0))).toBe(true);
  expect(plans.some((plan) => plan.some(({ bulge = 0 }) => bulge < 0))).toBe(true);
  expect(plans.some((plan) => plan.length > 2 && plan.some(({ bulge = 0 }) => bulge > 0))).toBe(true);
  expect(trays.some(({ section }) => section.rim.kind === 'lip')).toBe(true);
  expect(trays.some(({ section }) => section.heights !== undefined)).toBe(true);
  expect(trays.some(({ plan }) => plan.openEdges !== undefined)).toBe(true);
  const holes = trays.flatMap((tray) => tray.holes ?? []);
  expect(new Set(holes.map(({ place }) => place.on))).toEqual(new Set(['base', 'wall']));
  expect(files.some((file) => textOf(file).includes('"dxf"'))).toBe(true);
});

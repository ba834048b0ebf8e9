/** The demo trays must always be readable, and show what they are there to show. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseTray, readTray } from '../../src/tray/readTray.ts';

const folder = new URL('../../samples/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
const read = (name: string) => readTray(parseTray(readFileSync(new URL(name, folder), 'utf8')));

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

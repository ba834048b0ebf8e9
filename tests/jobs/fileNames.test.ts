/** The names of the files that are made of trays: one rule for command, batch and service. */
import { expect, test } from 'vitest';
import { fileNamesOf, refuseClashes } from '../../src/jobs/fileNames.ts';

const CSV_TWICE = [
  { id: 'stations', extension: 'csv' },
  { id: 'sizes', extension: 'csv' },
  { id: 'dxf', extension: 'dxf' },
];

const none = (): boolean => false;

test('the second format of one ending bears its id', () => {
  expect(fileNamesOf('Tray 7', CSV_TWICE)).toEqual(['Tray-7.csv', 'Tray-7.sizes.csv', 'Tray-7.dxf']);
});

test('trays whose files would be one are refused, by name and place', () => {
  const trays = (...names: string[]) => names.map((name, i) => ({ name, place: `line ${i + 2}` }));
  expect(() => refuseClashes(trays('a', 'b'), CSV_TWICE, none)).not.toThrow();
  expect(() => refuseClashes(trays('a', 'a.sizes'), CSV_TWICE, none)).toThrow(
    'a.sizes (line 3) would be written to a.sizes.csv, as a (line 2) is; give it another name.',
  );
  expect(() => refuseClashes(trays('a', 'A'), CSV_TWICE, none)).toThrow(/A\.csv/);
  expect(() => refuseClashes(trays('manifest'), CSV_TWICE, (key) => key === 'manifest.csv')).toThrow(
    "The tray manifest (line 2) would overwrite the batch's own file manifest.csv; give it another name.",
  );
});

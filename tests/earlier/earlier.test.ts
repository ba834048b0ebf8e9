/**
 * Files of version 0.1 are still read, to the same trays: `0.1/` holds such files, and `read.json` what version 0.1
 * itself made of them.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { formatOf, readBatch } from '../../src/batch/readBatch.ts';
import { isTray } from '../../src/batch/rows.ts';
import { readMeasurements } from '../../src/gather/measurements.ts';
import { parseTray, readTray } from '../../src/tray/readTray.ts';

const text = (name: string): string => readFileSync(new URL(`0.1/${name}`, import.meta.url), 'utf8');

const read = JSON.parse(text('read.json')) as {
  readonly trays: Readonly<Record<string, unknown>>;
  readonly batches: Readonly<Record<string, readonly unknown[]>>;
  readonly measurements: unknown;
};

/** Bases of the batches, as they were given on the command line. */
const BASES: Readonly<Record<string, string>> = { 'propagator-sizes.csv': 'propagator-drip-tray.json' };

/** What it is once it has been written to a file, to 14 digits: drawings are followed in other steps than before. */
const plain = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value), (_, each) =>
    typeof each === 'number' ? Number(each.toPrecision(14)) : each,
  );

describe('version 0.1', () => {
  test('no file of it is forgotten', () => {
    const files = readdirSync(new URL('0.1/', import.meta.url)).filter((name) => /\.(json|csv)$/.test(name));
    const known = [
      ...Object.keys(read.trays),
      ...Object.keys(read.batches),
      'measurements.json',
      'read.json',
    ];
    expect(files.sort()).toEqual(known.sort());
  });

  test.each(Object.entries(read.trays))('tray file %s', (name, tray) => {
    const notes: string[] = [];
    // What is made of a tray in inches is shown in inches, which version 0.1 did not know.
    const file = parseTray(text(name)) as { readonly units?: string };
    const { shownIn, ...spec } = readTray(file, { planDxf: text, note: (note) => notes.push(note) });
    expect(shownIn).toBe(file.units === 'in' ? 'in' : undefined);
    expect(plain(spec)).toEqual(plain(tray));
    expect(notes).toEqual([]);
  });

  test.each(Object.entries(read.batches))('batch %s', (name, rows) => {
    const base = BASES[name] === undefined ? {} : JSON.parse(text(BASES[name]));
    const found = readBatch(text(name), formatOf(name), base, 'row').map((row) =>
      isTray(row)
        ? { row: row.row, place: row.place, quantity: row.quantity, spec: plain(row.spec) }
        : { error: String(row.error) },
    );
    expect(found).toEqual(plain(rows));
  });

  test('measurements of a trial corner', () => {
    expect(plain(readMeasurements(JSON.parse(text('measurements.json'))))).toEqual(plain(read.measurements));
  });
});

/** Families: JSON batch files with lists and ranges. */
import { describe, expect, it } from 'vitest';
import { readBatch } from '../../src/batch/readBatch.ts';
import { type BadRow, isTray, type TrayRow } from '../../src/batch/rows.ts';
import { refusal } from '../support/refusal.ts';
import { BASE } from './batches.ts';

const read = (value: unknown, base: Record<string, unknown> = {}) =>
  readBatch(JSON.stringify(value), 'json', base, 'tray');

const sentence = (value: unknown): string =>
  refusal(() => (typeof value === 'string' ? readBatch(value, 'json', {}, 'tray') : read(value))).message;

const lengths = (rows: readonly unknown[]): number[] =>
  (rows as TrayRow[]).map((row) => (row.spec.plan as { length: number }).length);

describe('ranges', () => {
  it('every combination, the last range fastest, named by the template', () => {
    const rows = read({
      base: BASE,
      name: 'tray-{plan.length}x{plan.width}',
      ranges: { 'plan.length': { from: 300, to: 320, step: 10 }, 'plan.width': [200, 210] },
    }) as TrayRow[];
    expect(rows.map((row) => row.spec.name)).toEqual([
      'tray-300x200',
      'tray-300x210',
      'tray-310x200',
      'tray-310x210',
      'tray-320x200',
      'tray-320x210',
    ]);
  });

  it('steps of a tenth end where they should and are round', () => {
    const rows = read({
      base: { ...BASE, plan: { ...BASE.plan, width: 200 } },
      ranges: { 'plan.length': { from: 300.1, to: 300.9, step: 0.1 } },
    });
    expect(lengths(rows)).toEqual([300.1, 300.2, 300.3, 300.4, 300.5, 300.6, 300.7, 300.8, 300.9]);
  });

  it('a count shares the range out evenly', () => {
    const rows = read({
      base: { ...BASE, plan: { ...BASE.plan, width: 200 } },
      ranges: { 'plan.length': { from: 300, to: 400, count: 5 } },
    });
    expect(lengths(rows)).toEqual([300, 325, 350, 375, 400]);
  });

  it('a combination that cannot be made is a bad row with its values, and the others go on', () => {
    const rows = read({ base: BASE, ranges: { 'plan.length': [300, 3], 'plan.width': [200] } });
    expect(rows.map(isTray)).toEqual([true, false]);
    expect((rows[1] as BadRow).error.message).toMatch(
      /^Row 2 \(plan\.length 3, plan\.width 200\): plan\.length is 3;/,
    );
  });
});

describe('lists', () => {
  it('nested and dotted fields, over the file’s base, over the base tray', () => {
    const rows = read(
      {
        base: { section: { height: 28 } },
        trays: [
          { name: 'nested', plan: { length: 300, width: 200 }, quantity: 4 },
          { name: 'dotted', 'plan.length': 310, 'plan.width': 200, 'sheet.thickness': 1 },
        ],
      },
      BASE,
    ) as TrayRow[];
    expect(
      rows.map(({ spec, quantity }) => [spec.name, spec.section.height, spec.sheet.thickness, quantity]),
    ).toEqual([
      ['nested', 28, 1.2, 4],
      ['dotted', 28, 1, 1],
    ]);
  });
});

describe('refused as a whole', () => {
  it.each([
    ['{', 'not JSON'],
    [{}, 'no trays'],
    [[], 'batch file is'],
    [{ base: BASE, rnages: {} }, 'rnages'],
    [{ base: BASE, ranges: { 'plan.lenght': [1] } }, 'did you mean "plan.length"?'],
    [{ base: BASE, ranges: { 'plan.length': { from: 1, to: 2, step: 0 } } }, 'above 0'],
    [{ base: BASE, ranges: { 'plan.length': { from: 2, to: 1, step: 1 } } }, 'smaller value first'],
    [{ base: BASE, ranges: { 'plan.length': { from: 0, to: 1e9, step: 1 } } }, 'at most 100000'],
    [
      {
        base: BASE,
        ranges: {
          'plan.length': { from: 0, to: 1000, step: 1 },
          'plan.width': { from: 0, to: 1000, step: 1 },
        },
      },
      'at most 100000',
    ],
  ])('%j', (value, says) => {
    expect(sentence(value)).toContain(says);
  });

  it('names that are there twice, capitals or not, with their places', () => {
    const one = { 'plan.length': 300, 'plan.width': 200 };
    expect(
      sentence({
        base: BASE,
        trays: [
          { ...one, name: 'a' },
          { ...one, name: 'b' },
          { ...one, name: 'A' },
        ],
      }),
    ).toBe('name "a" is given more than once (row 1, row 3); give every tray a name of its own.');
  });
});

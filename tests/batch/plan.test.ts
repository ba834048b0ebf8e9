/** What is solved together, and what a row's hash depends on. */
import { describe, expect, it } from 'vitest';
import { planChunks, rowsPerChunk } from '../../src/batch/plan.ts';
import { readBatch, traysOf } from '../../src/batch/readBatch.ts';
import type { TrayRow } from '../../src/batch/rows.ts';
import { DXF, family } from './batches.ts';

const rows = (lengths: number): TrayRow[] => traysOf(readBatch(family(lengths), 'json', {}, 'tray'));
const keys = (trays: readonly TrayRow[], formats = DXF, program = '1'): string[] =>
  planChunks(trays, { formats, program }).flatMap((chunk) => chunk.rows.map((row) => row.key));

describe('chunks', () => {
  it('hold a fixed number of rows, in order', () => {
    const chunks = planChunks(rows(9), { formats: DXF, program: '1' }); // 36 rows
    expect(chunks.map((chunk) => chunk.rows.length)).toEqual([8, 8, 8, 8, 4]);
    expect([64, 65, 1024, 1025, 5000].map(rowsPerChunk)).toEqual([8, 16, 16, 32, 32]);
    expect(chunks.flatMap((chunk) => chunk.rows.map((row) => row.row))).toEqual(
      Array.from({ length: 36 }, (_, i) => i + 1),
    );
  });

  it('rows at the end do not change those before', () => {
    expect(keys(rows(9)).slice(0, 8)).toEqual(keys(rows(5)).slice(0, 8));
  });

  it('a row’s hash depends on its tray, those before it in the chunk, formats and program', () => {
    const trays = rows(9);
    const before = keys(trays);
    expect(new Set(before).size).toBe(36);
    const spec = { ...trays[2]!.spec, section: { ...trays[2]!.spec.section, height: 31 } };
    const after = keys(trays.map((tray, i) => (i === 2 ? { ...tray, spec } : tray)));
    const same = before.map((key, i) => key === after[i]);
    expect(same.indexOf(false)).toBe(2);
    expect(same.slice(2, 8)).not.toContain(true);
    expect(same.slice(8)).not.toContain(false);
    expect(keys(trays, DXF, '2').some((key, i) => key === before[i])).toBe(false);
    const other = [{ ...DXF[0]!, values: { marks: 'scribe', version: 'R2000' } }];
    expect(keys(trays, other).some((key, i) => key === before[i])).toBe(false);
  });

  it('leaves out what is done, but not what the rest starts from', () => {
    const chunks = planChunks(rows(9), {
      formats: DXF,
      program: '1',
      done: (row) => row !== 10 && row !== 11,
    });
    expect(chunks.map((chunk) => chunk.number)).toEqual([1]);
    expect(chunks[0]!.rows.map((row) => [row.row, row.wanted])).toEqual([
      [9, false],
      [10, true],
      [11, true],
    ]);
  });
});

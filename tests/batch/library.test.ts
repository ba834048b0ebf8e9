/** Families and sheets through the package's own entries, as another program would use them. */
import { readdir } from 'node:fs/promises';
import { type BatchOptions, poolEngine, readBatch, runBatch } from 'gatherpan/batch';
import { batchSheets } from 'gatherpan/layout';
import { expect, it } from 'vitest';
import { inFolder } from '../cli/fakes.ts';
import { DXF, family } from './batches.ts';

it(
  'a family is made and laid out',
  () =>
    inFolder(async (path) => {
      const { finish, laid } = batchSheets({
        stock: { length: 1500, width: 1000, spacing: 5, edge: 10 },
        grain: 'free',
        drawing: 'block',
        effort: 0,
        rates: { metre: 2 },
      });
      const options: Omit<BatchOptions, 'engine'> = {
        rows: readBatch(family(1), 'json', {}, 'tray'),
        formats: DXF,
        target: { kind: 'folder', path },
        resume: false,
        finish,
        signal: new AbortController().signal,
      };
      const engine = poolEngine({ jobs: 1, modules: { names: [], folder: path } });
      try {
        const { trays } = await runBatch({ ...options, engine });
        expect(trays.map(({ state }) => state)).toEqual(['made', 'made', 'made', 'made']);
      } finally {
        await engine.close();
      }
      const { layout, sheets } = laid()!;
      expect(layout.sheets[0]!.parts).toHaveLength(4);
      expect(layout.sheets[0]!.cost).toBeCloseTo((2 * layout.sheets[0]!.cutLength) / 1000, 9);
      expect(await readdir(path)).toEqual(expect.arrayContaining([sheets[0]!.file, 'layout.json']));
    }),
  60_000,
);

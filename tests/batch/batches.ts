/** Small batches for the tests, and what they are run with. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { sha256 } from '../../src/batch/journal.ts';
import type { ChosenFormat } from '../../src/batch/plan.ts';
import { poolEngine } from '../../src/batch/pool.ts';
import { readBatch } from '../../src/batch/readBatch.ts';
import { type BatchOutcome, type Finish, runBatch, type Target } from '../../src/batch/runBatch.ts';

/** The compiled thread: `npm test` builds before it tests. */
export const WORKER = new URL('../../dist/batch/poolWorker.js', import.meta.url);

/** The compiled command. */
export const COMMAND = new URL('../../dist/cli/main.js', import.meta.url).pathname;

export const BASE = {
  plan: { cornerRadius: 45 },
  section: { bottomRadius: 22, height: 30 },
  sheet: { material: 'DC04', thickness: 1.2 },
};

/** A family of `lengths` × 4 drip trays, 280 mm and longer. */
export const family = (lengths: number): string =>
  JSON.stringify({
    base: BASE,
    name: 'tray-{plan.length}x{plan.width}',
    ranges: {
      'plan.length': { from: 280, to: 280 + 10 * (lengths - 1), step: 10 },
      'plan.width': { from: 200, to: 230, count: 4 },
    },
  });

export const DXF: readonly ChosenFormat[] = [
  { id: 'dxf', extension: 'dxf', values: { text: 'inside', cutOnly: false } },
];

export interface Run {
  readonly jobs?: number;
  readonly resume?: boolean;
  readonly finish?: Finish;
  readonly signal?: AbortSignal;
  readonly formats?: readonly ChosenFormat[];
  readonly progress?: (done: number) => void;
}

export async function run(text: string, target: Target, options: Run = {}): Promise<BatchOutcome> {
  const engine = poolEngine({
    jobs: options.jobs ?? 2,
    modules: { names: [], folder: '.' },
    worker: WORKER,
  });
  try {
    return await runBatch({
      rows: readBatch(text, 'json', {}, 'tray'),
      formats: options.formats ?? DXF,
      version: '1.2.3',
      target,
      resume: options.resume ?? false,
      ...(options.finish === undefined ? {} : { finish: options.finish }),
      engine,
      signal: options.signal ?? new AbortController().signal,
      progress: ({ done }) => options.progress?.(done),
    });
  } finally {
    await engine.close();
  }
}

/** Hash of every file of a folder, by name. */
export async function hashes(folder: string): Promise<Record<string, string>> {
  const names = (await readdir(folder)).sort();
  const entries = [];
  for (const name of names) entries.push([name, sha256(await readFile(join(folder, name)))] as const);
  return Object.fromEntries(entries);
}

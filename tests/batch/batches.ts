/** Small batches for the tests, and what they are run with. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Engine } from '../../src/batch/engine.ts';
import type { ChosenFormat, Chunk } from '../../src/batch/plan.ts';
import { poolEngine } from '../../src/batch/pool.ts';
import { readBatch } from '../../src/batch/readBatch.ts';
import { type BatchOutcome, type Finish, runBatch, type Target } from '../../src/batch/runBatch.ts';
import type { RowResult } from '../../src/batch/solveChunk.ts';
import { fileNameOf } from '../../src/fileName.ts';
import type { Vertex } from '../../src/geometry/path.ts';
import { sha256 } from '../../src/jobs/manifest.ts';
import type { MadeReport } from '../../src/jobs/rowReport.ts';

/** The compiled command. */
export const COMMAND = new URL('../../dist/command/gatherpan.js', import.meta.url).pathname;

export const BASE = {
  plan: { cornerRadius: 45 },
  section: { bottomRadius: 22, height: 30 },
  sheet: { material: 'DC04', thickness: 1.2 },
};

/** No blank can be cut for it: its corners are far too tight for its height. */
export const NO_FLAT = {
  ...BASE,
  plan: { length: 250, width: 200, cornerRadius: 8 },
  section: { bottomRadius: 8, height: 90 },
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
  { id: 'dxf', extension: 'dxf', values: { marks: '', version: 'R2000' } },
];

const FIGURES: MadeReport['figures'] = {
  material: 'DC04',
  thickness: 1.2,
  blankLength: 100,
  blankWidth: 100,
  area: 10_000,
  mass: 0.1,
  cutLength: 400,
  segments: 4,
  rimToLose: 1,
  peakGather: 1,
  peakStretch: 1,
  thickest: 1.3,
  thinnest: 1.1,
  anneals: 0,
};

const REPORT: MadeReport = { verdict: 'can be worked', reasons: [], warnings: [], figures: FIGURES };

const SQUARE: readonly Vertex[] = [
  { x: 0, y: 0, bulge: 0 },
  { x: 100, y: 0, bulge: 0 },
  { x: 100, y: 100, bulge: 0 },
  { x: 0, y: 100, bulge: 0 },
];

/** Pools by their number of threads; they stay warm from run to run. Nobody changes what comes from them. */
const pools = new Map<number, Engine>();

function pool(jobs: number): Engine {
  const found = pools.get(jobs) ?? poolEngine({ jobs, modules: { names: [], folder: '.' } });
  pools.set(jobs, found);
  return found;
}

/** What pools made of chunks, by the number of their threads. */
const solvedBy = new Map<number, Map<string, readonly RowResult[]>>();
const solvedWith = (jobs: number): Map<string, readonly RowResult[]> => {
  const found = solvedBy.get(jobs) ?? new Map<string, readonly RowResult[]>();
  solvedBy.set(jobs, found);
  return found;
};

/** A pool that solves the same chunks once: many tests ask for the same. */
const recorded = (jobs: number): Engine => ({
  async *solve(chunks, signal) {
    const known = solvedWith(jobs);
    if (!chunks.every((chunk) => known.has(JSON.stringify(chunk)))) {
      for await (const done of pool(jobs).solve(chunks, signal))
        known.set(JSON.stringify(done.chunk), done.results);
    }
    for (const chunk of chunks) {
      const results = known.get(JSON.stringify(chunk));
      if (signal.aborted || results === undefined) return;
      yield { chunk, results };
    }
  },
  close: async () => {},
});

/** Of any pool, where it does not matter which. */
const once: Engine = {
  async *solve(chunks, signal) {
    for (const chunk of chunks) {
      const known = [1, 2].find((jobs) => solvedWith(jobs).has(JSON.stringify(chunk))) ?? 1;
      yield* recorded(known).solve([chunk], signal);
      if (signal.aborted) return;
    }
  },
  close: async () => {},
};

export interface Run {
  /** Pools that solve every chunk once when left out; closed behind the run when given. */
  readonly engine?: Engine;
  /** Threads of the pool that solves all of this run, or has solved one of the same chunks. */
  readonly jobs?: number;
  readonly program?: string;
  readonly resume?: boolean;
  readonly finish?: Finish;
  readonly signal?: AbortSignal;
  readonly formats?: readonly ChosenFormat[];
  readonly progress?: (done: number) => void;
}

/** Solves nothing: for tests of where files go. Every row has the same figures and a file with its name in it. */
export const instantEngine = (): Engine => ({
  async *solve(chunks) {
    for (const chunk of chunks) yield { chunk, results: instantResults(chunk) };
  },
  close: async () => {},
});

/** What such an engine gives for a chunk. */
export const instantResults = (chunk: Chunk): Extract<RowResult, { ok: true }>[] =>
  chunk.rows
    .filter(({ wanted }) => wanted)
    .map(({ row, key, spec }) => ({
      row,
      key,
      ok: true,
      files: chunk.formats.map(({ extension }) => ({
        name: fileNameOf(spec.name, extension),
        bytes: new TextEncoder().encode(`${spec.name} as ${extension}`),
      })),
      report: REPORT,
      outline: SQUARE,
    }));

export async function run(text: string, target: Target, options: Run = {}): Promise<BatchOutcome> {
  const engine = options.engine ?? (options.jobs === undefined ? once : recorded(options.jobs));
  try {
    return await runBatch({
      rows: readBatch(text, 'json', {}, 'tray'),
      formats: options.formats ?? DXF,
      program: options.program ?? 'test',
      target,
      resume: options.resume ?? false,
      ...(options.finish === undefined ? {} : { finish: options.finish }),
      engine,
      signal: options.signal ?? new AbortController().signal,
      progress: ({ done }) => options.progress?.(done),
    });
  } finally {
    await options.engine?.close();
  }
}

/** Hash of every file of a folder, by name. */
export async function hashes(folder: string): Promise<Record<string, string>> {
  const names = (await readdir(folder)).sort();
  const entries = [];
  for (const name of names) entries.push([name, sha256(await readFile(join(folder, name)))] as const);
  return Object.fromEntries(entries);
}

/** Options that stop a run after so many trays. */
export const stopAfter = (count: number) => {
  const controller = new AbortController();
  return {
    signal: controller.signal,
    progress: (done: number) => {
      if (done === count) controller.abort();
    },
  };
};

/** The embedded engine: worker threads of this process, kept by piscina. */
import { availableParallelism } from 'node:os';
import { Piscina } from 'piscina';
import { GatherpanError } from '../errors.ts';
import { poolArguments } from '../jobs/poolArguments.ts';
import { once } from '../once.ts';
import { words } from '../words/language.ts';
import { type Engine, inOrder } from './engine.ts';
import type { Chunk, ExporterModules } from './plan.ts';
import type { RowResult } from './solveChunk.ts';

/** Threads of one pool. */
export const MOST_JOBS = 64;

/**
 * Without limits a thread lets garbage lie until it holds some 200 MB. Too little room for young objects costs more
 * than it saves: a solve leaves some 10 MB of them, and with 4 MB a third of the time went into clearing up. The
 * solver's arrays lie outside what is limited here.
 */
const THREAD_MEMORY = { maxYoungGenerationSizeMb: 32, maxOldGenerationSizeMb: 192 } as const;

export interface PoolOptions {
  /** Number of threads; as many as there are cores when left out. */
  readonly jobs?: number;
  readonly modules: ExporterModules;
}

/** What a thread is told when it starts. */
export interface ThreadData {
  readonly modules: ExporterModules;
}

/**
 * @throws GatherpanError BAD_INPUT for a number of jobs that is not from 1 to 64
 */
export function threadPool({ jobs, modules }: PoolOptions): {
  pool: Piscina<Chunk, RowResult[]>;
  threads: number;
} {
  const threads = jobs ?? availableParallelism();
  if (!Number.isInteger(threads) || threads < 1 || threads > MOST_JOBS) {
    throw new GatherpanError('BAD_INPUT', words().messages.batch.jobs(String(threads), String(MOST_JOBS)));
  }
  const workerData: ThreadData = { modules };
  const pool = new Piscina<Chunk, RowResult[]>({
    filename: new URL('./poolWorker.js', import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
    ...poolArguments(),
    resourceLimits: THREAD_MEMORY,
    workerData,
  });
  return { pool, threads };
}

/**
 * @throws GatherpanError BAD_INPUT for a number of jobs that is not from 1 to 64
 */
export function poolEngine(options: PoolOptions): Engine {
  const { pool, threads } = threadPool(options);
  return {
    solve: (chunks, signal) =>
      // Some are begun ahead, so that no thread is idle while a slow chunk is waited for.
      inOrder(chunks, 2 * threads + 1, signal, (chunk) => pool.run(chunk, { signal })),
    close: once(() => pool.destroy()),
  };
}

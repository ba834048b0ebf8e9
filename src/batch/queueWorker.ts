/** A worker on the queue: takes chunks, has them solved by threads of its own, sends the results. */
import { Worker } from 'bullmq';
import { GatherpanError } from '../errors.ts';
import { programFingerprint } from '../jobs/program.ts';
import { words } from '../words/language.ts';
import type { Chunk } from './plan.ts';
import { type PoolOptions, threadPool } from './pool.ts';
import { connect, encodeResults, QUEUE_NAME, type ResultMessage } from './queueMessages.ts';

/**
 * How long a worker that says nothing is believed to be alive, and how often the others look, ms. Solving is
 * done by threads, so a healthy worker always gets round to saying so.
 */
const LOCK = 6000;
const LOOK = 2000;
/** A chunk that has killed so many workers is not given to another. */
const MOST_DEATHS = 50;

export interface QueueWorkerOptions extends PoolOptions {
  readonly address: string;
  /** Which program this is: another one may give other bytes, so its chunks are refused. This one when left out. */
  readonly program?: string;
  /** Told of every chunk that is done. */
  readonly solved?: (rows: number) => void;
}

export interface QueueWorker {
  /** Ends after the chunks in hand. */
  close(): Promise<void>;
}

/**
 * @throws GatherpanError BAD_INPUT or BUSY when the queue cannot be reached
 */
export async function startQueueWorker(options: QueueWorkerOptions): Promise<QueueWorker> {
  const { pool, threads } = threadPool(options);
  const connection = await connect(options.address).catch(async (error) => {
    await pool.destroy();
    throw error;
  });
  const worker = new Worker<Chunk, ResultMessage>(
    QUEUE_NAME,
    async ({ data }) => {
      if (data.program !== (options.program ?? programFingerprint())) {
        throw new GatherpanError('BAD_INPUT', words().messages.batch.queue.otherProgram);
      }
      const results = await pool.run(data);
      options.solved?.(results.length);
      return encodeResults(results);
    },
    {
      connection,
      concurrency: threads,
      lockDuration: LOCK,
      stalledInterval: LOOK,
      maxStalledCount: MOST_DEATHS,
    },
  );
  worker.on('error', () => {}); // a connection that was lost comes back by itself
  return {
    async close() {
      await worker.close();
      await pool.destroy();
      connection.disconnect();
    },
  };
}

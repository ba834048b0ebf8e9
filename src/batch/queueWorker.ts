/** A worker on the queue: takes chunks, has them solved by threads of its own, sends the results. */
import { UnrecoverableError, Worker } from 'bullmq';
import { programFingerprint } from '../jobs/program.ts';
import type { Chunk } from './plan.ts';
import { type PoolOptions, threadPool } from './pool.ts';
import { connect, withinTime } from './queueConnection.ts';
import {
  decodeChunk,
  encodeResults,
  QUEUE_NAME,
  RefusedChunk,
  type ResultMessage,
  refuseOtherFormats,
} from './queueMessages.ts';
import { registryWith } from './registryWith.ts';

/**
 * How long a worker that says nothing is believed to be alive, and how often the others look, ms. Solving is
 * done by threads, so a healthy worker always gets round to saying so.
 */
const LOCK = 6000;
const LOOK = 2000;
/** A chunk that has killed so many workers is not given to another. */
const MOST_DEATHS = 50;
/** How long the chunks in hand get when the worker is to end, and then the library, ms. */
const LAST_CHUNKS = 1000;
const LEAVING = 300;

export interface QueueWorkerOptions extends PoolOptions {
  readonly address: string;
  /** Which program this is: another one may give other bytes, so its chunks are refused. This one when left out. */
  readonly program?: string;
  /** Most seconds that a tray may take here, whatever the batch allows; the batch's own when left out. */
  readonly limit?: number;
  /** Told of every chunk that is done. */
  readonly solved?: (rows: number) => void;
  /** Told in one sentence of every chunk that is not taken. */
  readonly refused?: (sentence: string) => void;
}

export interface QueueWorker {
  /** Takes no more and ends. A chunk that is not done within a second is left to another worker. */
  close(): Promise<void>;
}

/**
 * @throws GatherpanError BAD_INPUT or BUSY when the queue cannot be reached, and when a module with exporters cannot
 *   be loaded
 */
export async function startQueueWorker(options: QueueWorkerOptions): Promise<QueueWorker> {
  const { program = programFingerprint() } = options;
  const registry = await registryWith(options.modules);
  const { pool, threads } = threadPool(options);
  const connection = await connect(options.address).catch(async (error) => {
    await pool.destroy();
    throw error;
  });
  /** Chunks in hand, and what is called when there is none any more. */
  let inHand = 0;
  let idle: () => void = () => {};
  let leaving = false;
  const worker = new Worker<Chunk, ResultMessage>(
    QUEUE_NAME,
    async ({ data }) => {
      try {
        const asked = decodeChunk(data, program);
        refuseOtherFormats(asked, registry);
        const limit = Math.min(asked.limit ?? Infinity, options.limit ?? Infinity);
        const chunk = limit === Infinity ? asked : { ...asked, limit };
        // A thread that dies may have met with a machine that was short of memory; twice, it is the chunk.
        const results = await pool.run(chunk).catch((error) => {
          if (leaving) throw error;
          return pool.run(chunk);
        });
        options.solved?.(results.length);
        return encodeResults(results, program);
      } catch (error) {
        if (leaving) throw error; // the thread was ended; nobody is told, and the chunk's time runs out
        const message = error instanceof Error ? error.message.split('\n')[0]! : String(error);
        options.refused?.(message);
        // The batch shows the reason; only what is for others is offered again as it is.
        throw error instanceof RefusedChunk && error.forOthers ? error : new UnrecoverableError(message);
      }
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
  worker.on('active', () => {
    inHand++;
  });
  const done = (): void => {
    if (--inHand === 0) idle();
  };
  worker.on('completed', done);
  worker.on('failed', done);
  return {
    async close() {
      await withinTime(worker.pause(true), LEAVING);
      if (inHand > 0) {
        await withinTime(
          new Promise<void>((resolve) => {
            idle = resolve;
          }),
          LAST_CHUNKS,
        );
      }
      leaving = true;
      // The connection goes first: that a thread was ended is not to be told as the chunk's failure.
      const closed = worker.close(true);
      connection.disconnect();
      await withinTime(closed, LEAVING);
      await pool.destroy();
    },
  };
}

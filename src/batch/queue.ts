/**
 * The engine that has chunks solved by workers on a queue (BullMQ on Redis), on this machine or on others.
 *
 * A chunk's result depends on the chunk alone, so it does no harm when one is solved twice: a worker that dies
 * lets go of its chunk after a while, and another takes it. Results are fetched in order and removed, at most
 * `AHEAD` chunks lie on the server.
 */
import { randomUUID } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { Queue } from 'bullmq';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { type Engine, inOrder } from './engine.ts';
import type { Chunk } from './plan.ts';
import { connect, decodeResults, QUEUE_NAME } from './queueMessages.ts';
import type { RowResult } from './solveChunk.ts';

/** Chunks begun ahead of the one that is waited for. */
const AHEAD = 64;
/** Between two looks at a chunk, ms. */
const LOOK = 50;
/** A worker that fails on a chunk (not: is killed) is tried again so often. */
const ATTEMPTS = 3;
/** What nobody fetched is forgotten after a day, s. */
const KEEP = { age: 86_400 };

export interface QueueOptions {
  /** `redis://[user:password@]host[:port][/database]` */
  readonly address: string;
}

/**
 * @throws GatherpanError BAD_INPUT or BUSY when the queue cannot be reached
 */
export async function queueEngine({ address }: QueueOptions): Promise<Engine> {
  const connection = await connect(address);
  const queue = new Queue(QUEUE_NAME, { connection });
  queue.on('error', () => {}); // the connection comes back by itself
  // Two batches at the same time must not fetch and remove each other's results.
  const run = randomUUID();
  const open = new Set<string>();

  const put = (id: string, chunk: Chunk): Promise<unknown> =>
    queue.add('chunk', chunk, {
      jobId: id,
      attempts: ATTEMPTS,
      backoff: { type: 'fixed', delay: 500 },
      removeOnComplete: KEEP,
      removeOnFail: KEEP,
    });

  const solved = async (chunk: Chunk, signal: AbortSignal): Promise<readonly RowResult[]> => {
    const id = `${run}-${chunk.number}`;
    open.add(id);
    await put(id, chunk);
    while (!signal.aborted) {
      const state = await queue.getJobState(id);
      if (state === 'completed') {
        const job = await queue.getJob(id);
        if (job?.returnvalue != null) {
          const results = decodeResults(job.returnvalue, chunk);
          await queue.remove(id);
          open.delete(id);
          return results;
        }
      } else if (state === 'failed') {
        const job = await queue.getJob(id);
        const said = words().messages.batch.queue;
        throw new GatherpanError('BAD_INPUT', said.gaveUp(job?.failedReason ?? said.noReason));
      } else if (state === 'unknown') {
        await put(id, chunk); // the server was started anew and has forgotten it
      }
      await wait(LOOK);
    }
    return [];
  };

  let closed: Promise<void> | undefined;
  const release = async (): Promise<void> => {
    // A chunk that a worker has in hand cannot be removed; it is forgotten later.
    for (const id of open) await queue.remove(id).catch(() => {});
    await queue.close();
    connection.disconnect();
  };

  return {
    solve: (chunks, signal) => inOrder(chunks, AHEAD, signal, (chunk) => solved(chunk, signal)),
    close() {
      closed ??= release();
      return closed;
    },
  };
}

/**
 * The engine that has chunks solved by workers on a queue (BullMQ on Redis), on this machine or on others.
 *
 * A chunk's result depends on the chunk alone, so it does no harm when one is solved twice: a worker that dies
 * lets go of its chunk after a while, and another takes it. Results are fetched in order and removed, at most
 * `AHEAD` chunks lie on the server. Results that are not those of the chunk are not used, and the chunk is put on the
 * queue again for another worker.
 */
import { randomUUID } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { type Job, Queue } from 'bullmq';
import { GatherpanError } from '../errors.ts';
import { once } from '../once.ts';
import { words } from '../words/language.ts';
import { type Engine, inOrder } from './engine.ts';
import type { Chunk } from './plan.ts';
import { connect, withinTime } from './queueConnection.ts';
import { decodeResults, QUEUE_NAME, shownReason } from './queueMessages.ts';
import type { RowResult } from './solveChunk.ts';

/** Chunks begun ahead of the one that is waited for. */
const AHEAD = 64;
/** Between two looks at a chunk, ms. */
const LOOK = 50;
/** A chunk that a worker leaves to others, because it is of another version, is offered again every second. */
const OFFERED_AGAIN = { attempts: 1_000_000, backoff: { type: 'fixed', delay: 1000 } };
/** So often results of one chunk may be refused; each time the next worker gets a little more time to come first. */
const MOST_REFUSALS = 10;
const REFUSAL_PAUSE = 100;
/** What nobody fetched is forgotten after a day, s. */
const KEEP = { age: 86_400 };
/** How long the server gets to forget what is not wanted any more, and the library to end, ms. */
const LEAVING = 600;

export interface QueueOptions {
  /** `redis://[user:password@]host[:port][/database]` */
  readonly address: string;
  /** Told in one sentence of results that were refused, and once of why workers leave chunks to others. */
  readonly refused?: (sentence: string) => void;
}

/**
 * @throws GatherpanError BAD_INPUT or BUSY when the queue cannot be reached
 */
export async function queueEngine({ address, refused }: QueueOptions): Promise<Engine> {
  const connection = await connect(address);
  const queue = new Queue(QUEUE_NAME, { connection });
  queue.on('error', () => {}); // the connection comes back by itself
  // Two batches at the same time must not fetch and remove each other's results.
  const run = randomUUID();
  const open = new Set<string>();

  const put = (id: string, chunk: Chunk): Promise<unknown> =>
    queue.add('chunk', chunk, {
      jobId: id,
      ...OFFERED_AGAIN,
      removeOnComplete: KEEP,
      removeOnFail: KEEP,
    });

  const told = new Set<string>();
  /** What a failure on the queue says, once for each sentence. */
  const tell = async (id: string): Promise<GatherpanError> => {
    // The library reads JSON here, and what stands there may be none.
    const job: Job | undefined = await queue.getJob(id).catch(() => undefined);
    const sentence = words().messages.batch.queue.gaveUp(shownReason(job?.failedReason));
    if (!told.has(sentence)) refused?.(sentence);
    told.add(sentence);
    return new GatherpanError('BAD_INPUT', sentence);
  };

  /** What came back under this name; null when the batch was stopped. @throws GatherpanError what failed there */
  const returned = async (id: string, chunk: Chunk, signal: AbortSignal): Promise<unknown> => {
    open.add(id);
    await put(id, chunk);
    let left = false;
    for (; !signal.aborted; await wait(LOOK)) {
      const state = await queue.getJobState(id);
      if (state === 'unknown') await put(id, chunk); // the server was started anew and has forgotten it
      if (state === 'delayed' && !left) {
        left = true;
        await tell(id);
      }
      if (state !== 'completed' && state !== 'failed') continue;
      const failure = state === 'failed' ? await tell(id) : null;
      const job: Job | undefined = await queue.getJob(id).catch(() => undefined);
      await queue.remove(id);
      open.delete(id);
      if (failure !== null) throw failure;
      return job?.returnvalue ?? 'nothing';
    }
    return null;
  };

  const solved = async (chunk: Chunk, signal: AbortSignal): Promise<readonly RowResult[]> => {
    for (let refusals = 0; ; ) {
      try {
        const message = await returned(`${run}-${chunk.number}-${refusals}`, chunk, signal);
        return message === null ? [] : decodeResults(message, chunk);
      } catch (error) {
        if (!(error instanceof GatherpanError) || ++refusals >= MOST_REFUSALS) throw error;
        if (!told.has(error.message)) refused?.(error.message);
        await wait(REFUSAL_PAUSE * refusals);
      }
    }
  };

  const close = once(async (): Promise<void> => {
    // A chunk that a worker has in hand cannot be removed; it is forgotten later.
    const removed = Promise.allSettled([...open].map((id) => queue.remove(id)));
    if (connection.status === 'ready') await withinTime(removed, LEAVING);
    // First: whatever waits for an answer of the server is told that none will come.
    connection.disconnect();
    await withinTime(queue.close(), LEAVING);
  });

  return {
    solve: (chunks, signal) => inOrder(chunks, AHEAD, signal, (chunk) => solved(chunk, signal)),
    close,
  };
}

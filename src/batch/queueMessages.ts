/** What goes over the queue, and where the queue is. */
import { gunzipSync, gzipSync } from 'node:zlib';
import { Redis } from 'ioredis';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import type { Chunk } from './plan.ts';
import type { RowResult } from './solveChunk.ts';

/** Queue of chunks; the number changes with the messages' form. */
export const QUEUE_NAME = 'gatherpan-batch-1';

/** What a worker sends back: gzip of JSON, base64, file contents in it base64 as well. */
export interface ResultMessage {
  readonly results: string;
}

export function encodeResults(results: readonly RowResult[]): ResultMessage {
  const plain = results.map((result) =>
    result.ok
      ? {
          ...result,
          files: result.files.map(({ name, bytes }) => ({
            name,
            bytes: Buffer.from(bytes).toString('base64'),
          })),
        }
      : result,
  );
  return { results: gzipSync(JSON.stringify(plain)).toString('base64') };
}

/**
 * @throws GatherpanError BAD_INPUT when the message is not one of ours
 */
export function decodeResults(message: unknown, chunk: Chunk): RowResult[] {
  try {
    const { results } = message as ResultMessage;
    const plain = JSON.parse(gunzipSync(Buffer.from(results, 'base64')).toString('utf8')) as RowResult[];
    const wanted = chunk.rows.filter((row) => row.wanted);
    if (plain.length !== wanted.length || plain.some((result, i) => result.key !== wanted[i]!.key)) {
      throw new Error(words().messages.batch.queue.otherRows);
    }
    return plain.map((result) =>
      result.ok
        ? {
            ...result,
            files: result.files.map(({ name, bytes }) => ({
              name,
              bytes: new Uint8Array(Buffer.from(bytes as unknown as string, 'base64')),
            })),
          }
        : result,
    );
  } catch (error) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.batch.queue.noResults(error instanceof Error ? error.message : String(error)),
    );
  }
}

/**
 * A connection to the queue's server.
 *
 * @throws GatherpanError BAD_INPUT for an address that is none, BUSY when nothing answers there
 */
export async function connect(address: string): Promise<Redis> {
  const said = words().messages.batch.queue;
  let shown: string;
  try {
    const url = new URL(address);
    if (url.protocol !== 'redis:' && url.protocol !== 'rediss:') throw new Error('another protocol');
    shown = `${url.protocol}//${url.host}${url.pathname}`; // never the password
  } catch {
    throw new GatherpanError('BAD_INPUT', said.noAddress);
  }
  let reached = false;
  const redis = new Redis(address, {
    lazyConnect: true,
    // What the queue library asks for; a server that is gone for a while is waited for.
    maxRetriesPerRequest: null,
    retryStrategy: (times) => (reached ? Math.min(2000, 100 * times) : null),
  });
  let reason = said.noAnswer;
  redis.on('error', (error: NodeJS.ErrnoException) => {
    reason = error.code ?? error.message;
  });
  try {
    await redis.connect();
    reached = true;
    return redis;
  } catch {
    redis.disconnect();
    throw new GatherpanError('BUSY', said.notReached(shown, reason));
  }
}

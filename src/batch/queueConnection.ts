/** The connection to the queue's server: made, and let go of whether the server answers or not. */
import { Redis } from 'ioredis';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/**
 * A connection to the queue's server.
 *
 * @param address `redis://[user:password@]host[:port][/database]`
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

/**
 * Waits for `work`, but no longer than this. A server that is down answers nothing, and a library that waits for it
 * would wait for ever. Failures do not matter: whoever asks is about to leave.
 *
 * @param milliseconds most
 */
export function withinTime(work: Promise<unknown>, milliseconds: number): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, milliseconds);
    work
      .catch(() => {})
      .finally(() => {
        clearTimeout(timer);
        resolve();
      });
  });
}

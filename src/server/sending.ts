/**
 * Answers on their way to clients that may be slow, or never read: work is done by then, and holds no place.
 *
 * An answer has a time limit of its own, and what all of them hold in memory a limit too: beyond it the answer that
 * has been on its way longest gives way, so that clients who do not read are in nobody's way but their own. A client
 * cut off sees that the answer is shorter than it said.
 */
import type { Response } from 'express';
import type { ServerLimits } from './limits.ts';

export interface Sending {
  /** Sends bytes; status and headers are set before. */
  send(response: Response, bytes: Uint8Array): void;
  /** Cuts an answer off that is not taken in time from now on. */
  limit(response: Response): void;
  /** Bytes of answers not taken yet. */
  readonly held: number;
}

export function createSending({
  sendTime,
  sendMemory,
}: Pick<ServerLimits, 'sendTime' | 'sendMemory'>): Sending {
  /** In the order in which they were begun. */
  const open = new Map<Response, number>();
  let held = 0;

  const limit = (response: Response): void => {
    const late = setTimeout(() => response.destroy(), sendTime).unref();
    response.once('close', () => clearTimeout(late));
  };

  const closed = (response: Response): void => {
    held -= open.get(response) ?? 0;
    open.delete(response);
  };

  return {
    limit,
    send(response, bytes) {
      // Whoever has gone meanwhile is sent nothing.
      if (response.closed) return;
      open.set(response, bytes.length);
      held += bytes.length;
      for (const [oldest] of open) {
        if (held <= sendMemory || oldest === response) break;
        closed(oldest);
        oldest.destroy();
      }
      response.once('close', () => closed(response));
      limit(response);
      response.set('Content-Length', String(bytes.length)).end(bytes);
    },
    get held() {
      return held;
    },
  };
}

/** Who solves the chunks: the embedded pool, or a queue with workers elsewhere. */
import type { Chunk } from './plan.ts';
import type { RowResult } from './solveChunk.ts';

export interface SolvedChunk {
  readonly chunk: Chunk;
  readonly results: readonly RowResult[];
}

export interface Engine {
  /**
   * The results of the chunks in the order of `chunks`. Holds only as many as are being worked on: the next
   * are begun as the results are taken. Ends early, without an error, once the signal is aborted.
   */
  solve(chunks: readonly Chunk[], signal: AbortSignal): AsyncIterable<SolvedChunk>;
  /** Lets go of threads and connections; more than once does no harm. */
  close(): Promise<void>;
}

/**
 * Starts at most `width` chunks at a time and gives the results in order.
 *
 * @param start begins one chunk
 */
export async function* inOrder(
  chunks: readonly Chunk[],
  width: number,
  signal: AbortSignal,
  start: (chunk: Chunk) => Promise<readonly RowResult[]>,
): AsyncIterable<SolvedChunk> {
  const running: { chunk: Chunk; results: Promise<readonly RowResult[]> }[] = [];
  let next = 0;
  const fill = (): void => {
    while (next < chunks.length && running.length < width && !signal.aborted) {
      const chunk = chunks[next++]!;
      const results = start(chunk);
      // It may fail while an earlier one is still waited for; whoever awaits it is told then.
      results.catch(() => {});
      running.push({ chunk, results });
    }
  };
  for (fill(); running.length > 0 && !signal.aborted; fill()) {
    const { chunk, results } = running[0]!;
    const solved = await orAborted(results, signal);
    if (solved === null) return;
    running.shift();
    yield { chunk, results: solved };
  }
}

/**
 * What `promise` gives, or null as soon as the signal is aborted.
 *
 * Not `Promise.race` with one promise of the abort for all: that one would hold on to everything it ever ran
 * against.
 */
function orAborted<T>(promise: Promise<T>, signal: AbortSignal): Promise<T | null> {
  return new Promise((resolve, reject) => {
    const stop = (): void => resolve(null);
    signal.addEventListener('abort', stop, { once: true });
    promise.then(resolve, reject).finally(() => signal.removeEventListener('abort', stop));
  });
}

/** Results in order, and nothing held on to. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { inOrder } from '../../src/batch/engine.ts';
import type { Chunk } from '../../src/batch/plan.ts';
import type { RowResult } from '../../src/batch/solveChunk.ts';

const chunks = Array.from(
  { length: 40 },
  (_, number): Chunk => ({
    number,
    program: 'test',
    formats: [],
    rows: [],
  }),
);

/** Collects garbage at once. */
function collector(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc') as () => void;
}

describe('results in order', () => {
  it('keeps the order whatever is finished first', async () => {
    const numbers: number[] = [];
    const waits = (chunk: Chunk): Promise<RowResult[]> =>
      new Promise((resolve) => setTimeout(() => resolve([]), (chunk.number * 7) % 5));
    for await (const { chunk } of inOrder(chunks, 5, new AbortController().signal, waits)) {
      numbers.push(chunk.number);
    }
    expect(numbers).toEqual(chunks.map(({ number }) => number));
  });

  it('lets go of what was taken, so that memory does not grow with the number of trays', async () => {
    const collect = collector();
    const made: WeakRef<RowResult[]>[] = [];
    const start = async (): Promise<RowResult[]> => {
      const results: RowResult[] = [];
      made.push(new WeakRef(results));
      return results;
    };
    let held = 0;
    for await (const { chunk } of inOrder(chunks, 3, new AbortController().signal, start)) {
      if (chunk.number < chunks.length - 1) continue;
      // Let every callback of the earlier ones run first.
      await new Promise((resolve) => setTimeout(resolve, 10));
      collect();
      held = made.filter((each) => each.deref() !== undefined).length;
    }
    expect(made).toHaveLength(chunks.length);
    expect(held).toBeLessThanOrEqual(3);
  });

  it('ends while a chunk is waited for when the signal is aborted', async () => {
    const stop = new AbortController();
    const never = (): Promise<RowResult[]> => new Promise(() => {});
    setTimeout(() => stop.abort(), 5);
    const taken: Chunk[] = [];
    for await (const { chunk } of inOrder(chunks, 3, stop.signal, never)) taken.push(chunk);
    expect(taken).toEqual([]);
  });
});

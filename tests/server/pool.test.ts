/** The threads: queue, cancelling, time limit, crash. With a thread that does as it is told, not the solver. */
import { afterEach, describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { createPool, type Pool } from '../../src/server/pool.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { until } from './service.ts';

const SLOW = new URL('./slowWorker.mjs', import.meta.url);
const LIMITS = { threads: 1, waiting: 2, jobTime: 5_000, abandonedTime: 150 };

let pool: Pool;
afterEach(() => pool.close());

const job = (name: string) => ({ kind: 'preview', tray: { name } as TraySpec }) as const;
const run = (name: string, signal = new AbortController().signal): Promise<unknown> =>
  pool.run<'preview'>(job(name), signal);
const code = (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => 'done',
    (error) => (error instanceof GatherpanError ? error.code : `${(error as Error).name}`),
  );

async function make(changes: Partial<typeof LIMITS> = {}): Promise<void> {
  pool = createPool({ ...LIMITS, ...changes }, SLOW);
  await until(() => (pool.ready ? true : undefined));
}

describe('the pool', () => {
  test('is ready when every thread has answered', async () => {
    pool = createPool({ ...LIMITS, threads: 2 }, SLOW);
    expect(pool.ready).toBe(false);
    await until(() => (pool.ready ? true : undefined));
    expect(pool.running).toBe(0);
  });

  test('refuses a job that does not fit in the queue, and goes on with the others', async () => {
    await make();
    const work = [run('spin-200'), run('b'), run('c')];
    expect(await code(run('d'))).toBe('BUSY');
    expect(pool.retryAfter()).toBeGreaterThanOrEqual(1);
    expect(await Promise.all(work)).toEqual([{ name: 'spin-200' }, { name: 'b' }, { name: 'c' }]);
    expect(await code(run('e'))).toBe('done');
  });

  test('drops a waiting job at once and gives its place to another', async () => {
    await make();
    const first = run('spin-200');
    const leave = new AbortController();
    const waiting = run('b', leave.signal);
    const other = run('c');
    leave.abort();
    expect(await code(waiting)).toBe('CANCELLED');
    expect(pool.waiting).toBe(1);
    const late = run('d');
    expect(await Promise.all([first, other, late])).toEqual([
      { name: 'spin-200' },
      { name: 'c' },
      { name: 'd' },
    ]);
  });

  test('lets a short job of a client that left end by itself', async () => {
    await make();
    const leave = new AbortController();
    const work = run('spin-60', leave.signal);
    const began = performance.now();
    leave.abort();
    expect(await code(work)).toBe('CANCELLED');
    expect(performance.now() - began).toBeLessThan(50);
    await pool.idle();
    expect(await code(run('next'))).toBe('done');
  });

  test('ends a long job of a client that left', async () => {
    await make();
    const leave = new AbortController();
    const work = run('spin-60000', leave.signal);
    leave.abort();
    expect(await code(work)).toBe('CANCELLED');
    const began = performance.now();
    await pool.idle();
    expect(performance.now() - began).toBeLessThan(2_000);
    expect(await code(run('next'))).toBe('done');
  });

  test('ends a job that takes too long', async () => {
    await make({ jobTime: 200 });
    expect(await code(run('spin-60000'))).toBe('TIMEOUT');
    expect(await code(run('next'))).toBe('done');
  });

  test('a fault in a thread is passed on and the thread goes on', async () => {
    await make();
    expect(await code(run('crash'))).toBe('TypeError');
    expect(await code(run('next'))).toBe('done');
  });

  test('a job of a client that has already left is not begun', async () => {
    await make();
    expect(await code(run('spin-60000', AbortSignal.abort()))).toBe('CANCELLED');
    expect(pool.running).toBe(0);
  });
});

/** The threads: queue, cancelling, time limit, crash. With a thread that does as it is told, not the solver. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { Busy } from '../../src/server/busy.ts';
import { DEFAULT_LIMITS, LONGEST_ANSWER } from '../../src/server/limits.ts';
import { createPool, type Pool } from '../../src/server/pool.ts';
import { until } from './service.ts';

const STUCK = new URL('./stuckWorker.mjs', import.meta.url);
const SLOW = new URL('./slowWorker.mjs', import.meta.url);
const LIMITS = {
  threads: 1,
  waiting: 2,
  waitTime: 600_000,
  jobTime: 60_000,
  jobMemory: 64,
  abandonedTime: 150,
};

let pool: Pool;
afterEach(() => {
  vi.useRealTimers();
  return pool.close();
});

const job = (format: string) => ({ kind: 'file', tray: new Uint8Array(), format, values: {} }) as const;
const run = (name: string, signal = new AbortController().signal): Promise<unknown> =>
  pool.run<'file'>(job(name), signal);
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
    leave.abort();
    expect(await code(work)).toBe('CANCELLED');
    await pool.idle();
    expect(await code(run('next'))).toBe('done');
  });

  test('ends a long job of a client that left', async () => {
    await make();
    const leave = new AbortController();
    const work = run('spin-600000', leave.signal);
    leave.abort();
    expect(await code(work)).toBe('CANCELLED');
    await pool.idle();
    expect(await code(run('next'))).toBe('done');
  });

  test('ends a job that takes too long', async () => {
    await make({ jobTime: 200 });
    expect(await code(run('spin-600000'))).toBe('TIMEOUT');
    // Its successor's start may take the time of a job or two.
    await until(async () => ((await code(run('next'))) === 'done' ? true : undefined));
  });

  test('ends a job that takes too much memory, an error to its client and to no other', async () => {
    await make({ threads: 2, waiting: 4 });
    const others = ['spin-300', 'a', 'b'].map((name) => run(name));
    const big = await run('grow').catch((error: unknown) => error as GatherpanError);
    expect(big).toMatchObject({ code: 'OUT_OF_MEMORY' });
    expect((big as GatherpanError).message).toMatch(/more memory than the 64 MB .* smaller file\.$/);
    expect(await Promise.all(others)).toEqual([{ name: 'spin-300' }, { name: 'a' }, { name: 'b' }]);
    expect(await code(run('next'))).toBe('done');
  });

  test('says in how many seconds to come back: what runs and waits, by what jobs took lately', async () => {
    await make({ threads: 4, waiting: 16 });
    for (let i = 0; i < 8; i++) await Promise.all(Array.from({ length: 4 }, () => run('spin-250')));
    const usual = 4 * pool.secondsFor(1);
    // It begins with a tenth of a second.
    expect(usual).toBeGreaterThan(0.21);
    const work = Array.from({ length: 20 }, () => run('spin-250'));
    const busy = await run('one more').catch((error: unknown) => error as Busy);
    expect(busy).toBeInstanceOf(Busy);
    expect((busy as Busy).retryAfter).toBe(Math.ceil((20 * usual) / 4));
    expect((busy as Busy).message).toContain(`${(busy as Busy).retryAfter} s`);
    await Promise.all(work);
  });

  test.each([
    ['trays', DEFAULT_LIMITS],
    ['solids', DEFAULT_LIMITS.solids],
  ])('waiting and work of %s together stay below the longest time of an answer', (_, limits) => {
    // What is left is for the upload and the answer.
    expect(limits.waitTime + limits.jobTime).toBeLessThanOrEqual(LONGEST_ANSWER - 5_000);
  });

  test('a job that has waited too long is told when to come back, and its place is free', async () => {
    pool = createPool({ ...LIMITS, waitTime: 7_000 }, STUCK);
    await until(() => (pool.ready ? true : undefined));
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const leave = new AbortController();
    const stuck = code(run('a', leave.signal));
    const outcomes: unknown[] = [];
    const wait = (name: string, letIn = false): void => {
      pool
        .run<'file'>(job(name), leave.signal, letIn)
        .catch((error: unknown) => error)
        .then((outcome) => outcomes.push(outcome));
    };
    wait('b');
    // A part of what was let in already, such as a row of a table, waits as long as it takes.
    wait('row', true);
    await vi.advanceTimersByTimeAsync(3_000);
    expect(await code(run('no room'))).toBe('BUSY');
    await vi.advanceTimersByTimeAsync(3_999);
    expect(outcomes).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(outcomes).toHaveLength(1);
    const [late] = outcomes as [Busy];
    expect(late).toBeInstanceOf(Busy);
    expect(late.message).toMatch(/^This waited 7 s [^\n]*; try again in \d+ s\.$/);
    // Not at once: the same would happen again.
    expect(late.retryAfter).toBeGreaterThanOrEqual(7);
    expect(late.message).toContain(`in ${late.retryAfter} s`);
    expect(pool.waiting).toBe(1);
    wait('c');
    expect(pool.waiting).toBe(2);
    await vi.advanceTimersByTimeAsync(7_000);
    expect(outcomes).toHaveLength(2);
    expect(pool.waiting).toBe(1);
    leave.abort();
    await vi.advanceTimersByTimeAsync(LIMITS.abandonedTime);
    expect(await stuck).toBe('CANCELLED');
    expect(outcomes).toHaveLength(3);
    expect(outcomes[2]).toMatchObject({ code: 'CANCELLED' });
  });

  test('a job whose turn has come can no longer wait too long', async () => {
    await make({ waitTime: 600_000 });
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    expect(await Promise.all([run('spin-50'), run('b')])).toEqual([{ name: 'spin-50' }, { name: 'b' }]);
    await pool.idle();
    expect(vi.getTimerCount()).toBe(0);
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

/**
 * The threads that read, check and solve, behind a short queue of our own.
 *
 * A thread is only ever given one job, so it is known which jobs run and which still wait: one that waits is
 * dropped at no cost when its client goes, one that runs is given a moment to end by itself, because ending a
 * thread throws away its warm caches. One that takes more time or memory than it may is ended with its thread, which
 * is replaced: an error to one client.
 */
import { Piscina } from 'piscina';
import { GatherpanError } from '../errors.ts';
import { poolArguments } from '../jobs/poolArguments.ts';
import { words } from '../words/language.ts';
import { Busy } from './busy.ts';
import type { Answer, Job, Results, ThreadLimits } from './jobs.ts';
import type { ServerLimits } from './limits.ts';
import { ownBuffers } from './transfer.ts';

/** The built file beside this one. */
export const WORKER_FILE = new URL('./worker.js', import.meta.url);

export interface Pool {
  /**
   * Does a job.
   *
   * @param signal stops it: a job that waits is dropped, one that runs is left to end or is ended
   * @param letIn  the job is a part of work that was let in already: it waits, in its turn, for as long as it takes
   * @throws Busy when too many jobs wait, or this one has waited too long; GatherpanError TIMEOUT, OUT_OF_MEMORY,
   *   CANCELLED, or what the job itself throws
   */
  run<Kind extends Job['kind']>(
    job: Extract<Job, { kind: Kind }>,
    signal: AbortSignal,
    letIn?: boolean,
  ): Promise<Results[Kind]>;
  /** Seconds that so many jobs are likely to take, from what jobs took lately. */
  secondsFor(jobs: number): number;
  /** Seconds until what runs and waits is likely to be done. */
  secondsToRoom(): number;
  /** Whether every thread has solved its first tray. */
  readonly ready: boolean;
  readonly running: number;
  readonly waiting: number;
  /** Ends when no job runs or waits. */
  idle(): Promise<void>;
  close(): Promise<void>;
}

type PoolLimits = Pick<
  ServerLimits,
  'threads' | 'waiting' | 'waitTime' | 'jobTime' | 'jobMemory' | 'abandonedTime'
>;

/** Room for young objects, MB; with less, much of the time goes into clearing up. */
const YOUNG = 32;

/**
 * @param options.warm solve the demo tray in every thread first; ready at once when not
 */
export function createPool(
  limits: PoolLimits,
  workerFile: URL = WORKER_FILE,
  options: { readonly warm: boolean } = { warm: true },
): Pool {
  const piscina = new Piscina({
    filename: workerFile.href,
    minThreads: limits.threads,
    maxThreads: limits.threads,
    // A thread that sleeps on shared memory wakes a little sooner but cannot be reached otherwise.
    atomics: 'async',
    ...poolArguments(),
    workerData: { jobTime: limits.jobTime } satisfies ThreadLimits,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG, maxOldGenerationSizeMb: limits.jobMemory },
  });
  // A thread that ends without a job is replaced like any other.
  piscina.on('error', () => {});
  /** Jobs that wait for a thread: each is started by calling it. */
  const queue: (() => void)[] = [];
  const whenIdle: (() => void)[] = [];
  let running = 0;
  let ready = !options.warm;
  /** Mean time of a job, ms, the latest count most. */
  let usual = 100;

  /** Waits for a thread. */
  function turn(signal: AbortSignal, letIn: boolean): Promise<void> {
    if (running < limits.threads) {
      running++;
      return Promise.resolve();
    }
    if (!letIn && queue.length >= limits.waiting) {
      throw new Busy(words().messages.server.busy, secondsToRoom());
    }
    return new Promise((resolve, reject) => {
      const settled = (): void => {
        clearTimeout(late);
        signal.removeEventListener('abort', drop);
      };
      const start = (): void => {
        settled();
        running++;
        resolve();
      };
      const leave = (reason: GatherpanError): void => {
        settled();
        queue.splice(queue.indexOf(start), 1);
        reject(reason);
        tellIdle();
      };
      const drop = (): void => leave(cancelled());
      const late = letIn ? undefined : setTimeout(() => leave(waitedTooLong()), limits.waitTime);
      signal.addEventListener('abort', drop, { once: true });
      queue.push(start);
    });
  }

  /** Jobs take longer now than they did lately, so there is no room sooner than there was this time. */
  function waitedTooLong(): Busy {
    const waited = limits.waitTime / 1000;
    const said = words().messages.server;
    return new Busy(
      (seconds) => said.waitedTooLong(String(waited), seconds),
      Math.max(waited, secondsToRoom()),
    );
  }

  function next(): void {
    running--;
    queue.shift()?.();
    tellIdle();
  }

  function tellIdle(): void {
    if (running === 0 && queue.length === 0) for (const tell of whenIdle.splice(0)) tell();
  }

  async function run<Kind extends Job['kind']>(
    job: Extract<Job, { kind: Kind }>,
    signal: AbortSignal,
    letIn = false,
  ): Promise<Results[Kind]> {
    if (signal.aborted) throw cancelled();
    await turn(signal, letIn);
    const stop = new AbortController();
    const started = performance.now();
    let late = false;
    // Warming up is no work of a stranger's, and a machine that is busy takes long over it.
    const time =
      job.kind === 'warm'
        ? undefined
        : setTimeout(() => {
            late = true;
            stop.abort();
          }, limits.jobTime);
    let abandoned: NodeJS.Timeout | undefined;
    const transferList = ownBuffers(job);
    const work = piscina.run(job, { signal: stop.signal, transferList }).finally(() => {
      clearTimeout(time);
      clearTimeout(abandoned);
      if (job.kind !== 'warm') usual += 0.1 * (performance.now() - started - usual);
      next();
    }) as Promise<Answer<Kind>>;
    try {
      const answer = await new Promise<Answer<Kind>>((resolve, reject) => {
        work.then(resolve, reject);
        const leave = (): void => {
          abandoned = setTimeout(() => stop.abort(), limits.abandonedTime);
          reject(cancelled());
        };
        if (signal.aborted) leave();
        else signal.addEventListener('abort', leave, { once: true });
        work.catch(() => {}).finally(() => signal.removeEventListener('abort', leave));
      });
      if (!answer.ok) throw new GatherpanError(answer.code, answer.faults);
      return answer.result;
    } catch (error) {
      if (late) {
        throw new GatherpanError(
          'TIMEOUT',
          words().messages.server.tookTooLong(String(limits.jobTime / 1000)),
        );
      }
      if ((error as NodeJS.ErrnoException)?.code === 'ERR_WORKER_OUT_OF_MEMORY') {
        throw new GatherpanError(
          'OUT_OF_MEMORY',
          words().messages.server.tookTooMuchMemory(`${limits.jobMemory} MB`),
        );
      }
      throw error;
    }
  }

  const secondsFor = (jobs: number): number => (usual * jobs) / limits.threads / 1000;
  const secondsToRoom = (): number => secondsFor(queue.length + running);

  const never = new AbortController().signal;
  // One job for each thread: the pool hands them to different ones because none is free for a second.
  const warmed = Promise.all(
    Array.from({ length: options.warm ? limits.threads : 0 }, () => run({ kind: 'warm' }, never)),
  );
  warmed.then(
    () => {
      ready = true;
    },
    () => {}, // readiness stays false, and the first real job tells why
  );

  return {
    run,
    secondsFor,
    secondsToRoom,
    get ready() {
      return ready;
    },
    get running() {
      return running;
    },
    get waiting() {
      return queue.length;
    },
    idle: () =>
      running === 0 && queue.length === 0
        ? Promise.resolve()
        : new Promise((resolve) => whenIdle.push(resolve)),
    close: () => piscina.destroy(),
  };
}

const cancelled = (): GatherpanError => new GatherpanError('CANCELLED', words().messages.server.jobStopped);

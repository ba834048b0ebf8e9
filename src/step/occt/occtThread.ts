/**
 * A kernel in a thread of its own: started on first use, kept warm, replaced when it has grown too large, has
 * failed inside, or takes too long. Node only.
 */
import { Worker } from 'node:worker_threads';
import { GatherpanError } from '../../errors.ts';
import { once } from '../../once.ts';
import { words } from '../../words/language.ts';
import type { OcctAnswer, OcctReply, OcctTask, ThreadData } from './tasks.ts';

export interface OcctOptions {
  /** Longest time for one task, ms; loading the kernel not counted. */
  readonly timeLimit?: number;
  /** Memory of the kernel above which its thread is replaced after a task, bytes. */
  readonly memoryLimit?: number;
  /** Memory that the kernel may take within a task, MB, at most 2048: a task that needs more fails. */
  readonly occtMemory?: number;
  /** Memory that the thread may fill beside the kernel's, MB: with more it ends. */
  readonly threadMemory?: number;
  /** Tasks after which it is replaced. */
  readonly taskLimit?: number;
}

export interface OcctThread {
  /**
   * Does a task after those asked before it.
   *
   * @param limit most ms for this one; the kernel's own limit when left out
   *
   * @throws GatherpanError for a part that is not acceptable, a kernel that failed (BAD_INPUT), took too long
   *   (TIMEOUT) or needed more memory than it may have (OUT_OF_MEMORY)
   */
  run(task: OcctTask, limit?: number): Promise<OcctAnswer>;
  /** Threads started so far: how often the kernel was replaced, plus one. */
  readonly started: number;
  /** Ends the thread. */
  close(): Promise<void>;
}

const DEFAULTS = {
  timeLimit: 60_000,
  memoryLimit: 600e6,
  occtMemory: 2048,
  threadMemory: 1024,
  taskLimit: 200,
};
/** Loading takes 1 to 5 s; on a machine that is busy with other things, longer. */
const LOAD_LIMIT = 120_000;

const THREAD = new URL('./thread.js', import.meta.url);

const say = () => words().messages.step.occt;

export function occtThread(options: OcctOptions = {}): OcctThread {
  const { timeLimit, memoryLimit, occtMemory, threadMemory, taskLimit } = { ...DEFAULTS, ...options };
  /** All that a task may use, MB, as a person reads it. */
  const memory = String(occtMemory + threadMemory);
  let worker: Worker | null = null;
  let tasks = 0;
  let started = 0;
  let queue: Promise<unknown> = Promise.resolve();

  const end = async (): Promise<void> => {
    const old = worker;
    worker = null;
    tasks = 0;
    await old?.terminate();
  };

  const post = async (task: OcctTask, limit: number): Promise<OcctAnswer> => {
    if (worker === null) {
      const data: ThreadData = { occtMemory };
      worker = new Worker(THREAD, {
        workerData: data,
        resourceLimits: { maxOldGenerationSizeMb: threadMemory },
      });
      started++;
    }
    const own = worker;
    own.ref();
    let reply: OcctReply;
    try {
      reply = await answerOf(own, task, limit, memory);
    } catch (error) {
      await end();
      throw error;
    }
    // An idle kernel keeps no process alive.
    own.unref();
    tasks++;
    if (!reply.ok && 'fault' in reply) {
      await end();
      throw reply.outOfMemory ? tooMuchMemory(memory) : new GatherpanError('BAD_INPUT', say().failed);
    }
    if (reply.memory > memoryLimit || tasks >= taskLimit) await end();
    if (!reply.ok) throw new GatherpanError(reply.code, reply.faults);
    return reply.answer;
  };

  return {
    run(task, limit = timeLimit) {
      const turn = queue.then(async () => {
        // The load has a limit of its own.
        if (worker === null && task.kind !== 'warm') await post({ kind: 'warm' }, LOAD_LIMIT);
        return post(task, task.kind === 'warm' ? LOAD_LIMIT : limit);
      });
      queue = turn.catch(() => {});
      return turn;
    },
    get started() {
      return started;
    },
    async close() {
      await queue;
      await end();
    },
  };
}

const tooMuchMemory = (memory: string): GatherpanError =>
  new GatherpanError('OUT_OF_MEMORY', say().tooMuchMemory(memory));

/** @param memory that a task may use, MB, as a person reads it */
function answerOf(worker: Worker, task: OcctTask, limit: number, memory: string): Promise<OcctReply> {
  return new Promise((resolve, reject) => {
    const failed = (error: unknown): void => {
      done();
      if ((error as NodeJS.ErrnoException)?.code === 'ERR_WORKER_OUT_OF_MEMORY') {
        reject(tooMuchMemory(memory));
        return;
      }
      reject(
        new GatherpanError(
          'BAD_INPUT',
          task.kind === 'warm'
            ? say().notLoaded(String(error instanceof Error ? error.message : error).split('\n')[0]!)
            : say().failed,
        ),
      );
    };
    const ended = (): void => failed(say().threadEnded);
    const timer = setTimeout(() => {
      done();
      reject(new GatherpanError('TIMEOUT', say().tooLong(String(limit / 1000))));
    }, limit);
    const answered = (reply: OcctReply): void => {
      done();
      if (!reply.ok && 'fault' in reply && task.kind === 'warm' && !reply.outOfMemory) failed(reply.fault);
      else resolve(reply);
    };
    function done(): void {
      clearTimeout(timer);
      worker.off('message', answered);
      worker.off('error', failed);
      worker.off('exit', ended);
    }
    worker.on('message', answered);
    worker.on('error', failed);
    worker.on('exit', ended);
    worker.postMessage(task);
  });
}

/** The one kernel of this process, for whoever needs one now and then. */
export const sharedOcct = once(() => occtThread());

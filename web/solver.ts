/**
 * Solves trays in threads of the page. One thread answers what is shown and saved, one what is shown while somebody types,
 * and a third one looks for changes, which may take seconds and is ended as soon as nobody waits for it. A table of sizes
 * has threads of its own.
 */

import type { Answered, Answers, Asked, Question, Ready } from '../src/browser/protocol.ts';
import type { Fault } from '../src/errors.ts';

/** How long work may go on that nobody waits for any more, ms; a new thread has to warm up. */
const PATIENCE = 1000;
/** How long a thread may take until it is ready, ms. */
const START = 20_000;

/** A tray that is refused: what a person has to be told. */
export class Refused extends Error {
  readonly code: string;
  readonly faults: readonly Fault[];
  constructor(code: string, faults: readonly Fault[]) {
    super(faults.map(({ message }) => message).join('\n'));
    this.code = code;
    this.faults = faults;
  }
}

/** The thread could not do its work; somebody else may. */
export class Failed extends Error {}

/** What this browser lacks, so that it cannot solve. */
export type Lacking = 'workers' | 'webAssembly' | 'files' | 'language';

type Ask = <Kind extends Question['kind']>(
  question: Extract<Question, { kind: Kind }>,
  signal?: AbortSignal,
) => Promise<Answers[Kind]>;

export interface Solver {
  /** Ids of the formats that it writes. */
  readonly formats: readonly string[];
  /**
   * Dropped with an AbortError when the signal says so.
   *
   * @throws Refused, Failed
   */
  readonly ask: Ask;
  /** The same in a thread that has nothing else to do than to follow what is typed. */
  readonly askLive: Ask;
  /** The same in a thread of its own, which ends with the signal. */
  readonly askBeside: Ask;
  /** More threads, for work of many parts. */
  several(count: number): Several;
}

export interface Several {
  readonly count: number;
  /** Each question goes to the thread with the fewest. */
  readonly ask: Ask;
  end(): void;
}

interface Waiting {
  readonly asked: Asked;
  readonly signal: AbortSignal | undefined;
  resolve(result: never): void;
  reject(error: unknown): void;
}

/** Scripts that run beside the page's own: one policy for their addresses, where the page's rules ask for it (Trusted Types). */
export const scriptAddress = (() => {
  const addresses = ['worker.js', 'sw.js'].map((name) => new URL(name, import.meta.url).href);
  const { trustedTypes } = globalThis as {
    trustedTypes?: {
      createPolicy(
        name: string,
        rules: { createScriptURL(text: string): string },
      ): { createScriptURL(text: string): unknown };
    };
  };
  const policy = trustedTypes?.createPolicy('gatherpan', {
    createScriptURL(text) {
      if (!addresses.includes(text)) throw new TypeError(text);
      return text;
    },
  });
  return (name: 'worker.js' | 'sw.js'): string => {
    const { href } = new URL(name, import.meta.url);
    return (policy?.createScriptURL(href) ?? href) as string;
  };
})();

/** A thread, and those who wait for it: it is asked one thing at a time. */
class Thread {
  readonly #patience: number;
  #queue: Waiting[] = [];
  #running: Waiting | null = null;
  #worker: Worker | null = null;
  #ids = 0;
  /** Whether threads may be modules: a browser that knows of it reads the option (HTML standard, WorkerOptions). */
  knowsModules = false;

  constructor(patience: number) {
    this.#patience = patience;
  }

  start(): Promise<Ready> {
    const knows = (): void => {
      this.knowsModules = true;
    };
    const worker = new Worker(scriptAddress('worker.js'), {
      get type(): 'module' {
        knows();
        return 'module';
      },
    });
    this.#worker = worker;
    return new Promise((resolve, reject) => {
      const late = setTimeout(() => reject(new Failed('late')), START);
      worker.onerror = (event) => {
        clearTimeout(late);
        reject(new Failed(event.message));
        if (this.#worker === worker) this.#end(new Failed(event.message));
      };
      worker.onmessage = ({ data }: MessageEvent<Ready | Answered>) => {
        if ('ready' in data) {
          clearTimeout(late);
          resolve(data);
        } else this.#take(data);
      };
    });
  }

  ask: Ask = (question, signal) =>
    new Promise((resolve, reject) => {
      if (signal?.aborted) {
        reject(signal.reason);
        return;
      }
      const waiting: Waiting = { asked: { ...question, id: ++this.#ids }, signal, resolve, reject };
      this.#queue.push(waiting);
      signal?.addEventListener('abort', () => this.#drop(waiting), { once: true });
      this.#next();
    });

  get waiting(): number {
    return this.#queue.length + (this.#running === null ? 0 : 1);
  }

  end(): void {
    this.#end(new Failed('ended'));
  }

  #next(): void {
    if (this.#running !== null) return;
    const next = this.#queue.shift();
    if (next === undefined) return;
    this.#running = next;
    const ask = (): void => {
      if (this.#running === next) this.#worker?.postMessage(next.asked);
    };
    if (this.#worker !== null) ask();
    // What goes wrong then reaches those who wait through the thread's own error.
    else this.start().then(ask, () => {});
  }

  #take(answered: Answered): void {
    const running = this.#running;
    if (running === null || running.asked.id !== answered.id) return;
    this.#running = null;
    if (answered.ok) running.resolve(answered.result as never);
    else if ('fault' in answered) running.reject(new Failed(answered.fault));
    else running.reject(new Refused(answered.code, answered.faults));
    this.#next();
  }

  #drop(waiting: Waiting): void {
    waiting.reject(waiting.signal!.reason);
    this.#queue = this.#queue.filter((other) => other !== waiting);
    if (this.#running !== waiting) return;
    const ended = (): void => {
      if (this.#running !== waiting) return;
      this.#running = null;
      this.#worker?.terminate();
      this.#worker = null;
      this.#next();
    };
    if (this.#patience === 0) ended();
    else setTimeout(ended, this.#patience);
  }

  #end(error: Failed): void {
    this.#worker?.terminate();
    this.#worker = null;
    const lost = [...(this.#running === null ? [] : [this.#running]), ...this.#queue];
    this.#running = null;
    this.#queue = [];
    for (const { reject } of lost) reject(error);
  }
}

function several(count: number): Several {
  const threads = Array.from({ length: count }, () => new Thread(0));
  const idlest = () => threads.reduce((least, thread) => (thread.waiting < least.waiting ? thread : least));
  return {
    count,
    ask: (question, signal) => idlest().ask(question, signal),
    end() {
      for (const thread of threads) thread.end();
    },
  };
}

/**
 * Starts the threads.
 *
 * @param language of the page (BCP 47)
 * @returns what is lacking where they cannot solve, or cannot but slowly, or speak another language
 */
export async function startSolver(language: string): Promise<Solver | Lacking> {
  if (typeof WebAssembly !== 'object') return 'webAssembly';
  if (typeof Worker !== 'function') return 'workers';
  const thread = new Thread(PATIENCE);
  const live = new Thread(PATIENCE);
  const beside = new Thread(0);
  try {
    const ready = await thread.start();
    if (!ready.webAssembly) return 'webAssembly';
    if (ready.language !== language) return 'language';
    const { formats } = ready;
    return { formats, ask: thread.ask, askLive: live.ask, askBeside: beside.ask, several };
  } catch {
    return thread.knowsModules ? 'files' : 'workers';
  }
}

/**
 * A limit on the time that one piece of work of this thread may take, looked at between the steps of every solve in
 * it: of the tray itself, of its stages, of the changes that are searched for.
 *
 * It belongs to the thread and not to the options of a solve, because the work asks for many solves in many places, also
 * from within exporters. So a thread does one such piece of work at a time.
 */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

export interface TimeLimit {
  readonly seconds: number;
  /** Tells the time in ms. */
  readonly now: () => number;
}

let current: (TimeLimit & { readonly end: number }) | null = null;

/**
 * Does `work`, in which every solve is ended once the time is over.
 *
 * @param limit none when null
 * @throws GatherpanError TIMEOUT from within the work
 */
export async function withinTimeLimit<T>(limit: TimeLimit | null, work: () => Promise<T>): Promise<T> {
  const before = current;
  current = limit === null ? null : { ...limit, end: limit.now() + 1000 * limit.seconds };
  try {
    return await work();
  } finally {
    current = before;
  }
}

/**
 * @throws GatherpanError TIMEOUT when the time of the work that is being done is over
 * @throws Cancelled when it is not wanted any more
 */
export function refuseLate(): void {
  if (isCancelled?.() === true) throw new Cancelled();
  if (current !== null && current.now() > current.end) {
    throw new GatherpanError('TIMEOUT', words().messages.solve.tookTooLong(String(current.seconds)));
  }
}

/** That the work was ended because nobody wants it any more. */
export class Cancelled extends Error {}

let isCancelled: (() => boolean) | null = null;

/**
 * Does `work`, in which every solve is ended as soon as `cancelled` says so, between two steps.
 *
 * @throws Cancelled from within the work
 */
export function unlessCancelled<T>(cancelled: () => boolean, work: () => T): T {
  const before = isCancelled;
  isCancelled = cancelled;
  try {
    return work();
  } finally {
    isCancelled = before;
  }
}

/**
 * A limit on the time that one piece of work of this thread may take, looked at between the steps of every solve in
 * it: of the tray itself, of its stages, of the changes that are searched for.
 *
 * It belongs to the thread and not to the options of a solve, because the work asks for many solves in many places, also
 * from within exporters. So a thread does one such piece of work at a time; a second one beside it is refused.
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
  if (current !== null) throw new Error('a thread does one piece of work with a limit on its time at a time');
  current = limit === null ? null : { ...limit, end: limit.now() + 1000 * limit.seconds };
  try {
    return await work();
  } finally {
    current = null;
  }
}

/** @throws GatherpanError TIMEOUT when the time of the work that is being done is over */
export function refuseLate(): void {
  if (current !== null && current.now() > current.end) {
    throw new GatherpanError('TIMEOUT', words().messages.solve.tookTooLong(String(current.seconds)));
  }
}

/** Long work in small steps, so that Ctrl-C is heard meanwhile. */
import { setImmediate as breath } from 'node:timers/promises';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** Between two breaths, ms. */
const STRIDE = 50;

/**
 * Runs the work to its end; how it is interrupted has no bearing on what it returns.
 *
 * @throws GatherpanError CANCELLED when the signal was aborted
 */
export async function runInterruptibly<T>(work: Generator<void, T>, signal?: AbortSignal): Promise<T> {
  for (let last = performance.now(); ; ) {
    const step = work.next();
    if (step.done === true) return step.value;
    if (performance.now() - last < STRIDE) continue;
    await breath();
    if (signal?.aborted === true)
      throw new GatherpanError('CANCELLED', words().messages.layout.stoppedLooking);
    last = performance.now();
  }
}

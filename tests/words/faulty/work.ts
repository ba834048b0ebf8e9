/** A piece of work that is refused, and what is said of it. */
import { GatherpanError } from '../../../src/errors.ts';

export type Work = () => unknown;

/** What is said of a piece of work, one sentence a fault; none when it is not refused. */
export async function complaints(work: Work): Promise<string[]> {
  try {
    await work();
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    return error.faults.map(({ message }) => message);
  }
  return [];
}

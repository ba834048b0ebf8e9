/** What the program refuses: its errors as values, every other error as a failure of the test. */
import { expect } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';

/** What comes of work that may be refused. @throws whatever it throws that is no error of the program */
export function orRefusal<T>(work: () => T): T | GatherpanError {
  try {
    return work();
  } catch (error) {
    if (error instanceof GatherpanError) return error;
    throw error;
  }
}

/** The error with which work is refused, as it must be. */
export function refusal(work: () => unknown): GatherpanError {
  const refused = orRefusal(work);
  expect(refused).toBeInstanceOf(GatherpanError);
  return refused as GatherpanError;
}

/** The error with which work that takes its time is refused, as it must be. */
export async function refusalOf(work: Promise<unknown>): Promise<GatherpanError> {
  const refused = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(refused).toBeInstanceOf(GatherpanError);
  return refused as GatherpanError;
}

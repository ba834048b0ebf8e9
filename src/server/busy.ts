/** No room now, and when there is likely to be some. */
import { GatherpanError } from '../errors.ts';

export class Busy extends GatherpanError {
  /** Whole seconds, at least 1: what `Retry-After` says. */
  readonly retryAfter: number;

  /** @param sentence takes the seconds */
  constructor(sentence: (seconds: string) => string, seconds: number) {
    const retryAfter = Math.max(1, Math.ceil(seconds));
    super('BUSY', sentence(String(retryAfter)));
    this.retryAfter = retryAfter;
  }
}

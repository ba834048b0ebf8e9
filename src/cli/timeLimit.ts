/** `--limit`: how long one tray may take. */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** Several times what the largest trays take on an ordinary machine. */
export const DEFAULT_LIMIT = '120';

const LEAST = 0.001;
const MOST = 86_400;

/**
 * Seconds.
 *
 * @param text as it was typed; the default when left out
 * @throws GatherpanError BAD_INPUT
 */
export function secondsOf(text = DEFAULT_LIMIT): number {
  const seconds = /^\d{1,6}(\.\d{1,3})?$/.test(text) ? Number(text) : Number.NaN;
  if (seconds >= LEAST && seconds <= MOST) return seconds;
  throw new GatherpanError(
    'BAD_INPUT',
    words().messages.cli.number('--limit', JSON.stringify(text), String(LEAST), String(MOST)),
  );
}

/** What is common to trays that have a flat pattern and trays that have none. */
import { GatherpanError } from '../errors.ts';
import type { Verdict, VerdictWord } from '../gather/report.ts';
import { words } from '../words/language.ts';
import { written } from '../words/statement.ts';
import type { Developed, FlatPattern, NoFlat } from './flatPattern.ts';

/** The verdict on a tray, whatever became of it. */
export const verdictOn = (developed: Developed): Verdict =>
  developed.kind === 'no flat' ? developed.verdict : developed.gather.verdict;

/** The verdict that an error's code stands for, see `flatPatternOf`; null where nothing was judged. */
export const verdictBehind = (code: string): VerdictWord | null =>
  code === 'NO_FLAT' ? 'not in one piece' : null;

/**
 * The flat pattern, for what cannot be done without one, such as a file.
 *
 * @throws GatherpanError NO_FLAT with the reasons of the verdict where there is none
 */
export function flatPatternOf<Pattern extends FlatPattern>(developed: Pattern | NoFlat): Pattern {
  if (developed.kind !== 'no flat') return developed;
  throw new GatherpanError(
    'NO_FLAT',
    developed.verdict.reasons.map(({ sentence }) => ({ path: '', message: written(sentence, words()) })),
  );
}

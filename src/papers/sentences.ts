/** What a pattern says in whole sentences, in the unit and the language of a paper. */
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';
import { type LengthUnit, lengthWriter } from './lengths.ts';

/** What to mind: the warnings, then the notes. */
export const minded = ({ report, notes }: FlatPattern, words: Words, unit: LengthUnit): string[] =>
  sentences([...report.warnings, ...notes], words, lengthWriter(unit));

/** Why the verdict is what it is, the weightiest first. */
export const reasonsOf = (pattern: FlatPattern, words: Words, unit: LengthUnit): string[] =>
  sentences(
    pattern.gather.verdict.reasons.map(({ sentence }) => sentence),
    words,
    lengthWriter(unit),
  );

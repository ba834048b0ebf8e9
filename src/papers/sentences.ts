/** What a pattern says in whole sentences, in the unit and the language of a paper. */
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';
import { type LengthUnit, lengthWriter } from './lengths.ts';

/** What to mind: the warnings, then the notes. */
export const minded = ({ report, notes }: FlatPattern, words: Words, unit: LengthUnit): string[] =>
  sentences([...report.warnings, ...notes], words, lengthWriter(unit));

/**
 * Why the verdict is what it is, the weightiest first. What the edge takes before it puckers stands beside the tucks where
 * there are some (`edgeWords`).
 */
export const reasonsOf = ({ gather }: FlatPattern, words: Words, unit: LengthUnit): string[] =>
  sentences(
    gather.verdict.reasons
      .filter(({ about }) => about !== 'buckling' || gather.tucks.length === 0)
      .map(({ sentence }) => sentence),
    words,
    lengthWriter(unit),
  );

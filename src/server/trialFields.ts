/** What is asked of a trial corner, and what is told of it: the same on the bench view and on its page for those without scripts. */
import { type LengthUnit, withUnit } from '../papers/lengths.ts';
import { lengthFrom } from '../tray/writtenSize.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import { sentence } from './answer.ts';
import type { BenchView } from './benchView.ts';
import type { HandFound } from './handFound.ts';
import type { PageWords } from './pageWords.ts';

export type TrialCorner = BenchView['trial'][number];

/** Lengths that are measured at every corner, by what they are called in the table of words. */
export const TRIAL_LENGTHS = ['middle', 'start', 'end', 'thickness'] as const;

/** What was typed; empty where nothing was measured. `dots` is how far the two are apart when formed. */
export type TypedTrial = Readonly<Record<(typeof TRIAL_LENGTHS)[number] | 'dots', string>>;

/** What was posted of a trial, by the names of its fields; nothing before there is one. */
export type PostedTrial = Readonly<Record<string, string>>;

/** Ahead of the names of its fields. */
export const TRIAL = 'trial-';

export const unitSign = (unit: LengthUnit): 'mm' | 'in' => (unit === 'mm' ? 'mm' : 'in');

/** What the field of a corner's dots is called; null for one that has no room for them. */
export const dotsLabel = ({ dots }: TrialCorner, unit: LengthUnit, words: PageWords): string | null =>
  dots === null
    ? null
    : sentence(words, words.bench.trial.dots, {
        unit: unitSign(unit),
        apart: withUnit(dots.apart, unit),
        inset: withUnit(dots.inset, unit),
      });

/** As a measurements file has it, without what was not measured; what is no length stays as it was typed. */
export function trialMeasurements(
  { letter, dots }: TrialCorner,
  typed: TypedTrial,
  unit: LengthUnit,
): object {
  const units = unitSign(unit);
  const number = (text: string): number | string | undefined =>
    text.trim() === '' ? undefined : (lengthFrom(text.trim(), units) ?? text);
  const heights = { middle: number(typed.middle), start: number(typed.start), end: number(typed.end) };
  const thickness = number(typed.thickness);
  const after = number(typed.dots);
  const length = (mm: number): number => (unit === 'mm' ? mm : mm / MILLIMETRES_PER_INCH);
  return {
    units,
    corner: letter,
    ...(Object.values(heights).every((each) => each === undefined)
      ? {}
      : { rimHeight: { from: 'table', ...heights } }),
    ...(thickness === undefined ? {} : { rimThickness: { middle: thickness } }),
    ...(dots === null || after === undefined
      ? {}
      : {
          marks: [
            {
              direction: 'along',
              inset: length(dots.inset),
              before: length(dots.apart),
              after,
              skin: 'outside',
            },
          ],
        }),
  };
}

/** The hand in sentences, and how the cut line moves, corners that move alike in one. */
export function foundLines({ sentences, moves }: HandFound, unit: LengthUnit, words: PageWords): string[] {
  const said = words.bench.trial;
  const alike = new Map<string, string[]>();
  for (const { letter, move } of moves) {
    const text = sentence(words, move >= 0 ? said.out : said.in, {
      letter: '{letter}',
      move: withUnit(Math.abs(move), unit),
    });
    alike.set(text, [...(alike.get(text) ?? []), letter]);
  }
  const moved = [...alike].map(([text, letters]) => sentence(words, text, { letter: letters.join(', ') }));
  return [...sentences, ...moved];
}

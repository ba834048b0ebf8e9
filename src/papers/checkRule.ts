/** What a person measures on a print before trusting it: a square and a rule of known size. */
import { drawn, type Item, level, upright } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import type { PaperWords } from '../words/english.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { text } from './marks.ts';

/** Side of the square and length of the rule to be measured, mm; with inches 2 and 4 inches. */
const CHECK = {
  mm: { square: 50, rule: 100, step: 10 },
  inch: { square: 50.8, rule: 101.6, step: 12.7 },
} as const;

/** Side of the square, mm. */
export const checkSquare = (unit: LengthUnit): number => (unit === 'mm' ? CHECK.mm : CHECK.inch).square;

/** Length of the rule, mm. */
export const ruleLength = (unit: LengthUnit): number => (unit === 'mm' ? CHECK.mm : CHECK.inch).rule;

/** A rule with marks; with its sentence when there is room for one. */
export function checkRule(
  at: { x: number; y: number },
  unit: LengthUnit,
  words: PaperWords,
  sentence: boolean,
): Item[] {
  const { rule, step } = unit === 'mm' ? CHECK.mm : CHECK.inch;
  const ticks = [];
  for (let mm = 0; mm <= rule + 1e-9; mm += step) {
    const long = Math.abs(mm / (rule / 2) - Math.round(mm / (rule / 2))) < 1e-9;
    ticks.push(upright(at.x + mm, at.y, at.y + (long ? 3 : 1.8)));
  }
  const items: Item[] = [drawn([level(at.y, at.x, at.x + rule)], LINES.thin), drawn(ticks, LINES.thin)];
  if (sentence) {
    items.push(text({ x: at.x, y: at.y + 4.5 }, TEXT.normal, words.rule(withUnit(rule, unit, 0))));
  } else
    items.push(text({ x: at.x + 1, y: at.y + 2.1 }, TEXT.small, withUnit(rule, unit, 0), { halo: true }));
  return items;
}

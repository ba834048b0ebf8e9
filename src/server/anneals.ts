/** How often a tray is annealed: what the page says of it. */

import { temperFor } from '../material/temper.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type Words } from '../words/english.ts';
import { written } from '../words/statement.ts';

export interface Anneals {
  /** Null where the sheet would need some and must not be annealed in the workshop. */
  readonly count: number | null;
  /** Whole sentences: whether, and what is seen at the right heat. */
  readonly notes: readonly string[];
}

/** The anneals in their order. */
export type AnnealCourse = readonly {
  readonly when: 'before' | 'after' | 'within';
  /** Number of the stage, from 0. */
  readonly stage: number;
  /** Degrees to which the wall is turned up by then. */
  readonly angle: number;
}[];

/** How often the hardest worked place uses up what the sheet takes between anneals. */
export function anneals(pattern: FlatPattern, words: Words = english): Anneals {
  const { service } = words;
  const { anneal } = pattern.sheet.material;
  const { anneals: count, work } = pattern.gather;
  if (count === 0) return { count, notes: [service.noAnneal] };
  if (count === null || anneal.temperature === null)
    return { count: null, notes: anneal.instead === undefined ? [] : [written(anneal.instead, words)] };
  const [low, high] = anneal.temperature;
  const { annealedFirst } = temperFor(pattern.sheet.material, work);
  const said = annealedFirst ? service.annealFirst : service.anneal;
  return { count, notes: [said(String(low), String(high), written(anneal.cue, words))] };
}

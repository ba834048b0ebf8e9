/** A sheet of the work at the bench, as plain data, and what every one of them is made from. */
import type { StageShape } from '../gather/stageShapes.ts';
import type { Course } from '../gather/workingPlan.ts';
import { largest } from '../largest.ts';
import type { Act } from '../material/cautions.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { BenchWords } from '../words/bench.ts';
import type { Words } from '../words/english.ts';
import type { LengthUnit } from './lengths.ts';

/** A figure to be read at arm's length. */
export interface BenchFigure {
  readonly title: string;
  readonly value: string;
  readonly note?: string;
}

/** What belongs together: figures, and lines to tick off. */
export interface BenchGroup {
  readonly title: string;
  readonly figures: readonly BenchFigure[];
  readonly lines: readonly string[];
  /** Names of the corners that it is about, where it is about some. */
  readonly corners?: readonly string[];
}

/** What is measured and noted down. */
export interface BenchNote {
  readonly id: string;
  readonly title: string;
  /** As it should be, mm or degrees; null where nothing is asked for. */
  readonly wanted: number | null;
  readonly text: string;
  readonly unit: 'mm' | 'degrees';
}

export interface BenchSheet {
  /** Unlike all others of the tray. */
  readonly id: string;
  readonly title: string;
  /** Number of the shape that is shown, the flat blank being 0, and what it shows; null for none. */
  readonly picture: { readonly shape: number; readonly said: string } | null;
  readonly figures: readonly BenchFigure[];
  readonly groups: readonly BenchGroup[];
  /** Names of the corners in the order in which they are worked. */
  readonly turns: readonly string[];
  readonly troubles: readonly string[];
  readonly notes: readonly BenchNote[];
  readonly cautions: readonly string[];
}

export interface BenchOptions {
  readonly unit: LengthUnit;
  readonly words: Words;
  /** What `words.bench` loads. */
  readonly bench: BenchWords;
  /** By how much a trial bend opened, degrees (`madeBend`); 0 where none was made. */
  readonly trialBend?: number;
}

/** What every sheet is made from. */
export interface Made extends Required<BenchOptions> {
  readonly pattern: FlatPattern;
  readonly course: Course;
  readonly mm: (length: number, decimals?: number) => string;
  readonly given: (length: number) => string;
  /** Of a rule of thumb. */
  readonly round: (length: number) => string;
  readonly cautions: (acts: readonly Act[]) => string[];
}

export const group = (
  title: string,
  lines: readonly string[],
  figures: readonly BenchFigure[] = [],
): BenchGroup => ({ title, figures, lines });

export const sheet = (id: string, title: string, more: Partial<BenchSheet>): BenchSheet => ({
  id,
  title,
  picture: null,
  figures: [],
  groups: [],
  turns: [],
  troubles: [],
  notes: [],
  cautions: [],
  ...more,
});

/** The most gather that is still to come of a shape, per cent. */
export const most = (shape: StageShape | undefined): string =>
  shape === undefined ? '0' : largest(shape.toCome).toFixed(0);

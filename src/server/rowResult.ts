/** A row of a table of sizes, solved: the few figures a table has room for, and the files. */
import type { VerdictWord } from '../gather/report.ts';
import { verdictOn } from '../pattern/developed.ts';
import type { Developed, FlatPattern } from '../pattern/flatPattern.ts';
import type { Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';
import type { MadeFile } from './jobs.ts';
import { anneals, concerns } from './judgement.ts';

export interface RowFigures {
  readonly name: string;
  readonly material: string;
  /** mm */
  readonly thickness: number;
  readonly grade: VerdictWord;
  /** What speaks against it or asks for care. */
  readonly reasons: readonly string[];
  /** Size of the blank, mm; null, as what follows, for a tray that has no flat. */
  readonly length: number | null;
  readonly width: number | null;
  /** kg */
  readonly mass: number | null;
  /** mm */
  readonly cutLength: number | null;
  /** The largest of the corners, mm. */
  readonly rimToLose: number | null;
  /** mm */
  readonly thickest: number | null;
  /** Null also where the sheet must not be annealed. */
  readonly anneals: number | null;
  readonly warnings: readonly string[];
}

/** Whether there is a blank. */
export const hasBlank = ({ length }: RowFigures): boolean => length !== null;

export interface RowResult {
  readonly figures: RowFigures;
  readonly files: readonly MadeFile[];
}

export function rowFigures(developed: Developed, words: Words): RowFigures {
  const { name, sheet } = developed;
  return {
    name,
    material: sheet.material.name,
    thickness: sheet.thickness,
    grade: verdictOn(developed).word,
    reasons: concerns(developed, words),
    ...(developed.kind === 'no flat' ? NO_BLANK : blankFigures(developed, words)),
  };
}

type BlankFigures = Omit<RowFigures, 'name' | 'material' | 'thickness' | 'grade' | 'reasons'>;

const NO_BLANK: BlankFigures = {
  length: null,
  width: null,
  mass: null,
  cutLength: null,
  rimToLose: null,
  thickest: null,
  anneals: null,
  warnings: [],
};

const blankFigures = (pattern: FlatPattern, words: Words): BlankFigures => {
  const { blank, corners, thickness, warnings } = pattern.report;
  return {
    length: blank.length,
    width: blank.width,
    mass: blank.mass,
    cutLength: blank.cutLength,
    rimToLose: corners.reduce((most, corner) => Math.max(most, corner.rimToLose), 0),
    thickest: thickness.max,
    anneals: anneals(pattern).count,
    warnings: sentences(warnings, words),
  };
};

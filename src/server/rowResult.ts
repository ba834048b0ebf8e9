/** A row of a table of sizes, solved: the few figures a table has room for, and the files. */
import type { VerdictWord } from '../gather/report.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
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
  /** Size of the blank, mm. */
  readonly length: number;
  readonly width: number;
  /** kg */
  readonly mass: number;
  /** mm */
  readonly cutLength: number;
  /** The largest of the corners, mm. */
  readonly rimToLose: number;
  /** mm */
  readonly thickest: number;
  readonly anneals: number | null;
  readonly warnings: readonly string[];
}

export interface RowResult {
  readonly figures: RowFigures;
  readonly files: readonly MadeFile[];
}

export function rowFigures(pattern: FlatPattern, words: Words): RowFigures {
  const { report } = pattern;
  return {
    name: pattern.name,
    material: report.sheet.material,
    thickness: report.sheet.thickness,
    grade: pattern.gather.verdict.word,
    reasons: concerns(pattern, words),
    length: report.blank.length,
    width: report.blank.width,
    mass: report.blank.mass,
    cutLength: report.blank.cutLength,
    rimToLose: report.corners.reduce((most, corner) => Math.max(most, corner.rimToLose), 0),
    thickest: report.thickness.max,
    anneals: anneals(pattern).count,
    warnings: sentences(report.warnings, words),
  };
}

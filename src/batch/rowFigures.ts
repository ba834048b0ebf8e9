/** The figures of a tray that its line of the manifest shows. */
import type { VerdictWord } from '../gather/report.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';

/** Lengths and thickness mm, area mm², mass kg, strains engineering per cent. */
export interface RowFigures {
  readonly material: string;
  readonly thickness: number;
  readonly blankLength: number;
  readonly blankWidth: number;
  readonly area: number;
  readonly mass: number;
  readonly cutLength: number;
  readonly segments: number;
  /** The largest of all corners; 0 without one. */
  readonly rimToLose: number;
  readonly peakGather: number;
  readonly peakStretch: number;
  readonly thickest: number;
  readonly thinnest: number;
  /** Whether it can be worked in one piece, see `gather/verdict.ts`. */
  readonly verdict: VerdictWord;
  readonly warnings: readonly string[];
}

/** Whether the verdict on a tray speaks against making it. */
export const isDoubtful = (figures: RowFigures | null): boolean => figures?.verdict === 'not in one piece';

/** Rounded to what can be measured, so that the last digits of a solve do not show. */
export function rowFigures({ report, gather }: FlatPattern, table: Words): RowFigures {
  const { blank, corners, thickness } = report;
  const largest = (values: readonly number[]): number =>
    values.reduce((most, each) => Math.max(most, each), 0);
  return {
    material: report.sheet.material,
    thickness: to(report.sheet.thickness, 4),
    blankLength: to(blank.length, 2),
    blankWidth: to(blank.width, 2),
    area: to(blank.area, 0),
    mass: to(blank.mass, 4),
    cutLength: to(blank.cutLength, 1),
    segments: blank.segments,
    rimToLose: to(largest(corners.map((corner) => corner.rimToLose)), 2),
    peakGather: to(largest(corners.map((corner) => corner.peakGather)), 2),
    peakStretch: to(largest(corners.map((corner) => corner.peakStretch)), 2),
    thickest: to(thickness.max, 3),
    thinnest: to(thickness.min, 3),
    verdict: gather.verdict.word,
    warnings: sentences(report.warnings, table),
  };
}

const to = (value: number, places: number): number => Number(value.toFixed(places));

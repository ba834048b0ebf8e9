/** What a line of a table has room for of a tray: verdict, what speaks against it, and the figures that matter. */

import type { VerdictWord } from '../gather/report.ts';
import { largest } from '../largest.ts';
import { mostRimToLose } from '../pattern/corners.ts';
import { verdictOn } from '../pattern/developed.ts';
import type { Developed, FlatPattern } from '../pattern/flatPattern.ts';
import type { Words } from '../words/english.ts';
import { inMillimetres, type LengthWriter, sentences, written } from '../words/statement.ts';

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
  /** The largest of all gather zones, see `CornerReport.rimToLose`; 0 without one. */
  readonly rimToLose: number;
  readonly peakGather: number;
  readonly peakStretch: number;
  readonly thickest: number;
  readonly thinnest: number;
  /** Null where the sheet would need some and must not be annealed. */
  readonly anneals: number | null;
}

export interface RowReport {
  /** Whether it can be worked in one piece, see `gather/verdict.ts`. */
  readonly verdict: VerdictWord;
  /** What speaks against it or asks for care, the weightiest first. */
  readonly reasons: readonly string[];
  /** How far the figures can be trusted, and what to watch. */
  readonly warnings: readonly string[];
  /** Null for a tray that has no flat. */
  readonly figures: RowFigures | null;
}

/** Of a tray that has a flat. */
export interface MadeReport extends RowReport {
  readonly figures: RowFigures;
}

/** Figures are rounded to what can be measured, so that the last digits of a solve do not show. */
export function rowReport(developed: FlatPattern, table: Words, lengths?: LengthWriter): MadeReport;
export function rowReport(developed: Developed, table: Words, lengths?: LengthWriter): RowReport;
export function rowReport(developed: Developed, table: Words, lengths = inMillimetres): RowReport {
  const { word, reasons } = verdictOn(developed);
  const flat = developed.kind === 'no flat' ? null : developed;
  return {
    verdict: word,
    reasons: reasons
      .filter(({ weight }) => weight === 'refuse' || weight === 'care')
      .map(({ sentence }) => written(sentence, table, lengths)),
    warnings: flat === null ? [] : sentences(flat.report.warnings, table, lengths),
    figures: flat === null ? null : rowFigures(flat),
  };
}

function rowFigures({ report, gather }: FlatPattern): RowFigures {
  const { blank, corners, thickness } = report;
  return {
    material: report.sheet.material,
    thickness: to(report.sheet.thickness, 4),
    blankLength: to(blank.length, 2),
    blankWidth: to(blank.width, 2),
    area: to(blank.area, 0),
    mass: to(blank.mass, 4),
    cutLength: to(blank.cutLength, 1),
    segments: blank.segments,
    rimToLose: to(mostRimToLose(gather.zones), 2),
    peakGather: to(largest(corners.map((corner) => corner.peakGather)), 2),
    peakStretch: to(largest(corners.map((corner) => corner.peakStretch)), 2),
    thickest: to(thickness.max, 3),
    thinnest: to(thickness.min, 3),
    anneals: gather.anneals,
  };
}

const to = (value: number, places: number): number => Number(value.toFixed(places));

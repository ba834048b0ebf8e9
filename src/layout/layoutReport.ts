/**
 * A layout as JSON: every sheet with its figures and where each blank lies.
 *
 * Lengths mm, areas mm², masses kg, angles degrees counter-clockwise about the blank's own origin; coordinates
 * from the lower left corner of the sheet. Utilisation from 0 to 1. `cost` is an estimate in the unit of the
 * rates that were given, null without them.
 */
import type { VerdictWord } from '../gather/report.ts';
import type { ManifestTray, RowError } from '../jobs/manifest.ts';
import { verdictBehind } from '../pattern/developed.ts';
import { degrees } from '../units.ts';
import type { CostRates } from './cost.ts';
import type { Stock } from './packing.ts';
import type { LaidSheet, SheetLayout } from './sheetLayout.ts';

export const LAYOUT_FORMAT = 'gatherpan layout';
export const LAYOUT_VERSION = 1;

export interface SheetFile {
  readonly sheet: LaidSheet;
  readonly file: string;
}

/** A tray that was ordered and is on no sheet, because there is no blank of it. */
export interface LeftOut {
  /** Null where the row has none. */
  readonly name: string | null;
  readonly quantity: number | null;
  /** Null where nothing was judged. */
  readonly verdict: VerdictWord | null;
  readonly reasons: readonly string[];
}

/** @param error why there is no blank */
export const leftOutBecause = (name: string | null, quantity: number | null, error: RowError): LeftOut => ({
  name,
  quantity,
  verdict: verdictBehind(error.code),
  reasons: error.faults.map(({ message }) => message),
});

/** The same of a batch's row. */
export const leftOutRow = ({ name, quantity, verdict, reasons, error }: ManifestTray): LeftOut => ({
  name,
  quantity,
  verdict,
  reasons: error === null ? reasons : error.faults.map(({ message }) => message),
});

export function layoutDocument(
  layout: SheetLayout,
  sheets: readonly SheetFile[],
  stock: Stock,
  rates: CostRates,
  leftOut: readonly LeftOut[],
): unknown {
  return {
    format: LAYOUT_FORMAT,
    version: LAYOUT_VERSION,
    units: { length: 'mm', area: 'mm2', mass: 'kg', angle: 'degree' },
    stock: { length: stock.length, width: stock.width, spacing: stock.spacing, edge: stock.edge },
    rates: { metre: rates.metre ?? null, pierce: rates.pierce ?? null, kg: rates.kg ?? null },
    total: layoutTotal(layout),
    leftOut,
    sheets: sheets.map(({ sheet, file }) => ({
      file,
      material: sheet.material,
      thickness: sheet.thickness,
      utilisation: to(sheet.utilisation, 4),
      usedLength: to(sheet.usedLength, 2),
      offcut:
        sheet.offcut === null
          ? null
          : {
              length: to(sheet.offcut.length, 2),
              width: to(sheet.offcut.width, 2),
              mass: to(sheet.offcut.mass, 3),
            },
      mass: to(sheet.mass, 3),
      partsMass: to(sheet.partsMass, 3),
      cutLength: to(sheet.cutLength, 1),
      pierces: sheet.pierces,
      cost: sheet.cost === null ? null : to(sheet.cost, 2),
      parts: sheet.parts.map(({ part, x, y, angle }) => ({
        name: part.name,
        x: to(x, 4),
        y: to(y, 4),
        angle: to(degrees(angle), 6),
      })),
    })),
  };
}

/** The figures of all sheets together. */
export function layoutTotal({ sheets, leastSheets }: SheetLayout) {
  const sum = (of: (sheet: LaidSheet) => number, places: number): number =>
    to(
      sheets.reduce((total, sheet) => total + of(sheet), 0),
      places,
    );
  return {
    sheets: sheets.length,
    leastSheets,
    parts: sum((sheet) => sheet.parts.length, 0),
    utilisation: to(sum((sheet) => sheet.partsArea, 6) / sum((sheet) => sheet.area, 6), 4),
    mass: sum((sheet) => sheet.mass, 3),
    partsMass: sum((sheet) => sheet.partsMass, 3),
    cutLength: sum((sheet) => sheet.cutLength, 1),
    pierces: sum((sheet) => sheet.pierces, 0),
    cost: sheets.some((sheet) => sheet.cost === null) ? null : sum((sheet) => sheet.cost ?? 0, 2),
  };
}

const to = (value: number, places: number): number => Number(value.toFixed(places));

/** A layout as lines for a person. */
import type { SheetFile } from '../layout/layoutReport.ts';
import type { LaidSheet, SheetLayout } from '../layout/sheetLayout.ts';

/** A line a sheet, and one for all of them. */
export function sheetLines(layout: SheetLayout, sheets: readonly SheetFile[]): string {
  const lines = sheets.map(({ sheet, file }) => `${file}: ${sheetLine(sheet)}\n`);
  return `${lines.join('')}${counted(sheets.length, 'sheet')} (the bare area would need ${layout.leastSheets})\nCut edges are sharp: wear gloves when you take blanks off the sheet.\n`;
}

const sheetLine = (sheet: LaidSheet): string =>
  [
    `${counted(sheet.parts.length, 'blank')}, ${(100 * sheet.utilisation).toFixed(1)} % used`,
    `${(sheet.cutLength / 1000).toFixed(2)} m of cut, ${counted(sheet.pierces, 'pierce')}`,
    `${sheet.partsMass.toFixed(2)} of ${sheet.mass.toFixed(2)} kg`,
    sheet.offcut === null
      ? 'no offcut'
      : `offcut ${sheet.offcut.length.toFixed(0)} x ${sheet.offcut.width.toFixed(0)} mm`,
    ...(sheet.cost === null ? [] : [`about ${sheet.cost.toFixed(2)} at your rates`]),
  ].join(', ');

const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;

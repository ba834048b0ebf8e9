/** A layout as lines for a person. */
import type { SheetFile } from '../layout/layoutReport.ts';
import type { LaidSheet, SheetLayout } from '../layout/sheetLayout.ts';
import { words } from '../words/language.ts';

/** A line a sheet, and one for all of them. */
export function sheetLines(layout: SheetLayout, sheets: readonly SheetFile[]): string {
  const lines = sheets.map(({ sheet, file }) => `${file}: ${sheetLine(sheet)}\n`);
  const said = words().command.output.layout;
  return `${lines.join('')}${said.sheets(String(sheets.length), String(layout.leastSheets))}\n${said.edges}\n`;
}

function sheetLine(sheet: LaidSheet): string {
  const said = words().command.output.layout;
  return [
    said.blanks(String(sheet.parts.length), (100 * sheet.utilisation).toFixed(1)),
    said.cut((sheet.cutLength / 1000).toFixed(2), String(sheet.pierces)),
    said.mass(sheet.partsMass.toFixed(2), sheet.mass.toFixed(2)),
    sheet.offcut === null
      ? said.noOffcut
      : said.offcut(sheet.offcut.length.toFixed(0), sheet.offcut.width.toFixed(0)),
    ...(sheet.cost === null ? [] : [said.cost(sheet.cost.toFixed(2))]),
  ].join(', ');
}

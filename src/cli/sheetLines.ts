/** A layout as lines for a person. */
import type { SheetFile } from '../layout/layoutReport.ts';
import type { LaidSheet, SheetLayout } from '../layout/sheetLayout.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import { type Lengths, lengthsOf } from './lengths.ts';

/** A line a sheet, and one for all of them. */
export function sheetLines(
  layout: SheetLayout,
  sheets: readonly SheetFile[],
  shown: Pick<TraySpec, 'shownIn'>,
): string {
  const lengths = lengthsOf(shown, words().terminal);
  const lines = sheets.map(({ sheet, file }) => `${file}: ${sheetLine(sheet, lengths)}\n`);
  const said = words().command.output.layout;
  return `${lines.join('')}${said.sheets(String(sheets.length), String(layout.leastSheets))}\n${said.edges}\n`;
}

function sheetLine(sheet: LaidSheet, { bare, whole, cut, mass }: Lengths): string {
  const said = words().command.output.layout;
  return [
    said.blanks(String(sheet.parts.length), (100 * sheet.utilisation).toFixed(1)),
    said.cut(cut(sheet.cutLength, 2), String(sheet.pierces)),
    said.mass(mass(sheet.partsMass, 2), mass(sheet.mass, 2)),
    sheet.offcut === null
      ? said.noOffcut
      : said.offcut(bare(sheet.offcut.length, 0), whole(sheet.offcut.width, 0)),
    ...(sheet.cost === null ? [] : [said.cost(sheet.cost.toFixed(2))]),
  ].join(', ');
}

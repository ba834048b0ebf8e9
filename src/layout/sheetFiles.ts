/** The files of a layout: a drawing a sheet, then the report. */

import { fileKey, fileStem } from '../fileName.ts';
import type { ResultFile } from '../jobs/manifest.ts';
import { asGiven } from '../words/statement.ts';
import { type LayoutDrawingOptions, layoutDrawing } from './layoutDrawing.ts';
import { type LeftOut, layoutDocument, type SheetFile } from './layoutReport.ts';
import type { PartDrawing } from './partDrawing.ts';
import type { LayoutOptions, SheetLayout } from './sheetLayout.ts';

/** How blanks are to be laid out and drawn. */
export interface SheetOrder extends LayoutOptions, LayoutDrawingOptions {
  readonly drawing: PartDrawing;
}

export const LAYOUT_JSON = 'layout.json';

/** Whether a file name, in small letters, may be one of a layout. */
export const isLayoutFile = (name: string): boolean => name === LAYOUT_JSON || /^sheet-.*\.dxf$/.test(name);

/** The sheets with the names of their drawings, for example `sheet-DC04-1.2mm-1.dxf`; no two are the same. */
export function namedSheets({ sheets }: SheetLayout): SheetFile[] {
  const kinds = new Map<string, string>();
  return sheets.map((sheet) => {
    const start = `${fileStem(sheet.material)}-${asGiven(sheet.thickness)}mm`;
    const kind = `${sheet.material} ${sheet.thickness}`;
    // Two materials may differ in signs only that a file name does not have.
    let stem = start;
    const taken = (): boolean => (kinds.get(fileKey(stem)) ?? kind) !== kind;
    for (let k = 2; taken(); k++) stem = `${start}-${k}`;
    kinds.set(fileKey(stem), kind);
    return { sheet, file: `sheet-${stem}-${sheet.number}.dxf` };
  });
}

/** Made one at a time, as they are taken. */
export function* sheetFiles(
  layout: SheetLayout,
  sheets: readonly SheetFile[],
  { stock, rates, drawing, marks, version }: SheetOrder,
  leftOut: readonly LeftOut[],
): Generator<ResultFile> {
  for (const { sheet, file } of sheets)
    yield { name: file, bytes: layoutDrawing(sheet, stock, drawing, { marks, version }) };
  yield { name: LAYOUT_JSON, bytes: layoutJson(layout, sheets, { stock, rates }, leftOut) };
}

export const layoutJson = (
  layout: SheetLayout,
  sheets: readonly SheetFile[],
  { stock, rates }: Pick<LayoutOptions, 'stock' | 'rates'>,
  leftOut: readonly LeftOut[],
): Uint8Array =>
  new TextEncoder().encode(
    `${JSON.stringify(layoutDocument(layout, sheets, stock, rates, leftOut), null, 2)}\n`,
  );

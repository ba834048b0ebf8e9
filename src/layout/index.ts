/**
 * The library's part for stock sheets (`gatherpan/layout`): blanks laid out, drawn and reckoned, by themselves or
 * as the last step of a batch. For Node only.
 */
export type { Blank } from '../batch/blank.ts';
export type { DxfVersion, SheetMark } from '../exporters/dxf/choices.ts';
export { type BatchSheets, batchSheets, type LaidOut } from './batchSheets.ts';
export type { CostRates } from './cost.ts';
export { type LayoutDrawingOptions, layoutDrawing } from './layoutDrawing.ts';
export { layoutDocument, layoutTotal, type SheetFile } from './layoutReport.ts';
export type { Stock } from './packing.ts';
export type { PartDrawing } from './partDrawing.ts';
export { type GrainRule, type Part, partOf } from './parts.ts';
export { namedSheets, type SheetOrder, sheetFiles } from './sheetFiles.ts';
export {
  type LaidSheet,
  type LayoutOptions,
  layOut,
  type PlacedPart,
  type SheetLayout,
} from './sheetLayout.ts';
export { type SolvedPart, solveParts } from './solveParts.ts';

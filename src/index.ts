/** The public library: solve a tray, write its flat pattern with an exporter, register exporters of your own. */
export { ERROR_TABLE, type ErrorCode, type Fault, GatherpanError } from './errors.ts';
export { builtInExporters } from './exporters/builtIn.ts';
export type { Exporter, Parameter, ParameterValues } from './exporters/contract.ts';
export { createRegistry, type Registry } from './exporters/registry.ts';
export type { Anneal, Sheet, SheetMaterial } from './material/sheet.ts';
export { listSheets, resolveSheet } from './material/sheets.ts';
export type { Path, Point, Vertex } from './outline/path.ts';
export { type DevelopOptions, developTray } from './pattern/developTray.ts';
export type {
  CornerReport,
  FlatPattern,
  Hole,
  Report,
  ScribeLine,
} from './pattern/flatPattern.ts';
export type { FlatField } from './solve/flatField.ts';
export { parseTray, readTray } from './tray/readTray.ts';
export type { TraySpec } from './tray/spec.ts';

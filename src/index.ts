/**
 * The public library: solve a tray, write its flat pattern with an exporter, register exporters of your own.
 *
 * Nothing here needs Node, so a bundler takes it for a browser as it is. What does stands under `gatherpan/node`,
 * `gatherpan/step`, `gatherpan/batch` and `gatherpan/layout`.
 */
export type { Fonts, Typeface } from './drawing/fonts.ts';
export type { Item, Picture } from './drawing/picture.ts';
export { type SvgOptions, svgText } from './drawing/svg.ts';
export { ERROR_TABLE, type ErrorCode, type Fault, GatherpanError } from './errors.ts';
export { builtInExporters, exportersIn } from './exporters/builtIn.ts';
export type { ExportContext, Exporter, Parameter, ParameterValues } from './exporters/contract.ts';
export type { Means } from './exporters/means.ts';
export { createRegistry, type Registry } from './exporters/registry.ts';
export type { AnnealPlan, AnnealStep } from './gather/anneals.ts';
export type { GrainAdvice, GrainCase } from './gather/grain.ts';
export { ownHand } from './gather/hand.ts';
export { type Estimate, fitHand, type HandFit } from './gather/handFit.ts';
export { type Measurements, readMeasurements } from './gather/measurements.ts';
export type {
  Contour,
  Gather,
  GatherZone,
  NoFlatCause,
  Reason,
  StrengthBand,
  TrimBand,
  TuckPlan,
  Verdict,
  VerdictWord,
  ZoneRim,
} from './gather/report.ts';
export type { Stage, StageZone } from './gather/stages.ts';
export { trimBand } from './gather/trimBand.ts';
export { type PlanOptions, type WorkingPlan, workingPlan } from './gather/workingPlan.ts';
export { zoneContours } from './gather/zones.ts';
export type { FlatField } from './geometry/flatField.ts';
export type { Path, Point, Vertex } from './geometry/path.ts';
export { type Act, type ActCautions, cautionsOf } from './material/cautions.ts';
export type { Anneal, Sheet, SheetMaterial } from './material/sheet.ts';
export { listSheets, resolveSheet } from './material/sheets.ts';
export { type BlankPictureOptions, blankPicture } from './papers/blankPicture.ts';
export { formedView, type ViewOptions } from './papers/formedView.ts';
export { type ShopCardOptions, shopCard, shopCardPages } from './papers/shopCard.ts';
export { type Change, type ChangeSearch, searchChanges } from './pattern/changes.ts';
export { flatPatternOf, verdictOn } from './pattern/developed.ts';
export { developLive, LIVE_ACCURACY, type Live } from './pattern/developLive.ts';
export { type DevelopOptions, developTray } from './pattern/developTray.ts';
export type {
  CornerReport,
  Developed,
  FlatPattern,
  Hole,
  NoFlat,
  Report,
  ScribeLine,
} from './pattern/flatPattern.ts';
export { parseTray, readTray } from './tray/readTray.ts';
export type { TraySpec } from './tray/spec.ts';
export { english, type PaperWords, type Words } from './words/english.ts';
export { inWords, type Statement, sentences } from './words/statement.ts';

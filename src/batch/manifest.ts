/**
 * The list of a batch: every row with its figures, verdict, files, hashes and warnings, as CSV for a person and
 * as JSON for a program.
 *
 * Lengths and thickness mm, area mm², mass kg, strains engineering per cent. Nothing in it depends on the time
 * or on who solved what, so the same batch gives the same bytes.
 */
import { stringify } from 'csv-stringify/sync';
import type { VerdictWord } from '../gather/report.ts';
import { verdictBehind } from '../pattern/developed.ts';
import type { JournalEntry, WrittenFile } from './journalLines.ts';
import type { RowFigures } from './rowFigures.ts';
import { type BatchRow, isTray } from './rows.ts';
import type { RowError } from './solveChunk.ts';

export const MANIFEST_FORMAT = 'gatherpan batch manifest';
export const MANIFEST_VERSION = 1;

export const MANIFEST_CSV = 'manifest.csv';
export const MANIFEST_JSON = 'manifest.json';

/**
 * `made`; `no flat` when its verdict is that none can be cut; `failed` when it cannot be solved or written; `refused`
 * when its row is bad.
 */
export type State = 'made' | 'no flat' | 'failed' | 'refused';

export interface ManifestTray {
  readonly row: number;
  readonly place: string;
  readonly name: string | null;
  readonly quantity: number | null;
  readonly state: State;
  /** Null where there was nothing to judge. */
  readonly verdict: VerdictWord | null;
  readonly figures: RowFigures | null;
  readonly files: readonly WrittenFile[];
  readonly error: RowError | null;
}

/** What became of a row. */
export function manifestTray(row: BatchRow, result: JournalEntry | RowError | undefined): ManifestTray {
  const common = { row: row.row, place: row.place };
  if (!isTray(row)) {
    const { code, faults } = row.error;
    return {
      ...common,
      name: row.name,
      quantity: null,
      state: 'refused',
      verdict: null,
      figures: null,
      files: [],
      error: { code, faults },
    };
  }
  const known = { ...common, name: row.spec.name, quantity: row.quantity };
  if (result === undefined || 'code' in result) {
    const verdict = result === undefined ? null : verdictBehind(result.code);
    return {
      ...known,
      state: verdict === null ? 'failed' : 'no flat',
      verdict,
      figures: null,
      files: [],
      error: result ?? null,
    };
  }
  const { verdict } = result.figures;
  return { ...known, state: 'made', verdict, figures: result.figures, files: result.files, error: null };
}

export function manifestJson(trays: readonly ManifestTray[]): Uint8Array {
  const document = {
    format: MANIFEST_FORMAT,
    version: MANIFEST_VERSION,
    units: { length: 'mm', area: 'mm2', mass: 'kg', strain: '%', size: 'byte' },
    trays,
  };
  return new TextEncoder().encode(`${JSON.stringify(document, null, 1)}\n`);
}

type Column = readonly [header: string, value: (tray: ManifestTray) => string | number];

const figure =
  (read: (figures: RowFigures) => string | number) =>
  ({ figures }: ManifestTray): string | number =>
    figures === null ? '' : read(figures);

const COLUMNS: readonly Column[] = [
  ['row', (tray) => tray.row],
  ['place', (tray) => tray.place],
  ['name', (tray) => tray.name ?? ''],
  ['quantity', (tray) => tray.quantity ?? ''],
  ['state', (tray) => tray.state],
  ['verdict', ({ verdict }) => verdict ?? ''],
  ['material', figure((each) => each.material)],
  ['thickness_mm', figure((each) => each.thickness)],
  ['blank_length_mm', figure((each) => each.blankLength)],
  ['blank_width_mm', figure((each) => each.blankWidth)],
  ['area_mm2', figure((each) => each.area)],
  ['mass_kg', figure((each) => each.mass)],
  ['cut_length_mm', figure((each) => each.cutLength)],
  ['segments', figure((each) => each.segments)],
  ['rim_to_lose_mm', figure((each) => each.rimToLose)],
  ['peak_gather_percent', figure((each) => each.peakGather)],
  ['peak_stretch_percent', figure((each) => each.peakStretch)],
  ['thickest_mm', figure((each) => each.thickest)],
  ['thinnest_mm', figure((each) => each.thinnest)],
  ['files', (tray) => tray.files.map((file) => file.name).join(' ')],
  ['sha256', (tray) => tray.files.map((file) => file.sha256).join(' ')],
  ['warnings', figure((each) => each.warnings.join(' '))],
  ['error', (tray) => tray.error?.faults.map((fault) => fault.message).join(' ') ?? ''],
];

/** Comma, decimal point, CRLF: RFC 4180. UTF-8. */
export function manifestCsv(trays: readonly ManifestTray[]): Uint8Array {
  const rows = trays.map((tray) => COLUMNS.map(([, value]) => harmless(value(tray))));
  const text = stringify([COLUMNS.map(([header]) => header), ...rows], { record_delimiter: 'windows' });
  return new TextEncoder().encode(text);
}

/**
 * A text that a spreadsheet would take for a formula (it begins with = + - @, a tab or a line end, also behind
 * spaces) gets an apostrophe in front, which spreadsheets hide. Numbers stay as they are.
 * Source: OWASP, "CSV Injection" (the list of signs).
 */
export const harmless = (value: string | number): string | number =>
  typeof value === 'string' && /^\s*[=+\-@\t\r\n]/.test(value) ? `'${value}` : value;

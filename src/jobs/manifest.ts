/**
 * The list of what was made of several trays, or of one for an archive: every row with its verdict, figures, files and
 * hashes, as CSV for a person and as JSON for a program.
 *
 * Lengths and thickness mm, area mm², mass kg, strains engineering per cent. Nothing in it depends on the time
 * or on who solved what, so the same trays give the same bytes. Documented in the README.
 */
import { sha256 as digest } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { stringify } from 'csv-stringify/sync';
import type { VerdictWord } from '../gather/report.ts';
import type { RowFigures, RowReport } from './rowReport.ts';

export const MANIFEST_FORMAT = 'gatherpan manifest';
export const MANIFEST_VERSION = 2;

export const MANIFEST_CSV = 'manifest.csv';
export const MANIFEST_JSON = 'manifest.json';

/** A file in memory. */
export interface ResultFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A file as a manifest lists it. */
export interface WrittenFile {
  readonly name: string;
  /** bytes */
  readonly size: number;
  /** SHA-256 of the bytes, hexadecimal. */
  readonly sha256: string;
}

/** An error that can be sent: a `GatherpanError`, or `FAULT` for a fault of the program. */
export interface RowError {
  readonly code: string;
  readonly faults: readonly { readonly path: string; readonly message: string }[];
}

/**
 * `made`; `no flat` when its verdict is that none can be cut; `failed` when it cannot be solved or written; `refused`
 * when its row is bad.
 */
export type State = 'made' | 'no flat' | 'failed' | 'refused';

/** Where a tray comes from. */
interface Source {
  /** Number among the rows that hold data, from 1. */
  readonly row: number;
  /** Where it stands, for a person: `line 7` or `row 3`. */
  readonly place: string;
  /** Null where it is not known. */
  readonly name: string | null;
  readonly quantity: number | null;
}

export interface ManifestTray extends Source {
  readonly state: State;
  /** Null where there was nothing to judge. */
  readonly verdict: VerdictWord | null;
  readonly reasons: readonly string[];
  readonly warnings: readonly string[];
  /** Null but for `made`. */
  readonly figures: RowFigures | null;
  readonly files: readonly WrittenFile[];
  /** Formats that do not fit this tray, and why. */
  readonly missing: readonly string[];
  /** Null but for `failed` and `refused`. */
  readonly error: RowError | null;
}

/** A tray that was judged. */
export const judgedTray = (
  { row, place, name, quantity }: Source,
  { verdict, reasons, warnings, figures }: RowReport,
  files: readonly WrittenFile[],
  missing: readonly string[] = [],
): ManifestTray => ({
  row,
  place,
  name,
  quantity,
  state: figures === null ? 'no flat' : 'made',
  verdict,
  reasons,
  warnings,
  figures,
  files,
  missing,
  error: null,
});

/** A tray that there is nothing to judge of. */
export const failedTray = (
  { row, place, name, quantity }: Source,
  state: 'failed' | 'refused',
  error: RowError | null,
): ManifestTray => ({
  row,
  place,
  name,
  quantity,
  state,
  verdict: null,
  reasons: [],
  warnings: [],
  figures: null,
  files: [],
  missing: [],
  error,
});

/** SHA-256, hexadecimal. */
export const sha256 = (bytes: Uint8Array): string => bytesToHex(digest(bytes));

export const writtenFile = ({ name, bytes }: ResultFile): WrittenFile => ({
  name,
  size: bytes.length,
  sha256: sha256(bytes),
});

/** The manifest's two files. */
export const manifestFiles = (trays: readonly ManifestTray[]): readonly [ResultFile, ResultFile] => [
  { name: MANIFEST_CSV, bytes: manifestCsv(trays) },
  { name: MANIFEST_JSON, bytes: manifestJson(trays) },
];

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
  ['anneals', figure((each) => each.anneals ?? '')],
  ['files', (tray) => tray.files.map((file) => file.name).join(' ')],
  ['sha256', (tray) => tray.files.map((file) => file.sha256).join(' ')],
  ['reasons', (tray) => tray.reasons.join(' ')],
  ['warnings', (tray) => tray.warnings.join(' ')],
  ['missing', (tray) => tray.missing.join(' ')],
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

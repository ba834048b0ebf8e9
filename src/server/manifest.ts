/** What is in an archive: for a person as CSV, for a program as JSON, with a checksum of every file. */
import { createHash } from 'node:crypto';
import { stringify } from 'csv-stringify/sync';
import type { MadeFile } from './jobs.ts';
import type { RowFigures } from './rowResult.ts';

/** A tray of the archive, or the reason why it is not in it. */
export type Entry =
  | {
      readonly figures: RowFigures;
      readonly files: readonly FileEntry[];
      /** Formats that do not fit this tray, and why. */
      readonly missing: readonly string[];
    }
  | { readonly name: string; readonly place: string; readonly faults: readonly string[] };

export interface FileEntry {
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

export const fileEntry = ({ name, bytes }: MadeFile): FileEntry => ({
  name,
  bytes: bytes.length,
  sha256: createHash('sha256').update(bytes).digest('hex'),
});

/** Deterministic: no date, keys in a fixed order. */
export const manifestJson = (entries: readonly Entry[]): string =>
  `${JSON.stringify({ format: 'gatherpan manifest', version: 1, trays: entries }, null, 2)}\n`;

const COLUMNS = [
  'name',
  'state',
  'material',
  'thickness_mm',
  'blank_length_mm',
  'blank_width_mm',
  'mass_kg',
  'cut_length_mm',
  'rim_to_lose_mm',
  'thickest_mm',
  'anneals',
  'remarks',
  'files',
];

/**
 * One line a tray. A cell that a spreadsheet would take for a formula gets an apostrophe in front, whoever wrote
 * its text (CWE-1236).
 */
export function manifestCsv(entries: readonly Entry[]): string {
  const rows = entries.map((entry) => {
    if (!('figures' in entry)) {
      return [
        entry.name,
        'not made',
        ...Array<string>(9).fill(''),
        `${entry.place}: ${entry.faults.join(' ')}`,
        '',
      ];
    }
    const { figures, files, missing } = entry;
    return [
      figures.name,
      figures.grade,
      figures.material,
      String(figures.thickness),
      figures.length?.toFixed(2) ?? '',
      figures.width?.toFixed(2) ?? '',
      figures.mass?.toFixed(3) ?? '',
      figures.cutLength?.toFixed(1) ?? '',
      figures.rimToLose?.toFixed(2) ?? '',
      figures.thickest?.toFixed(2) ?? '',
      figures.anneals === null ? '' : String(figures.anneals),
      [...figures.reasons, ...figures.warnings, ...missing].join(' '),
      files.map(({ name }) => name).join(' '),
    ];
  });
  return stringify([COLUMNS, ...rows], { escape_formulas: true, record_delimiter: 'windows' });
}

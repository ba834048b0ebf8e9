/** Runs a batch from its rows to the finished folder or archive. */
import { rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { writeArchive } from './archive.ts';
import { contactSheets } from './contactSheet.ts';
import type { Engine } from './engine.ts';
import {
  appendEntry,
  JOURNAL_NAME,
  type JournalEntry,
  openJournal,
  rewriteJournal,
  sha256,
} from './journal.ts';
import {
  MANIFEST_CSV,
  MANIFEST_JSON,
  type ManifestTray,
  manifestCsv,
  manifestJson,
  manifestTray,
} from './manifest.ts';
import { type ChosenFormat, planChunks } from './plan.ts';
import { type BatchRow, isTray, type TrayRow } from './rows.ts';
import type { RowError, RowResult } from './solveChunk.ts';
import { writeWhole } from './wholeFile.ts';

/** Where the files go: a folder, or one archive. */
export type Target =
  | { readonly kind: 'folder'; readonly path: string }
  | { readonly kind: 'archive'; readonly path: string };

export interface BatchProgress {
  /** Trays dealt with in this run, and all that this run has to deal with. */
  readonly done: number;
  readonly total: number;
  readonly name: string;
}

export interface BatchOptions {
  readonly rows: readonly BatchRow[];
  readonly formats: readonly ChosenFormat[];
  /** The program's version, part of every hash. */
  readonly version: string;
  readonly target: Target;
  /** Go on where an earlier run stopped. */
  readonly resume: boolean;
  readonly engine: Engine;
  readonly signal: AbortSignal;
  readonly progress?: (progress: BatchProgress) => void;
}

export interface BatchOutcome {
  readonly trays: readonly ManifestTray[];
  /** Trays whose files were there already. */
  readonly resumed: number;
}

/** Where the files of an archive lie until it is packed. */
export const foldersOf = ({ kind, path }: Target): string =>
  kind === 'folder' ? path : join(dirname(path), `${basename(path)}.parts`);

/**
 * Files are written whole and in row order, each tray's before the next one's; then the manifest, the contact
 * sheet and, where one is asked for, the archive.
 *
 * @throws GatherpanError BAD_INPUT when two files would have one name or one cannot be written; CANCELLED when
 *   the signal was aborted: what is there then is whole, and `resume` goes on from it
 */
export async function runBatch(options: BatchOptions): Promise<BatchOutcome> {
  const { rows, formats, version, target, resume, engine, signal } = options;
  const trays = rows.filter(isTray);
  refuseClashes(trays, formats);
  const folder = foldersOf(target);
  const journal = await openJournal(folder, resume);
  const results = new Map<number, JournalEntry | RowError>();
  const chunks = planChunks(trays, formats, version, (row, key) => {
    const entry = journal.get(key);
    if (entry !== undefined) results.set(row, entry);
    return entry !== undefined;
  });
  const resumed = results.size;
  const byRow = new Map(trays.map((tray) => [tray.row, tray]));

  const total = trays.length - resumed;
  let done = 0;
  for await (const { results: solved } of engine.solve(chunks, signal)) {
    for (const result of solved) {
      if (signal.aborted) break;
      const { name } = byRow.get(result.row)!.spec;
      results.set(result.row, result.ok ? await stored(folder, name, result) : result.error);
      options.progress?.({ done: ++done, total, name });
    }
  }
  if (signal.aborted) throw stopped(done, total);
  await engine.close(); // its memory is needed for what comes

  const manifest = rows.map((row) => manifestTray(row, results.get(row.row)));
  const entries = trays.flatMap((tray) => {
    const result = results.get(tray.row);
    return result !== undefined && 'key' in result ? [result] : [];
  });
  const summaries = [
    { name: MANIFEST_CSV, bytes: manifestCsv(manifest) },
    { name: MANIFEST_JSON, bytes: manifestJson(manifest) },
    ...(entries.length === 0 ? [] : await contactSheets(entries)),
  ];
  for (const { name, bytes } of summaries) await writeWhole(folder, name, bytes);
  await rewriteJournal(folder, entries);
  if (target.kind === 'archive') {
    const names = [
      ...entries.flatMap((entry) => entry.files.map((file) => file.name)),
      ...summaries.map((file) => file.name),
    ];
    await writeArchive(target.path, folder, names, signal);
    await rm(folder, { recursive: true, force: true });
  }
  return { trays: manifest, resumed };
}

/** Writes the tray's files and remembers them. */
async function stored(
  folder: string,
  name: string,
  { key, files, figures, outline }: Extract<RowResult, { ok: true }>,
): Promise<JournalEntry> {
  const written = [];
  for (const file of files) {
    await writeWhole(folder, file.name, file.bytes);
    written.push({ name: file.name, size: file.bytes.length, sha256: sha256(file.bytes) });
  }
  const entry: JournalEntry = { key, name, files: written, figures, outline };
  await appendEntry(folder, entry);
  return entry;
}

/** The names of a batch's own files, which no tray's file may have. */
export const OWN_NAMES: readonly string[] = [
  MANIFEST_CSV,
  MANIFEST_JSON,
  'contact-sheet.svg',
  'contact-sheet.pdf',
  JOURNAL_NAME,
];

function refuseClashes(trays: readonly TrayRow[], formats: readonly ChosenFormat[]): void {
  const byExtension = new Map<string, string>();
  for (const { id, extension } of formats) {
    const other = byExtension.get(extension);
    if (other !== undefined) {
      throw new GatherpanError(
        'BAD_INPUT',
        `The formats ${other} and ${id} both write .${extension} files; make them in separate calls.`,
      );
    }
    byExtension.set(extension, id);
  }
  const own = new Set(OWN_NAMES);
  for (const { spec, place } of trays) {
    for (const { extension } of formats) {
      if (!own.has(`${spec.name}.${extension}`.toLowerCase())) continue;
      throw new GatherpanError('BAD_INPUT', {
        path: 'name',
        message: `The tray ${spec.name} (${place}) would overwrite the batch's own file ${spec.name}.${extension}; give it another name.`,
      });
    }
  }
}

const stopped = (done: number, total: number): GatherpanError =>
  new GatherpanError(
    'CANCELLED',
    `Stopped after ${done} of ${total} trays; the same command with --resume goes on from there.`,
  );

/** Runs a batch from its rows to the finished folder or archive. */
import { rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { writeArchive } from './archive.ts';
import type { Blank } from './blank.ts';
import { contactSheets } from './contactSheet.ts';
import type { Engine } from './engine.ts';
import { refuseClashes } from './fileNames.ts';
import { appendEntry, openBlanks, openJournal, rewriteJournal, sha256 } from './journal.ts';
import type { JournalEntry } from './journalLines.ts';
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
import type { ResultFile, RowError, RowResult } from './solveChunk.ts';
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

/** A tray that was made. */
export interface Made {
  readonly tray: TrayRow;
  /** Read from the disk every time: by thousands they are too large for memory. */
  readonly blank: () => Blank;
}

/** Makes further files of all blanks once every tray is done, such as a layout on sheets. */
export interface Finish {
  /** Whether a file name, in small letters, is one of its own, which no tray's file may have. */
  readonly owns: (name: string) => boolean;
  /** The same files in the same order for the same blanks. @param made in row order, at least one */
  readonly files: (made: readonly Made[], signal: AbortSignal) => AsyncIterable<ResultFile>;
}

export interface BatchOptions {
  readonly rows: readonly BatchRow[];
  readonly formats: readonly ChosenFormat[];
  /** The program's version, part of every hash. */
  readonly version: string;
  readonly target: Target;
  /** Go on where an earlier run stopped. */
  readonly resume: boolean;
  readonly finish?: Finish;
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
 * sheet, what `finish` makes and, where one is asked for, the archive.
 *
 * @throws GatherpanError BAD_INPUT when two files would have one name or one cannot be written; CANCELLED when
 *   the signal was aborted: what is there then is whole, and `resume` goes on from it
 */
export async function runBatch(options: BatchOptions): Promise<BatchOutcome> {
  const { rows, formats, version, target, resume, finish, engine, signal } = options;
  const trays = rows.filter(isTray);
  refuseClashes(trays, formats, (name) => finish?.owns(name) === true);
  const folder = foldersOf(target);
  const blanks = finish !== undefined;
  const journal = await openJournal(folder, resume, blanks);
  const results = new Map<number, JournalEntry | RowError>();
  const chunks = planChunks(trays, {
    formats,
    version,
    blanks,
    done(row, key) {
      const entry = journal.get(key);
      if (entry !== undefined) results.set(row, entry);
      return entry !== undefined;
    },
  });
  journal.clear();
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
  const made = trays.flatMap((tray) => {
    const entry = results.get(tray.row);
    return entry !== undefined && 'key' in entry ? [{ tray, entry }] : [];
  });
  const names = made.flatMap(({ entry }) => entry.files.map((file) => file.name));
  const write = async ({ name, bytes }: ResultFile): Promise<void> => {
    await writeWhole(folder, name, bytes);
    names.push(name);
  };
  const entries = made.map(({ entry }) => entry);
  await write({ name: MANIFEST_CSV, bytes: manifestCsv(manifest) });
  await write({ name: MANIFEST_JSON, bytes: manifestJson(manifest) });
  if (made.length > 0) for (const sheet of await contactSheets(entries)) await write(sheet);
  await rewriteJournal(folder, entries, blanks);
  if (finish !== undefined && made.length > 0) {
    const kept = await openBlanks(folder);
    try {
      const own = made.map(({ tray, entry }): Made => ({ tray, blank: () => kept.read(entry.key)! }));
      for await (const file of finish.files(own, signal)) await write(file);
    } finally {
      kept.close();
    }
    if (signal.aborted) throw stopped(done, total);
  }
  if (target.kind === 'archive') {
    await writeArchive(target.path, folder, names, signal);
    await rm(folder, { recursive: true, force: true });
  }
  return { trays: manifest, resumed };
}

/** Writes the tray's files and remembers them. */
async function stored(
  folder: string,
  name: string,
  { key, files, figures, outline, blank }: Extract<RowResult, { ok: true }>,
): Promise<JournalEntry> {
  const written = [];
  for (const file of files) {
    await writeWhole(folder, file.name, file.bytes);
    written.push({ name: file.name, size: file.bytes.length, sha256: sha256(file.bytes) });
  }
  const entry: JournalEntry = { key, name, files: written, figures, outline };
  await appendEntry(folder, entry, blank);
  return entry;
}

const stopped = (done: number, total: number): GatherpanError =>
  new GatherpanError('CANCELLED', words().messages.batch.stopped(String(done), String(total)));

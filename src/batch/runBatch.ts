/** Runs a batch from its rows to the finished folder or archive. */
import { mkdtemp, readdir, rm, rmdir, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { writeArchive } from '../jobs/archive.ts';
import { refuseClashes } from '../jobs/fileNames.ts';
import {
  failedTray,
  judgedTray,
  MANIFEST_CSV,
  MANIFEST_JSON,
  type ManifestTray,
  manifestFiles,
  type ResultFile,
  type RowError,
  type WrittenFile,
  writtenFile,
} from '../jobs/manifest.ts';
import { programFingerprint } from '../jobs/program.ts';
import { lockOfFile, lockOfFolder, lockTarget, type TargetLock } from '../jobs/targetLock.ts';
import { makeFolder, removeDrafts, removeEmpty, writeFailure, writeWhole } from '../jobs/wholeFile.ts';
import { verdictBehind } from '../pattern/developed.ts';
import { words } from '../words/language.ts';
import type { Blank } from './blank.ts';
import { CONTACT_PDF, CONTACT_SVG, contactSheets } from './contactSheet.ts';
import type { Engine } from './engine.ts';
import { JOURNAL_NAME, Journal, journalAt } from './journal.ts';
import type { JournalEntry } from './journalLines.ts';
import { type ChosenFormat, planChunks } from './plan.ts';
import { type BatchRow, isTray, type TrayRow } from './rows.ts';
import type { RowResult } from './solveChunk.ts';

/** A batch's own files. */
export const OWN_NAMES: readonly string[] = [
  MANIFEST_CSV,
  MANIFEST_JSON,
  CONTACT_SVG,
  CONTACT_PDF,
  JOURNAL_NAME,
];

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
  /**
   * The same files in the same order for the same rows.
   *
   * @param made   in row order, at least one
   * @param others the rows that there is no blank of
   */
  readonly files: (
    made: readonly Made[],
    others: readonly ManifestTray[],
    signal: AbortSignal,
  ) => AsyncIterable<ResultFile>;
}

export interface BatchOptions {
  readonly rows: readonly BatchRow[];
  readonly formats: readonly ChosenFormat[];
  /** Which program this is, part of every key; this one when left out. */
  readonly program?: string;
  readonly target: Target;
  /** Go on where an earlier run stopped. */
  readonly resume: boolean;
  /** Most seconds that a tray may take; none when left out. */
  readonly limit?: number;
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

/**
 * Files are written whole and in row order, each tray's before the next one's; then the manifest, the contact
 * sheet, what `finish` makes and, where one is asked for, the archive.
 *
 * @throws GatherpanError BAD_INPUT when two files would have one name, one cannot be written, or another run writes to
 *   the same target; CANCELLED when the signal was aborted: what is there then is whole, and `resume` goes on from it
 */
export async function runBatch(options: BatchOptions): Promise<BatchOutcome> {
  const { rows, formats, target, finish } = options;
  const own = new Set(OWN_NAMES);
  refuseClashes(
    rows.filter(isTray).map(({ spec: { name }, place }) => ({ name, place })),
    formats,
    (key) => own.has(key) || finish?.owns(key) === true,
  );
  const lockFile = target.kind === 'folder' ? lockOfFolder(target.path) : lockOfFile(target.path);
  const lock = await lockTarget(lockFile, target.path);
  try {
    return await runLocked(options, lock);
  } finally {
    await lock.release();
  }
}

async function runLocked(options: BatchOptions, lock: TargetLock): Promise<BatchOutcome> {
  const { rows, formats, target, resume, finish, engine, signal } = options;
  const { program = programFingerprint() } = options;
  const { token } = lock;
  const trays = rows.filter(isTray);
  const folder = await workFolder(target, resume);
  if (lock.left !== null) {
    for (const each of new Set([folder, dirname(target.path)])) await removeDrafts(each, lock.left);
  }
  const blanks = finish !== undefined;
  const journal = await Journal.open(folder, { resume, blanks, program, token }).catch(async (error) => {
    if (target.kind === 'archive') await removeEmpty([folder]);
    throw error;
  });
  try {
    const results = new Map<number, JournalEntry | RowError>();
    const chunks = planChunks(trays, {
      formats,
      program,
      blanks,
      ...(options.limit === undefined ? {} : { limit: options.limit }),
      done(row, key) {
        const entry = journal.done.get(key);
        if (entry !== undefined) results.set(row, entry);
        return entry !== undefined;
      },
    });
    journal.done.clear();
    const resumed = results.size;
    const byRow = new Map(trays.map((tray) => [tray.row, tray]));

    const write = async (file: ResultFile): Promise<WrittenFile> => {
      await writeWhole(folder, file.name, file.bytes, token);
      return writtenFile(file);
    };
    const stored = async (
      name: string,
      { key: asked, files, report, outline, blank, afterTimeout }: Extract<RowResult, { ok: true }>,
    ): Promise<JournalEntry> => {
      const written = [];
      for (const file of files) written.push(await write(file));
      // One whose last digits are not to be counted on is not found by its key: going on solves it again.
      const key = afterTimeout ? `${asked}-after-timeout` : asked;
      const entry: JournalEntry = { key, name, files: written, report, outline };
      await journal.append(entry, blank);
      return entry;
    };
    const total = trays.length - resumed;
    let done = 0;
    const stopped = async (): Promise<GatherpanError> => {
      const say = words().messages.batch;
      const [made, of] = [String(done), String(total)];
      if (target.kind === 'folder') return new GatherpanError('CANCELLED', say.stopped(made, of));
      if (done + resumed > 0)
        return new GatherpanError('CANCELLED', say.stoppedArchive(made, of, basename(folder)));
      // There is nothing to go on from.
      await journal.remove();
      await removeOwn(folder, new Set());
      return new GatherpanError('CANCELLED', say.stopped(made, of));
    };
    for await (const { results: solved } of engine.solve(chunks, signal)) {
      for (const result of solved) {
        if (signal.aborted) break;
        const { name } = byRow.get(result.row)!.spec;
        results.set(result.row, result.ok ? await stored(name, result) : result.error);
        options.progress?.({ done: ++done, total, name });
      }
    }
    if (signal.aborted) throw await stopped();
    await engine.close(); // its memory is needed for what comes

    const manifest = rows.map((row) => manifestTray(row, results.get(row.row)));
    const made = trays.flatMap((tray) => {
      const entry = results.get(tray.row);
      return entry !== undefined && 'key' in entry ? [{ tray, entry }] : [];
    });
    const entries = made.map(({ entry }) => entry);
    const names = entries.flatMap(({ files }) => files.map((file) => file.name));
    const add = async (file: ResultFile): Promise<void> => {
      names.push((await write(file)).name);
    };
    for (const file of manifestFiles(manifest)) await add(file);
    const shown = made.map(({ tray: { spec }, entry }) => ({ ...entry, spec }));
    if (made.length > 0) for (const sheet of await contactSheets(shown)) await add(sheet);
    const kept = await journal.finish(entries);
    try {
      if (finish !== undefined && made.length > 0) {
        const own = made.map(({ tray, entry }): Made => ({ tray, blank: () => kept.read(entry.key)! }));
        const others = manifest.filter(({ state }) => state !== 'made');
        for await (const file of finish.files(own, others, signal)) await add(file);
      }
    } finally {
      kept.close();
    }
    if (signal.aborted) throw await stopped();
    if (target.kind === 'archive') {
      await writeArchive(target.path, folder, names, signal, token);
      await journal.remove();
      await removeOwn(folder, new Set([...journal.earlier, ...names]));
    }
    return { trays: manifest, resumed };
  } finally {
    await journal.close();
  }
}

/** What became of a row. */
function manifestTray(row: BatchRow, result: JournalEntry | RowError | undefined): ManifestTray {
  const { place } = row;
  if (!isTray(row)) {
    const { code, faults } = row.error;
    return failedTray({ row: row.row, place, name: row.name, quantity: null }, 'refused', { code, faults });
  }
  const source = { row: row.row, place, name: row.spec.name, quantity: row.quantity };
  if (result !== undefined && 'key' in result) return judgedTray(source, result.report, result.files);
  const verdict = result === undefined ? null : verdictBehind(result.code);
  if (result === undefined || verdict === null) return failedTray(source, 'failed', result ?? null);
  const reasons = result.faults.map(({ message }) => message);
  return judgedTray(source, { verdict, reasons, warnings: [], figures: null }, []);
}

/**
 * Where the files lie: in the target itself, or, for an archive, in a folder of our own beside it until it is packed. To
 * go on, that is the latest such folder with a journal in it; otherwise it is made anew, under a name that nothing has.
 */
async function workFolder({ kind, path }: Target, resume: boolean): Promise<string> {
  try {
    if (kind === 'folder') {
      await makeFolder(path);
      return path;
    }
    const parent = dirname(path);
    await makeFolder(parent);
    // Now, and not when all is solved.
    const there = await stat(path).catch(() => null);
    if (there !== null && !there.isFile())
      throw new GatherpanError('BAD_INPUT', words().messages.batch.archiveIsNoFile(path));
    const start = `${basename(path)}.parts-`;
    let latest: { readonly folder: string; readonly time: number } | null = null;
    for (const name of resume ? await readdir(parent) : []) {
      if (!name.startsWith(start) || !/^[A-Za-z0-9]{6}$/.test(name.slice(start.length))) continue;
      const folder = join(parent, name);
      const found = await stat(join(folder, JOURNAL_NAME)).catch(() => null);
      if (found === null || found.mtimeMs <= (latest?.time ?? -1)) continue;
      if ((await journalAt(join(folder, JOURNAL_NAME))).kind !== 'journal') continue;
      latest = { folder, time: found.mtimeMs };
    }
    return latest?.folder ?? (await mkdtemp(join(parent, start)));
  } catch (error) {
    throw writeFailure(error, path);
  }
}

/** Removes what we have written into a folder of our own, and the folder unless somebody else put something into it. */
async function removeOwn(folder: string, names: ReadonlySet<string>): Promise<void> {
  for (const name of names) await rm(join(folder, name), { force: true });
  await rmdir(folder).catch(() => {});
}

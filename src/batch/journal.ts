/**
 * What a batch has finished, one line a tray, so that a stopped run can go on.
 *
 * A line is written after the tray's files are whole. It is believed later only when those files are still
 * there with the same hash, so neither a torn last line nor a file changed by hand does harm.
 */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { appendFile, open, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Vertex } from '../outline/path.ts';
import type { Blank } from './blank.ts';
import type { RowFigures } from './rowFigures.ts';
import { DRAFT_NAME, fileFailure, makeFolder, writeWhole } from './wholeFile.ts';

export const JOURNAL_NAME = 'batch-journal.jsonl';

export interface WrittenFile {
  readonly name: string;
  /** bytes */
  readonly size: number;
  /** SHA-256 of the bytes, hexadecimal. */
  readonly sha256: string;
}

export interface JournalEntry {
  /** See `plan.ts`. */
  readonly key: string;
  readonly name: string;
  readonly files: readonly WrittenFile[];
  readonly figures: RowFigures;
  readonly outline: readonly Vertex[];
}

/** The blanks of trays, by key. They lie in the journal until they are needed: by thousands they are too large. */
export type Blanks = ReadonlyMap<string, Blank>;

export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/**
 * Makes the folder ready.
 *
 * @param resume whether to believe an earlier journal; otherwise it is begun anew
 * @param blanks whether a tray without its blank is of no use
 * @returns the entries of trays that need no solving, by key
 */
export async function openJournal(
  folder: string,
  resume: boolean,
  blanks: boolean,
): Promise<Map<string, JournalEntry>> {
  const path = join(folder, JOURNAL_NAME);
  try {
    await makeFolder(folder);
    await removeDrafts(folder);
    const sound = new Map<string, JournalEntry>();
    if (!resume) {
      await rm(path, { force: true });
      return sound;
    }
    for await (const { blank, ...entry } of journalLines(path)) {
      if (blanks && blank === undefined) continue;
      if (await filesAreThere(folder, entry)) sound.set(entry.key, entry);
    }
    // What follows must not become a part of a line that a stopped process did not finish.
    await appendFile(path, '\n');
    return sound;
  } catch (error) {
    throw fileFailure(error, 'written', folder);
  }
}

export async function appendEntry(folder: string, entry: JournalEntry, blank?: Blank): Promise<void> {
  const path = join(folder, JOURNAL_NAME);
  try {
    await appendFile(path, lineOf(entry, blank));
  } catch (error) {
    throw fileFailure(error, 'written', path);
  }
}

/** The blanks that the journal holds. */
export async function readBlanks(folder: string): Promise<Map<string, Blank>> {
  const blanks = new Map<string, Blank>();
  for await (const { key, blank } of journalLines(join(folder, JOURNAL_NAME))) {
    if (blank !== undefined) blanks.set(key, blank);
  }
  return blanks;
}

/** The journal in the order of `entries`, whatever order they were finished in. */
export async function rewriteJournal(
  folder: string,
  entries: readonly JournalEntry[],
  blanks: Blanks,
): Promise<void> {
  const encoder = new TextEncoder();
  function* lines(): Generator<Uint8Array> {
    for (const entry of entries) yield encoder.encode(lineOf(entry, blanks.get(entry.key)));
  }
  await writeWhole(folder, JOURNAL_NAME, lines());
}

/** @param blank only where further files are made of it, see `runBatch` */
const lineOf = (entry: JournalEntry, blank: Blank | undefined): string =>
  `${JSON.stringify({ ...entry, blank })}\n`;

/** What a process that was killed left half written. */
async function removeDrafts(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (DRAFT_NAME.test(name)) await rm(join(folder, name), { force: true });
  }
}

/** A line of the journal as it was written. */
type JournalLine = JournalEntry & { readonly blank?: Blank };

/** The lines that are whole; none where there is no journal. */
async function* journalLines(path: string): AsyncGenerator<JournalLine> {
  const handle = await open(path, 'r').catch(() => null);
  if (handle === null) return;
  try {
    for await (const line of handle.readLines({ encoding: 'utf8', autoClose: false })) {
      const entry = parsed(line);
      if (entry !== null) yield entry;
    }
  } finally {
    await handle.close();
  }
}

/** Null for a line that a stopped process did not finish. */
function parsed(line: string): JournalLine | null {
  try {
    const entry = JSON.parse(line) as JournalLine;
    return typeof entry.key === 'string' && Array.isArray(entry.files) && Array.isArray(entry.outline)
      ? entry
      : null;
  } catch {
    return null;
  }
}

async function filesAreThere(folder: string, { files }: JournalEntry): Promise<boolean> {
  for (const { name, sha256: expected } of files) {
    if (name.includes('/') || name.includes('\\') || (await hashOf(join(folder, name))) !== expected)
      return false;
  }
  return files.length > 0;
}

async function hashOf(path: string): Promise<string | null> {
  const hash = createHash('sha256');
  try {
    for await (const part of createReadStream(path)) hash.update(part as Uint8Array);
  } catch {
    return null;
  }
  return hash.digest('hex');
}

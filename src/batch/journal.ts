/**
 * What a batch has finished, one line a tray, so that a stopped run can go on.
 *
 * A line is written after the tray's files are whole. It is believed later only when those files are still
 * there with the same hash, so neither a torn last line nor a file changed by hand does harm.
 */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { appendFile, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Blank } from './blank.ts';
import { BlankReader } from './blankReader.ts';
import { type JournalEntry, journalLines } from './journalLines.ts';
import { DRAFT_NAME, makeFolder, writeFailure, writeWhole } from './wholeFile.ts';

export const JOURNAL_NAME = 'batch-journal.jsonl';

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
    for await (const { entry: line } of journalLines(path)) {
      const { blank, ...entry } = line;
      if (blanks && blank === undefined) continue;
      if (await filesAreThere(folder, entry)) sound.set(entry.key, entry);
    }
    // What follows must not become a part of a line that a stopped process did not finish.
    await appendFile(path, '\n');
    return sound;
  } catch (error) {
    throw writeFailure(error, folder);
  }
}

export async function appendEntry(folder: string, entry: JournalEntry, blank?: Blank): Promise<void> {
  const path = join(folder, JOURNAL_NAME);
  try {
    await appendFile(path, lineOf(entry, blank));
  } catch (error) {
    throw writeFailure(error, path);
  }
}

/**
 * The journal in the order of `entries`, whatever order they were finished in.
 *
 * @param keepBlanks whether the blanks that are there go with their entries
 */
export async function rewriteJournal(
  folder: string,
  entries: readonly JournalEntry[],
  keepBlanks: boolean,
): Promise<void> {
  const path = join(folder, JOURNAL_NAME);
  const encoder = new TextEncoder();
  const before = keepBlanks ? await BlankReader.open(path) : null;
  function* lines(): Generator<Uint8Array> {
    try {
      for (const entry of entries) yield encoder.encode(lineOf(entry, before?.read(entry.key)));
    } finally {
      before?.close(); // some systems do not rename over an open file
    }
  }
  await writeWhole(folder, JOURNAL_NAME, lines());
}

/** The blanks that the journal holds. */
export const openBlanks = (folder: string): Promise<BlankReader> =>
  BlankReader.open(join(folder, JOURNAL_NAME));

/** @param blank only where further files are made of it, see `runBatch` */
const lineOf = (entry: JournalEntry, blank: Blank | undefined): string =>
  `${JSON.stringify({ ...entry, blank })}\n`;

/** What a process that was killed left half written. */
async function removeDrafts(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (DRAFT_NAME.test(name)) await rm(join(folder, name), { force: true });
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

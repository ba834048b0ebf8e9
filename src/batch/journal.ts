/**
 * What a batch has finished, one line a tray, so that a stopped run can go on.
 *
 * A line is written after the tray's files are whole. It is believed later only when those files are still
 * there with the same hash, so neither a torn last line nor a file changed by hand does harm.
 */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { appendFile, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Vertex } from '../outline/path.ts';
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

export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/**
 * Makes the folder ready.
 *
 * @param resume whether to believe an earlier journal; otherwise it is begun anew
 * @returns the entries of trays that need no solving, by key
 */
export async function openJournal(folder: string, resume: boolean): Promise<Map<string, JournalEntry>> {
  const path = join(folder, JOURNAL_NAME);
  try {
    await makeFolder(folder);
    await removeDrafts(folder);
    if (resume) return await soundEntries(folder, path);
    await rm(path, { force: true });
    return new Map();
  } catch (error) {
    throw fileFailure(error, 'written', folder);
  }
}

export const appendEntry = async (folder: string, entry: JournalEntry): Promise<void> => {
  const path = join(folder, JOURNAL_NAME);
  try {
    await appendFile(path, `${JSON.stringify(entry)}\n`);
  } catch (error) {
    throw fileFailure(error, 'written', path);
  }
};

/** The journal in the order of `entries`, whatever order they were finished in. */
export async function rewriteJournal(folder: string, entries: readonly JournalEntry[]): Promise<void> {
  const text = entries.map((entry) => `${JSON.stringify(entry)}\n`).join('');
  await writeWhole(folder, JOURNAL_NAME, new TextEncoder().encode(text));
}

/** What a process that was killed left half written. */
async function removeDrafts(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (DRAFT_NAME.test(name)) await rm(join(folder, name), { force: true });
  }
}

async function soundEntries(folder: string, path: string): Promise<Map<string, JournalEntry>> {
  const sound = new Map<string, JournalEntry>();
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch {
    return sound;
  }
  for (const line of text.split('\n')) {
    const entry = parsed(line);
    if (entry !== null && (await filesAreThere(folder, entry))) sound.set(entry.key, entry);
  }
  return sound;
}

/** Null for a line that a stopped process did not finish. */
function parsed(line: string): JournalEntry | null {
  try {
    const entry = JSON.parse(line) as JournalEntry;
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

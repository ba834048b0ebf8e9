/**
 * What a batch has finished, one line a tray, so that a stopped run can go on.
 *
 * A line is written after the tray's files are whole. It is believed later only when those files are still
 * there with the same hash, so neither a torn last line nor a file changed by hand does harm; and only when it is
 * from the very same program, because another one may give other bytes.
 *
 * Every run writes a file of its own, which then takes the place of the earlier one: nothing is ever written into
 * what was there before.
 */
import { createHash } from 'node:crypto';
import { constants, createReadStream } from 'node:fs';
import { type FileHandle, lstat, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { writeFailure, writeWhole } from '../jobs/wholeFile.ts';
import { words } from '../words/language.ts';
import type { Blank } from './blank.ts';
import { BlankReader } from './blankReader.ts';
import {
  type FoundJournal,
  JOURNAL_FORMAT,
  JOURNAL_VERSION,
  type JournalEntry,
  type JournalHead,
  journalKind,
  journalLines,
} from './journalLines.ts';

export const JOURNAL_NAME = 'batch-journal.jsonl';

/** Bytes of a file that are looked at to see whether it is a journal. */
const HEAD = 65_536;

export interface JournalOptions {
  /** Whether to believe an earlier journal; otherwise it is begun anew. */
  readonly resume: boolean;
  /** Whether a tray without its blank is of no use, and blanks are kept. */
  readonly blanks: boolean;
  /** See `jobs/program.ts`. */
  readonly program: string;
  /** Of the run, for its drafts. */
  readonly token: string;
}

export class Journal {
  /** Names of files that an earlier run made and that are still as it made them. */
  readonly earlier: ReadonlySet<string>;
  /** Entries of trays that need no solving, by key. */
  readonly done: Map<string, JournalEntry>;
  readonly #folder: string;
  readonly #options: JournalOptions;
  #file: FileHandle | null;

  private constructor(
    folder: string,
    options: JournalOptions,
    earlier: ReadonlySet<string>,
    done: Map<string, JournalEntry>,
    file: FileHandle,
  ) {
    this.#folder = folder;
    this.#options = options;
    this.earlier = earlier;
    this.done = done;
    this.#file = file;
  }

  /**
   * @param folder is there
   * @throws GatherpanError BAD_INPUT when something else stands in the journal's place, when the one to go on from is
   *   of another program, or when it cannot be written
   */
  static async open(folder: string, options: JournalOptions): Promise<Journal> {
    const path = join(folder, JOURNAL_NAME);
    try {
      const found = await journalAt(path);
      const said = words().messages.batch;
      if (found.kind === 'other') throw new GatherpanError('BAD_INPUT', said.journalOfOthers(path));
      const sound = new Map<string, JournalEntry>();
      const earlier = new Set<string>();
      if (options.resume && found.kind !== 'empty') {
        if (found.kind === 'earlier' || found.program !== options.program)
          throw new GatherpanError('BAD_INPUT', said.journalOfOtherProgram(path));
        for await (const { entry: line } of journalLines(path)) {
          const { blank, ...entry } = line;
          if (!(await filesAreThere(folder, entry))) continue;
          for (const { name } of entry.files) earlier.add(name);
          if (!options.blanks || blank !== undefined) sound.set(entry.key, entry);
        }
      }
      await written(folder, [...sound.values()], options);
      // Not through a link, should one have been put there in the meantime.
      const { O_WRONLY, O_APPEND, O_NOFOLLOW = 0 } = constants;
      const file = await open(path, O_WRONLY | O_APPEND | O_NOFOLLOW);
      return new Journal(folder, options, earlier, sound, file);
    } catch (error) {
      throw writeFailure(error, path);
    }
  }

  /** @param blank only where further files are made of it, see `runBatch` */
  async append(entry: JournalEntry, blank?: Blank): Promise<void> {
    try {
      await this.#file!.appendFile(lineOf(entry, blank));
    } catch (error) {
      throw writeFailure(error, join(this.#folder, JOURNAL_NAME));
    }
  }

  /**
   * The journal in the order of `entries`, whatever order they were finished in; then it is closed.
   *
   * @returns the blanks that it holds
   */
  async finish(entries: readonly JournalEntry[]): Promise<BlankReader> {
    await this.close();
    await written(this.#folder, entries, this.#options);
    return BlankReader.open(join(this.#folder, JOURNAL_NAME));
  }

  async close(): Promise<void> {
    const file = this.#file;
    this.#file = null;
    await file?.close();
  }

  /** Closes and removes it. */
  async remove(): Promise<void> {
    await this.close();
    await rm(join(this.#folder, JOURNAL_NAME), { force: true });
  }
}

/** What stands in the place of a journal; an absent one counts as empty. */
export async function journalAt(path: string): Promise<FoundJournal> {
  const found = await lstat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  if (found === null) return { kind: 'empty' };
  if (!found.isFile()) throw new GatherpanError('BAD_INPUT', words().messages.batch.journalIsNoFile(path));
  const handle = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(HEAD), 0, HEAD, 0);
    const text = buffer.toString('utf8', 0, bytesRead);
    // Earlier versions began what they went on with by an empty line.
    return journalKind(text.trimStart().split('\n')[0]!);
  } finally {
    await handle.close();
  }
}

/** Writes the journal whole, with the blanks that the one in its place has. */
async function written(
  folder: string,
  entries: readonly JournalEntry[],
  { blanks, program, token }: JournalOptions,
): Promise<void> {
  const encoder = new TextEncoder();
  const before = blanks && entries.length > 0 ? await BlankReader.open(join(folder, JOURNAL_NAME)) : null;
  const head: JournalHead = { format: JOURNAL_FORMAT, version: JOURNAL_VERSION, program };
  function* lines(): Generator<Uint8Array> {
    try {
      yield encoder.encode(`${JSON.stringify(head)}\n`);
      for (const entry of entries) yield encoder.encode(lineOf(entry, before?.read(entry.key)));
    } finally {
      before?.close(); // some systems do not rename over an open file
    }
  }
  await writeWhole(folder, JOURNAL_NAME, lines(), token);
}

const lineOf = (entry: JournalEntry, blank: Blank | undefined): string =>
  `${JSON.stringify({ ...entry, blank })}\n`;

async function filesAreThere(folder: string, { files }: JournalEntry): Promise<boolean> {
  for (const { name, sha256: expected } of files) {
    if ((await hashOf(join(folder, name))) !== expected) return false;
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

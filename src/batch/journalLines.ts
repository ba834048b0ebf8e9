/** The lines of a journal, and where they stand in its file. */
import { open } from 'node:fs/promises';
import * as z from 'zod';
import type { Vertex } from '../geometry/path.ts';
import type { WrittenFile } from '../jobs/manifest.ts';
import { isPlainFileName } from '../jobs/plainFileName.ts';
import type { MadeReport } from '../jobs/rowReport.ts';
import type { Blank } from './blank.ts';
import { blankSchema, hashSchema, outlineSchema, reportSchema } from './resultSchema.ts';

export interface JournalEntry {
  /** See `plan.ts`. */
  readonly key: string;
  readonly name: string;
  readonly files: readonly WrittenFile[];
  readonly report: MadeReport;
  readonly outline: readonly Vertex[];
}

/** A line as it was written. */
export type JournalLine = JournalEntry & { readonly blank?: Blank | undefined };

/** The first line: which program the others are from. */
export interface JournalHead {
  readonly format: typeof JOURNAL_FORMAT;
  readonly version: typeof JOURNAL_VERSION;
  /** See `jobs/program.ts`. */
  readonly program: string;
}

export const JOURNAL_FORMAT = 'gatherpan batch journal';
export const JOURNAL_VERSION = 3;

export interface PlacedLine {
  readonly entry: JournalLine;
  /** Bytes from the beginning of the file. */
  readonly start: number;
  /** Bytes, without the line's end. */
  readonly length: number;
}

const lineSchema: z.ZodType<JournalLine> = z.strictObject({
  key: z.string().min(1).max(100),
  name: z.string().max(200),
  files: z.array(
    z.strictObject({
      name: z.string().refine(isPlainFileName),
      size: z.int().nonnegative(),
      sha256: hashSchema,
    }),
  ),
  report: reportSchema,
  outline: outlineSchema,
  blank: blankSchema.optional(),
});

const LINE_END = 10;

/** The lines that are whole; none where there is no journal. */
export async function* journalLines(path: string): AsyncGenerator<PlacedLine> {
  const handle = await open(path, 'r').catch(() => null);
  if (handle === null) return;
  try {
    let start = 0;
    let parts: Uint8Array[] = [];
    for await (const chunk of handle.createReadStream({ autoClose: false }) as AsyncIterable<Uint8Array>) {
      let from = 0;
      for (let end = chunk.indexOf(LINE_END); end >= 0; end = chunk.indexOf(LINE_END, from)) {
        const bytes = Buffer.concat([...parts, chunk.subarray(from, end)]);
        const entry = parsed(bytes.toString('utf8'));
        if (entry !== null) yield { entry, start, length: bytes.length };
        start += bytes.length + 1;
        parts = [];
        from = end + 1;
      }
      parts.push(chunk.subarray(from));
    }
  } finally {
    await handle.close();
  }
}

/** Null for a line that a stopped process did not finish, and for whatever else is no entry. */
export function parsed(line: string): JournalLine | null {
  try {
    return lineSchema.safeParse(JSON.parse(line)).data ?? null;
  } catch {
    return null;
  }
}

/** What the beginning of a file says of it. */
export type FoundJournal =
  | { readonly kind: 'journal'; readonly program: string }
  /** Of a version of this program that did not say which. */
  | { readonly kind: 'earlier' }
  | { readonly kind: 'empty' }
  | { readonly kind: 'other' };

/** @param line the first one of the file */
export function journalKind(line: string): FoundJournal {
  if (line.trim() === '') return { kind: 'empty' };
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    // The first line of an earlier journal may be torn.
    return { kind: /^\{"key":"[0-9a-f]{32}"/.test(line) ? 'earlier' : 'other' };
  }
  if (typeof value !== 'object' || value === null) return { kind: 'other' };
  const { format, version, program, key, files } = value as Record<string, unknown>;
  if (format === JOURNAL_FORMAT) {
    return version === JOURNAL_VERSION && typeof program === 'string'
      ? { kind: 'journal', program }
      : { kind: 'earlier' };
  }
  return { kind: typeof key === 'string' && Array.isArray(files) ? 'earlier' : 'other' };
}

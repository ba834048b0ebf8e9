/** The lines of a journal, and where they stand in its file. */
import { open } from 'node:fs/promises';
import type { Vertex } from '../outline/path.ts';
import type { Blank } from './blank.ts';
import type { RowFigures } from './rowFigures.ts';

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

/** A line as it was written. */
export type JournalLine = JournalEntry & { readonly blank?: Blank };

export interface PlacedLine {
  readonly entry: JournalLine;
  /** Bytes from the beginning of the file. */
  readonly start: number;
  /** Bytes, without the line's end. */
  readonly length: number;
}

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

/** Null for a line that a stopped process did not finish. */
export function parsed(line: string): JournalLine | null {
  try {
    const entry = JSON.parse(line) as JournalLine;
    return typeof entry.key === 'string' && Array.isArray(entry.files) && Array.isArray(entry.outline)
      ? entry
      : null;
  } catch {
    return null;
  }
}

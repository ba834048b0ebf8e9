/** Blanks that lie in a journal until they are needed: by thousands they are too large for memory. */
import { closeSync, openSync, readSync } from 'node:fs';
import type { Blank } from './blank.ts';
import { journalLines, parsed } from './journalLines.ts';

interface Span {
  readonly start: number;
  readonly length: number;
}

export class BlankReader {
  readonly #file: number;
  readonly #spans: ReadonlyMap<string, Span>;

  private constructor(file: number, spans: ReadonlyMap<string, Span>) {
    this.#file = file;
    this.#spans = spans;
  }

  /** Finds the lines that have a blank; the last one with a key counts. */
  static async open(path: string): Promise<BlankReader> {
    const spans = new Map<string, Span>();
    for await (const { entry, start, length } of journalLines(path)) {
      if (entry.blank !== undefined) spans.set(entry.key, { start, length });
    }
    return new BlankReader(openSync(path, 'r'), spans);
  }

  /** The blank with this key, read anew every time; undefined when there is none. */
  read(key: string): Blank | undefined {
    const span = this.#spans.get(key);
    if (span === undefined) return undefined;
    const bytes = Buffer.allocUnsafe(span.length);
    readSync(this.#file, bytes, 0, span.length, span.start);
    return parsed(bytes.toString('utf8'))?.blank;
  }

  /** Lets go of the file. */
  close(): void {
    closeSync(this.#file);
  }
}

/**
 * Which rows are solved together, and what a row's result depends on.
 *
 * Rows are cut into chunks whose length depends on the number of rows and on nothing else. Within a chunk each size starts
 * from the one before and shares its sparse structures; between chunks nothing is shared. So a row's bytes
 * depend on its chunk alone, and not on who solves what when.
 */
import { createHash } from 'node:crypto';
import type { ParameterValues } from '../exporters/contract.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { TrayRow } from './rows.ts';

export const MOST_CHUNK_ROWS = 32;

/**
 * Rows of a chunk. The first of a chunk has no neighbour and takes some twice as long, so chunks should be long;
 * a short batch should still keep several threads busy to its end: 400 rows in chunks of 32 leave one of two waiting.
 */
export const rowsPerChunk = (rows: number): number => (rows <= 64 ? 8 : rows <= 1024 ? 16 : MOST_CHUNK_ROWS);

/** A format to write, with a value for every parameter. */
export interface ChosenFormat {
  readonly id: string;
  readonly extension: string;
  /**
   * Hash of the module it comes from, so that another state of it is another format; absent for a built-in one, which
   * the program's own hash covers. `chosenFormat` fills it in.
   */
  readonly source?: string;
  readonly values: ParameterValues;
}

/** Modules with further exporters, and the folder their names start from. */
export interface ExporterModules {
  readonly names: readonly string[];
  readonly folder: string;
  /** Most seconds for loading one and for each file, see `exporterHost.ts`. */
  readonly limit?: number;
}

/** What is asked of whoever solves a chunk. Plain data: it goes to threads and over a queue. */
export interface Chunk {
  /** From 0. */
  readonly number: number;
  /** Which program asks, see `jobs/program.ts`; another one may give other bytes. */
  readonly program: string;
  readonly formats: readonly ChosenFormat[];
  readonly rows: readonly ChunkRow[];
  /** Whether the blanks themselves are wanted, for a layout on sheets. */
  readonly blanks?: boolean;
  /** Most seconds that a tray may take; none when left out. */
  readonly limit?: number;
}

export interface ChunkRow {
  readonly row: number;
  readonly spec: TraySpec;
  /** Hash of everything the row's files depend on, hexadecimal. */
  readonly key: string;
  /** False for a row that is only solved because the ones after it start from it. */
  readonly wanted: boolean;
}

/** What is asked for besides the trays themselves. */
export interface PlanOptions extends Pick<Chunk, 'program' | 'formats' | 'blanks' | 'limit'> {
  /** Whether what is made of a row with this key is there already; nothing is when left out. */
  readonly done?: (row: number, key: string) => boolean;
}

/** The chunks with something to do, in row order, without the rows after the last one wanted. */
export function planChunks(trays: readonly TrayRow[], { done, ...asked }: PlanOptions): Chunk[] {
  const { program, formats } = asked;
  const chunks: Chunk[] = [];
  const length = rowsPerChunk(trays.length);
  for (let first = 0; first < trays.length; first += length) {
    const rows: ChunkRow[] = [];
    let before = '';
    let last = 0;
    for (const { row, spec } of trays.slice(first, first + length)) {
      const key = rowKey(spec, formats, program, before);
      const wanted = done?.(row, key) !== true;
      rows.push({ row, spec, key, wanted });
      if (wanted) last = rows.length;
      before = key;
    }
    if (last > 0) {
      chunks.push({ number: first / length, ...asked, rows: rows.slice(0, last) });
    }
  }
  return chunks;
}

/** A row's result depends on its tray, the formats, the program, and the rows before it in its chunk. */
export const rowKey = (
  spec: TraySpec,
  formats: readonly ChosenFormat[],
  program: string,
  before: string,
): string =>
  createHash('sha256')
    .update(JSON.stringify({ program, formats: formats.map(inOrder), spec, before }))
    .digest('hex')
    .slice(0, 32);

/** A format that came over a queue may have its fields in another order. */
const inOrder = ({ id, extension, source, values }: ChosenFormat): ChosenFormat => ({
  id,
  extension,
  ...(source === undefined ? {} : { source }),
  values,
});

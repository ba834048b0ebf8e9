/** Tables of sizes: solved row by row, told as they come, or put into one archive. */
import type { Response } from 'express';
import { type Fault, GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { Busy } from './busy.ts';
import type { FinishedRow, TableRow } from './jobs.ts';
import { megabytes, type ServerLimits } from './limits.ts';
import type { Pool } from './pool.ts';
import { hasBlank, type RowFigures, type RowResult } from './rowResult.ts';

/** One line of the stream of a table. */
export type TableEvent =
  | { readonly event: 'start'; readonly rows: number }
  | {
      readonly event: 'row';
      readonly row: number;
      readonly place: string;
      readonly ok: true;
      readonly figures: RowFigures;
    }
  | {
      readonly event: 'row';
      readonly row: number;
      readonly place: string;
      readonly ok: false;
      readonly name: string;
      readonly errors: readonly { readonly path: string; readonly detail: string }[];
    }
  | { readonly event: 'end'; readonly made: number; readonly failed: number };

export interface Tables {
  /**
   * Works on a table while holding one of the places.
   *
   * @throws Busy when all are taken
   */
  place<T>(work: (place: TablePlace) => Promise<T>): Promise<T>;
  readonly taken: number;
}

/** Rows that are still to be solved, for telling others when to come back; 1 as long as they are not known. */
export interface TablePlace {
  left: number;
}

export function createTables(limits: ServerLimits, pool: Pool): Tables {
  const places = new Set<TablePlace>();
  return {
    async place(work) {
      if (places.size >= limits.tables) {
        const least = Math.min(...[...places].map(({ left }) => left));
        throw new Busy(words().messages.server.busyTables, pool.secondsFor(least * places.size));
      }
      const place = { left: 1 };
      places.add(place);
      try {
        return await work(place);
      } finally {
        places.delete(place);
      }
    },
    get taken() {
      return places.size;
    },
  };
}

/** A table that was read. */
export interface Table {
  readonly rows: readonly TableRow[];
  /** For what the rows do not say. */
  readonly base: string | undefined;
  readonly place: TablePlace;
}

type Outcome =
  | { readonly row: TableRow; readonly result: RowResult }
  | { readonly row: TableRow; readonly faults: readonly Fault[] };

/**
 * Solves every row, as many at a time as there are threads, and gives each outcome as it comes.
 *
 * A row that cannot be solved stops no other.
 *
 * @throws GatherpanError CANCELLED, TIMEOUT when the whole table takes too long
 */
async function eachRow(
  { rows, base, place }: Table,
  formats: readonly string[],
  pool: Pool,
  limits: ServerLimits,
  signal: AbortSignal,
  tell: (outcome: Outcome, position: number) => void,
): Promise<void> {
  const late = AbortSignal.timeout(limits.tableTime);
  const stop = AbortSignal.any([signal, late]);
  let next = 0;
  const worker = async (): Promise<void> => {
    while (next < rows.length && !stop.aborted) {
      const position = next++;
      const row = rows[position]!;
      tell(await outcome(row, base, formats, pool, stop), position);
      place.left = rows.length - next;
    }
  };
  await Promise.all(Array.from({ length: Math.min(limits.threads, rows.length) }, worker));
  if (signal.aborted) throw new GatherpanError('CANCELLED', words().messages.server.tableStopped);
  if (late.aborted) {
    throw new GatherpanError(
      'TIMEOUT',
      words().messages.server.tableTookTooLong(String(limits.tableTime / 60_000)),
    );
  }
}

async function outcome(
  row: TableRow,
  base: string | undefined,
  formats: readonly string[],
  pool: Pool,
  stop: AbortSignal,
): Promise<Outcome> {
  if ('faults' in row) return { row, faults: row.faults };
  try {
    return { row, result: await pool.run<'row'>({ kind: 'row', row, base, formats }, stop, true) };
  } catch (error) {
    if (error instanceof GatherpanError) return { row, faults: error.faults };
    throw error;
  }
}

/**
 * Streams the outcome of every row as lines of JSON, in the order they are solved. A client that does not read them
 * stops nothing: they are few and short, and wait for it in memory.
 */
export async function streamTable(
  table: Table,
  pool: Pool,
  limits: ServerLimits,
  signal: AbortSignal,
  response: Response,
): Promise<void> {
  response
    .status(200)
    .set({ 'Content-Type': 'application/x-ndjson; charset=utf-8', 'Cache-Control': 'no-store' });
  const send = (event: TableEvent): void => {
    response.write(`${JSON.stringify(event)}\n`);
  };
  let made = 0;
  send({ event: 'start', rows: table.rows.length });
  await eachRow(table, [], pool, limits, signal, (found) => {
    if (signal.aborted) return;
    const { row, place, name } = found.row;
    if ('result' in found) {
      if (hasBlank(found.result.figures)) made++;
      send({ event: 'row', row, place, ok: true, figures: found.result.figures });
    } else {
      const errors = found.faults.map(({ path, message }) => ({ path, detail: message }));
      send({ event: 'row', row, place, ok: false, name, errors });
    }
  });
  send({ event: 'end', made, failed: table.rows.length - made });
  response.end();
}

/**
 * The archive of a whole table: every tray's files and a manifest, in the order of the rows, the same bytes
 * whatever the number of threads.
 *
 * @throws GatherpanError NOT_MAKEABLE when no row could be made, TOO_LARGE when the files are more than a table may
 *   have
 */
export async function archiveOf(
  table: Table,
  formats: readonly string[],
  pool: Pool,
  limits: ServerLimits,
  signal: AbortSignal,
): Promise<Uint8Array> {
  const finished: FinishedRow[] = [];
  const enough = new AbortController();
  let size = 0;
  const said = words().messages.server;
  try {
    await eachRow(
      table,
      formats,
      pool,
      limits,
      AbortSignal.any([signal, enough.signal]),
      (found, position) => {
        if ('faults' in found) {
          const { row, place, name } = found.row;
          finished[position] = { row, place, name, faults: found.faults };
          return;
        }
        size += found.result.files.reduce((sum, { bytes }) => sum + bytes.length, 0);
        if (size > limits.archiveBytes) enough.abort();
        else finished[position] = found.result;
      },
    );
  } catch (error) {
    if (!enough.signal.aborted) throw error;
    throw new GatherpanError('TOO_LARGE', said.archiveTooLarge(megabytes(limits.archiveBytes)));
  }
  if (!finished.some((row) => 'figures' in row && row.files.length > 0)) {
    const [first] = finished;
    const [row] = table.rows;
    throw new GatherpanError(
      'NOT_MAKEABLE',
      first === undefined || row === undefined
        ? said.noRow
        : said.noRowBecause(
            row.place,
            ('faults' in first ? first.faults.map(({ message }) => message) : first.figures.reasons).join(
              ' ',
            ),
          ),
    );
  }
  return pool.run<'tableArchive'>({ kind: 'tableArchive', rows: finished }, signal, true);
}

/** Tables of sizes: solved row by row, told as they come, or put into one archive. */
import type { Response } from 'express';
import { GatherpanError } from '../errors.ts';
import { failedTray, judgedTray, type ManifestTray, type RowError, writtenFile } from '../jobs/manifest.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import { words } from '../words/language.ts';
import { Busy } from './busy.ts';
import type { FinishedRow, Job, RowResult, TableRow } from './jobs.ts';
import { megabytes, type ServerLimits } from './limits.ts';
import type { Pool } from './pool.ts';

/** One line of the stream of a table. */
export type TableEvent =
  | { readonly event: 'start'; readonly rows: number }
  /** As in the manifest of an archive, without files. */
  | { readonly event: 'row'; readonly tray: ManifestTray }
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

/** A table that was asked for in a unit. */
export interface AskedTable extends Table {
  /** Of lengths in sentences and on papers; figures are mm. */
  readonly unit: LengthUnit;
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
  | { readonly row: TableRow; readonly error: RowError };

/** What a manifest says of a row. */
function manifestTray(found: Outcome): ManifestTray {
  if ('result' in found)
    return judgedTray(found.row, found.result.report, found.result.files.map(writtenFile));
  return failedTray(found.row, 'error' in found.row ? 'refused' : 'failed', found.error);
}

/**
 * Solves every row, as many at a time as there are threads, and gives each outcome as it comes.
 *
 * A row that cannot be solved stops no other.
 *
 * @throws GatherpanError CANCELLED, TIMEOUT when the whole table takes too long
 */
async function eachRow(
  { rows, base, place, unit }: AskedTable,
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
      tell(await outcome(row, { base, formats, unit }, pool, stop), position);
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
  asked: Pick<Extract<Job, { kind: 'row' }>, 'base' | 'formats' | 'unit'>,
  pool: Pool,
  stop: AbortSignal,
): Promise<Outcome> {
  if ('error' in row) return { row, error: row.error };
  try {
    return { row, result: await pool.run<'row'>({ kind: 'row', row, ...asked }, stop, true) };
  } catch (error) {
    if (error instanceof GatherpanError) return { row, error: { code: error.code, faults: error.faults } };
    throw error;
  }
}

/**
 * Streams the outcome of every row as lines of JSON, in the order they are solved. A client that does not read them
 * stops nothing: they are few and short, and wait for it in memory.
 */
export async function streamTable(
  table: AskedTable,
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
    const tray = manifestTray(found);
    if (tray.state === 'made') made++;
    send({ event: 'row', tray });
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
  table: AskedTable,
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
        const files = 'result' in found ? found.result.files : [];
        size += files.reduce((sum, { bytes }) => sum + bytes.length, 0);
        if (size > limits.archiveBytes) enough.abort();
        else finished[position] = { tray: manifestTray(found), files };
      },
    );
  } catch (error) {
    if (!enough.signal.aborted) throw error;
    throw new GatherpanError('TOO_LARGE', said.archiveTooLarge(megabytes(limits.archiveBytes)));
  }
  if (!finished.some(({ files }) => files.length > 0)) {
    const first = finished[0]?.tray;
    throw new GatherpanError(
      'NOT_MAKEABLE',
      first === undefined
        ? said.noRow
        : said.noRowBecause(
            first.place,
            (first.error?.faults.map(({ message }) => message) ?? first.reasons).join(' '),
          ),
    );
  }
  return pool.run<'tableArchive'>({ kind: 'tableArchive', rows: finished }, signal, true);
}

/** Tables of sizes: solved row by row, told as they come, or put into one archive. */
import type { Response } from 'express';
import { GatherpanError } from '../errors.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import { words } from '../words/language.ts';
import { Busy } from './busy.ts';
import type { FinishedRow, GoodRow, TableRow, WantedOfRows } from './jobs.ts';
import { megabytes, type ServerLimits } from './limits.ts';
import type { Pool } from './pool.ts';
import { finishedRow } from './tableRow.ts';
import { eachRow, type TableEvent } from './tableRun.ts';

export interface Tables {
  /**
   * Works on a table while holding one of the places.
   *
   * @throws Busy when all are taken
   */
  place<T>(work: (place: TablePlace) => Promise<T>): Promise<T>;
  readonly taken: number;
  /**
   * Streams the outcome of every row as lines of JSON, in the order they are solved. A client that does not read them
   * stops nothing: they are few and short, and wait for it in memory.
   */
  stream(table: Table, unit: LengthUnit, signal: AbortSignal, response: Response): Promise<void>;
  /**
   * The archive of a whole table: every tray's files and a manifest, in the order of the rows, the same bytes
   * whatever the number of threads.
   *
   * @throws GatherpanError as `tableArchive`; TOO_LARGE when the files are more than a table may have
   */
  archive(table: Table, wanted: WantedOfRows, signal: AbortSignal): Promise<Uint8Array>;
}

/** Rows that are still to be solved, for telling others when to come back; 1 as long as they are not known. */
export interface TablePlace {
  left: number;
}

/** A table that was read. */
export interface Table {
  readonly rows: readonly TableRow[];
  /** For what the rows do not say. */
  readonly base: string | undefined;
  readonly place: TablePlace;
}

export function createTables(limits: ServerLimits, pool: Pool): Tables {
  const places = new Set<TablePlace>();
  /**
   * Solves every row, as many at a time as there are threads, and gives each as it comes.
   *
   * A row that cannot be solved stops no other.
   *
   * @throws GatherpanError CANCELLED, TIMEOUT when the whole table takes too long
   */
  const solved = async (
    { rows, base, place }: Table,
    wanted: WantedOfRows,
    signal: AbortSignal,
    tell: (row: FinishedRow, position: number) => void,
  ): Promise<void> => {
    const late = AbortSignal.timeout(limits.tableTime);
    const stop = AbortSignal.any([signal, late]);
    let left = rows.length;
    await eachRow(rows, limits.threads, stop, async (row, position) => {
      const solve = (good: GoodRow): Promise<FinishedRow> =>
        pool.run<'row'>({ kind: 'row', row: good, base, ...wanted }, stop, true);
      tell(await finishedRow(row, solve), position);
      place.left = --left;
    });
    if (signal.aborted) throw new GatherpanError('CANCELLED', words().messages.server.tableStopped);
    if (late.aborted) {
      throw new GatherpanError(
        'TIMEOUT',
        words().messages.server.tableTookTooLong(String(limits.tableTime / 60_000)),
      );
    }
  };
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
    async stream(table, unit, signal, response) {
      response
        .status(200)
        .set({ 'Content-Type': 'application/x-ndjson; charset=utf-8', 'Cache-Control': 'no-store' });
      const send = (event: TableEvent): void => {
        response.write(`${JSON.stringify(event)}\n`);
      };
      let made = 0;
      send({ event: 'start', rows: table.rows.length });
      await solved(table, { formats: [], unit }, signal, ({ tray }) => {
        if (signal.aborted) return;
        if (tray.state === 'made') made++;
        send({ event: 'row', tray });
      });
      send({ event: 'end', made, failed: table.rows.length - made });
      response.end();
    },
    async archive(table, wanted, signal) {
      const rows: FinishedRow[] = [];
      const enough = new AbortController();
      let size = 0;
      try {
        const stop = AbortSignal.any([signal, enough.signal]);
        await solved(table, wanted, stop, (row, position) => {
          size += row.files.reduce((sum, { bytes }) => sum + bytes.length, 0);
          if (size > limits.archiveBytes) enough.abort();
          else rows[position] = row;
        });
      } catch (error) {
        if (!enough.signal.aborted) throw error;
        throw new GatherpanError(
          'TOO_LARGE',
          words().messages.server.archiveTooLarge(megabytes(limits.archiveBytes)),
        );
      }
      return pool.run<'tableArchive'>({ kind: 'tableArchive', rows }, signal, true);
    },
  };
}

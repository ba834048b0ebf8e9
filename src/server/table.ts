/** Tables of sizes: solved row by row, told as they come, or put into one archive. */
import type { Response } from 'express';
import { isTray, type BatchRow as Row, type TrayRow } from '../batch/rows.ts';
import { type Fault, GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { ZIP_OPTIONS, zipOf } from './archive.ts';
import type { MadeFile } from './jobs.ts';
import type { ServerLimits } from './limits.ts';
import { type Entry, fileEntry, manifestCsv, manifestJson } from './manifest.ts';
import type { Pool } from './pool.ts';
import type { RowFigures, RowResult } from './rowResult.ts';

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

type Outcome =
  | { readonly row: Row; readonly result: RowResult }
  | { readonly row: Row; readonly faults: readonly Fault[] };

/**
 * Solves every row, as many at a time as there are threads, and gives each outcome as it comes.
 *
 * A row that cannot be solved stops no other.
 *
 * @throws GatherpanError CANCELLED, TIMEOUT when the whole table takes too long
 */
async function eachRow(
  rows: readonly Row[],
  formats: readonly string[],
  pool: Pool,
  limits: ServerLimits,
  signal: AbortSignal,
  tell: (outcome: Outcome, position: number) => Promise<void>,
): Promise<void> {
  const late = AbortSignal.timeout(limits.tableTime);
  const stop = AbortSignal.any([signal, late]);
  let next = 0;
  const worker = async (): Promise<void> => {
    while (next < rows.length && !stop.aborted) {
      const position = next++;
      const row = rows[position]!;
      await tell(await outcome(row, formats, pool, stop), position);
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
  row: Row,
  formats: readonly string[],
  pool: Pool,
  stop: AbortSignal,
): Promise<Outcome> {
  if (!isTray(row)) return { row, faults: row.error.faults };
  try {
    return { row, result: await patiently(row, formats, pool, stop) };
  } catch (error) {
    if (error instanceof GatherpanError) return { row, faults: error.faults };
    throw error;
  }
}

/** A row waits its turn when others have filled the queue: the table as a whole was let in already. */
async function patiently(
  { spec }: TrayRow,
  formats: readonly string[],
  pool: Pool,
  stop: AbortSignal,
): Promise<RowResult> {
  for (;;) {
    try {
      return await pool.run<'row'>({ kind: 'row', tray: spec, formats }, stop);
    } catch (error) {
      if (!(error instanceof GatherpanError && error.code === 'BUSY') || stop.aborted) throw error;
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }
}

/** Streams the outcome of every row as lines of JSON, in the order they are solved. */
export async function streamTable(
  rows: readonly Row[],
  pool: Pool,
  limits: ServerLimits,
  signal: AbortSignal,
  response: Response,
): Promise<void> {
  response
    .status(200)
    .set({ 'Content-Type': 'application/x-ndjson; charset=utf-8', 'Cache-Control': 'no-store' });
  const send = async (event: TableEvent): Promise<void> => {
    if (!response.write(`${JSON.stringify(event)}\n`) && !signal.aborted) {
      await new Promise<void>((resolve) => {
        response.once('drain', resolve);
        signal.addEventListener('abort', () => resolve(), { once: true });
      });
    }
  };
  let made = 0;
  await send({ event: 'start', rows: rows.length });
  await eachRow(rows, [], pool, limits, signal, async (found) => {
    if (signal.aborted) return;
    const { row, place } = found.row;
    if ('result' in found) {
      made++;
      await send({ event: 'row', row, place, ok: true, figures: found.result.figures });
    } else {
      const errors = found.faults.map(({ path, message }) => ({ path, detail: message }));
      await send({ event: 'row', row, place, ok: false, name: nameOf(found.row), errors });
    }
  });
  await send({ event: 'end', made, failed: rows.length - made });
  response.end();
}

/**
 * The archive of a whole table: every tray's files and a manifest, in the order of the rows, the same bytes
 * whatever the number of threads.
 *
 * @throws GatherpanError NOT_MAKEABLE when no row could be made
 */
export async function tableArchive(
  rows: readonly Row[],
  formats: readonly string[],
  pool: Pool,
  limits: ServerLimits,
  signal: AbortSignal,
): Promise<NodeJS.ReadableStream> {
  const entries: Entry[] = new Array<Entry>(rows.length);
  const files: (readonly MadeFile[])[] = new Array<readonly MadeFile[]>(rows.length).fill([]);
  await eachRow(rows, formats, pool, limits, signal, async (found, position) => {
    if ('result' in found) {
      const { result } = found;
      files[position] = result.files;
      entries[position] = { figures: result.figures, files: result.files.map(fileEntry), missing: [] };
    } else {
      entries[position] = {
        name: nameOf(found.row),
        place: found.row.place,
        faults: found.faults.map(({ message }) => message),
      };
    }
  });
  const made = files.flat();
  if (made.length === 0) {
    const [first] = entries;
    const said = words().messages.server;
    throw new GatherpanError(
      'NOT_MAKEABLE',
      first !== undefined && 'faults' in first
        ? said.noRowBecause(first.place, first.faults.join(' '))
        : said.noRow,
    );
  }
  const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
  const zip = zipOf([
    ...made,
    { name: 'manifest.csv', bytes: encode(manifestCsv(entries)) },
    { name: 'manifest.json', bytes: encode(manifestJson(entries)) },
  ]);
  return zip.generateNodeStream({ ...ZIP_OPTIONS, streamFiles: true });
}

const nameOf = (row: Row): string => (isTray(row) ? row.spec.name : (row.name ?? ''));

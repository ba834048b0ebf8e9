/** Solves a table of sizes: row by row in threads of the page, or by the service where it has too many or the browser cannot. */
import { downloadName, trayNameFrom } from '../src/fileName.ts';
import type { LengthUnit } from '../src/papers/lengths.ts';
import type { FinishedRow, TableRow } from '../src/server/jobs.ts';
import { eachRow, type TableEvent } from '../src/server/tableRun.ts';
import type { TrayObject } from '../src/tray/writtenTray.ts';
import { failure, postFile } from './service.ts';
import type { Refused, Several } from './solver.ts';
import { asDownload, here, solver } from './solving.ts';
import { words } from './words.js';

/** A table, the tray that its rows start from, and the unit of what is said and saved of them. */
export interface AskedTable {
  readonly file: File;
  readonly base: TrayObject;
  readonly unit: LengthUnit;
}

/**
 * Rows that are solved here at most: some minutes of a phone, and of a desktop where every format is wanted (a row takes
 * one core of it 0.05 s, and 0.8 s with the files of all formats).
 */
export const MOST_ROWS = 200;
/** No table of so many rows is as large, bytes. */
const MOST_BYTES = 1_000_000;

/** How many threads solve: they share the device with the page and with all else that runs on it. */
const threads = (): number => Math.max(1, Math.min(4, (navigator.hardwareConcurrency || 2) - 1));

/**
 * Works on the rows of a table here.
 *
 * @param tooMany is called where there are so many that the service has to
 * @returns null where somebody else has to
 */
function rowsHere<T>(
  { file, base }: AskedTable,
  signal: AbortSignal,
  tooMany: () => void,
  work: (rows: readonly TableRow[], crew: Several) => Promise<T>,
): Promise<T | null> {
  return here(async ({ several }) => {
    const crew = several(threads());
    try {
      if (file.size > MOST_BYTES) {
        tooMany();
        return null;
      }
      const name = trayNameFrom(file.name);
      const { rows } = await crew.ask({ kind: 'table', file, name, base, most: MOST_ROWS }, signal);
      return await work(rows, crew);
    } catch (error) {
      if ((error as Partial<Refused>).code !== 'TOO_LARGE') throw error;
      tooMany();
      return null;
    } finally {
      crew.end();
    }
  });
}

/** Solves a table and tells of it while it does. @throws Failure as the service does */
export async function solveTable(
  table: AskedTable,
  signal: AbortSignal,
  tooMany: () => void,
  tell: (event: TableEvent) => void,
): Promise<void> {
  const { file, base, unit } = table;
  const solved = await rowsHere(table, signal, tooMany, async (rows, crew) => {
    tell({ event: 'start', rows: rows.length });
    let made = 0;
    await eachRow(rows, crew.count, signal, async (row) => {
      const { tray } = await crew.ask({ kind: 'row', row, base, formats: [], unit }, signal);
      if (tray.state === 'made') made++;
      tell({ event: 'row', tray });
    });
    tell({ event: 'end', made, failed: rows.length - made });
    return true;
  });
  if (solved !== null) return;
  let ended = false;
  for await (const event of events(await postFile(`api/table?unit=${unit}`, file, base, signal))) {
    ended ||= event.event === 'end';
    tell(event);
  }
  if (!ended) throw failure(words.table.brokenOffByService, 'BROKEN');
}

/** Those of some formats that only the service makes, where all others are made here. */
export const notMadeHere = (formats: readonly string[]): readonly string[] =>
  solver === null ? [] : formats.filter((id) => !solver?.formats.includes(id));

/** The archive of a table. @param tell how many rows it has the files of @throws Failure as the service does */
export async function archiveOfTable(
  table: AskedTable,
  formats: readonly string[],
  signal: AbortSignal,
  tell: (done: number) => void,
): Promise<Response> {
  const { file, base, unit } = table;
  const made =
    notMadeHere(formats).length === 0
      ? await rowsHere(
          table,
          signal,
          () => {},
          async (rows, crew) => {
            const finished: FinishedRow[] = [];
            let done = 0;
            await eachRow(rows, crew.count, signal, async (row, position) => {
              finished[position] = await crew.ask({ kind: 'row', row, base, formats, unit }, signal);
              tell(++done);
            });
            return crew.ask({ kind: 'tableArchive', rows: finished }, signal);
          },
        )
      : null;
  if (made !== null)
    return asDownload({ ...made, name: downloadName(file.name, 'zip'), mediaType: 'application/zip' });
  const wanted = new URLSearchParams({ formats: formats.join(','), unit });
  return postFile(`api/table/archive?${wanted}`, file, base, signal);
}

/** The events of a stream of JSON lines. */
async function* events(response: Response): AsyncGenerator<TableEvent> {
  const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    const lines = (rest + value).split('\n');
    rest = lines.pop()!;
    for (const line of lines) yield JSON.parse(line);
  }
}

/** From the text of a batch file to its rows: CSV or JSON, told by the file's name. */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { csvRows } from './csvRows.ts';
import { familyRows } from './familyRows.ts';
import { type BatchRow, isTray, type PlanDrawing, refuseDuplicates } from './rows.ts';
import type { PlainObject } from './trayObject.ts';

/** Size of a batch file, bytes. */
export const MAXIMUM_BATCH_FILE_SIZE = 64_000_000;

/**
 * The rows of a batch file, bad ones included.
 *
 * @param format `csv` or `json`
 * @param base tray file with what the rows share, as `parseTray` gives it; not changed
 * @param stem name for trays that have none, see `csvRows`; the base tray's name comes first
 * @param drawing reads the drawing that a plan is taken from; drawings are refused without it
 * @throws GatherpanError when the file as a whole cannot be used, and when two trays have one name
 */
export function readBatch(
  text: string,
  format: 'csv' | 'json',
  base: PlainObject,
  stem: string,
  drawing: PlanDrawing = {},
): BatchRow[] {
  const start = typeof base.name === 'string' ? base.name : stem;
  const read = format === 'csv' ? csvRows : familyRows;
  const rows = read(text, base, start, drawing);
  refuseDuplicates(rows);
  return rows;
}

/**
 * @throws GatherpanError BAD_INPUT for a file that is named neither .csv nor .json
 */
export function formatOf(file: string): 'csv' | 'json' {
  if (/\.(csv|tsv|txt)$/i.test(file)) return 'csv';
  if (/\.json$/i.test(file)) return 'json';
  throw new GatherpanError('BAD_INPUT', words().messages.batch.neitherCsvNorJson(file));
}

/** The trays among the rows, in order. */
export const traysOf = (rows: readonly BatchRow[]) => rows.filter(isTray);

/** The rows of an uploaded table of sizes: the batch's own reader, within the limits of the service. */
import { csvRows } from '../batch/csvRows.ts';
import { type BatchRow, refuseDuplicates } from '../batch/rows.ts';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/**
 * Reads a table. A row that is wrong does not stop the others; a table that is wrong as a whole is refused.
 *
 * @param base contents of a tray file for what the rows share; not changed
 * @param stem name for rows that have none, followed by their number
 * @param most rows
 * @throws GatherpanError BAD_INPUT, TOO_LARGE
 */
export function tableRows(
  bytes: Uint8Array,
  base: Readonly<Record<string, unknown>>,
  stem: string,
  most: number,
): BatchRow[] {
  const rows = csvRows(decoded(bytes), base, stem);
  if (rows.length > most) {
    throw new GatherpanError('TOO_LARGE', {
      path: 'file',
      message: words().messages.server.upload.tooManyRows(String(rows.length), String(most)),
    });
  }
  refuseDuplicates(rows);
  return rows;
}

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new GatherpanError('BAD_INPUT', {
      path: 'file',
      message: words().messages.server.upload.tableNoText,
    });
  }
}

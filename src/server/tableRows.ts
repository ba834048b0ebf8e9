/** The rows of an uploaded table of sizes: the batch's own reader, within the limits of the service. */
import { csvSources, rowOf } from '../batch/csvRows.ts';
import { isTray, refuseDuplicates } from '../batch/rows.ts';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import type { Base, TableRow } from './jobs.ts';

/**
 * Reads a table. A row that is wrong does not stop the others; a table that is wrong as a whole is refused.
 *
 * @param base contents of a tray file for what the rows share; not changed
 * @param stem name for rows that have none, followed by their number
 * @param most rows
 * @throws GatherpanError BAD_INPUT, TOO_LARGE
 */
export function tableRows(bytes: Uint8Array, base: Base, stem: string, most: number): TableRow[] {
  const sources = csvSources(decoded(bytes), stem, most);
  const rows = sources.map((source) => ('cells' in source ? rowOf(source, base) : source));
  refuseDuplicates(rows);
  return rows.map((found, i) => {
    const { row, place } = found;
    if (!isTray(found)) {
      const { code, faults } = found.error;
      return { row, place, name: found.name, quantity: null, error: { code, faults } };
    }
    const { cells, fallback } = sources[i] as Extract<(typeof sources)[number], { cells: unknown }>;
    return { row, place, name: found.spec.name, quantity: found.quantity, cells, fallback };
  });
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

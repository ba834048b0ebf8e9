/** The archive of a whole table: every tray's files in the order of the rows, and a manifest. */
import { GatherpanError } from '../errors.ts';
import { manifestFiles } from '../jobs/manifest.ts';
import { archiveOf } from '../jobs/zip.ts';
import { words } from '../words/language.ts';
import type { FinishedRow } from './jobs.ts';

/** @throws GatherpanError NOT_MAKEABLE when no row could be made */
export function tableArchive(rows: readonly FinishedRow[]): Promise<Uint8Array> {
  if (!rows.some(({ files }) => files.length > 0)) {
    const said = words().messages.server;
    const first = rows[0]?.tray;
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
  return archiveOf([...rows.flatMap(({ files }) => files), ...manifestFiles(rows.map(({ tray }) => tray))]);
}

/** One row of a table: solved, and what a manifest says of it. */
import { trayOfCells } from '../batch/csvRows.ts';
import { GatherpanError } from '../errors.ts';
import { inUnit } from '../exporters/parameters.ts';
import type { Registry } from '../exporters/registry.ts';
import { fileNamesOf } from '../jobs/fileNames.ts';
import { failedTray, judgedTray, writtenFile } from '../jobs/manifest.ts';
import { rowReport } from '../jobs/rowReport.ts';
import { writerOf } from '../papers/lengths.ts';
import { developTray } from '../pattern/developTray.ts';
import { words } from '../words/language.ts';
import { madeFile, namedFormats } from './develop.ts';
import type { Base, FinishedRow, GoodRow, MadeFile, TableRow, WantedOfRows } from './jobs.ts';

/**
 * @param base contents of a tray file for what the row does not say
 * @throws GatherpanError as `developTray` and the exporters do
 */
export async function solvedRow(
  row: GoodRow,
  base: Base,
  { formats, unit }: WantedOfRows,
  registry: Registry,
): Promise<FinishedRow> {
  const pattern = developTray(trayOfCells(row, base));
  const files: MadeFile[] = [];
  if (pattern.kind !== 'no flat') {
    const names = fileNamesOf(pattern.name, namedFormats(registry, formats));
    for (const [i, id] of formats.entries()) {
      const exporter = registry.get(id);
      const file = await madeFile(pattern, exporter, registry.values(exporter, inUnit(exporter, unit)));
      files.push({ ...file, name: names[i]! });
    }
  }
  const report = rowReport(pattern, words(), writerOf(unit));
  return { tray: judgedTray(row, report, files.map(writtenFile)), files };
}

/** A row, also one that no tray was read from or that cannot be solved: it stops no other. */
export async function finishedRow(
  row: TableRow,
  solve: (row: GoodRow) => Promise<FinishedRow>,
): Promise<FinishedRow> {
  if ('error' in row) return { tray: failedTray(row, 'refused', row.error), files: [] };
  try {
    return await solve(row);
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    const { code, faults } = error;
    return { tray: failedTray(row, 'failed', { code, faults }), files: [] };
  }
}

/** Drawings of an earlier layout in the same folder: one that is not of this layout would be cut by mistake. */
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { isPlainFileName } from '../jobs/plainFileName.ts';
import { LAYOUT_FORMAT, type SheetFile } from './layoutReport.ts';
import { isLayoutFile, LAYOUT_JSON } from './sheetFiles.ts';

/** The drawings that the report in the folder names; none where there is no report of ours. */
export async function earlierSheets(folder: string): Promise<string[]> {
  try {
    const report = JSON.parse(await readFile(join(folder, LAYOUT_JSON), 'utf8'));
    if (report.format !== LAYOUT_FORMAT) return [];
    const names = (report.sheets as readonly SheetFile[]).map(({ file }) => file);
    return names.filter((name) => isPlainFileName(name) && isLayoutFile(name.toLowerCase()));
  } catch {
    return [];
  }
}

/** Removes those that are not among the sheets of the layout that has taken its place. */
export async function removeEarlier(
  folder: string,
  earlier: readonly string[],
  sheets: readonly SheetFile[],
): Promise<void> {
  const kept = new Set(sheets.map(({ file }) => file));
  for (const name of earlier) if (!kept.has(name)) await rm(join(folder, name), { force: true });
}

/** The names of the files of a batch: no two of them may be one. */
import { GatherpanError } from '../errors.ts';
import { fileKey, fileNameOf } from '../fileName.ts';
import { words } from '../words/language.ts';
import { CONTACT_PDF, CONTACT_SVG } from './contactSheet.ts';
import { JOURNAL_NAME } from './journal.ts';
import { MANIFEST_CSV, MANIFEST_JSON } from './manifest.ts';
import type { ChosenFormat } from './plan.ts';
import type { TrayRow } from './rows.ts';

/** A batch's own files. */
export const OWN_NAMES: readonly string[] = [
  MANIFEST_CSV,
  MANIFEST_JSON,
  CONTACT_SVG,
  CONTACT_PDF,
  JOURNAL_NAME,
];

/**
 * @param owned whether a name, in small letters, is that of a further file of this batch
 * @throws GatherpanError BAD_INPUT for two formats with one ending, and for a tray whose file would have the
 *   name of another
 */
export function refuseClashes(
  trays: readonly TrayRow[],
  formats: readonly ChosenFormat[],
  owned: (name: string) => boolean,
): void {
  const byExtension = new Map<string, string>();
  for (const { id, extension } of formats) {
    const other = byExtension.get(extension);
    if (other !== undefined) {
      throw new GatherpanError('BAD_INPUT', words().messages.batch.sameEnding(other, id, extension));
    }
    byExtension.set(extension, id);
  }
  const own = new Set(OWN_NAMES);
  for (const { spec, place } of trays) {
    for (const { extension } of formats) {
      const file = fileNameOf(spec.name, extension);
      const key = fileKey(file);
      if (!own.has(key) && !owned(key)) continue;
      throw new GatherpanError('BAD_INPUT', {
        path: 'name',
        message: words().messages.batch.ownFile(spec.name, place, file),
      });
    }
  }
}

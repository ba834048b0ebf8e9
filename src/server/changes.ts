/** What would turn the verdict of a tray, in words, with the cautions of welding where a strip is proposed. */
import { proposesWeld } from '../gather/acts.ts';
import { cautionList } from '../material/cautions.ts';
import { resolveSheet } from '../material/sheets.ts';
import { type LengthUnit, writerOf } from '../papers/lengths.ts';
import { type ChangeSearch, searchChanges } from '../pattern/changes.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import { type InWords, inWords, type Statement } from '../words/statement.ts';

/** The changes, each with its sentence. */
export type ChangesFound = InWords<ChangeSearch & { readonly cautions: readonly Statement[] }>;

/**
 * @param milliseconds after this the search ends with what it has
 * @param unit of the lengths in the sentences
 * @throws GatherpanError as `searchChanges`
 */
export function changesOf(tray: TraySpec, milliseconds: number, unit: LengthUnit = 'mm'): ChangesFound {
  const end = performance.now() + milliseconds;
  const found = searchChanges(tray, undefined, () => performance.now() > end);
  const { material } = resolveSheet(tray.sheet);
  const cautions = proposesWeld(found) ? cautionList(['weld'], material) : [];
  return inWords({ ...found, cautions }, words(), writerOf(unit));
}

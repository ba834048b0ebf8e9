/**
 * The table of sheets: find one by name, or take one that a tray file gives in full.
 *
 * Values are typical of sheet as sold, soft unless the name says otherwise, and each names its source in
 * `sources`; a delivery can differ by 10 % and more, so a certificate or a trial piece beats the table.
 */
import { distance } from 'fastest-levenshtein';
import { GatherpanError } from '../errors.ts';
import { radians } from '../units.ts';
import type { Words } from '../words/english.ts';
import { words as said } from '../words/language.ts';
import { type InWords, inWords } from '../words/statement.ts';
import { sheetCalled, sheetKey } from './alsoCalled.ts';
import type { Sheet, SheetMaterial } from './sheet.ts';
import type { SheetSpec } from './sheetSpec.ts';
import { ALUMINIUM } from './sheets/aluminium.ts';
import { BRASS, COPPER } from './sheets/copper.ts';
import { completeCustomMaterial } from './sheets/custom.ts';
import { completeSheet } from './sheets/entry.ts';
import { STAINLESS, STEEL } from './sheets/steel.ts';

const ENTRIES = [...STEEL, ...ALUMINIUM, ...COPPER, ...BRASS, ...STAINLESS];

const TABLE: readonly SheetMaterial[] = Object.freeze(ENTRIES.map((entry) => completeSheet(entry)));

const NAMES: readonly string[] = TABLE.map(({ name }) => name);

/** Longest piece of a wrong name that is repeated in a message. */
const LONGEST_NAME = 40;

/** Every sheet of the table, by family. */
export const listSheets = (): readonly SheetMaterial[] => TABLE;

/** What a person calls a material: the title of the table, or the name a tray file gives to its own. */
export const titleOf = ({ name }: SheetMaterial, { material }: Words): string =>
  Object.hasOwn(material.titles, name) ? material.titles[name as keyof Words['material']['titles']] : name;

/** A material as JSON gives it to a person or another program: its sentences in words, and its title. */
export type SheetDocument = InWords<SheetMaterial> & { readonly title: string };

export const sheetDocument = (material: SheetMaterial, words: Words): SheetDocument => ({
  ...inWords(material, words),
  title: titleOf(material, words),
});

/**
 * The sheet of that name. Capitals, spaces, hyphens and dots do not matter, so `dc04`, `DC 04` and
 * `EN AW-1050A O` are found, as are grade numbers of the same sheet (`alsoCalled.ts`).
 *
 * @param path dotted path of the field the name stands in, for the message
 * @throws GatherpanError NOT_FOUND with the nearest of the table
 */
export function findSheet(name: string, path = 'material'): SheetMaterial {
  const short = name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME)}…` : name;
  const { everyday } = said().material;
  const called = sheetCalled(name, NAMES, everyday);
  if (called !== null && !called.near) return TABLE.find((material) => material.name === called.name)!;
  const { notInTable, nearInTable } = said().messages.material;
  // Another grade is for the person to choose, since it works otherwise.
  if (called !== null) {
    const title = titleOf(TABLE.find((material) => material.name === called.name)!, said());
    throw new GatherpanError('NOT_FOUND', { path, message: nearInTable(path, short, called.name, title) });
  }
  const wanted = sheetKey(name.slice(0, 4 * LONGEST_NAME));
  const nearest = TABLE.map((material) => ({
    name: material.name,
    far: distance(wanted, sheetKey(material.name)),
  }))
    .sort((a, b) => a.far - b.far) // stable, so that ties keep the order of the table
    .slice(0, 3)
    .map((candidate) => candidate.name);
  throw new GatherpanError('NOT_FOUND', {
    path,
    message: notInTable(path, short, nearest[0]!, nearest[1]!, nearest[2]!),
  });
}

/**
 * The sheet as it lies on the bench: material found or taken from the file, thickness checked against what
 * the material is sold in, rolling direction in radians.
 *
 * @param spec thickness in mm, grain in degrees counter-clockwise from the plan's x axis
 * @param path  dotted path of the sheet in the file, for messages
 * @throws GatherpanError NOT_FOUND for an unknown name, BAD_INPUT for a value that is not acceptable
 */
export function resolveSheet(spec: SheetSpec, path = 'sheet'): Sheet {
  const material =
    typeof spec.material === 'string'
      ? findSheet(spec.material, `${path}.material`)
      : completeCustomMaterial(spec.material, `${path}.material`);
  const [thinnest, thickest] = material.thicknessRange;
  if (!(spec.thickness >= thinnest && spec.thickness <= thickest)) {
    const field = `${path}.thickness`;
    throw new GatherpanError('BAD_INPUT', {
      path: field,
      message: said().messages.material.thickness(
        field,
        String(spec.thickness),
        material.name,
        String(thinnest),
        String(thickest),
      ),
    });
  }
  if (!Number.isFinite(spec.grain)) {
    const field = `${path}.grain`;
    throw new GatherpanError('BAD_INPUT', {
      path: field,
      message: said().messages.material.grain(field, String(spec.grain)),
    });
  }
  return { material, thickness: spec.thickness, grain: radians(spec.grain) };
}

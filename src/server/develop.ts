/** A tray, solved in a thread that keeps what is worth keeping. */

import { exportersIn } from '../exporters/builtIn.ts';
import type { Exporter, ParameterValues } from '../exporters/contract.ts';
import { valueFromText } from '../exporters/parameters.ts';
import { createRegistry, type Registry } from '../exporters/registry.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import { developTray } from '../pattern/developTray.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { StructureCache } from '../solve/solveTray.ts';
import { refuseForPart } from '../step/partPattern.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import type { MadeFile } from './jobs.ts';

let formats: { readonly table: Words; readonly registry: Registry } | null = null;

/** The formats, in the words that are spoken. */
export function registry(): Registry {
  const table = words();
  if (formats?.table !== table) formats = { table, registry: createRegistry(exportersIn(table)) };
  return formats.registry;
}

/** Of this thread: sizes of one family share the order in which their equations are solved. */
const structures = new StructureCache(24);

/**
 * The flat pattern of a tray, for showing: quick, because what this thread has solved before is made use of.
 * The last digits then depend on what that was.
 *
 * @throws GatherpanError as `developTray` does
 */
export const developForShow = (tray: TraySpec): FlatPattern =>
  flatPatternOf(developTray(tray, { solve: { structures } }));

/**
 * The flat pattern of a tray, for files: the same to the last digit whenever and wherever it is solved, so
 * that one tray gives one file, byte for byte.
 *
 * @throws GatherpanError as `developTray` does
 */
export const developForFiles = (tray: TraySpec): FlatPattern => flatPatternOf(developTray(tray));

/** One file of a solved tray. @throws GatherpanError as the exporter does, and for a part without the tray it needs */
export async function madeFile(
  pattern: FlatPattern,
  exporter: Exporter,
  values: ParameterValues,
): Promise<MadeFile> {
  refuseForPart(pattern, exporter.id);
  return {
    name: `${pattern.name}.${exporter.extension}`,
    mediaType: exporter.mediaType,
    bytes: await exporter.write(pattern, values),
  };
}

/**
 * Values for an exporter's parameters from the text of an address.
 *
 * @throws GatherpanError BAD_INPUT as the registry does
 */
export function valuesFromText(exporter: Exporter, texts: Readonly<Record<string, string>>): ParameterValues {
  const given = Object.entries(texts).map(([name, text]) => {
    const parameter = exporter.parameters.find((candidate) => candidate.name === name);
    return [name, parameter === undefined ? text : valueFromText(parameter, text)] as const;
  });
  return registry().values(exporter, Object.fromEntries(given));
}

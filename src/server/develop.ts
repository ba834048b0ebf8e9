/** A tray, solved in a thread that keeps what is worth keeping. */

import type { Exporter, ParameterValues } from '../exporters/contract.ts';
import { extensionOf, parameterOf, valueFromText } from '../exporters/parameters.ts';
import type { Registry } from '../exporters/registry.ts';
import { fileNameOf } from '../fileName.ts';
import type { NamedFormat } from '../jobs/fileNames.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import { developTray } from '../pattern/developTray.ts';
import type { Developed, FlatPattern } from '../pattern/flatPattern.ts';
import { StructureCache } from '../solve/solveTray.ts';
import { refuseForPart } from '../step/partPattern.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { MadeFile, MadeFormat } from './jobs.ts';

/** Of this thread: sizes of one family share the order in which their equations are solved. */
const structures = new StructureCache(24);

/** Keeps what was last made: whoever asks one thing of a tray often asks another. */
function ofLast(make: (tray: TraySpec) => Developed): (tray: TraySpec) => Developed {
  let last: { readonly key: string; readonly made: Developed } | null = null;
  return (tray) => {
    const key = JSON.stringify(tray);
    if (last?.key !== key) last = { key, made: make(tray) };
    return last.made;
  };
}

/**
 * The flat pattern of a tray, for showing: quick, because what this thread has solved before is made use of.
 * The last digits then depend on what that was.
 *
 * @throws GatherpanError as `developTray` does
 */
export const developForShow = ofLast((tray) => developTray(tray, { solve: { structures } }));

const lastForFiles = ofLast((tray) => developTray(tray));

/**
 * The flat pattern of a tray, for files: the same to the last digit whenever and wherever it is solved, so
 * that one tray gives one file, byte for byte.
 *
 * @throws GatherpanError as `developTray` does
 */
export const developForFiles = (tray: TraySpec): FlatPattern => flatPatternOf(lastForFiles(tray));

/** The formats of these ids, as far as their files' names go. @throws GatherpanError NOT_FOUND for an unknown one */
export const namedFormats = (registry: Registry, ids: readonly string[]): NamedFormat[] =>
  ids.map((id) => {
    const exporter = registry.get(id);
    return { id, extension: extensionOf(exporter, registry.values(exporter, {})) };
  });

/** One file of a solved tray. @throws GatherpanError as the exporter does, and for a part without the tray it needs */
export async function madeFile(
  pattern: FlatPattern,
  exporter: Exporter,
  values: ParameterValues,
): Promise<MadeFile> {
  refuseForPart(pattern, exporter.id);
  return {
    name: fileNameOf(pattern.name, extensionOf(exporter, values)),
    mediaType: exporter.mediaType,
    bytes: await exporter.write(pattern, values),
  };
}

/**
 * The file that an address asks for.
 *
 * @param registry has the formats that there are here
 * @param id    of the format
 * @param texts the format's parameters as the address has them
 * @param develop solves the tray; called when the parameters are known to be right
 * @throws GatherpanError NOT_FOUND for an unknown format, BAD_INPUT as the registry does, and as `madeFile` does
 */
export async function formatFromText(
  registry: Registry,
  id: string,
  texts: Readonly<Record<string, string>>,
  develop: () => FlatPattern | Promise<FlatPattern>,
): Promise<MadeFormat> {
  const exporter = registry.get(id);
  const given = Object.entries(texts).map(([name, text]) => {
    const parameter = parameterOf(exporter, name);
    return [name, parameter === undefined ? text : valueFromText(parameter, text)] as const;
  });
  const notes: string[] = [];
  const values = registry.values(exporter, Object.fromEntries(given), (note) => notes.push(note));
  const file = await madeFile(await develop(), exporter, values);
  return { ...file, extension: extensionOf(exporter, values), notes };
}

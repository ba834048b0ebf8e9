/** The names of the files that are made of trays, and that no two of them are one. */
import { GatherpanError } from '../errors.ts';
import { fileKey, fileNameOf } from '../fileName.ts';
import { words } from '../words/language.ts';

/** A format, as far as names go. */
export interface NamedFormat {
  readonly id: string;
  /** Without its first dot. */
  readonly extension: string;
}

/** A tray, as far as names go. */
export interface NamedTray {
  readonly name: string;
  /** Where it stands, for a person. */
  readonly place: string;
}

/** The files of a tray, one a format. Where two formats have one ending, the later one's file bears its id too. */
export function fileNamesOf(trayName: string, formats: readonly NamedFormat[]): string[] {
  const taken = new Set<string>();
  return formats.map(({ id, extension }) => {
    const ending = taken.has(extension) ? `${id}.${extension}` : extension;
    taken.add(extension);
    return fileNameOf(trayName, ending);
  });
}

/**
 * Refuses trays whose files would have the name of another's, or one that is taken already.
 *
 * @param owned whether a name, as `fileKey` has it, is that of a further file in the same place
 * @throws GatherpanError BAD_INPUT for the first such file
 */
export function refuseClashes(
  trays: readonly NamedTray[],
  formats: readonly NamedFormat[],
  owned: (key: string) => boolean,
): void {
  const say = words().messages.fileNames;
  const refused = (message: string): GatherpanError =>
    new GatherpanError('BAD_INPUT', { path: 'name', message });
  const owners = new Map<string, NamedTray>();
  for (const tray of trays) {
    for (const file of fileNamesOf(tray.name, formats)) {
      const key = fileKey(file);
      if (owned(key)) throw refused(say.ownFile(tray.name, tray.place, file));
      const owner = owners.get(key);
      if (owner !== undefined)
        throw refused(say.sameFile(tray.name, tray.place, file, owner.name, owner.place));
      owners.set(key, tray);
    }
  }
}

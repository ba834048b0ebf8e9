/** ZIP archives of files in a folder, in order, written as a whole. */
import { createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import JSZip from 'jszip';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { draftName, freshToken, makeFolder, writeFailure } from './wholeFile.ts';
import { addFile, PACKING } from './zip.ts';

/**
 * Writes an archive under another name first, then renames it. Files are read one after the other as they are
 * packed, so memory does not grow with their number times their size.
 *
 * @param folder holds the files
 * @param names in the order they are to have in the archive
 * @param token of the run, see `writeWhole`
 * @throws GatherpanError BAD_INPUT for a name that is a path, CANCELLED when the signal is aborted; nothing is
 *   left behind then
 */
export async function writeArchive(
  path: string,
  folder: string,
  names: readonly string[],
  signal: AbortSignal,
  token = freshToken(),
): Promise<void> {
  const zip = new JSZip();
  for (const name of names) addFile(zip, name, lazyFile(join(folder, name)));
  const draft = join(dirname(path), draftName(basename(path), token));
  try {
    await makeFolder(dirname(path));
    const packed = zip.generateNodeStream({ type: 'nodebuffer', ...PACKING });
    // The library's stream is of an older make.
    await pipeline(new Readable().wrap(packed), createWriteStream(draft, { flags: 'wx' }), { signal });
    await rename(draft, path);
  } catch (error) {
    await rm(draft, { force: true }).catch(() => {});
    if (signal.aborted)
      throw new GatherpanError('CANCELLED', words().messages.batch.archiveStopped(basename(folder)));
    throw writeFailure(error, path);
  }
}

/** A file that is opened when it is first read: thousands of them must not be open at once. */
function lazyFile(path: string): Readable {
  return Readable.from(
    (async function* () {
      const handle = await open(path, 'r');
      try {
        for await (const part of handle.createReadStream({ autoClose: false })) yield part;
      } finally {
        await handle.close();
      }
    })(),
    { objectMode: false },
  );
}

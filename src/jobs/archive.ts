/** ZIP archives of finished files, in order, with the same bytes every time. */
import { createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import JSZip from 'jszip';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import type { ResultFile } from './manifest.ts';
import { isPlainFileName } from './plainFileName.ts';
import { draftName, freshToken, makeFolder, writeFailure } from './wholeFile.ts';

/** The first moment a ZIP entry can have (PKWARE APPNOTE, 4.4.6): any real time would change the bytes. */
const EPOCH = new Date(Date.UTC(1980, 0, 1));

const PACKING = {
  compression: 'DEFLATE',
  compressionOptions: { level: 6 },
  platform: 'DOS',
} as const;

/**
 * Adds a file.
 *
 * @throws GatherpanError BAD_INPUT for a name that is a path: unpacking never writes anywhere but into its folder
 */
function add(zip: JSZip, name: string, content: Uint8Array | Readable): void {
  if (!isPlainFileName(name))
    throw new GatherpanError('BAD_INPUT', words().messages.batch.notInArchive(JSON.stringify(name)));
  zip.file(name, content, { date: EPOCH, createFolders: false, binary: true });
}

/** An archive in memory. @throws GatherpanError BAD_INPUT for a name that is a path */
export async function archiveOf(files: readonly ResultFile[]): Promise<Uint8Array> {
  const zip = new JSZip();
  for (const { name, bytes } of files) add(zip, name, bytes);
  return zip.generateAsync({ type: 'uint8array', ...PACKING });
}

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
  for (const name of names) add(zip, name, lazyFile(join(folder, name)));
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

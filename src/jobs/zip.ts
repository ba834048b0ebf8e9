/** ZIP archives with the same bytes every time: what goes into them, and archives in memory. */
import type { Readable } from 'node:stream';
import JSZip from 'jszip';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import type { ResultFile } from './manifest.ts';
import { isPlainFileName } from './plainFileName.ts';

/** The first moment a ZIP entry can have (PKWARE APPNOTE, 4.4.6): any real time would change the bytes. */
const EPOCH = new Date(Date.UTC(1980, 0, 1));

export const PACKING = {
  compression: 'DEFLATE',
  compressionOptions: { level: 6 },
  platform: 'DOS',
} as const;

/**
 * Adds a file.
 *
 * @throws GatherpanError BAD_INPUT for a name that is a path: unpacking never writes anywhere but into its folder
 */
export function addFile(zip: JSZip, name: string, content: Uint8Array | Readable): void {
  if (!isPlainFileName(name))
    throw new GatherpanError('BAD_INPUT', words().messages.fileNames.notInArchive(JSON.stringify(name)));
  zip.file(name, content, { date: EPOCH, createFolders: false, binary: true });
}

/** An archive in memory. @throws GatherpanError BAD_INPUT for a name that is a path */
export async function archiveOf(files: readonly ResultFile[]): Promise<Uint8Array> {
  const zip = new JSZip();
  for (const { name, bytes } of files) addFile(zip, name, bytes);
  return zip.generateAsync({ type: 'uint8array', ...PACKING });
}

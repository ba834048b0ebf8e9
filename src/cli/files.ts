/** Reading and writing files for the commands: bounded reads, whole writes, one sentence for every failure. */
import type { Stats } from 'node:fs';
import { type FileHandle, open, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { readFailure } from '../jobs/wholeFile.ts';
import { MAXIMUM_FILE_SIZE } from '../tray/limits.ts';
import { tooLarge } from '../tray/readTray.ts';
import { words } from '../words/language.ts';

export { writeWhole } from '../jobs/wholeFile.ts';

/**
 * The text of a tray file, or of another one of at most `largest` bytes. One that is too large is refused before it is read, or, where its size is not
 * known beforehand, as soon as it has become too large.
 *
 * @throws GatherpanError NOT_FOUND, TOO_LARGE, or BAD_INPUT for a folder, a file that must not be read, and
 *   text that is not UTF-8
 */
export async function readTextFile(path: string, largest = MAXIMUM_FILE_SIZE): Promise<string> {
  return withOpenFile(path, async (handle, found) => {
    if (found.isDirectory()) throw new GatherpanError('BAD_INPUT', words().messages.cli.folderForTray);
    if (found.size > largest)
      throw new GatherpanError(
        'TOO_LARGE',
        largest === MAXIMUM_FILE_SIZE ? tooLarge(found.size) : larger(largest),
      );
    return await readText(handle.createReadStream({ autoClose: false }), largest);
  });
}

/** Reads from a file, which is closed afterwards. @throws GatherpanError */
export async function withOpenFile<T>(
  path: string,
  read: (handle: FileHandle, found: Stats) => Promise<T>,
): Promise<T> {
  try {
    const handle = await open(path, 'r');
    try {
      return await read(handle, await handle.stat());
    } finally {
      await handle.close();
    }
  } catch (error) {
    throw readFailure(error);
  }
}

/**
 * The text of a stream of UTF-8 bytes, of at most the size of a tray file.
 *
 * @throws GatherpanError TOO_LARGE or BAD_INPUT
 */
export async function readText(
  stream: AsyncIterable<Uint8Array>,
  largest = MAXIMUM_FILE_SIZE,
): Promise<string> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of stream) {
    size += chunk.length;
    if (size > largest) {
      throw new GatherpanError('TOO_LARGE', larger(largest));
    }
    chunks.push(chunk);
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(chunks));
  } catch {
    throw new GatherpanError('BAD_INPUT', words().messages.cli.notText);
  }
}

const larger = (largest: number): string => words().messages.cli.larger(String(largest / 1e6));

/** Whether two paths lead to one file, also by another spelling or a link. */
export async function isSameFile(one: string, other: string): Promise<boolean> {
  if (resolve(one) === resolve(other)) return true;
  try {
    const [a, b] = await Promise.all([stat(one), stat(other)]);
    return a.dev === b.dev && a.ino === b.ino;
  } catch {
    return false; // one of them does not exist yet
  }
}

/** Reading and writing files for the commands: bounded reads, whole writes, one sentence for every failure. */
import { randomBytes } from 'node:crypto';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { MAXIMUM_FILE_SIZE } from '../tray/limits.ts';
import { tooLarge } from '../tray/readTray.ts';

/**
 * The text of a tray file. One that is too large is refused before it is read, or, where its size is not
 * known beforehand, as soon as it has become too large.
 *
 * @throws GatherpanError NOT_FOUND, TOO_LARGE, or BAD_INPUT for a folder, a file that must not be read, and
 *   text that is not UTF-8
 */
export async function readTextFile(path: string): Promise<string> {
  try {
    const handle = await open(path, 'r');
    try {
      const found = await handle.stat();
      if (found.isDirectory())
        throw new GatherpanError('BAD_INPUT', 'This is a folder; a tray file is accepted.');
      if (found.size > MAXIMUM_FILE_SIZE) throw new GatherpanError('TOO_LARGE', tooLarge(found.size));
      return await readText(handle.createReadStream({ autoClose: false }));
    } finally {
      await handle.close();
    }
  } catch (error) {
    throw asSentence(error, 'read');
  }
}

/**
 * The text of a stream of UTF-8 bytes, of at most the size of a tray file.
 *
 * @throws GatherpanError TOO_LARGE or BAD_INPUT
 */
export async function readText(stream: AsyncIterable<Uint8Array>): Promise<string> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of stream) {
    size += chunk.length;
    if (size > MAXIMUM_FILE_SIZE) {
      throw new GatherpanError(
        'TOO_LARGE',
        `The tray file is larger than ${MAXIMUM_FILE_SIZE / 1e6} MB; a tray file of at most ${MAXIMUM_FILE_SIZE / 1e6} MB is accepted.`,
      );
    }
    chunks.push(chunk);
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(chunks));
  } catch {
    throw new GatherpanError('BAD_INPUT', 'The tray file is not UTF-8 text; save it as JSON in UTF-8.');
  }
}

/**
 * Writes a file so that under its name there is only ever a whole one: first under another name in the same
 * folder, then renamed. The folder is made when it is not there.
 *
 * @returns the path written
 * @throws GatherpanError BAD_INPUT when it cannot be written; then nothing is left behind
 */
export async function writeWhole(folder: string, name: string, bytes: Uint8Array): Promise<string> {
  const path = join(folder, name);
  const draft = join(folder, `.${name}.${randomBytes(6).toString('hex')}.part`);
  try {
    await makeFolder(folder);
    // 'wx': never through a link that somebody put there.
    const handle = await open(draft, 'wx');
    try {
      await handle.writeFile(bytes);
    } finally {
      await handle.close();
    }
    await rename(draft, path);
    return path;
  } catch (error) {
    await rm(draft, { force: true }).catch(() => {});
    throw asSentence(error, 'written', path);
  }
}

/**
 * Makes a folder and those above it where they are missing.
 *
 * Not `mkdir` with `recursive`: where the system refuses a folder although the one above is there (in `/proc`),
 * Node 20 asks for ever.
 */
async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST' && (await stat(path)).isDirectory()) return;
    const above = dirname(path);
    if (code !== 'ENOENT' || above === path || (await exists(above))) throw error;
    await makeFolder(above);
    await makeFolder(path);
  }
}

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

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

/** What the system says, in words. Source of the codes: POSIX.1-2017, errno.h. */
const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EACCES: 'permission is refused',
  EPERM: 'permission is refused',
  EROFS: 'the disk can only be read',
  EISDIR: 'there is a folder of that name',
  ENOTDIR: 'a file stands where a folder is needed',
  EEXIST: 'a file stands where a folder is needed',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the quota of disk space is used up',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'links lead in a circle',
};

function asSentence(error: unknown, done: 'read' | 'written', path?: string): GatherpanError {
  if (error instanceof GatherpanError) return error;
  const code = String((error as { code?: unknown }).code ?? 'unknown');
  const reason = REASONS[code] ?? `the system reports ${code}`;
  const what = path === undefined ? 'The tray file' : path;
  return new GatherpanError(
    code === 'ENOENT' && done === 'read' ? 'NOT_FOUND' : 'BAD_INPUT',
    `${what} cannot be ${done}: ${reason}.`,
  );
}

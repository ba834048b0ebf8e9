/** Whole files only: bytes are written under another name first, and one sentence tells every failure. */
import { randomBytes } from 'node:crypto';
import { mkdir, open, readdir, rename, rm, rmdir, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** A part of a name that nobody else has: 12 hexadecimal digits. */
export const freshToken = (): string => randomBytes(6).toString('hex');

/** What a file is called until it is whole. Only who knows the token can tell a draft of its own from other files. */
export const draftName = (name: string, token: string): string => `.${name}.${token}.part`;

/** Removes the drafts with this token, which a run that was killed left behind; everything else stays. */
export async function removeDrafts(folder: string, token: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (name.startsWith('.') && name.endsWith(`.${token}.part`))
      await rm(join(folder, name), { force: true });
  }
}

/**
 * Writes a file so that under its name there is only ever a whole one: first under another name in the same
 * folder, then renamed. The folder is made when it is not there.
 *
 * @param bytes the whole contents, or their parts in order
 * @param token of the run that writes, so that its drafts are known; a fresh one when left out
 * @returns the path written
 * @throws GatherpanError BAD_INPUT when it cannot be written; then nothing is left behind
 */
export async function writeWhole(
  folder: string,
  name: string,
  bytes: Uint8Array | Iterable<Uint8Array>,
  token = freshToken(),
): Promise<string> {
  const path = join(folder, name);
  const draft = join(folder, draftName(name, token));
  let made: readonly string[] = [];
  try {
    made = await makeFolder(folder);
    // 'wx': never through a link that somebody put there.
    const handle = await open(draft, 'wx');
    try {
      // Every call goes on where the one before ended.
      for (const part of bytes instanceof Uint8Array ? [bytes] : bytes) await handle.writeFile(part);
    } finally {
      await handle.close();
    }
    await rename(draft, path);
    return path;
  } catch (error) {
    await rm(draft, { force: true }).catch(() => {});
    await removeEmpty(made);
    throw writeFailure(error, path);
  }
}

/**
 * Makes a folder and those above it where they are missing.
 *
 * Not `mkdir` with `recursive`: where the system refuses a folder although the one above is there (in `/proc`),
 * Node 20 asks for ever.
 *
 * @returns the folders that it made, the innermost first; none are left behind when one cannot be made
 */
export async function makeFolder(path: string): Promise<readonly string[]> {
  try {
    await mkdir(path);
    return [path];
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST' && (await stat(path)).isDirectory()) return [];
    const above = dirname(path);
    if (code !== 'ENOENT' || above === path || (await exists(above))) throw error;
    const made = await makeFolder(above);
    try {
      return [...(await makeFolder(path)), ...made];
    } catch (reason) {
      await removeEmpty(made);
      throw reason;
    }
  }
}

/** Removes folders, the innermost first, as long as there is nothing in them. */
export async function removeEmpty(folders: readonly string[]): Promise<void> {
  for (const folder of folders) await rmdir(folder).catch(() => {});
}

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

/** The failure to read a tray file, which the caller names, as one sentence. */
export function readFailure(error: unknown): GatherpanError {
  if (error instanceof GatherpanError) return error;
  const code = codeOf(error);
  return new GatherpanError(
    code === 'ENOENT' ? 'NOT_FOUND' : 'BAD_INPUT',
    words().messages.batch.trayNotRead(reasonOf(code)),
  );
}

/** The failure to write as one sentence. */
export const writeFailure = (error: unknown, path: string): GatherpanError =>
  error instanceof GatherpanError
    ? error
    : new GatherpanError('BAD_INPUT', words().messages.batch.notWritten(path, reasonOf(codeOf(error))));

const codeOf = (error: unknown): string => String((error as { code?: unknown }).code ?? 'unknown');

/** What the system says, in words. */
function reasonOf(code: string): string {
  const { reasons, otherReason } = words().messages.batch;
  return Object.hasOwn(reasons, code) ? reasons[code as keyof typeof reasons] : otherReason(code);
}

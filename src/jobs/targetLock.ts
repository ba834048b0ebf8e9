/**
 * One run at a time may write to a target. Who writes is said in a file beside it, which is there for as long as the
 * run is.
 *
 * A lock whose process is gone is taken over. Two runs that find such a lock at one moment must not both take it, so
 * that is done under a second file, which is only ever made and never taken over.
 */
import { open, readFile, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import * as z from 'zod';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { freshToken, makeFolder, removeEmpty, writeFailure } from './wholeFile.ts';

const holderSchema = z.strictObject({
  process: z.int().positive(),
  /** When the process was started, in the system's own count; null where it does not tell. */
  since: z.string().max(40).nullable(),
  host: z.string().max(255),
  token: z.string().regex(/^[0-9a-f]{12}$/),
});

type Holder = z.infer<typeof holderSchema>;

export interface TargetLock {
  /** Of this run: drafts carry it. */
  readonly token: string;
  /** Of the killed run whose lock was taken over; null when there was none. */
  readonly left: string | null;
  /** Folders that were made for the lock go with it when nothing was written. More than once does no harm. */
  release(): Promise<void>;
}

/** The lock of a folder lies in it. */
export const lockOfFolder = (folder: string): string => join(folder, '.gatherpan.lock');

/** The lock of a file lies beside it. */
export const lockOfFile = (path: string): string => join(dirname(path), `.${basename(path)}.gatherpan.lock`);

/**
 * Takes the lock; the folder it lies in is made when it is not there, and goes with the lock when nothing came into it.
 *
 * @param target what is written to, as the person called it
 * @throws GatherpanError BAD_INPUT when another run has it, or when it cannot be written
 */
export async function lockTarget(lock: string, target: string): Promise<TargetLock> {
  const token = freshToken();
  const own: Holder = { process: process.pid, since: await startOf(process.pid), host: hostname(), token };
  let made: readonly string[] = [];
  try {
    made = await makeFolder(dirname(lock));
    let left: string | null = null;
    if (!(await created(lock, own))) left = await takenOver(lock, target, own);
    return { token, left, release: () => released(lock, token, made) };
  } catch (error) {
    await removeEmpty(made);
    throw writeFailure(error, lock);
  }
}

/** Whether the file could be made; false when it is there. */
async function created(path: string, holder: Holder): Promise<boolean> {
  try {
    // 'wx': never through a link that somebody put there.
    const handle = await open(path, 'wx');
    try {
      await handle.writeFile(`${JSON.stringify(holder)}\n`);
    } finally {
      await handle.close();
    }
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    await rm(path, { force: true }).catch(() => {});
    throw error;
  }
}

/** @returns the token of the run that left the lock behind, null when that one has just let go of it */
async function takenOver(lock: string, target: string, own: Holder): Promise<string | null> {
  await refuseHeld(lock, target);
  const guard = `${lock}.takeover`;
  if (!(await created(guard, own))) throw inUse(target, await holderOf(guard), guard);
  try {
    const before = await refuseHeld(lock, target);
    await rm(lock, { force: true });
    if (!(await created(lock, own))) throw inUse(target, await holderOf(lock), lock);
    return before?.token ?? null;
  } finally {
    await rm(guard, { force: true });
  }
}

/** @returns the run that is gone; null when the lock is */
async function refuseHeld(lock: string, target: string): Promise<Holder | null> {
  const holder = await holderOf(lock);
  if (holder === null || (holder !== 'unknown' && (await isGone(holder)))) return holder;
  throw inUse(target, holder, lock);
}

/** Null when there is no such file; `unknown` when it says nothing of ours, as in the moment it is made. */
async function holderOf(path: string): Promise<Holder | 'unknown' | null> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
  try {
    return holderSchema.parse(JSON.parse(text));
  } catch {
    return 'unknown';
  }
}

/** Of a process on another machine nothing is known, so it counts as there. */
async function isGone({ process: id, since, host }: Holder): Promise<boolean> {
  if (host !== hostname()) return false;
  try {
    process.kill(id, 0); // asks only
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ESRCH';
  }
  // Numbers of processes are used again.
  const now = await startOf(id);
  return since !== null && now !== null && since !== now;
}

/** Field 22 of /proc/[pid]/stat: Linux manual pages, proc_pid_stat(5). The second field may hold spaces and brackets. */
async function startOf(id: number): Promise<string | null> {
  try {
    const text = await readFile(`/proc/${id}/stat`, 'utf8');
    return text.slice(text.lastIndexOf(')') + 2).split(' ')[19] ?? null;
  } catch {
    return null;
  }
}

async function released(lock: string, token: string, made: readonly string[]): Promise<void> {
  const holder = await holderOf(lock).catch(() => null);
  if (holder === null || holder === 'unknown' || holder.token !== token) return;
  await rm(lock, { force: true });
  await removeEmpty(made);
}

function inUse(target: string, holder: Holder | 'unknown' | null, lock: string): GatherpanError {
  const said = words().messages.batch;
  return new GatherpanError(
    'BAD_INPUT',
    holder === null || holder === 'unknown'
      ? said.inUseUnknown(target, lock)
      : said.inUse(target, String(holder.process), holder.host, lock),
  );
}

/** A disk that is small or can only be read, for tests of what is written where there is no room. */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { inFolder } from '../cli/fakes.ts';

/** tmpfs gives room in pages of this size on the machines we know; asked for, not assumed. */
export interface SmallDisk {
  readonly path: string;
  /** Bytes of a page: every file takes whole ones. */
  readonly page: number;
  /** Takes all room but so many pages. */
  fill(free: number): void;
  /** Gives it back. */
  clear(): void;
  /** From now on nothing can be written. */
  readOnly(): void;
}

const FILLER = 'filler';

/** Why there is none here; null where there is. It takes Linux and the right to mount. */
export function noSmallDisk(): string | null {
  if (process.platform !== 'linux' || process.getuid?.() !== 0)
    return 'only root on Linux mounts a small disk';
  const tried = spawnSync('unshare', ['--mount', 'mount', '-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', '/mnt']);
  return tried.status === 0 ? null : 'nothing can be mounted here';
}

/** @param pages size of the disk; it is gone when `work` has ended */
export const withSmallDisk = (pages: number, work: (disk: SmallDisk) => Promise<void>): Promise<void> =>
  inFolder(async (at) => {
    const path = join(at, 'disk');
    mkdirSync(path);
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${4 * pages}k`, 'tmpfs', path]);
    try {
      const page = statfsSync(path).bsize;
      const filler = join(path, FILLER);
      await work({
        path,
        page,
        fill: (free) => {
          const { bavail, bsize } = statfsSync(path);
          writeFileSync(filler, new Uint8Array(Math.max(0, bavail - free) * bsize));
        },
        clear: () => rmSync(filler, { force: true }),
        readOnly: () => void execFileSync('mount', ['-o', 'remount,ro', path]),
      });
    } finally {
      if (existsSync(path)) execFileSync('umount', [path]);
    }
  });

/** One run at a time writes to a target, also when locks were left behind and many ask at once. */
import { spawn } from 'node:child_process';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { lockOfFile, lockOfFolder, lockTarget, type TargetLock } from '../../src/jobs/targetLock.ts';
import { inFolder } from '../cli/fakes.ts';
import { LONG } from '../support/long.ts';
import { refusalOf } from '../support/refusal.ts';

/** A number that no process has: the largest of Linux is 2^22 (proc(5), pid_max). */
const NOBODY = 2 ** 22 + 1;
const holder = (change: Record<string, unknown> = {}): string =>
  JSON.stringify({ process: NOBODY, since: null, host: hostname(), token: '0123456789ab', ...change });

describe('the lock of a target', () => {
  it('is there until it is let go of, and so is a folder that is made for it and nothing else', () =>
    inFolder(async (at) => {
      const path = lockOfFolder(join(at, 'new', 'out'));
      const lock = await lockTarget(path, 'out');
      const second = await refusalOf(lockTarget(path, 'out'));
      expect(second.code).toBe('BAD_INPUT');
      expect(second.message).toContain(`Another run is writing to out (process ${process.pid} on `);
      expect(second.message).toContain(path);
      await lock.release();
      await lock.release();
      expect(await readdir(at)).toEqual([]);
      const third = await lockTarget(path, 'out');
      expect(third.left).toBeNull();
      await writeFile(join(at, 'new', 'out', 'a.dxf'), '0');
      await third.release();
      expect(await readdir(join(at, 'new', 'out'))).toEqual(['a.dxf']);
    }));

  it('of a process that is gone is taken over, and its token is told', () =>
    inFolder(async (at) => {
      const path = lockOfFile(join(at, 'a.zip'));
      await writeFile(path, holder());
      const lock = await lockTarget(path, 'a.zip');
      expect(lock.left).toBe('0123456789ab');
      await lock.release();
      expect(await readdir(at)).toEqual([]);
    }));

  it.each([
    ['another machine', holder({ host: 'elsewhere.example' })],
    ['a process that is there', holder({ process: process.ppid })],
    ['nobody knows whom', 'mine'],
    ['nobody knows whom, being empty', ''],
    ['nobody knows whom, with a strange number', holder({ process: -1 })],
  ])('of %s is left alone', (_, text) =>
    inFolder(async (at) => {
      const path = lockOfFolder(at);
      await writeFile(path, text);
      const { message } = await refusalOf(lockTarget(path, 'here'));
      expect(message).toContain(`delete ${path}`);
      expect(await readFile(path, 'utf8')).toBe(text);
    }),
  );

  it('of an earlier process with a number that another has now is taken over', () =>
    inFolder(async (at) => {
      if (process.platform !== 'linux') return;
      await writeFile(lockOfFolder(at), holder({ process: process.ppid, since: '1' }));
      await (await lockTarget(lockOfFolder(at), 'here')).release();
      expect(await readdir(at)).toEqual([]);
    }));

  it('that is just being taken over is not taken by a second run', () =>
    inFolder(async (at) => {
      const path = lockOfFolder(at);
      await writeFile(path, holder());
      await writeFile(`${path}.takeover`, holder());
      expect((await refusalOf(lockTarget(path, 'here'))).message).toContain(`delete ${path}.takeover`);
    }));

  it('is never had by two, however many ask at one moment for one that was left behind', () =>
    inFolder(async (at) => {
      const path = lockOfFolder(at);
      for (let round = 0; round < (LONG ? 500 : 40); round++) {
        await writeFile(path, holder());
        const asked = await Promise.allSettled(Array.from({ length: 8 }, () => lockTarget(path, 'here')));
        const had = asked.filter(
          (each): each is PromiseFulfilledResult<TargetLock> => each.status === 'fulfilled',
        );
        expect(had).toHaveLength(1);
        await had[0]!.value.release();
      }
      expect(await readdir(at)).toEqual([]);
    }));

  it('is left by a process that is killed, and then taken over', () =>
    inFolder(async (at) => {
      const module = new URL('../../dist/jobs/targetLock.js', import.meta.url).href;
      const script = `const { lockTarget } = await import(${JSON.stringify(module)});
        await lockTarget(${JSON.stringify(lockOfFolder(at))}, 'here'); console.log('has it'); setInterval(() => {}, 1e6);`;
      const child = spawn(process.execPath, ['--input-type=module', '-e', script]);
      await new Promise((resolve) => child.stdout.once('data', resolve));
      expect((await refusalOf(lockTarget(lockOfFolder(at), 'here'))).message).toContain(
        `process ${child.pid} on`,
      );
      const gone = new Promise((resolve) => child.on('close', resolve));
      child.kill('SIGKILL');
      await gone;
      await (await lockTarget(lockOfFolder(at), 'here')).release();
    }));
});

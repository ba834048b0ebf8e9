/** A disk that is full or can only be read costs one sentence, and leaves whole files only. */
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import type { Target } from '../../src/batch/runBatch.ts';
import { GatherpanError } from '../../src/errors.ts';
import { lockOfFolder, lockTarget } from '../../src/jobs/targetLock.ts';
import { family, hashes, instantEngine, run } from '../batch/batches.ts';
import { inFolder, realCommand } from '../cli/fakes.ts';
import { refusalOf } from '../support/refusal.ts';
import { noSmallDisk, type SmallDisk, withSmallDisk } from '../support/smallDisk.ts';
import { changed } from '../tray/trayFiles.ts';

vi.setConfig({ testTimeout: 180_000 });

const TWELVE = family(3);
const instant = (target: Target, resume = false) => run(TWELVE, target, { engine: instantEngine(), resume });

/** Names that are not the filler's, everything that is begun among them. */
const namesIn = async (folder: string): Promise<string[]> =>
  (await readdir(folder)).filter((name) => name !== 'filler').sort();

const without = noSmallDisk();

describe.skipIf(without !== null)(`a full disk${without === null ? '' : ` (skipped: ${without})`}`, () => {
  it('is told by a batch to a folder at every stage; what is there is whole, and --resume goes on from it', () =>
    inFolder(async (at) => {
      await instant({ kind: 'folder', path: join(at, 'whole') });
      const whole = await hashes(join(at, 'whole'));
      let refusals = 0;
      await withSmallDisk(400, async (disk) => {
        for (let free = 0; ; free++) {
          const path = join(disk.path, `out-${free}`);
          disk.fill(free);
          const error = await instant({ kind: 'folder', path }).then(
            () => null,
            (reason: unknown) => reason,
          );
          if (error === null) break;
          refusals++;
          expect(error).toBeInstanceOf(GatherpanError);
          const { code, message } = error as GatherpanError;
          expect([code, message]).toEqual([
            'BAD_INPUT',
            expect.stringMatching(/^\S+ cannot be written: the disk is full\.$/),
          ]);
          const left = (await namesIn(disk.path)).includes(`out-${free}`) ? await hashes(path) : {};
          for (const [name, hash] of Object.entries(left)) {
            expect(name).not.toMatch(/^\./);
            if (name !== 'batch-journal.jsonl') expect([name, hash]).toEqual([name, whole[name]]);
          }
          disk.clear();
          await instant({ kind: 'folder', path }, true);
          expect(await hashes(path)).toEqual(whole);
          await rm(path, { recursive: true });
        }
      });
      // Before the lock, between any two trays, and behind the last one.
      expect(refusals).toBeGreaterThan(15);
    }));

  it('is told by a batch to an archive, which is there whole or not at all', () =>
    inFolder(async (at) => {
      await instant({ kind: 'archive', path: join(at, 'v.zip') });
      const whole = await readFile(join(at, 'v.zip'));
      let refusals = 0;
      await withSmallDisk(400, async (disk) => {
        for (let free = 0; ; free++) {
          const target = { kind: 'archive', path: join(disk.path, `${free}.zip`) } as const;
          disk.fill(free);
          const error = await instant(target).then(
            () => null,
            (reason: unknown) => reason,
          );
          if (error === null) break;
          refusals++;
          expect(error).toBeInstanceOf(GatherpanError);
          expect((error as GatherpanError).message).toMatch(/^\S+ cannot be written: the disk is full\.$/);
          for (const name of await namesIn(disk.path)) expect(name).toMatch(/^\d+\.zip\.parts-/);
          disk.clear();
          await instant(target, true);
          expect((await readFile(target.path)).equals(whole)).toBe(true);
          expect(await namesIn(disk.path)).toEqual([`${free}.zip`]);
          await rm(target.path);
        }
      });
      expect(refusals).toBeGreaterThan(15);
    }));

  it('and one that can only be read are told by the lock, whose file is not left behind', () =>
    withSmallDisk(16, async (disk) => {
      const out = join(disk.path, 'new', 'out');
      disk.fill(0);
      expect((await refusalOf(lockTarget(lockOfFolder(out), out))).message).toBe(
        `${lockOfFolder(out)} cannot be written: the disk is full.`,
      );
      expect(await namesIn(disk.path)).toEqual([]);
      disk.clear();
      disk.readOnly();
      expect((await refusalOf(lockTarget(lockOfFolder(out), out))).message).toBe(
        `${lockOfFolder(out)} cannot be written: the disk can only be read.`,
      );
      for (const kind of ['folder', 'archive'] as const) {
        const { message } = await refusalOf(instant({ kind, path: join(disk.path, 'v.zip') }));
        expect(message).toMatch(/^\S+ cannot be written: the disk can only be read\.$/);
      }
      expect(await namesIn(disk.path)).toEqual([]);
    }));

  const tray = JSON.stringify(changed({ name: 'tray' }));
  const states: readonly (readonly [what: string, says: string, make: (disk: SmallDisk) => void])[] = [
    ['is full', 'the disk is full', (disk) => disk.fill(0)],
    ['can only be read', 'the disk can only be read', (disk) => disk.readOnly()],
  ];
  it.each(
    states.flatMap(([what, says, make]) =>
      [
        ['make', 'tray.json', '--format', 'dxf,json'],
        ['batch', 'trays.json', '--jobs', '1'],
        ['layout', 'tray.json', '--sheet', '1000x1000', '--jobs', '1'],
      ].map((argv) => [argv[0]!, what, argv, says, make] as const),
    ),
  )('%s on a disk that %s: one sentence, exit code 2, nothing left', (_, __, argv, says, make) =>
    inFolder(async (at) => {
      await writeFile(join(at, 'tray.json'), tray);
      await writeFile(join(at, 'trays.json'), JSON.stringify({ trays: [JSON.parse(tray)] }));
      await withSmallDisk(16, async (disk) => {
        make(disk);
        const { exit, error } = await realCommand(at, [...argv, '--out', join(disk.path, 'new', 'out')]);
        expect(error).toMatch(new RegExp(`^[^\\n]* cannot be written: ${says}\\.\\n$`));
        expect(exit).toBe(2);
        expect(await namesIn(disk.path)).toEqual([]);
      });
    }),
  );
});

it.each(['folder', 'device'])('an archive is refused at once where a %s of its name is', (kind) =>
  inFolder(async (at) => {
    const path = kind === 'device' ? '/dev/null' : join(at, 'v.zip');
    if (kind === 'folder') await mkdir(path);
    const { message } = await refusalOf(instant({ kind: 'archive', path }));
    expect(message).toBe(`${path} is there already and is not a file; give another name for the archive.`);
    expect(await readdir(at)).toEqual(kind === 'folder' ? ['v.zip'] : []);
  }),
);

/** The command `gatherpan batch` as a process: options, Ctrl-C, exit codes. */
import { spawn } from 'node:child_process';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { progressText } from '../../src/cli/batchProgress.ts';
import { inFolder } from '../cli/fakes.ts';
import { BASE, COMMAND, family, hashes } from './batches.ts';

// Whole runs and processes: seconds on an idle machine, more beside other tests.
vi.setConfig({ testTimeout: 180_000 });

interface Ended {
  readonly exit: number | null;
  readonly out: string;
  readonly error: string;
}

/** @param until is called again and again; the process gets SIGINT once it is true */
function command(folder: string, argv: readonly string[], until?: () => Promise<boolean>): Promise<Ended> {
  const child = spawn(process.execPath, [COMMAND, ...argv], { cwd: folder });
  let out = '';
  let error = '';
  child.stdout.on('data', (part: Buffer) => {
    out += part.toString();
  });
  child.stderr.on('data', (part: Buffer) => {
    error += part.toString();
  });
  const look = setInterval(async () => {
    if (until !== undefined && (await until())) {
      clearInterval(look);
      child.kill('SIGINT');
    }
  }, 30);
  return new Promise((resolve) =>
    child.on('close', (exit) => {
      clearInterval(look);
      resolve({ exit, out, error });
    }),
  );
}

const CSV = 'name;plan.length;plan.width\na;300;200,5\nb;x;200\nc;310;200\n';

describe('gatherpan batch', () => {
  it('makes a table over a base tray, tells the bad row and exits with 2', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'sizes.csv'), CSV);
      await writeFile(join(at, 'base.json'), JSON.stringify(BASE));
      const { exit, out, error } = await command(at, [
        'batch',
        'sizes.csv',
        '--base',
        'base.json',
        '--out',
        'out',
        '--json',
      ]);
      expect(error).toBe(
        'sizes.csv: Line 3, column 2: plan.length is "x"; give a number from 10 to 5000 mm.\n',
      );
      expect(exit).toBe(2);
      expect(JSON.parse(out)).toMatchObject({ exit: 2, rows: 3, made: 2, refused: 1, failed: 0 });
      expect(await readdir(join(at, 'out'))).toEqual(
        expect.arrayContaining([
          'a.dxf',
          'c.dxf',
          'manifest.csv',
          'manifest.json',
          'contact-sheet.svg',
          'contact-sheet.pdf',
        ]),
      );
    }));

  it('refuses names that are there twice before it solves anything', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'sizes.csv'), `${CSV}A;320;200\n`);
      await writeFile(join(at, 'base.json'), JSON.stringify(BASE));
      const { exit, error } = await command(at, [
        'batch',
        'sizes.csv',
        '--base',
        'base.json',
        '--out',
        'out',
      ]);
      expect(exit).toBe(2);
      expect(error).toBe(
        'sizes.csv: name "a" is given more than once (line 2, line 5); give every tray a name of its own.\n',
      );
      expect(await readdir(at)).not.toContain('out');
    }));

  it.each([
    [['--out', 'a', '--zip', 'b.zip'], 'Both --out and --zip'],
    [['--jobs', '0'], '--jobs is 0'],
    [['--jobs', 'two'], '--jobs is NaN'],
    [['--format', 'dfx'], '"dfx" is not known'],
    [['--zip', 'family.json'], 'would overwrite family.json'],
    [['--queue', 'nowhere'], '--queue is not an address'],
    [['--base', 'none.json'], 'none.json'],
  ])('%j is refused', (argv, says) =>
    inFolder(async (at) => {
      await writeFile(join(at, 'family.json'), family(1));
      const { exit, error } = await command(at, ['batch', 'family.json', ...argv]);
      expect(error).toContain(says);
      expect(exit).toBe(2);
      expect(await readdir(at)).toEqual(['family.json']);
    }),
  );

  it('Ctrl-C leaves whole files only, and --resume completes the run', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'family.json'), family(5)); // 20 trays
      await command(at, ['batch', 'family.json', '--out', 'whole']);
      const whole = await hashes(join(at, 'whole'));
      const out = join(at, 'out');
      const argv = ['batch', 'family.json', '--out', 'out', '--jobs', '1'];
      const stopped = await command(at, argv, async () =>
        (await readdir(out).catch(() => [])).some((name) => name === 'tray-280x210.dxf'),
      );
      expect(stopped.error).toMatch(/^Stopped after \d+ of 20 trays; the same command with --resume/);
      expect(stopped.exit).toBe(1);
      const left = await hashes(out);
      expect(left['manifest.csv']).toBeUndefined();
      const drawings = Object.entries(left).filter(([name]) => name !== 'batch-journal.jsonl');
      expect(drawings.length).toBeGreaterThan(0);
      for (const [name, hash] of drawings) expect(hash, name).toBe(whole[name]);
      expect((await command(at, [...argv, '--resume'])).out).toMatch(/were there already/);
      expect(await hashes(out)).toEqual(whole);
    }));

  it('writes no progress where nobody watches', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'family.json'), family(1));
      expect((await command(at, ['batch', 'family.json', '--zip', 'a.zip'])).error).toBe('');
      expect((await readFile(join(at, 'a.zip'))).subarray(0, 2).toString()).toBe('PK');
    }));
});

describe('the progress line', () => {
  it('has a bar, the rate and the time left', () => {
    expect(progressText({ done: 50, total: 200, name: 'tray' }, 2000)).toBe(
      '[######..................] 50 of 200, 25.0 a second, 6 s left  tray',
    );
    expect(progressText({ done: 1, total: 5000, name: 'tray' }, 1000)).toContain('84 min left');
    expect(progressText({ done: 0, total: 5, name: 'tray' }, 0)).toContain('a while left');
  });
});

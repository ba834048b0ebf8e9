/** The command `gatherpan batch`: options, Ctrl-C, exit codes; as a process where it is about one. */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { progressText } from '../../src/cli/batchProgress.ts';
import { inFolder, realCommand, command as withoutProcess } from '../cli/fakes.ts';
import { BASE, family, hashes, NO_FLAT } from './batches.ts';
import { command } from './command.ts';

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
        '--jobs',
        '1',
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
      const argv = ['batch', 'sizes.csv', '--base', 'base.json', '--out', 'out'];
      const { exit, error } = await realCommand(at, argv);
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
      const { exit, error } = await withoutProcess(at, ['batch', 'family.json', ...argv]);
      expect(error).toContain(says);
      expect(exit).toBe(2);
      expect(await readdir(at)).toEqual(['family.json']);
    }),
  );

  it('Ctrl-C leaves whole files only, and --resume completes the run', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'family.json'), family(5)); // 20 trays
      await realCommand(at, ['batch', 'family.json', '--out', 'whole', '--jobs', '1']);
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
      expect((await realCommand(at, [...argv, '--resume'])).out).toMatch(/were there already/);
      expect(await hashes(out)).toEqual(whole);
    }));

  it('exits with 1 for a tray that is not to be worked in one piece, whose files are there all the same', () =>
    inFolder(async (at) => {
      // Zinc must not be annealed.
      const sheet = { material: 'DX51D+Z', thickness: 1.2 };
      const hard = { ...BASE, section: { bottomRadius: 15, height: 40 }, sheet };
      await writeFile(join(at, 'sizes.csv'), 'name;plan.length;plan.width\na;300;200\n');
      await writeFile(join(at, 'base.json'), JSON.stringify(hard));
      const argv = ['batch', 'sizes.csv', '--base', 'base.json', '--out', 'out', '--json', '--jobs', '1'];
      const { exit, out, error } = await realCommand(at, argv);
      expect(error).toBe('line 2 (a): The verdict is "not in one piece".\n');
      expect(JSON.parse(out)).toMatchObject({ exit: 1, made: 1, notInOnePiece: 1, failed: 0 });
      expect(exit).toBe(1);
      expect(await readdir(join(at, 'out'))).toContain('a.dxf');
    }));

  it('gives a tray without a blank its verdict, in the manifest too, and lays out the others', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'sizes.csv'), 'name,plan.cornerRadius,section.height\nhigh,8,90\nlow,45,20\n');
      await writeFile(join(at, 'base.json'), JSON.stringify(NO_FLAT));
      const argv = ['batch', 'sizes.csv', '--base', 'base.json', '--out', 'out', '--json', '--jobs', '1'];
      const { exit, out, error } = await realCommand(at, [...argv, '--sheet', '1000x500', '--effort', '0']);
      expect(exit).toBe(1);
      const [verdict, reason] = error.split('\n');
      expect(verdict).toBe('line 2 (high): The verdict is "not in one piece".');
      expect(JSON.parse(out)).toMatchObject({ exit: 1, made: 1, notInOnePiece: 1, failed: 0 });
      const read = async (name: string) => JSON.parse(await readFile(join(at, 'out', name), 'utf8'));
      const [high, low] = (await read('manifest.json')).trays;
      expect(high).toMatchObject({ state: 'no flat', verdict: 'not in one piece', figures: null, files: [] });
      expect([high.error, high.reasons.length]).toEqual([null, 1]);
      expect(reason).toBe(`line 2 (high): ${high.reasons[0]}`);
      expect(low).toMatchObject({ name: 'low', state: 'made' });
      const { leftOut, total } = await read('layout.json');
      expect(total.parts).toBe(1);
      expect(leftOut).toEqual([
        { name: 'high', quantity: 1, verdict: 'not in one piece', reasons: high.reasons },
      ]);
      expect(await readdir(join(at, 'out'))).not.toContain('high.dxf');
    }));

  it('takes the plan from the drawing that the base names, and from no other', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'sizes.csv'), 'name,section.height,plan.dxf\na,20,\nb,20,other.dxf\n');
      const base = new URL('../../samples/column-side-tray.json', import.meta.url).pathname;
      const { exit, out, error } = await realCommand(at, [
        'batch',
        'sizes.csv',
        '--base',
        base,
        '--json',
        '--jobs',
        '1',
      ]);
      expect(error).toBe(
        'sizes.csv: Line 3, column 3: plan.dxf is "other.dxf": rows take the drawing of their base; give one base a drawing.\n',
      );
      expect(JSON.parse(out)).toMatchObject({ exit, made: 1, refused: 1 });
      expect(await readdir(at)).toContain('a.dxf');
    }));

  it('writes no progress where nobody watches', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'tray.json'), family(1).replace('"count":4', '"count":2'));
      const argv = ['batch', 'tray.json', '--zip', 'a.zip', '--jobs', '1'];
      expect(await command(at, argv)).toMatchObject({ exit: 0, error: '' });
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

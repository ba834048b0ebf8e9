/** The command `gatherpan layout`, once as a process. */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { BASE, NO_FLAT } from '../batch/batches.ts';
import { command } from '../batch/command.ts';
import { inFolder, realCommand, command as withoutProcess } from '../cli/fakes.ts';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';

const CSV = 'name,plan.length,plan.width,sheet.grain,quantity\nsmall,180,120,0,6\nlarge,300,200,90,2\n';

const run = (folder: string, ...argv: string[]) => realCommand(folder, ['layout', ...argv, '--jobs', '1']);

const withFiles = (work: (folder: string) => Promise<void>): Promise<void> =>
  inFolder(async (folder) => {
    await writeFile(join(folder, 'order.csv'), CSV);
    await writeFile(join(folder, 'base.json'), JSON.stringify(BASE));
    await writeFile(
      join(folder, 'single.json'),
      JSON.stringify({ ...BASE, name: 'single', plan: { length: 250, width: 200, cornerRadius: 45 } }),
    );
    await work(folder);
  });

describe('gatherpan layout', () => {
  it('lays a table and a tray file out, quantities from both, and writes drawings and report', () =>
    withFiles(async (folder) => {
      const argv = [
        'order.csv',
        'single.json',
        '--base',
        'base.json',
        '--sheet',
        '1500x1000',
        '--quantity',
        'single=3',
      ];
      const how = ['--out', 'out', '--effort', '0', '--rate-metre', '2'];
      const { exit, out, error } = await command(folder, ['layout', ...argv, ...how, '--jobs', '1']);
      expect(error).toBe('');
      expect(exit).toBe(0);
      expect(out).toMatch(
        /^sheet-DC04-1\.2mm-1\.dxf: 11 blanks, \d+\.\d % used, .*about \d+\.\d\d at your rates\n/,
      );
      const report = JSON.parse(await readFile(join(folder, 'out', 'layout.json'), 'utf8'));
      expect(report.total).toMatchObject({ sheets: 1, parts: 11, pierces: 11 });
      expect(report.total.cost).toBeCloseTo((2 * report.total.cutLength) / 1000, 1);
      const { loops } = readWithDxfParser(await readFile(join(folder, 'out', 'sheet-DC04-1.2mm-1.dxf')));
      expect(loops).toHaveLength(11);
      expect((await readdir(join(folder, 'out'))).sort()).toEqual(['layout.json', 'sheet-DC04-1.2mm-1.dxf']);
    }));

  it('lays out a tray that is not to be worked in one piece, tells it and exits with 1', () =>
    withFiles(async (folder) => {
      // Zinc must not be annealed.
      const sheet = { material: 'DX51D+Z', thickness: 1.2 };
      const hard = { ...BASE, name: 'hard', sheet, section: { bottomRadius: 15, height: 40 } };
      const plan = { length: 250, width: 200, cornerRadius: 45 };
      await writeFile(join(folder, 'hard.json'), JSON.stringify({ ...hard, plan }));
      const { exit, out, error } = await run(
        folder,
        'hard.json',
        '--sheet',
        '1000x500',
        '--effort',
        '0',
        '--out',
        'out',
      );
      expect(error).toBe('hard: the verdict is "not in one piece"; it is laid out all the same.\n');
      expect(out).toMatch(/^sheet-DX51D-Z-1\.2mm-1\.dxf: 1 blank, /);
      expect(exit).toBe(1);
    }));

  it('names a tray without a blank with its verdict, and lays out the others', () =>
    withFiles(async (folder) => {
      await writeFile(join(folder, 'high.json'), JSON.stringify({ ...NO_FLAT, name: 'high' }));
      const argv = ['high.json', 'single.json', '--sheet', '1000x500', '--effort', '0', '--out', 'out'];
      const { exit, out, error } = await run(folder, ...argv);
      const [verdict, reason, ...rest] = error.split('\n');
      expect(verdict).toBe('high: the verdict is "not in one piece"; it is left out.');
      expect(reason).toMatch(/^high: ./);
      expect(rest).toEqual(['']);
      expect(out).toMatch(/^sheet-DC04-1\.2mm-1\.dxf: 1 blank, /);
      expect(exit).toBe(1);
      const report = JSON.parse(await readFile(join(folder, 'out', 'layout.json'), 'utf8'));
      expect(report.total.parts).toBe(1);
      expect(report.leftOut).toEqual([
        { name: 'high', quantity: 1, verdict: 'not in one piece', reasons: [reason!.slice('high: '.length)] },
      ]);
    }));

  it('writes nothing where there is no blank of any tray, and says why', () =>
    withFiles(async (folder) => {
      await writeFile(join(folder, 'high.json'), JSON.stringify({ ...NO_FLAT, name: 'high' }));
      const { exit, out, error } = await run(folder, 'high.json', '--sheet', '1000x500', '--out', 'out');
      expect(error).toMatch(/^high: .+\n$/);
      expect([exit, out]).toEqual([1, '']);
      expect(await readdir(folder)).not.toContain('out');
    }));

  it('takes sheets in inches or feet, and tells what comes of them in inches', () =>
    withFiles(async (folder) => {
      const argv = ['single.json', '--effort', '0', '--out', 'out', '--sheet'];
      const told = [];
      for (const sheet of ['96x48in', '8 x 4 ft']) {
        const { exit, out } = await run(folder, ...argv, sheet);
        expect(exit).toBe(0);
        const { stock } = JSON.parse(await readFile(join(folder, 'out', 'layout.json'), 'utf8'));
        expect(stock).toMatchObject({ length: 2438.4, width: 1219.2 });
        told.push(out);
      }
      expect(told[0]).toMatch(/, [\d.]+″ of cut, .*, [\d.]+ lb of [\d.]+ lb, offcut [\d.]+″ x [\d.]+″$/m);
      expect(told[1]).toBe(told[0]);
    }));

  it('removes the drawings of an earlier layout that are not of this one, and nothing else', () =>
    withFiles(async (folder) => {
      const argv = ['order.csv', '--base', 'base.json', '--out', 'out', '--effort', '0', '--sheet'];
      expect((await run(folder, ...argv, '600x400')).exit).toBe(0);
      const before = await readdir(join(folder, 'out'));
      expect(before.length).toBeGreaterThan(3);
      await writeFile(join(folder, 'out', 'sheet-of-mine.dxf'), 'kept');
      expect((await run(folder, ...argv, '2000x1000')).exit).toBe(0);
      expect((await readdir(join(folder, 'out'))).sort()).toEqual([
        'layout.json',
        'sheet-DC04-1.2mm-1.dxf',
        'sheet-of-mine.dxf',
      ]);
    }));

  it('does not write over what it reads', () =>
    withFiles(async (folder) => {
      await writeFile(join(folder, 'layout.json'), await readFile(join(folder, 'single.json')));
      const before = await readFile(join(folder, 'layout.json'), 'utf8');
      const { exit, error } = await run(folder, 'layout.json', '--sheet', '1000x500');
      expect([exit, error]).toEqual([2, 'The layout would overwrite layout.json; give another --out.\n']);
      expect(await readFile(join(folder, 'layout.json'), 'utf8')).toBe(before);
    }));

  it.each([
    [['--sheet', '2000'], '--sheet is "2000"'],
    [['--sheet', '2000x10'], '--sheet is "2000x10"'],
    [['--sheet', '2000x1000', '--spacing', '-1'], '--spacing is "-1"'],
    [['--sheet', '2000x1000', '--grain', 'across'], 'along, free'],
    [['--sheet', '2000x1000', '--parts', 'lines'], 'copy, block'],
    [['--sheet', '2000x1000', '--quantity', 'none=2'], 'no tray of that name'],
    [['--sheet', '2000x1000', '--quantity', 'small'], 'is not a quantity'],
    [['--sheet', '2000x1000', '--rate-kg', 'much'], '--rate-kg is "much"'],
  ])('%j is refused', (argv, says) =>
    withFiles(async (folder) => {
      const given = ['layout', 'order.csv', '--base', 'base.json', ...argv, '--out', 'out'];
      const { exit, error } = await withoutProcess(folder, given);
      expect(error).toContain(says);
      expect(exit).toBe(2);
      expect(await readdir(folder)).not.toContain('out');
    }),
  );

  it('refuses a sheet that the blank of a tray is too large for', () =>
    withFiles(async (folder) => {
      const { exit, error } = await run(folder, 'single.json', '--sheet', '200x200', '--out', 'out');
      expect(error).toContain('give a larger sheet');
      expect(exit).toBe(2);
      expect(await readdir(folder)).not.toContain('out');
    }));
});

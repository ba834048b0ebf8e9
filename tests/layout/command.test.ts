/** The command `gatherpan layout` as a process. */
import { spawnSync } from 'node:child_process';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { BASE, COMMAND } from '../batch/batches.ts';
import { inFolder } from '../cli/fakes.ts';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';

vi.setConfig({ testTimeout: 180_000 });

const CSV = 'name,plan.length,plan.width,sheet.grain,quantity\nsmall,180,120,0,6\nlarge,300,200,90,2\n';

const run = (folder: string, ...argv: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [COMMAND, 'layout', ...argv], {
    cwd: folder,
    encoding: 'utf8',
  });
  return { exit: status, out: stdout, error: stderr };
};

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
      const { exit, out, error } = run(folder, ...argv, '--out', 'out', '--effort', '0', '--rate-metre', '2');
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

  it.each([
    [['--sheet', '2000'], '--sheet is "2000"'],
    [['--sheet', '2000x10'], '--sheet is "2000x10"'],
    [['--sheet', '2000x1000', '--spacing', '-1'], '--spacing is "-1"'],
    [['--sheet', '2000x1000', '--grain', 'across'], 'along, free'],
    [['--sheet', '2000x1000', '--parts', 'lines'], 'copy, block'],
    [['--sheet', '2000x1000', '--quantity', 'none=2'], 'no tray of that name'],
    [['--sheet', '2000x1000', '--quantity', 'small'], 'is not a quantity'],
    [['--sheet', '2000x1000', '--rate-kg', 'much'], '--rate-kg is "much"'],
    [['--sheet', '200x200'], 'give a larger sheet'],
  ])('%j is refused', (argv, says) =>
    withFiles(async (folder) => {
      const { exit, error } = run(folder, 'order.csv', '--base', 'base.json', ...argv, '--out', 'out');
      expect(error).toContain(says);
      expect(exit).toBe(2);
      expect(await readdir(folder)).not.toContain('out');
    }),
  );
});

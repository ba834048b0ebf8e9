/** A batch that also lays its blanks out: bytes, order, resuming, and the same sheets as the command for layouts alone. */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import JSZip from 'jszip';
import { describe, expect, it } from 'vitest';
import { sheetOrder } from '../../src/cli/sheetOptions.ts';
import { batchSheets } from '../../src/layout/batchSheets.ts';
import { inFolder, realCommand, command as withoutProcess } from '../cli/fakes.ts';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { BASE, family, hashes, run } from './batches.ts';

const TWELVE = family(3); // two chunks

const finish = (sheet: string) => batchSheets(sheetOrder({ sheet, effort: '0.1' })!).finish;

describe('a batch with sheets', () => {
  it('gives the same archive with one thread and with two, the sheets behind all else', () =>
    inFolder(async (at) => {
      const paths = [1, 2].map((jobs) => join(at, `${jobs}.zip`));
      for (const [i, path] of paths.entries()) {
        await run(TWELVE, { kind: 'archive', path }, { jobs: i + 1, finish: finish('1500x1000') });
      }
      const [one, two] = await Promise.all(paths.map((path) => readFile(path)));
      expect(one!.equals(two!)).toBe(true);
      const { files } = await JSZip.loadAsync(one!);
      expect(Object.keys(files).slice(12)).toEqual([
        'manifest.csv',
        'manifest.json',
        'contact-sheet.svg',
        'contact-sheet.pdf',
        'sheet-DC04-1.2mm-1.dxf',
        'layout.json',
      ]);
      const { loops } = readWithDxfParser(await files['sheet-DC04-1.2mm-1.dxf']!.async('uint8array'));
      expect(loops).toHaveLength(12);
    }));

  it('goes on: solves what the sheets lack once, and then only lays out anew', () =>
    inFolder(async (at) => {
      const path = join(at, 'out');
      const target = { kind: 'folder', path } as const;
      await run(TWELVE, { kind: 'folder', path: join(at, 'fresh') }, { finish: finish('1500x1000') });
      const fresh = await hashes(join(at, 'fresh'));
      await run(TWELVE, target);
      const without = await hashes(path);
      // The journal of a run without sheets has no blanks in it.
      expect((await run(TWELVE, target, { resume: true, finish: finish('1500x1000') })).resumed).toBe(0);
      expect(await hashes(path)).toEqual(fresh);
      const smaller = await run(TWELVE, target, { resume: true, finish: finish('1000x1000') });
      expect(smaller.resumed).toBe(12);
      expect(await readdir(path)).toContain('sheet-DC04-1.2mm-2.dxf');
      expect((await run(TWELVE, target, { resume: true })).resumed).toBe(12);
      expect(await hashes(path)).toMatchObject(without);
    }));

  it('goes on behind a torn line of the journal', () =>
    inFolder(async (at) => {
      await run(TWELVE, { kind: 'folder', path: at }, { finish: finish('1500x1000') });
      const whole = await hashes(at);
      const journal = await readFile(join(at, 'batch-journal.jsonl'), 'utf8');
      await writeFile(join(at, 'batch-journal.jsonl'), journal.slice(0, -200));
      const again = await run(
        TWELVE,
        { kind: 'folder', path: at },
        { resume: true, finish: finish('1500x1000') },
      );
      expect(again.resumed).toBe(11);
      expect(await hashes(at)).toEqual(whole);
    }));

  it('leaves out what cannot be made and lays out the rest', () =>
    inFolder(async (at) => {
      const trays = [
        { name: 'a', 'plan.length': 300 },
        { name: 'unknown-metal', 'plan.length': 300, 'sheet.material': 'unobtainium' },
        { name: 'b', 'plan.length': 310, quantity: 3 },
      ];
      const text = JSON.stringify({ base: { ...BASE, plan: { width: 200, cornerRadius: 45 } }, trays });
      await run(text, { kind: 'folder', path: at }, { finish: finish('2000x1000') });
      const { sheets } = JSON.parse(await readFile(join(at, 'layout.json'), 'utf8'));
      const names = sheets[0].parts.map((part: { name: string }) => part.name).sort();
      expect(names).toEqual(['a', 'b', 'b', 'b']);
    }));

  it.each([
    ['sheet-of-zinc', 'dxf'],
    ['layout', 'json'],
  ])('refuses a tray named %s, whose .%s could be one of the sheets’ files', (name, extension) =>
    inFolder(async (at) => {
      const trays = [{ name, 'plan.length': 300, 'plan.width': 200 }];
      const formats = [{ id: extension, extension, values: {} }];
      const made = run(
        JSON.stringify({ base: BASE, trays }),
        { kind: 'folder', path: at },
        {
          formats,
          finish: finish('2000x1000'),
        },
      );
      await expect(made).rejects.toThrow("batch's own file");
      expect(await readdir(at)).toEqual([]);
    }),
  );
});

describe('gatherpan batch --sheet', () => {
  const withTable = (work: (folder: string) => Promise<void>): Promise<void> =>
    inFolder(async (folder) => {
      const table = 'name,plan.length,plan.width,quantity\nsmall,180,120,6\nlarge,300,200,2\n';
      await writeFile(join(folder, 'order.csv'), table);
      await writeFile(join(folder, 'base.json'), JSON.stringify(BASE));
      await work(folder);
    });
  const rows = ['order.csv', '--base', 'base.json', '--jobs', '1'];

  it('writes the trays, and the sheets that layout writes, byte for byte', () =>
    withTable(async (folder) => {
      const how = ['--sheet', '1500x1000', '--quantity', 'large=4', '--spacing', '8', '--parts', 'block'];
      const more = ['--rate-metre', '2', '--effort', '0.2'];
      const batch = await realCommand(folder, ['batch', ...rows, ...how, ...more, '--out', 'batch']);
      expect(batch).toMatchObject({ exit: 0, error: '' });
      expect(batch.out).toMatch(
        /2 made .*\nsheet-DC04-1\.2mm-1\.dxf: 10 blanks, .* about \d+\.\d\d at your rates\n1 sheet \(/s,
      );
      const alone = await realCommand(folder, ['layout', ...rows, ...how, ...more, '--out', 'layout']);
      expect(alone).toMatchObject({ exit: 0, error: '' });
      const sheets = await hashes(join(folder, 'layout'));
      expect(Object.keys(sheets)).toEqual(['layout.json', 'sheet-DC04-1.2mm-1.dxf']);
      expect(await hashes(join(folder, 'batch'))).toMatchObject(sheets);
    }));

  it('a sheet that is too small costs nothing that was solved', () =>
    withTable(async (folder) => {
      const argv = ['batch', ...rows, '--zip', 'all.zip', '--sheet'];
      const small = await realCommand(folder, [...argv, '300x200']);
      expect(small.exit).toBe(2);
      expect(small.error).toMatch(
        /^The blank of large is .*\nAll trays are solved: the same command with --resume/,
      );
      const large = await realCommand(folder, [...argv, '1500x1000', '--resume', '--json']);
      expect(JSON.parse(large.out)).toMatchObject({ exit: 0, resumed: 2, layout: { sheets: 1, parts: 8 } });
      expect((await readdir(folder)).sort()).toEqual(['all.zip', 'base.json', 'order.csv']);
    }));

  it.each([
    [['--spacing', '3'], '--spacing was given without --sheet'],
    [['--quantity', 'small=2'], '--quantity was given without --sheet'],
    [['--sheet', '2000'], '--sheet is "2000"'],
    [['--sheet', '2000x1000', '--grain', 'across'], 'along, free'],
    [['--sheet', '2000x1000', '--quantity', 'none=2'], 'no tray of that name'],
    [['--sheet', '2000x1000', '--quantity', 'small=9000'], 'at most 5000 are laid out'],
  ])('%j is refused before anything is solved', (argv, says) =>
    withTable(async (folder) => {
      const { exit, error } = await withoutProcess(folder, ['batch', ...rows, ...argv, '--out', 'out']);
      expect(error).toContain(says);
      expect(exit).toBe(2);
      expect(await readdir(folder)).not.toContain('out');
    }),
  );
});

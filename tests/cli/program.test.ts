import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { sheetDocument } from '../../src/material/sheets.ts';
import { english } from '../../src/words/english.ts';
import { changed, goodFile } from '../tray/trayFiles.ts';
import { command, inFolder, material, writeFiles } from './fakes.ts';

describe('help and usage', () => {
  test.each([
    [['--help']],
    [['-h']],
    [['help']],
    [['help', 'make']],
    [['make', '--help']],
    [['check', '--help']],
    [['sheets', '-h']],
  ])('%j prints help and succeeds', async (argv) => {
    const ran = await command('/', argv);
    expect(ran.exit).toBe(0);
    expect(ran.out).toContain('Usage: gatherpan');
    expect(ran.error).toBe('');
  });

  test('the help of make lists the formats and their parameters as the registry has them', async () => {
    const { out } = await command('/', ['make', '--help']);
    expect(out).toContain('dxf.mark: what to put behind the name (none, star; none when not set)');
    expect(out).toContain('dxf.times: how often (1 to 9; 1 when not set)');
    expect(out).toContain('json     Size of the blank');
  });

  test('--version', async () => {
    expect(await command('/', ['--version'])).toMatchObject({ exit: 0, out: '1.2.3\n', error: '' });
  });

  test.each([
    [[], 'Usage: gatherpan'],
    [['make'], "missing required argument 'file'"],
    [['check'], "missing required argument 'file'"],
    [['bake', 'x.json'], "unknown command 'bake'"],
    [['make', 'x.json', '--fromat', 'dxf'], '--format'],
    [['make', 'x.json', '--out'], 'argument missing'],
    [['check', 'x.json', '--out', 'y'], "unknown option '--out'"],
    [['sheets', 'DC04'], 'too many arguments'],
  ])('%j is a usage error', async (argv, message) => {
    const ran = await command('/', argv);
    expect(ran.exit).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.error).toContain(message);
    expect(ran.error).not.toMatch(/\n\s+at /);
  });
});

describe('tray files', () => {
  const refused = async (
    folder: string,
    file: string,
    stdin?: string | AsyncIterable<Uint8Array>,
  ): Promise<string> => {
    const ran = await command(folder, ['check', file], stdin === undefined ? {} : { stdin });
    expect(ran).toMatchObject({ exit: 2, out: '', faults: [], solved: [] });
    expect(ran.error).toMatch(/^[^\n]+\.\n$/);
    return ran.error;
  };

  test('that are not there, or a folder, or empty, or no text', () =>
    inFolder(async (folder) => {
      await mkdir(join(folder, 'trays'));
      await writeFiles(folder, { 'empty.json': '', 'file.json': '{}' });
      await writeFile(join(folder, 'utf16.json'), Buffer.from('\ufeff{"name":"x"}', 'utf16le'));
      expect(await refused(folder, 'none.json')).toBe(
        'none.json: The tray file cannot be read: there is no such file or folder.\n',
      );
      expect(await refused(folder, 'trays')).toBe('trays: This is a folder; a tray file is accepted.\n');
      expect(await refused(folder, 'file.json/x')).toContain('a file stands where a folder is needed');
      expect(await refused(folder, 'empty.json')).toBe(
        'empty.json: The tray file is empty; give a JSON object with name, plan, section and sheet.\n',
      );
      expect(await refused(folder, 'utf16.json')).toBe(
        'utf16.json: The tray file is not UTF-8 text; save it as JSON in UTF-8.\n',
      );
      expect(await refused(folder, '-', '')).toContain('standard input: The tray file is empty');
    }));

  test('of 100 MB are refused without being read', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'huge.json');
      const { open } = await import('node:fs/promises');
      const handle = await open(file, 'w');
      await handle.truncate(100_000_000);
      await handle.close();
      const before = process.memoryUsage().arrayBuffers;
      expect(await refused(folder, 'huge.json')).toBe(
        'huge.json: The tray file is 100.0 MB; a tray file of at most 1 MB is accepted.\n',
      );
      expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(20_000_000);
    }));

  test('without an end on standard input are refused as soon as they are too large', async () => {
    let sent = 0;
    async function* endless(): AsyncIterable<Uint8Array> {
      for (;;) {
        sent += 65_536;
        yield new Uint8Array(65_536).fill(32);
      }
    }
    expect(await refused('/', '-', endless())).toContain('larger than 1 MB');
    expect(sent).toBeLessThan(1_200_000);
  });

  test.skipIf(process.platform === 'win32')('without an end as a device', async () => {
    expect(await refused('/', '/dev/zero')).toContain('larger than 1 MB');
  });

  test('standard input given twice is refused the second time', async () => {
    const ran = await command('/', ['check', '-', '-'], { stdin: JSON.stringify(goodFile()) });
    expect(ran.exit).toBe(2);
    expect(ran.solved).toEqual(['bench-drip-tray']);
    expect(ran.error).toBe('standard input: - was given twice; standard input can be read once.\n');
  });
});

describe('check', () => {
  test('prints figures, warnings and notes, and writes nothing', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': changed({ name: 'a' }), 'b.json': changed({ name: 'warned' }) });
      const ran = await command(folder, ['check', 'a.json', 'b.json']);
      expect(ran).toMatchObject({ exit: 0, error: '', solved: ['a', 'warned'] });
      expect(ran.out).toContain('  blank      512.3 x 372.2 mm, 0.1801 m², 1.698 kg\n');
      expect(ran.out).toContain('  solved     700 triangles, 8 steps, residual 3.2e-11\n');
      expect(ran.out).toContain('  warnings   none\n');
      expect(ran.out).toContain('  warning    The edge of the sheet is chamfered or rounded in the part.');
      expect(ran.out).toContain(
        '  note       The outline is the finished size: the cutting service allows for its own kerf.\n',
      );
      const { readdir } = await import('node:fs/promises');
      expect((await readdir(folder)).sort()).toEqual(['a.json', 'b.json']);
    }));

  test('--json has the figures and no files', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': changed({ name: 'a' }) });
      const summary = JSON.parse((await command(folder, ['check', 'a.json', '--json'])).out);
      expect(summary.exit).toBe(0);
      expect(summary.trays[0]).toMatchObject({ file: 'a.json', name: 'a', ok: true, files: [] });
      expect(summary.trays[0].figures.blank.length).toBe(512.34);
      expect(summary.trays[0].figures).not.toHaveProperty('rim');
    }));

  test('the same name twice is no matter', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': goodFile(), 'b.json': goodFile() });
      expect((await command(folder, ['check', 'a.json', 'b.json'])).exit).toBe(0);
    }));
});

describe('sheets', () => {
  test('lists every property with its source', async () => {
    const { exit, out } = await command('/', ['sheets']);
    expect(exit).toBe(0);
    expect(out).toMatch(/^DC04 {2}Cold-rolled deep-drawing steel DC04 \(steel, no coating\)$/m);
    expect(out).toMatch(/strength K .* 520 N\/mm² {2}\[invented for this test\]$/m);
    expect(out).toMatch(
      /650 to 700 °C {2}\[from a test\]\n(?:.*\n)*? {2}cue: A dull red, seen in a darkened corner.* {2}\[from memory of a test\]$/m,
    );
    for (const value of [
      '0.004',
      '0.22',
      '1.6',
      '1.3',
      '1.9',
      '7.85 kg/dm³',
      '210000 N/mm²',
      '180 N/mm²',
      '320 N/mm²',
      '24 %',
      '0.5 to 3 mm',
      '650 to 700 °C',
      'A dull red, seen in a darkened corner',
      'caution: Heat steel no further than given',
    ]) {
      expect(out).toContain(value);
    }
  });

  test('--json', async () => {
    expect(JSON.parse((await command('/', ['sheets', '--json'])).out)).toEqual([
      sheetDocument(material, english),
    ]);
  });
});

import { chmod, link, mkdir, readdir, readFile, stat, symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import type { Exporter } from '../../src/exporters/contract.ts';
import { dxfExporter } from '../../src/exporters/dxf/dxfExporter.ts';
import { samplePattern } from '../exporters/samplePattern.ts';
import { changed, goodFile } from '../tray/trayFiles.ts';
import { command, inFolder, nameExporter, patternOf, sizeExporter, writeFiles } from './fakes.ts';

const tray = (name: string | undefined, changes: Record<string, unknown> = {}): unknown =>
  changed({ name, ...changes });

describe('make', () => {
  test('writes one file per format, named after the tray, into the folder it makes', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'one.json': goodFile() });
      const ran = await command(folder, ['make', 'one.json', '--out', 'a/b', '--format', 'dxf,json']);
      expect(ran).toMatchObject({ exit: 0, error: '' });
      expect((await readdir(join(folder, 'a/b'))).sort()).toEqual([
        'bench-drip-tray.dxf',
        'bench-drip-tray.json',
      ]);
      expect(await readFile(join(folder, 'a/b/bench-drip-tray.dxf'), 'utf8')).toBe('bench-drip-tray\n');
    }));

  test('tells exporters the day where it is known, and nothing where it is not', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'one.json': goodFile() });
      const dated: Exporter = {
        ...nameExporter,
        write: async (_pattern, _values, context) => new TextEncoder().encode(JSON.stringify(context)),
      };
      const made = async (today?: string): Promise<string> => {
        const replace = { exporters: [dated], ...(today === undefined ? {} : { today }) };
        expect((await command(folder, ['make', 'one.json'], replace)).exit).toBe(0);
        return readFile(join(folder, 'bench-drip-tray.dxf'), 'utf8');
      };
      expect(await made('2030-02-03')).toBe('{"date":"2030-02-03"}');
      expect(await made()).toBe('{}');
    }));

  test('writes dxf beside the caller when nothing else is said', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'one.json': goodFile() });
      expect((await command(folder, ['make', 'one.json'])).exit).toBe(0);
      expect((await readdir(folder)).sort()).toEqual(['bench-drip-tray.dxf', 'one.json']);
    }));

  test('prints what it wrote and the figures that matter', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'one.json': tray('warned') });
      const { out } = await command(folder, ['make', 'one.json', '--out', 'out']);
      expect(out.split('\n')).toEqual([
        'warned',
        '  sheet      DC04, 1.20 mm, grain at 0° (0° = along the length)',
        '  blank      512.3 x 372.2 mm, 0.1801 m², 1.698 kg',
        '  cut        1.691 m in 36 lines and arcs',
        '  wall, flat 61.2 mm along the length, 61.5 mm along the width',
        '  corners    each rim to lose 12.3 mm, gather 18.3 %, stretch 3.1 %, 1.11 to 1.46 mm thick',
        '  corners    each corner radius of the blank 81.1 mm (equal-area rule 79.2 mm, arc-length rule 83.4 mm)',
        '  thickness  1.11 to 1.46 mm',
        '  verdict    can be worked',
        '  note       The outline is the finished size: the cutting service allows for its own kerf.',
        '  warning    The edge of the sheet is chamfered or rounded in the part. The blank ends where the inner skin ends, so check whether it needs trim.',
        '  wrote      out/warned.dxf',
        expect.stringMatching(
          /^ {2}caution {4}laser cutting: Check the overall size.*hydrogen chloride.*let it cool\. Cut edges are sharp.* Local safety rules/,
        ),
        '',
      ]);
    }));

  test('takes the name of a tray without one from its file, or "tray" from standard input', () =>
    inFolder(async (folder) => {
      const text = JSON.stringify(tray(undefined));
      await writeFiles(folder, { 'Bench tray (2).json': text, '...json': text });
      const ran = await command(folder, ['make', 'Bench tray (2).json', '-'], { stdin: text });
      expect(ran.exit).toBe(0);
      expect(ran.solved).toEqual(['Bench tray (2)', 'tray']);
      expect((await readdir(folder)).filter((name) => name.endsWith('.dxf'))).toEqual([
        'Bench-tray-2.dxf',
        'tray.dxf',
      ]);
      expect((await command(folder, ['make', '...json'])).solved).toEqual(['tray']);
    }));

  test('goes on when one tray fails; the exit code is the worst', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, {
        'good.json': tray('good'),
        'bad.json': '{',
        'hard.json': tray('hard'),
        'last.json': tray('last'),
      });
      const developTray = (spec: Parameters<typeof patternOf>[0]) => {
        if (spec.name === 'hard')
          throw new GatherpanError('NOT_SOLVED', 'The wall is too high; give at most 50 mm.');
        return patternOf(spec);
      };
      const hard = await command(folder, ['make', 'good.json', 'hard.json', 'last.json'], { developTray });
      expect(hard.exit).toBe(1);
      expect(hard.error).toBe('hard.json: The wall is too high; give at most 50 mm.\n');
      const bad = await command(folder, ['make', 'bad.json', 'good.json', 'hard.json', 'last.json'], {
        developTray,
      });
      expect(bad.exit).toBe(2);
      expect(bad.error).toMatch(/^bad\.json: The tray file is not JSON: .*\nhard\.json: .*\n$/);
      expect((await readdir(folder)).filter((name) => name.endsWith('.dxf')).sort()).toEqual([
        'good.dxf',
        'last.dxf',
      ]);
    }));

  test('prints one line per fault, with the file', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'bad.json': tray('bad', { 'plan.length': 'x', 'section.height': -1 }) });
      const ran = await command(folder, ['make', 'bad.json']);
      expect(ran).toMatchObject({ exit: 2, out: '', solved: [], faults: [] });
      expect(ran.error.split('\n')).toEqual([
        'bad.json: plan.length is "x"; give a number from 10 to 5000 mm.',
        'bad.json: section.height is -1; give a number from 1 to 2000 mm.',
        '',
      ]);
    }));

  test('a summary as JSON', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, {
        'good.json': tray('good'),
        'bad.json': tray('bad', { 'section.height': 1 }),
      });
      const ran = await command(folder, [
        'make',
        'good.json',
        'bad.json',
        'none.json',
        '--json',
        '--out',
        'o',
      ]);
      const summary = JSON.parse(ran.out);
      const { name: _, rim, outline, ...figures } = patternOf({ ...patternSpec(), name: 'good' }).report;
      const { gather } = patternOf(patternSpec());
      expect([rim, outline]).toHaveLength(2);
      expect(summary).toEqual({
        exit: 2,
        trays: [
          {
            file: 'good.json',
            name: 'good',
            ok: true,
            files: ['o/good.dxf'],
            figures,
            gather,
            cautions: [{ act: 'laser', sentences: expect.arrayContaining([expect.stringMatching(/sharp/)]) }],
          },
          {
            file: 'bad.json',
            name: null,
            ok: false,
            error: {
              code: 'BAD_INPUT',
              faults: [{ path: 'section.height', message: expect.stringMatching(/60.*|17\.\d degrees/) }],
            },
          },
          {
            file: 'none.json',
            name: null,
            ok: false,
            error: {
              code: 'NOT_FOUND',
              faults: [
                { path: '', message: 'The tray file cannot be read: there is no such file or folder.' },
              ],
            },
          },
        ],
      });
    }));

  test('a progress line for a person at a terminal, and nothing when piped', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('a'), 'b.json': tray('b') });
      const watched = await command(folder, ['make', 'a.json', 'b.json'], { isTerminal: true });
      expect(watched.error).toBe('\r\u001b[K1 of 2: a\r\u001b[K\r\u001b[K2 of 2: b\r\u001b[K');
      const piped = await command(folder, ['make', 'a.json', 'b.json']);
      expect(piped.error).toBe('');
      expect(watched.out).toBe(piped.out);
    }));
});

const patternSpec = () => ({
  name: 'x',
  measured: 'outside' as const,
  plan: { length: 420, width: 280, cornerRadius: 45 },
  section: { bottomRadius: 22, height: 60, draft: 0, rim: { kind: 'plain' as const } },
  sheet: { material: 'DC04', thickness: 1.2, grain: 0 },
  forming: { trim: 4 },
  cut: { process: 'laser' as const, kerf: 0.2, compensate: false },
});

describe('make: settings of formats', () => {
  test.each([
    [['--set', 'dxf.mark=star', '--set', 'dxf.times=2', '--set', 'dxf.loud=true'], 'GOOD*\nGOOD*\n'],
    [['--set', 'dxf.times=1'], 'good\n'],
  ])('%j', (set, content) =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good') });
      expect((await command(folder, ['make', 'good.json', ...set])).exit).toBe(0);
      expect(await readFile(join(folder, 'good.dxf'), 'utf8')).toBe(content);
    }),
  );

  test.each([
    [['--set', 'dxf.mark'], '--set "dxf.mark" is not a setting; give format.parameter=value.'],
    [['--set', '=1'], '--set "=1" is not a setting; give format.parameter=value.'],
    [
      ['--set', 'dxf.merk=star'],
      'dxf.merk is not known (the nearest is mark); the exporter dxf accepts mark, times, loud.',
    ],
    [['--set', 'dxf.mark=moon'], 'dxf.mark is "moon"; one of none, star is accepted.'],
    [['--set', 'dxf.times=10'], 'dxf.times is 10; a number from 1 to 9 is accepted.'],
    [['--set', 'dxf.times=two'], 'dxf.times is "two"; a number from 1 to 9 is accepted.'],
    [['--set', 'dxf.loud=yes'], 'dxf.loud is "yes"; true or false is accepted.'],
    [['--set', 'dxf.times=1', '--set', 'dxf.times=2'], '--set dxf.times was given twice; give it once.'],
    [
      ['--set', 'json.x=1'],
      '--set "json.x=1" is for the format "json", which is not made here; give a setting of dxf, or name the format in --format.',
    ],
    [['--set', 'dxf.__proto__=1'], 'dxf.__proto__ is not known; the exporter dxf accepts mark, times, loud.'],
    [
      ['--format', 'dfx'],
      'The format "dfx" is not known (the nearest is dxf); one of dxf, json is accepted.',
    ],
    [['--format', ' , '], '--format is empty; give one or more of dxf, json, separated by commas.'],
  ])('%j is refused before anything is solved', (options, message) =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good') });
      const ran = await command(folder, ['make', 'good.json', ...options]);
      expect(ran).toEqual({ exit: 2, out: '', error: `${message}\n`, faults: [], solved: [] });
      const json = await command(folder, ['make', 'good.json', '--json', ...options]);
      expect(JSON.parse(json.out)).toMatchObject({ exit: 2, trays: [], error: { faults: [{ message }] } });
      expect(await readdir(folder)).toEqual(['good.json']);
    }),
  );

  test('a format named twice is written once', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good') });
      const ran = await command(folder, ['make', 'good.json', '--format', 'dxf, dxf']);
      expect(ran.exit).toBe(0);
      expect(ran.out.match(/wrote/g)).toHaveLength(1);
    }));
});

describe('make: exporters of a third party', () => {
  const other = { ...sizeExporter, id: 'size', extension: 'txt' };

  test('are loaded by name and can be chosen', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good') });
      const asked: string[] = [];
      const ran = await command(
        folder,
        ['make', 'good.json', '--exporter', './mine.js', '--exporter', 'theirs', '--format', 'size'],
        {
          exporter: async (name, from) => {
            asked.push(name);
            expect(from).toBe(folder);
            return name === 'theirs' ? [other] : [];
          },
        },
      );
      expect(ran.exit).toBe(0);
      expect(asked).toEqual(['./mine.js', 'theirs']);
      expect(await readdir(folder)).toContain('good.txt');
    }));

  test.each([
    [
      'throws',
      async () => Promise.reject(new TypeError('boom\n  at x')),
      'The exporter size failed (boom); its module has to be corrected.',
    ],
    [
      'throws no error',
      async () => Promise.reject('boom'),
      'The exporter size failed (boom); its module has to be corrected.',
    ],
    [
      'returns no bytes',
      async () => 'text' as unknown as Uint8Array,
      'The exporter size returned no bytes; its module has to be corrected.',
    ],
  ])('one that %s gets one sentence and writes nothing', (_, write, message) =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good') });
      const ran = await command(
        folder,
        ['make', 'good.json', '--exporter', 'theirs', '--format', 'dxf,size'],
        {
          exporter: async () => [{ ...other, write }],
        },
      );
      expect(ran).toMatchObject({ exit: 1, error: `good.json: ${message}\n`, faults: [] });
      expect(await readdir(folder)).toEqual(['good.json']);
    }),
  );

  test('one with an id that is taken is refused', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good') });
      const ran = await command(folder, ['make', 'good.json', '--exporter', 'theirs'], {
        exporter: async () => [{ ...other, id: 'dxf' }],
      });
      expect(ran.exit).toBe(2);
      expect(ran.error).toContain('Two exporters have the id dxf');
    }));
});

describe('make: a fault of the program', () => {
  test('is told in one sentence, reported as such, and the others go on', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('a'), 'b.json': tray('b') });
      const fault = new TypeError('x is undefined');
      const ran = await command(folder, ['make', 'a.json', 'b.json'], {
        developTray: (spec) => {
          if (spec.name === 'a') throw fault;
          return patternOf(spec);
        },
      });
      expect(ran.exit).toBe(1);
      expect(ran.faults).toEqual([fault]);
      expect(ran.error).toBe(
        'a.json: gatherpan itself failed (x is undefined); this is a fault of the program, please report it with the tray file.\n',
      );
      expect(await readdir(folder)).toContain('b.dxf');
    }));
});

describe('make: the drawing', () => {
  const made = (folder: string, ...set: string[]) =>
    command(folder, ['make', 'a.json', ...set.flatMap((each) => ['--set', each])], {
      exporters: [dxfExporter],
      developTray: (spec) => ({ ...samplePattern(), name: spec.name }),
    });

  test('with marks has a name that says not to cut it', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('a') });
      expect((await made(folder)).error).toBe('');
      const ran = await made(folder, 'dxf.marks=text,scribe');
      expect(ran).toMatchObject({ exit: 0, error: '' });
      expect(ran.out).toContain('wrote      a.marks-do-not-cut.dxf\n');
      expect((await readdir(folder)).sort()).toEqual(['a.dxf', 'a.json', 'a.marks-do-not-cut.dxf']);
    }));

  test('takes settings of version 0.1, under the name of then, and notes what to write instead', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('a') });
      const ran = await made(folder, 'dxf.text=none', 'dxf.tucks=true');
      expect(ran.exit).toBe(0);
      expect(ran.error).toBe(
        '  note       This version still takes dxf.text, dxf.tucks from version 0.1; the next will not. Write dxf.marks=scribe,grain,tucks instead.\n',
      );
      expect((await readdir(folder)).sort()).toEqual(['a.dxf', 'a.json']);
    }));

  test('refuses a mark there is not, with those there are', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('a') });
      const ran = await made(folder, 'dxf.marks=scribe,fold');
      expect(ran.exit).toBe(2);
      expect(ran.error).toContain('of scribe, grain, text, gather, tucks, dots is accepted');
      expect(await readdir(folder)).toEqual(['a.json']);
    }));
});

describe('make: files', () => {
  test('never overwrites a tray file, by whatever name it goes', () =>
    inFolder(async (folder) => {
      const before = JSON.stringify(tray('good'));
      await writeFiles(folder, { 'good.json': before, 'other.json': JSON.stringify(tray('other')) });
      await symlink('good.json', join(folder, 'linked.json'));
      await mkdir(join(folder, 'out'));
      await link(join(folder, 'good.json'), join(folder, 'out/good.json'));
      for (const argv of [
        ['good.json'],
        ['./good.json', '--out', '.'],
        ['linked.json'],
        ['good.json', '--out', 'out'],
      ]) {
        const ran = await command(folder, ['make', ...argv, '--format', 'json']);
        expect(ran.exit).toBe(2);
        expect(ran.error).toContain('would overwrite the tray file');
        expect(ran.solved).toEqual([]);
      }
      expect(await readFile(join(folder, 'good.json'), 'utf8')).toBe(before);
      // another tray of the same call
      const ran = await command(folder, [
        'make',
        'other.json',
        'good.json',
        '--format',
        'json',
        '--out',
        '.',
      ]);
      expect(ran.exit).toBe(2);
      expect(await readFile(join(folder, 'good.json'), 'utf8')).toBe(before);
    }));

  test('two trays of one name are refused before the first is solved, capitals aside', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('twin'), 'b.json': tray('Twin'), 'c.json': tray('single') });
      const ran = await command(folder, ['make', 'a.json', 'b.json', 'c.json']);
      expect(ran.exit).toBe(2);
      expect(ran.solved).toEqual(['single']);
      expect(ran.error).toBe(
        'a.json: name is "twin", and so it is in b.json; give every tray of one call a name of its own.\n' +
          'b.json: name is "Twin", and so it is in a.json; give every tray of one call a name of its own.\n',
      );
    }));

  test('of two formats with one ending, the file of the later one bears its id', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('a') });
      const ran = await command(folder, ['make', 'a.json', '--format', 'dxf,other'], {
        exporters: [nameExporter, { ...sizeExporter, id: 'other', extension: 'dxf' }],
      });
      expect(ran.error).toBe('');
      expect(ran.exit).toBe(0);
      expect((await readdir(folder)).sort()).toEqual(['a.dxf', 'a.json', 'a.other.dxf']);
    }));

  test('formats whose files would have one name are refused', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': tray('a') });
      const ran = await command(folder, ['make', 'a.json', '--format', 'dxf,other,third'], {
        exporters: [
          nameExporter,
          { ...sizeExporter, id: 'other', extension: 'third.dxf' },
          { ...sizeExporter, id: 'third', extension: 'dxf' },
        ],
      });
      expect(ran.exit).toBe(2);
      expect(ran.error).toContain('The file a.third.dxf would be written twice');
      expect(ran.solved).toEqual([]);
    }));

  test('an older file is replaced whole', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, {
        'good.json': tray('good'),
        'good.dxf': 'a much longer content of former days\n',
      });
      expect((await command(folder, ['make', 'good.json'])).exit).toBe(0);
      expect(await readFile(join(folder, 'good.dxf'), 'utf8')).toBe('good\n');
    }));

  test('nothing half written is left when the folder cannot be used', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good'), file: 'x' });
      await mkdir(join(folder, 'taken/good.dxf'), { recursive: true });
      const onFile = await command(folder, ['make', 'good.json', '--out', 'file']);
      expect(onFile.exit).toBe(2);
      expect(onFile.error).toMatch(
        /^good\.json: .*file\/good\.dxf cannot be written: a file stands where a folder is needed\.\n$/,
      );
      const below = await command(folder, ['make', 'good.json', '--out', 'file/deeper']);
      expect(below.error).toContain('a file stands where a folder is needed');
      const taken = await command(folder, ['make', 'good.json', '--out', 'taken']);
      expect(taken.error).toContain('there is a folder of that name');
      expect(await readdir(join(folder, 'taken'))).toEqual(['good.dxf']);
    }));

  test.skipIf(process.platform !== 'linux')(
    'a folder the system will not make ends in a sentence, not in a hang',
    () =>
      inFolder(async (folder) => {
        await writeFiles(folder, { 'good.json': tray('good') });
        const ran = await command(folder, ['make', 'good.json', '--out', '/proc/trays/today']);
        expect(ran.exit).toBe(2);
        expect(ran.error).toMatch(/good\.dxf cannot be written: [a-z ]+\.\n$/);
      }),
  );

  test.skipIf(process.getuid?.() === 0)('a folder or file without permission gets one sentence', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'good.json': tray('good'), 'secret.json': tray('secret') });
      await mkdir(join(folder, 'locked'));
      await chmod(join(folder, 'locked'), 0o500);
      await chmod(join(folder, 'secret.json'), 0o000);
      const ran = await command(folder, ['make', 'good.json', '--out', 'locked']);
      expect(ran.error).toContain('cannot be written: permission is refused.');
      expect((await command(folder, ['make', 'secret.json'])).error).toBe(
        'secret.json: The tray file cannot be read: permission is refused.\n',
      );
    }),
  );

  test('under the name of a file there is never part of it', () =>
    inFolder(async (folder) => {
      // A reader that looks while the file is written finds the old content or the new, never a piece.
      await writeFiles(folder, { 'good.json': tray('good') });
      const long = 'y'.repeat(4_000_000);
      const big = { ...nameExporter, parameters: [], write: async () => new TextEncoder().encode(long) };
      await command(folder, ['make', 'good.json'], { exporters: [big] });
      let done = false;
      const writing = (async () => {
        for (let i = 0; i < 5; i++) await command(folder, ['make', 'good.json'], { exporters: [big] });
        done = true;
      })();
      const sizes = new Set<number>();
      while (!done) sizes.add((await stat(join(folder, 'good.dxf'))).size);
      await writing;
      expect([...sizes]).toEqual([long.length]);
      expect((await readdir(folder)).sort()).toEqual(['good.dxf', 'good.json']);
    }));
});

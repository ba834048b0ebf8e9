/** STEP parts at the command line: exit codes, sentences, and no half-written files. Runs the built kernel thread. */
import { mkdir, readdir, readFile, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import type { Bound } from '../../src/step/occt/instance.ts';
import { readStepTray } from '../../src/step/readStepTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { inInches } from '../step/foreignFiles.ts';
import { resized } from '../step/foreignParts.ts';
import { SMALL_PLAN, SMALL_SECTION, solidAbout, solidPart, surfacePart, writtenPart } from '../step/parts.ts';
import { tray } from '../step/trays.ts';
import { closeTo } from '../support/closeTo.ts';
import { some } from '../support/long.ts';
import { inFolder, realCommand } from './fakes.ts';

/** How often the kernel was asked for. */
let asked = 0;

const spec = tray('plan radius larger: tori');
const formed = writeFormedSolid(spec, 'seedling tray', 'AP214');
let dish: Uint8Array;
let surface: Uint8Array;

beforeAll(async () => {
  dish = await solidPart(SMALL_SECTION, SMALL_PLAN, 1);
  surface = await surfacePart(SMALL_SECTION, SMALL_PLAN);
});

const command = (folder: string, argv: readonly string[], stdin: readonly Uint8Array[] = []) =>
  realCommand(folder, argv, {
    stdin,
    load: {
      step: async () => {
        asked++;
        return { readStepTray };
      },
    },
  });

const oneSentence = (error: string): void => expect(error).toMatch(/^[^\n]+\.\n$/);

describe('make', () => {
  test('of a recognised part and of one solved as it is, side by side with a tray file', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'known.step'), formed);
      await writeFile(join(folder, 'Seedling dish.STP'), dish);
      await writeFile(
        join(folder, 'plain.json'),
        JSON.stringify({ ...spec, name: 'plain', forming: { trim: 0 } }),
      );
      const ran = await command(folder, [
        'make',
        'known.step',
        'Seedling dish.STP',
        'plain.json',
        '--material',
        '1050A-O',
        '--trim',
        '3',
        '--out',
        'out',
        '--format',
        'dxf,json',
      ]);
      expect(ran).toMatchObject({ exit: 0, error: '', faults: [] });
      expect((await readdir(join(folder, 'out'))).sort()).toEqual([
        'Seedling-dish.dxf',
        'Seedling-dish.json',
        'known.dxf',
        'known.json',
        'plain.dxf',
        'plain.json',
      ]);
      expect(ran.out).toMatch(/^Seedling dish\n {2}sheet {6}1050A-O, 1\.00 mm/m);
      expect(ran.out).toContain('  note       Solved from the STEP part as it is');
      const report = JSON.parse(await readFile(join(folder, 'out', 'Seedling-dish.json'), 'utf8'));
      expect(report.corners).toHaveLength(4);
      expect(report.scribeLines.length).toBeGreaterThan(3);
      expect(report.gather.zones.length).toBeGreaterThan(0);
      const known = JSON.parse(await readFile(join(folder, 'out', 'known.json'), 'utf8'));
      expect(known.tray).toMatchObject({ plan: spec.plan, section: spec.section, forming: { trim: 3 } });
    }));

  test('a surface needs its thickness, and a solid has one', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'surface.step'), surface);
      await writeFile(join(folder, 'solid.step'), dish);
      const without = await command(folder, ['make', 'surface.step', '--out', 'out']);
      expect(without.exit).toBe(2);
      oneSentence(without.error);
      expect(without.error).toMatch(/^surface\.step: .*--thickness/);
      const with1 = await command(folder, ['check', 'surface.step', '--thickness', '1.5']);
      expect(with1).toMatchObject({ exit: 0, error: '' });
      expect(with1.out).toContain('1.50 mm');
      const solid = await command(folder, ['check', 'solid.step', '--thickness', '1']);
      expect(solid.exit).toBe(2);
      expect(solid.error).toMatch(/its own thickness/);
      const wrong = await command(folder, ['check', 'surface.step', '--thickness', 'thin']);
      expect(wrong).toMatchObject({ exit: 2 });
      expect(wrong.error).toContain('--thickness is "thin"');
      expect((await readdir(folder)).sort()).toEqual(['solid.step', 'surface.step']);
    }));

  test('a format that needs a tray file leaves no other behind', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'part.step'), dish);
      for (const format of some(['card-pdf', 'gauges-dxf', 'former-pdf', 'strip-dxf', 'formed-step'], 1)) {
        const ran = await command(folder, ['make', 'part.step', '--out', '.', '--format', `dxf,${format}`]);
        expect(ran.exit, format).toBeGreaterThan(0);
        oneSentence(ran.error);
        expect(ran.error).toContain(format);
        expect(ran.error).toContain('as it is');
      }
      expect(await readdir(folder)).toEqual(['part.step']);
    }));

  test('what is no sheet, not sound, too large or not there ends with one sentence each, and the rest is made', () =>
    inFolder(async (folder) => {
      const text = new TextDecoder().decode(formed);
      await mkdir(join(folder, 'folder.step'));
      const files: Record<string, string | Uint8Array> = {
        'block.step': await writtenPart((k) => new k.BRepPrimAPI_MakeBox_1(100, 80, 30).Shape()),
        'cut-off.step': text.slice(0, 4000),
        'empty.step': '',
        'garbage.step': 'potting soil',
        'circle.step': text.replace(/#1=[^;]*;/, "#1=ADVANCED_FACE('',(#2),#3,.T.);"),
        'large.step': '',
        'good.step': formed,
      };
      for (const [name, content] of Object.entries(files)) await writeFile(join(folder, name), content);
      // Sparse: 200 MB that take no room on the disk, and must not be read.
      await truncate(join(folder, 'large.step'), 200e6);
      const ran = await command(folder, [
        'make',
        ...Object.keys(files),
        'missing.step',
        'folder.step',
        '--out',
        'out',
      ]);
      expect(ran).toMatchObject({ exit: 2, faults: [] });
      const lines = ran.error.trimEnd().split('\n');
      expect(lines.map((line) => line.split(':')[0]).sort()).toEqual(
        [...Object.keys(files).filter((name) => name !== 'good.step'), 'missing.step', 'folder.step'].sort(),
      );
      for (const line of lines) expect(line).toMatch(/^[^:]+: [A-Z].*\.$/);
      expect(await readdir(join(folder, 'out'))).toEqual(['good.dxf']);
    }));
});

describe('standard input', () => {
  test('is taken for a part by its first words, in whatever pieces they come', () =>
    inFolder(async (folder) => {
      const pieces = [formed.slice(0, 5), formed.slice(5, 9000), formed.slice(9000)];
      const ran = await command(folder, ['make', '-', '--out', '.'], pieces);
      expect(ran).toMatchObject({ exit: 0, error: '' });
      expect(await readdir(folder)).toEqual(['tray.dxf']);
    }));

  test('still takes tray files, and loads no kernel for them', () =>
    inFolder(async (folder) => {
      const before = asked;
      const file = new TextEncoder().encode(JSON.stringify({ ...spec, name: 'plain' }));
      expect(await command(folder, ['check', '-'], [file.slice(0, 3), file.slice(3)])).toMatchObject({
        exit: 0,
      });
      const wrong = await command(folder, ['check', '-'], [new TextEncoder().encode('ISO-9999;')]);
      expect(wrong.exit).toBe(2);
      expect(wrong.error).toMatch(/^standard input: .*JSON/);
      expect(asked).toBe(before);
    }));

  test('a part cut off, and one without end', () =>
    inFolder(async (folder) => {
      const cut = await command(folder, ['make', '-'], [formed.slice(0, 5000)]);
      expect(cut.exit).toBe(2);
      oneSentence(cut.error);
      expect(cut.error).toMatch(/cut off/);
      const endless = Array.from({ length: 40 }, () => new Uint8Array(1e6).fill(32));
      const large = await command(folder, ['make', '-'], [formed.slice(0, 5000), ...endless]);
      expect(large.exit).toBe(2);
      expect(large.error).toMatch(/larger than 30 MB/);
      expect(await readdir(folder)).toEqual([]);
    }));
});

describe('recognise, plan and hand', () => {
  test('recognise prints the tray file, from a file and from standard input', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'seedlings.formed.step'), formed);
      const ran = await command(folder, ['recognise', 'seedlings.formed.step', '--trim', '2']);
      expect(ran).toMatchObject({ exit: 0, error: '' });
      expect(JSON.parse(ran.out)).toMatchObject({
        name: 'seedlings',
        plan: spec.plan,
        forming: { trim: 2 },
      });
      const piped = await command(folder, ['recognise', '-'], [formed]);
      expect(JSON.parse(piped.out)).toMatchObject({
        name: 'tray',
        section: { height: spec.section.height },
      });
      // What was printed is a tray file.
      await writeFile(join(folder, 'again.json'), ran.out);
      expect((await command(folder, ['check', 'again.json'])).exit).toBe(0);
    }));

  test('a part in inches is a tray file in inches, and what is said of it is too', () =>
    inFolder(async (folder) => {
      // Its numbers are those of the file: inches, though the writer takes them for mm.
      const small: TraySpec = {
        ...spec,
        plan: { length: 8, width: 6, cornerRadius: 2 },
        section: { ...spec.section, bottomRadius: 1, height: 1.5 },
        sheet: { ...spec.sheet, thickness: 0.05 },
      };
      const part = (k: Bound): Bound => resized(k, solidAbout(k, SMALL_SECTION, SMALL_PLAN, 1), 1 / 25.4);
      await writeFile(join(folder, 'dish.step'), inInches(writeFormedSolid(small, 'dish', 'AP214')));
      await writeFile(join(folder, 'part.step'), inInches(await writtenPart(part)));
      const said = await command(folder, ['recognise', 'dish.step', '--trim', '2.54']);
      const file = JSON.parse(said.out);
      expect(file).toMatchObject({ units: 'in', forming: { trim: 0.1 } });
      closeTo(file.plan.length, 8, { why: 'digits of the exchange file', absolute: 1e-6 }, 'length');
      closeTo(file.section.height, 1.5, { why: 'digits of the exchange file', absolute: 1e-6 }, 'height');
      closeTo(
        file.sheet.thickness,
        0.05,
        { why: 'digits of the exchange file', absolute: 1e-6 },
        'thickness',
      );
      await writeFile(join(folder, 'again.json'), said.out);
      const checked = await command(folder, ['check', 'dish.step', '--trim', '2.54']);
      expect(checked.out).toMatch(/^ {2}sheet {6}DC04, 0\.050″, /m);
      expect(checked.out).not.toMatch(/\d mm\b/);
      // What was printed is the same tray.
      expect((await command(folder, ['check', 'again.json'])).out).toBe(
        checked.out.replace('dish.step', 'again.json'),
      );
      const freeForm = await command(folder, ['make', 'part.step', '--out', 'out']);
      expect(freeForm).toMatchObject({ exit: 0, faults: [] });
      expect(freeForm.out).toMatch(/^ {2}sheet {6}DC04, 0\.039″, /m);
      expect(freeForm.out).not.toMatch(/\d mm\b/);
    }));

  test('a part that no tray file says is refused by each, with where to go on', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'part.step'), dish);
      await writeFile(join(folder, 'measured.json'), '{}');
      const recognise = await command(folder, ['recognise', 'part.step']);
      expect(recognise).toMatchObject({ exit: 1, out: '' });
      oneSentence(recognise.error);
      expect(recognise.error).toMatch(/make and check/);
      const planned = await command(folder, ['plan', 'part.step']);
      expect(planned).toMatchObject({ exit: 1, out: '' });
      oneSentence(planned.error);
      expect(planned.error).toMatch(/make and check/);
      const hand = await command(folder, ['hand', 'part.step', 'measured.json']);
      expect(hand).toMatchObject({ exit: 1, out: '' });
      oneSentence(hand.error);
      expect(hand.error).toMatch(/make and check/);
      const nothing = await command(folder, ['recognise', '-'], [new TextEncoder().encode('{}')]);
      expect(nothing).toMatchObject({ exit: 2, out: '' });
      expect(nothing.error).toMatch(/ISO-10303-21/);
    }));
});

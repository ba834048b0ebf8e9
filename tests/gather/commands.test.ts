import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { TrialCorner } from '../../src/gather/trial.ts';
import { containsPoint } from '../../src/geometry/measure.ts';
import type { BenchSheet } from '../../src/papers/benchSheet.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { command, inFolder, writeFiles } from '../cli/fakes.ts';
import { developed, fitted, solved } from '../support/solved.ts';
import { searchChangesOf } from './changesOf.ts';

/** A tray file of the potting bench. */
const file = (differences: Record<string, unknown> = {}) => ({
  name: 'cutting-drip-tray',
  plan: { length: 240, width: 180, cornerRadius: 30 },
  section: { bottomRadius: 12, height: 30 },
  sheet: { material: 'DC04', thickness: 1 },
  ...differences,
});

/** Trays, hands and changes that are found once. */
const SHARED = { developTray: developed, gather: { fitHand: fitted, searchChanges: searchChangesOf } };

const run = (files: Record<string, unknown>, argv: readonly string[]) =>
  inFolder(async (folder) => {
    await writeFiles(folder, files);
    return command(folder, argv, SHARED);
  });

describe('gatherpan check', () => {
  it('tells zones, tucks and the verdict with its reasons', async () => {
    const { exit, out } = await run({ 'a.json': file() }, ['check', 'a.json']);
    expect(exit).toBe(0);
    expect(out).toMatch(/^ {2}gather {5}corner A; corner B; corner C; corner D: gathers by up to/m);
    expect(out).toMatch(
      /^ {2}tucks {6}corner A; corner C: \d tucks, \d+(?:, \d+)+ mm from the mark, going anticlockwise; each takes up /m,
    );
    expect(out).toMatch(/^ {2}verdict {4}can be worked with care$/m);
    expect(out).not.toMatch(/^ {2}change/m);
  });

  it('exits 1 on a tray that is not to be made in one piece, and says what to change', async () => {
    // Zinc must not be annealed.
    const hard = file({ sheet: { material: 'DX51D+Z', thickness: 1 } });
    const { exit, out, error } = await run({ 'a.json': hard }, ['check', 'a.json']);
    expect(exit).toBe(1);
    expect(error).toBe('');
    expect(out).toMatch(/^ {2}verdict {4}not in one piece$/m);
    expect(out).toMatch(/^ {2}change .*DC01 instead of DX51D\+Z: can be worked/m);
  });

  it('gives the same as data', async () => {
    const { out } = await run({ 'a.json': file() }, ['check', '--changes', '--json', 'a.json']);
    const [tray] = JSON.parse(out).trays;
    expect(tray.gather.verdict.word).toBe('can be worked with care');
    expect(tray.gather.zones).toHaveLength(4);
    expect(tray.gather.zones[0]).not.toHaveProperty('boundary');
    expect(tray.changes.verdict).toBe('can be worked with care');
  });
});

describe('gatherpan plan', () => {
  it('tells stages, anneals, grain and trim', async () => {
    const { exit, out } = await run({ 'a.json': file() }, ['plan', '--stages', '2', 'a.json']);
    expect(exit).toBe(0);
    expect(out).toMatch(/^ {2}stage {6}1: turn the wall up to \d\d°; corners in turn: A, C, B, D$/m);
    expect(out).toMatch(/^ {2}stage {6}2: turn the wall up to 90°; corners in turn: A, C, B, D$/m);
    for (const title of ['anneal', 'caution', 'grain', 'trim'])
      expect(out).toMatch(new RegExp(`^ {2}${title} `, 'm'));
  });

  it('tells the work in its order, one stage a paragraph with its sides, corners and anneal', async () => {
    const { out } = await run({ 'a.json': file() }, ['plan', '--stages', '3', 'a.json']);
    const [before, ...stages] = out.split('\n\n');
    expect(before).toMatch(/^ {2}grain /m);
    const told = stages.filter((paragraph) => /^ {2}stage /.test(paragraph));
    expect(told).toHaveLength(3);
    told.forEach((paragraph, i) => {
      const [, angle] = new RegExp(`^ {2}stage {6}${i + 1}: turn the wall up to (\\d+)°`).exec(paragraph)!;
      const [, held, left] =
        /sides: bend over a radius of [\d.]+ mm to (\d+)°; let go they stand at (\d+)°/.exec(paragraph)!;
      expect(left).toBe(angle);
      expect(Number(held)).toBeGreaterThan(Number(left));
      expect(paragraph).toMatch(
        /corner A.*rim from mark to mark [\d.]+ mm to [\d.]+ mm, [\d.]+ mm to lose, (?:[\d.]+ mm still to lose|nothing still to come)/,
      );
      // An anneal stands with the stage that it names.
      for (const [, number] of paragraph.matchAll(/stage (\d), with the wall/g))
        expect(number).toBe(String(i + 1));
    });
  });

  it('tells all that the bench view shows, in its order, when it is asked to', async () => {
    const { exit, out } = await run({ 'a.json': file() }, ['plan', '--bench', '--stages', '2', 'a.json']);
    expect(exit).toBe(0);
    const titles = [
      'Before: tools',
      'Before: marking and cutting',
      'Stage 1 of 2: wall to',
      'Stage 2 of 2: wall to 90°',
    ];
    const after = ['After: trim', 'After: straighten', 'After: splits and welds'];
    const places = [...titles, ...after].map((title) => out.indexOf(`\n  ${title}`));
    expect(Math.min(...places)).toBeGreaterThan(0);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    expect(out).toMatch(/^ {6}Tape now: \d+\.\d mm$/m);
    expect(out).toMatch(/^ {6}\[ \] Set \d+ tucks, \d/m);
    const { trays } = JSON.parse(
      (await run({ 'a.json': file() }, ['plan', '--bench', '--stages', '2', '--json', 'a.json'])).out,
    );
    expect(trays[0].bench.map(({ id }: { id: string }) => id)).toEqual([
      'tools',
      'marking',
      'stage-1',
      'stage-2',
      'trim',
      'straighten',
      'weld',
    ]);
    // What a figure is in words it is in JSON.
    for (const { groups } of trays[0].bench as BenchSheet[])
      for (const { figures } of groups)
        for (const { title, value } of figures)
          expect(out).toContain(`${title}: ${value.replaceAll('\u00a0', ' ')}`);
  });

  it('refuses a number of stages that is none', async () => {
    const { exit, error } = await run({ 'a.json': file() }, ['plan', '--stages', 'many', 'a.json']);
    expect(exit).toBe(2);
    expect(error).toBe('--stages is "many"; give a whole number from 1 to 6.\n');
  });
});

describe('gatherpan hand', () => {
  const tray = file({ forming: { trim: 3 } });
  const corner = new TrialCorner(readTray(tray), 0);

  it('finds the hand that worked the corner, and writes nothing', async () => {
    const middle = corner.worked(0.4, 0).rimHeight('middle');
    const files = { 'a.json': tray, 'm.json': { rimHeight: { middle } } };
    const { exit, out } = await run(files, ['hand', 'a.json', 'm.json']);
    expect(exit).toBe(0);
    expect(out).toMatch(/The hand is 0\.40, between \d+ and \d+ % of the gather/);
    expect(out).toMatch(/^ {2}blank +corner A, B, C, D: the cut line moves out by \d+\.\d mm$/m);
    expect(out).toMatch(/"forming": \{ "hand": 0\.(400|399)/);
    const json = await run(files, ['hand', '--json', 'a.json', 'm.json']);
    expect(JSON.parse(json.out).hand.value).toBeCloseTo(0.4, 2);
  });

  it('writes the corrected tray file and blank where it is told to, the same move that it prints', async () => {
    await inFolder(async (folder) => {
      const middle = corner.worked(0.4, 0).rimHeight('middle');
      await writeFiles(folder, { 'a.json': tray, 'm.json': { rimHeight: { middle } } });
      const { exit, out } = await command(
        folder,
        ['hand', '--out', 'new', '--format', 'json', 'a.json', 'm.json'],
        SHARED,
      );
      expect(exit).toBe(0);
      expect((await readdir(join(folder, 'new'))).sort()).toEqual([
        'a-corrected.tray.json',
        'cutting-drip-tray-corrected.json',
      ]);
      const text = await readFile(join(folder, 'new/a-corrected.tray.json'), 'utf8');
      const corrected = JSON.parse(text);
      expect(corrected).toEqual({
        ...tray,
        name: 'cutting-drip-tray-corrected',
        forming: { trim: 3, hand: expect.closeTo(0.4, 2) },
      });
      // Measured along the middle line of a corner, from blank to blank.
      const reach = (file: unknown): number => {
        const { outline } = solved(readTray(file));
        const [cx, cy] = [120 - 30, 90 - 30];
        const at = (far: number) => ({ x: cx + far * Math.SQRT1_2, y: cy + far * Math.SQRT1_2 });
        let [low, high] = [0, 200];
        for (let k = 0; k < 60; k++) {
          const far = (low + high) / 2;
          if (containsPoint(outline, at(far))) low = far;
          else high = far;
        }
        return low;
      };
      const move = reach(corrected) - reach(tray);
      expect(out).toContain(`corner A, B, C, D: the cut line moves out by ${move.toFixed(1)} mm`);
      expect(out).toContain('wrote');
    });
  });

  it('keeps trials under names, lists them, and cuts another tray for one of them', async () => {
    await inFolder(async (folder) => {
      const middle = corner.worked(0.4, 0).rimHeight('middle');
      const less = corner.worked(0.3, 0).rimHeight('middle');
      const other = file({
        plan: { length: 200, width: 160, cornerRadius: 35 },
        sheet: { material: 'DC01', thickness: 1 },
      });
      await writeFiles(folder, {
        'a.json': tray,
        'b.json': other,
        'm.json': { rimHeight: { middle } },
        'n.json': { rimHeight: { middle: less } },
      });
      const hand = (...argv: string[]) => command(folder, ['hand', ...argv], SHARED);
      const keptIn = async (): Promise<{ name: string; hand: { value: number } }[]> =>
        JSON.parse(await readFile(join(folder, 'kept/trials.json'), 'utf8')).trials;

      const first = await hand(
        'a.json',
        'm.json',
        '--keep',
        'kept/trials.json',
        '--name',
        'June',
        '--person',
        'Ada',
      );
      expect([first.exit, first.error]).toEqual([0, '']);
      expect(first.out).toMatch(/^ {2}kept +June in kept\/trials\.json$/m);
      await hand('a.json', 'n.json', '--keep', 'kept/trials.json', '--name', 'July, new hammer');
      const [june, july] = await keptIn();
      expect(june).toMatchObject({
        name: 'June',
        person: 'Ada',
        tray: 'cutting-drip-tray',
        sheet: { material: 'DC04', thickness: 1 },
        measurements: { rimHeight: { middle } },
        hand: { value: expect.closeTo(0.4, 2) },
      });
      expect(july!.hand.value).toBeCloseTo(0.3, 2);

      const list = await hand('a.json', 'kept/trials.json');
      expect(list.out).toMatch(
        /^ {2}trial +June \(Ada\), DC04, 1\.00 mm: hand 0\.40, between \d+ and \d+ %$/m,
      );
      expect(list.out).toMatch(/^ {2}trial +July, new hammer \(nobody named\)/m);
      expect(JSON.parse((await hand('a.json', 'kept/trials.json', '--json')).out).trials).toEqual(
        await keptIn(),
      );

      const cut = await hand(
        'b.json',
        'kept/trials.json',
        '--name',
        'June',
        '--out',
        'new',
        '--format',
        'json',
      );
      expect([cut.exit, cut.error]).toEqual([0, '']);
      expect(cut.out).toContain('June was worked of DC04, 1.00 mm, and this tray is of another sheet');
      const corrected = JSON.parse(await readFile(join(folder, 'new/b-corrected.tray.json'), 'utf8'));
      expect(corrected.forming.hand).toBe(june!.hand.value);
      const same = await hand('a.json', 'kept/trials.json', '--name', 'June');
      expect(same.out).not.toContain('another sheet');
      // The hand of the measurements and that of the kept trial move the line alike.
      const moved = /the cut line moves out by \d+\.\d mm/;
      expect(moved.exec(same.out)![0]).toBe(moved.exec(first.out)![0]);

      // The same name again takes the place of the first.
      await hand('a.json', 'n.json', '--keep', 'kept/trials.json', '--name', 'June');
      expect((await keptIn()).map(({ name }) => name)).toEqual(['July, new hammer', 'June']);

      for (const [argv, sentence] of [
        [['a.json', 'm.json', '--keep', 'x.json'], /^--keep needs a name/],
        [['a.json', 'm.json', '--name', 'June'], /^--name goes with --keep/],
        [
          ['a.json', 'kept/trials.json', '--keep', 'x.json', '--name', 'June'],
          /^These trials are kept already/,
        ],
        [['a.json', 'kept/trials.json', '--name', 'May'], /"May"; there are: July, new hammer, June\./],
        // What is no file of trials is left as it is.
        [
          ['a.json', 'm.json', '--keep', 'n.json', '--name', 'June'],
          /^trials is missing|^The file of trials/,
        ],
      ] as const) {
        const { exit, error } = await hand(...argv);
        expect(exit).toBe(2);
        expect(error).toMatch(sentence);
      }
      expect(JSON.parse(await readFile(join(folder, 'n.json'), 'utf8'))).toEqual({
        rimHeight: { middle: less },
      });
    });
  });

  it('says plainly when that cannot be', async () => {
    const { exit, error } = await run({ 'a.json': tray, 'm.json': { rimHeight: { middle: 60 } } }, [
      'hand',
      'a.json',
      'm.json',
    ]);
    expect(exit).toBe(2);
    expect(error).toMatch(/^rimHeight\.middle is 60 mm, which cannot have come from this tray and blank/);
  });

  it('names the file that is not readable', async () => {
    const { exit, error } = await run({ 'a.json': tray, 'm.json': '{' }, ['hand', 'a.json', 'm.json']);
    expect(exit).toBe(2);
    expect(error).toMatch(/^The measurements file is not JSON/);
    expect((await run({ 'a.json': tray }, ['hand', '-', '-'])).exit).toBe(2);
  });

  it('tells for an empty file what a measurements file holds', async () => {
    const { exit, error } = await run({ 'a.json': tray, 'm.json': '\n' }, ['hand', 'a.json', 'm.json']);
    expect(exit).toBe(2);
    expect(error).toBe(
      'The measurements file is empty; give a JSON object with rimHeight, rimThickness or marks.\n',
    );
  });
});

describe('a tray without a flat', () => {
  // A pot: its rim would have to shrink to less than half.
  const pot = file({
    plan: { length: 80, width: 80, cornerRadius: 40 },
    section: { bottomRadius: 10, height: 90 },
  });
  const files = { 'a.json': pot, 'm.json': { rimHeight: { middle: 90 } } };
  /** Each command with what it is given beside the tray. */
  const commands = [['check'], ['make', '--out', 'out'], ['plan'], ['hand', 'm.json']] as const;
  const argvOf = ([name, ...rest]: (typeof commands)[number]): string[] =>
    name === 'hand' ? [name, 'a.json', ...rest] : [name, ...rest, 'a.json'];

  let checked: string | undefined;

  it.each(commands)('has the same verdict and the same exit code from %s, and no file', async (...given) => {
    await inFolder(async (folder) => {
      await writeFiles(folder, files);
      checked ??= (await command(folder, ['check', 'a.json'], SHARED)).out;
      const argv = argvOf(given as unknown as (typeof commands)[number]);
      const { exit, out, error, faults } = await command(folder, argv, SHARED);
      expect([exit, error, faults]).toEqual([1, '', []]);
      expect(out).toMatch(/^cutting-drip-tray\n {2}verdict {4}not in one piece\n/);
      expect(out).toMatch(/^ {2}change .*A height of \d+(\.\d)? mm instead of 90 mm/m);
      expect(out).toMatch(/^ {2}note .*$/m);
      expect(out).toBe(checked);
      expect(await readdir(folder)).not.toContain('out');
      const [tray] = JSON.parse((await command(folder, [...argv, '--json'], SHARED)).out).trays;
      expect(tray).toMatchObject({
        ok: true,
        figures: null,
        gather: { verdict: { word: 'not in one piece' } },
      });
    });
  });
});

describe('a tray with a flat that is not to be worked in one piece', () => {
  // Zinc must not be annealed.
  const zinc = file({
    plan: { length: 250, width: 200, cornerRadius: 45 },
    section: { bottomRadius: 15, height: 40 },
    sheet: { material: 'DX51D+Z', thickness: 1.2 },
  });

  it('is made all the same, says so and exits with 1', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': zinc });
      const { exit, out, error } = await command(folder, ['make', 'a.json', '--out', 'out'], SHARED);
      expect([exit, error]).toEqual([1, '']);
      expect(out).toMatch(/^ {2}verdict {4}not in one piece$/m);
      expect(out).toMatch(/^ {2}wrote .*cutting-drip-tray\.dxf$/m);
      expect(out).toMatch(/^ {2}caution /m);
      expect(await readdir(join(folder, 'out'))).toEqual(['cutting-drip-tray.dxf']);
    }));
});

describe('the tray file', () => {
  it('takes hand, spread, threshold, stages and a trim of "auto"', () => {
    const forming = { trim: 'auto', hand: 0.4, spread: 3, zoneThreshold: 5, stages: [30, 90] };
    expect(readTray(file({ forming })).forming).toMatchObject({
      autoTrim: true,
      hand: 0.4,
      spread: 3,
      zoneThreshold: 5,
      stages: [30, 90],
    });
  });

  it.each([
    [{ hand: 1.2 }, 'forming.hand is 1.2; give a number from 0 to 1.'],
    [{ spread: -1 }, 'forming.spread is -1; give a number from 0 to 50 %.'],
    [{ trim: 'lots' }, 'forming.trim is "lots"'],
    [{ stages: [] }, 'forming.stages is a list of 0; give a list of at least one angle.'],
    [{ zoneThreshold: 0 }, 'forming.zoneThreshold is 0; give a number from 0.5 to 50 %.'],
  ])('refuses %j in a sentence', (forming, sentence) => {
    expect(() => readTray(file({ forming }))).toThrow(sentence);
  });
});

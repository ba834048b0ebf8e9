import { describe, expect, it } from 'vitest';
import { TrialCorner } from '../../src/gather/trial.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { command, inFolder, writeFiles } from '../cli/fakes.ts';

/** A tray file of the potting bench. */
const file = (differences: Record<string, unknown> = {}) => ({
  name: 'cutting-drip-tray',
  plan: { length: 240, width: 180, cornerRadius: 30 },
  section: { bottomRadius: 12, height: 30 },
  sheet: { material: 'DC04', thickness: 1 },
  ...differences,
});

const run = (files: Record<string, unknown>, argv: readonly string[]) =>
  inFolder(async (folder) => {
    await writeFiles(folder, files);
    return command(folder, argv, { developTray });
  });

describe('gatherpan check', () => {
  it('tells zones, tucks and the verdict with its reasons', async () => {
    const { exit, out } = await run({ 'a.json': file() }, ['check', 'a.json']);
    expect(exit).toBe(0);
    expect(out).toMatch(/^ {2}gather {5}corner 0; corner 1; corner 2; corner 3: gathers by up to/m);
    expect(out).toMatch(/^ {2}tucks .*4 zones: \d+ tucks/m);
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
    expect(out).toMatch(/^ {2}stage {6}1: turn the wall up to 45°$/m);
    expect(out).toMatch(/^ {2}stage {6}2: turn the wall up to 90°$/m);
    for (const title of ['anneal', 'caution', 'grain', 'trim'])
      expect(out).toMatch(new RegExp(`^ {2}${title} `, 'm'));
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
    expect(out).toContain('The hand is 0.40 ± ');
    expect(out).toMatch(/"forming": \{ "hand": 0\.(400|399)/);
    const json = await run(files, ['hand', '--json', 'a.json', 'm.json']);
    expect(JSON.parse(json.out).hand.value).toBeCloseTo(0.4, 2);
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

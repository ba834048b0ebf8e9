/** What the commands say and write of a tray is in the unit of its file. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { builtInExporters } from '../../src/exporters/builtIn.ts';
import { searchChangesOf } from '../gather/changesOf.ts';
import { developed } from '../support/solved.ts';
import { command, inFolder, writeFiles } from './fakes.ts';

const SHARED = { developTray: developed, gather: { searchChanges: searchChangesOf } };

/** With a lip, so that the wall loses more than the rim does in the end. */
const IN_INCHES = {
  units: 'in',
  name: 'cutting tray',
  plan: { length: 10, width: 7, cornerRadius: 1.5 },
  section: {
    bottomRadius: 0.5,
    height: 1,
    rim: { kind: 'lip', direction: 'out', bendRadius: 0.25, width: 0.5 },
  },
  sheet: { material: 'DC04', thickness: 0.04 },
  forming: { trim: 0.125 },
};
const MILLIMETRES = /\d\s(mm|cm|m²|kg|m)\b/;

const out = (argv: readonly string[], tray: unknown = IN_INCHES) =>
  inFolder(async (folder) => {
    await writeFiles(folder, { 'tray.json': tray });
    const ran = await command(folder, [argv[0]!, 'tray.json', ...argv.slice(1)], SHARED);
    expect(ran.exit).toBeLessThan(2);
    return ran.out;
  });

describe('a tray in inches', () => {
  test.each([['check', '--changes'], ['plan'], ['plan', '--bench']])('%s %s', async (...argv) => {
    const said = await out(argv.filter((each) => each !== undefined));
    expect(said).toMatch(/\d″/);
    expect(said).not.toMatch(MILLIMETRES);
  });

  test('is told by the inch: sheet, blank, area, mass and cut', async () => {
    const said = await out(['check']);
    expect(said).toMatch(/^ {2}sheet {6}DC04, 0\.040″, /m);
    expect(said).toMatch(/^ {2}blank {6}\d+\.\d\d″ x \d+\.\d\d″, \d\.\d{3} sq ft, \d\.\d\d lb$/m);
    expect(said).toMatch(/^ {2}cut {8}\d+\.\d″ in /m);
    // One pound is 0.45359237 kg, an inch 25.4 mm, a foot 12 inches (international yard and pound agreement, 1959).
    const metric = await out(['check'], { ...IN_INCHES, shownIn: 'mm' });
    const figures = (text: string, of: RegExp) => of.exec(text)!.slice(1).map(Number);
    const [length, area, mass] = figures(said, /blank +([\d.]+)″ x .*, ([\d.]+) sq ft, ([\d.]+) lb/);
    const [mm, squareMetres, kilograms] = figures(
      metric,
      /blank +([\d.]+) x .* mm, ([\d.]+) m², ([\d.]+) kg/,
    );
    expect(length! * 25.4).toBeCloseTo(mm!, -0.3);
    expect(area! * 0.3048 ** 2).toBeCloseTo(squareMetres!, 3);
    expect(mass! * 0.45359237).toBeCloseTo(kilograms!, 2);
  });

  test('what a lip gives back is told as such', async () => {
    const said = await out(['plan']);
    expect(said).toMatch(/″ to lose, [\d.]+″ to gain in a later stage, /);
    expect(said).toMatch(/″ to gain, nothing still to come, /);
    expect(said).not.toMatch(/″ to (lose|gain), -/);
    const bench = await out(['plan', '--bench']);
    expect(bench).toMatch(/To gain later: [\d.]+″/);
    expect(bench).not.toMatch(/: −\d/);
  });

  test('pictures are in inches too, unless another unit is asked for', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'tray.json': IN_INCHES });
      const svg = async (...set: string[]) => {
        const replace = { ...SHARED, exporters: builtInExporters };
        const { exit } = await command(folder, ['make', 'tray.json', '--format', 'svg', ...set], replace);
        expect(exit).toBeLessThan(2);
        return readFile(join(folder, 'cutting-tray.svg'), 'utf8');
      };
      const texts = (picture: string) =>
        [...picture.matchAll(/<text[^>]*>([^<]*)</g)].map(([, text]) => text);
      expect(texts(await svg()).join(' ')).toContain('″');
      expect(texts(await svg()).join(' ')).not.toMatch(MILLIMETRES);
      expect(texts(await svg('--set', 'svg.unit=mm')).join(' ')).not.toContain('″');
    }));
});

test('a tray in millimetres that is to be shown in inches is printed as one in inches', async () => {
  const lengths = (of: object): object =>
    Object.fromEntries(
      Object.entries(of).map(([key, value]) => [
        key,
        typeof value === 'number'
          ? Number((value * 25.4).toFixed(9))
          : typeof value === 'object'
            ? lengths(value)
            : value,
      ]),
    );
  const { units: _, ...rest } = IN_INCHES;
  const inMillimetres = { ...lengths(rest), shownIn: 'in' };
  expect(await out(['plan'], inMillimetres)).toBe(await out(['plan']));
});

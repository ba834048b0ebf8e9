/** Whatever comes in at the door: a tray, or an error of ours with sentences; nothing else. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { parseTray, readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { runs } from '../support/long.ts';
import { changed, FIELDS, goodFile } from './trayFiles.ts';

function readsOrRefuses(value: unknown): TraySpec | GatherpanError {
  try {
    return readTray(value);
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    expect(error.faults.length).toBeGreaterThan(0);
    for (const { message } of error.faults) {
      expect(message).toMatch(/\.$/);
      expect(message).not.toContain('\n');
      expect(message).not.toContain('undefined');
      expect(message.length).toBeLessThan(600);
    }
    return error;
  }
}

/** Every number of a tray. */
function numbersOf(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersOf) : [];
}

const paths = [...FIELDS, 'plan.dxf', 'extra', '__proto__'];

describe('any value at all', () => {
  test('is read or refused in sentences', () => {
    fc.assert(
      fc.property(
        fc.anything({
          withBigInt: true,
          withDate: true,
          withMap: true,
          withNullPrototype: true,
          withSparseArray: true,
          withTypedArray: true,
        }),
        (value) => {
          expect(readsOrRefuses(value)).toBeInstanceOf(GatherpanError);
        },
      ),
      { seed: 1, numRuns: runs(2000) },
    );
  });

  test('in any field of a sound file is read or refused in sentences', () => {
    const value = fc.oneof(
      fc.jsonValue(),
      fc.double(),
      fc.constantFrom(-0, Number.NaN, Number.POSITIVE_INFINITY, 1e308, 5e-324),
    );
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...paths), value, { maxKeys: 3 }), (changes) => {
        let file: unknown;
        try {
          file = changed(changes);
        } catch {
          return; // a field inside something that is no object
        }
        const read = readsOrRefuses(file);
        if (!(read instanceof GatherpanError)) expect(numbersOf(read).every(Number.isFinite)).toBe(true);
      }),
      { seed: 2, numRuns: runs(3000) },
    );
  });

  test('as text is parsed or refused in one sentence', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), fc.json()), (text) => {
        try {
          readsOrRefuses(parseTray(text));
        } catch (error) {
          expect(error).toBeInstanceOf(GatherpanError);
          expect((error as GatherpanError).faults).toHaveLength(1);
        }
      }),
      { seed: 3, numRuns: runs(2000) },
    );
  });

  test('keys that mean something to the language do no harm', () => {
    const value = parseTray('{"__proto__": {"name": "x"}, "constructor": 1, "name": "x"}');
    expect(readsOrRefuses(value)).toBeInstanceOf(GatherpanError);
    expect(({} as { name?: unknown }).name).toBeUndefined();
  });
});

/** Sound tray files, made so that every rule holds. */
const soundFile = fc
  .record({
    units: fc.constantFrom('mm', 'in'),
    measured: fc.constantFrom('outside', 'inside'),
    draft: fc.double({ min: 0, max: 30, noNaN: true }),
    r: fc.double({ min: 1, max: 100, noNaN: true }),
    thin: fc.double({ min: 0, max: 1, noNaN: true }),
    planFactors: fc.array(fc.double({ min: 1, max: 5, noNaN: true }), { minLength: 4, maxLength: 4 }),
    straight: fc.tuple(
      fc.double({ min: 0, max: 1000, noNaN: true }),
      fc.double({ min: 0, max: 1000, noNaN: true }),
    ),
    wall: fc.double({ min: 1, max: 3, noNaN: true }),
    grain: fc.double({ min: -360, max: 360, noNaN: true }),
    trim: fc.option(fc.double({ min: 0, max: 50, noNaN: true }), { nil: undefined }),
  })
  .map(({ units, measured, draft, r, thin, planFactors, straight, wall, grain, trim }) => {
    const scale = units === 'mm' ? 1 : 1 / 25.4;
    const radii = planFactors.map((factor) => r * factor);
    const most = Math.max(...radii);
    const thickest = measured === 'outside' ? r / 2 : r;
    return {
      name: 'any',
      units,
      measured,
      plan: {
        length: Math.max(10, 2 * most + straight[0]) * scale * (1 + 1e-12),
        width: Math.max(10, 2 * most + straight[1]) * scale * (1 + 1e-12),
        cornerRadius: radii.map((radius) => radius * scale),
      },
      section: { bottomRadius: r * scale, height: r * wall * scale * (1 + 1e-12), draft },
      sheet: {
        material: 'DC04',
        thickness:
          (0.2 + thin * (Math.min(10, thickest) - 0.2)) * scale * (1 + (thin < 0.5 ? 1e-12 : -1e-12)),
        grain,
      },
      ...(trim === undefined ? {} : { forming: { trim: trim * scale } }),
    };
  });

describe('any sound tray', () => {
  test('is read, with every length as given but in mm', () => {
    fc.assert(
      fc.property(soundFile, (file) => {
        const spec = readTray(file);
        const scale = file.units === 'mm' ? 1 : 25.4;
        const plan = spec.plan as { length: number; cornerRadius: readonly number[] };
        // Inches become mm of twelve digits, so that 12 in are 304.8 mm.
        const expectRead = (read: number, given: number): void =>
          expect(Math.abs(read - given * scale)).toBeLessThan(Math.max(1e-9, 6e-12 * read));
        expectRead(plan.length, file.plan.length);
        expectRead(plan.cornerRadius[3]!, file.plan.cornerRadius[3]!);
        expectRead(spec.section.height, file.section.height);
        expect(spec.section.draft).toBe(file.section.draft);
        expect(spec.sheet.grain).toBe(file.sheet.grain);
      }),
      { seed: 4, numRuns: runs(1000) },
    );
  });

  test('once read, is a tray file that reads to itself', () => {
    fc.assert(
      fc.property(soundFile, (file) => {
        const spec = readTray(file);
        expect(readTray(spec)).toEqual(spec);
      }),
      { seed: 5, numRuns: runs(500) },
    );
    expect(readTray(readTray(goodFile()))).toEqual(readTray(goodFile()));
  });

  test('is refused when one of its numbers is made a text or not a number', () => {
    const numbers = [
      'plan.length',
      'plan.width',
      'plan.cornerRadius.2',
      'section.bottomRadius',
      'section.height',
      'section.draft',
      'sheet.thickness',
      'sheet.grain',
    ];
    fc.assert(
      fc.property(
        soundFile,
        fc.constantFrom(...numbers),
        fc.constantFrom('30', Number.NaN, null, -1e6, 1e308, true, {}),
        (file, path, value) => {
          const refused = readsOrRefuses(changed({ [path]: value }, file));
          expect(refused).toBeInstanceOf(GatherpanError);
          expect((refused as GatherpanError).path.startsWith(path)).toBe(true);
        },
      ),
      { seed: 6, numRuns: runs(500) },
    );
  });
});

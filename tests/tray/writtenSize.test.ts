/** Sizes, gauges and sheets as people write them. */
import { describe, expect, test } from 'vitest';
import * as z from 'zod';
import { sheetCalled } from '../../src/material/alsoCalled.ts';
import { findSheet, listSheets } from '../../src/material/sheets.ts';
import { gaugeThickness } from '../../src/tray/gauge.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { trayFileSchema } from '../../src/tray/schema.ts';
import { gaugeFrom, lengthFrom, lengthsFrom, numberFrom } from '../../src/tray/writtenSize.ts';
import { inUnits, isLengthPath, readWritten } from '../../src/tray/writtenTray.ts';
import { english } from '../../src/words/english.ts';

const { everyday } = english.material;
const names = listSheets().map(({ name }) => name);

describe('a length', () => {
  test.each([
    ['12"', 304.8],
    ['12 in', 304.8],
    ['12in.', 304.8],
    ['12 inches', 304.8],
    ['12″', 304.8],
    ["12''", 304.8],
    ['1 1/4"', 31.75],
    ['1-1/4 in', 31.75],
    ['1¼"', 31.75],
    ['3/8 in', 9.525],
    ["1'", 304.8],
    ['2 ft', 609.6],
    ['30 cm', 300],
    ['0.3m', 300],
    ['25,4', 25.4],
    ['25.4', 25.4],
    ['.5', 0.5],
    ['1 1/4', 1.25],
    [' 420 MM ', 420],
    ['-3', -3],
  ])('%s is %d mm', (text, mm) => {
    expect(lengthFrom(text, 'mm')).toBe(mm);
  });

  test.each([
    ['12', 12],
    ['1 1/4', 1.25],
    ['1 1/4"', 1.25],
    ['304.8 mm', 12],
    ['25,4 mm', 1],
    ['1 ft', 12],
  ])('%s is %d in where inches are meant', (text, inches) => {
    expect(lengthFrom(text, 'in')).toBe(inches);
  });

  test.each(['', 'abc', '12 parsecs', '1,2,3', '1/0', '12 "x', '1 250', '0x10', '1e3', 'Infinity', '4 2 in'])(
    '%j is none',
    (text) => {
      expect(lengthFrom(text, 'mm')).toBeNull();
    },
  );

  test('a text without end is not waited for', () => {
    expect(lengthFrom(`${'1'.repeat(1e6)}`, 'mm')).toBeNull();
    expect(lengthsFrom('1 '.repeat(1e6), 'mm')).toBeNull();
  });
});

describe('several', () => {
  test.each([
    ['40,50,60,70', [40, 50, 60, 70]],
    ['40, 50, 60, 70', [40, 50, 60, 70]],
    ['70; 62,5; 55 50', [70, 62.5, 55, 50]],
    ['40 | 50 | 60 | 70', [40, 50, 60, 70]],
    ['40\n50\n60\n70', [40, 50, 60, 70]],
    ['1 1/2"; 2"; 1 1/2"; 2"', [38.1, 50.8, 38.1, 50.8]],
    ['40 mm, 50 mm, 60 mm, 70 mm', [40, 50, 60, 70]],
    ['25,4', [25.4]],
    ['60', [60]],
  ])('%j', (text, lengths) => {
    expect(lengthsFrom(text, 'mm')).toEqual(lengths);
  });

  test.each(['40, x, 60', '40 50 sixty', ''])('%j are none', (text) => {
    expect(lengthsFrom(text, 'mm')).toBeNull();
  });
});

test('angles have their sign or none', () => {
  expect(['5', '5°', '5 deg', '2,5°'].map(numberFrom)).toEqual([5, 5, 5, 2.5]);
  expect(numberFrom('steep')).toBeNull();
});

test('gauges', () => {
  for (const text of ['18 ga', '18ga.', '18 gauge', '#18', 'ga 18', '18g', '18 GA'])
    expect(gaugeFrom(text), text).toEqual({ gauge: 18 });
  expect(gaugeFrom('18 swg')).toEqual({ gauge: 18, system: 'SWG' });
  for (const text of ['18', '1.8 ga', '18 in', 'ga']) expect(gaugeFrom(text), text).toBeNull();
});

const sheets = listSheets();
const tray = (material: string, thickness: string) => ({
  name: 'x',
  plan: { length: '12 in', width: '8"', cornerRadius: '2 in' },
  section: { bottomRadius: '1"', height: '1 1/4"' },
  sheet: { material, thickness },
});

describe('a tray as it is written', () => {
  // The number of inches: 18 in the tables of each system, see `gauge.ts`.
  test.each([
    ['mild steel', 'DC01', 'Manufacturers Standard', true],
    ['1008', 'DC01', 'Manufacturers Standard', true],
    ['galvanized', 'DX51D+Z', 'Galvanized Sheet', true],
    ['304', '1.4301', 'US Standard', false],
    ['5052', '5052-O', 'Brown and Sharpe', false],
    ['half-hard copper', 'Cu-ETP-R220', 'Brown and Sharpe', true],
    ['brass', 'CuZn37-R300', 'Brown and Sharpe', true],
  ])('%s is %s, its gauges are %s', (said, name, system, near) => {
    const read = readWritten(tray(said, '18 ga'), sheets, everyday);
    expect(read.near).toBe(near ? name : null);
    expect(read.tray.sheet).toEqual({ material: name, thickness: { gauge: 18, system } });
    const spec = readTray(read.tray);
    expect(spec.plan).toEqual({ length: 304.8, width: 203.2, cornerRadius: 50.8 });
    expect(spec.section.height).toBe(31.75);
    expect(spec.sheet.thickness).toBe(gaugeThickness(18, system));
  });

  test('what cannot be read is refused with what would be accepted', () => {
    const { tray: read } = readWritten(tray('unobtainium', 'thin'), sheets, everyday);
    expect(() => readTray(read)).toThrow('sheet.thickness is "thin"; give a number in mm');
    expect(() => findSheet('unobtainium')).toThrow('not in the table of sheets; the nearest names are');
  });

  test('goes from mm to inches and back', () => {
    const file = {
      name: 'x',
      plan: { vertices: [{ x: -254, y: 25.4, radius: 50.8, bulge: 0.2 }] },
      section: { bottomRadius: 22, height: 34, heights: { 'A–B': 50.8 }, draft: 5 },
      holes: [{ shape: { kind: 'round', diameter: 25.4 }, place: { on: 'base', x: 0, y: 12.7 } }],
      sheet: { material: 'DC04', thickness: 1.2, grain: 90 },
      forming: { trim: 'auto', hand: 0.5, stages: [30, 60, 90] },
    };
    const inches = inUnits(file, 'in');
    expect(inches).toMatchObject({
      units: 'in',
      plan: { vertices: [{ x: -10, y: 1, radius: 2, bulge: 0.2 }] },
      section: { heights: { 'A–B': 2 }, draft: 5 },
      holes: [{ shape: { diameter: 1 }, place: { x: 0, y: 0.5 } }],
      sheet: { grain: 90 },
      forming: { trim: 'auto', hand: 0.5, stages: [30, 60, 90] },
    });
    expect(inUnits(inches, 'mm')).toEqual(file);
  });
});

describe('sheets', () => {
  test('every other name leads to a sheet of the table, and to one only', () => {
    for (const [name, others] of Object.entries(everyday)) {
      expect(names).toContain(name);
      for (const other of others.split(', '))
        expect(sheetCalled(other, names, everyday)?.name, other).toBe(name);
    }
  });

  test('another grade is not taken without a word', () => {
    expect(() => findSheet('mild steel', 'sheet.material')).toThrow(
      "sheet.material is 'mild steel', which is not in the table of sheets; the nearest is DC01 (Cold-rolled steel DC01): give that name, or the material in full.",
    );
    expect(findSheet('304').name).toBe('1.4301');
    expect(findSheet('UNS A95052').name).toBe('5052-O');
  });
});

/** Numbers of which the schema says that they are in mm. */
function lengthsOf(node: unknown, path: string, found: Set<string>): void {
  const { properties, items, anyOf, additionalProperties, description, type, prefixItems } = node as Record<
    string,
    never
  > & {
    readonly properties?: Record<string, unknown>;
    readonly anyOf?: unknown[];
    readonly prefixItems?: unknown[];
    readonly description?: string;
  };
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  if (type === 'number' && /Unit: mm\./.test(description ?? '')) found.add(path);
  for (const [key, child] of Object.entries(properties ?? {})) lengthsOf(child, at(key), found);
  for (const each of [...(anyOf ?? []), ...((node as { oneOf?: unknown[] }).oneOf ?? [])])
    lengthsOf(each, path, found);
  if (typeof items === 'object') lengthsOf(items, at('0'), found);
  for (const each of prefixItems ?? []) lengthsOf(each, at('0'), found);
  if (typeof additionalProperties === 'object') lengthsOf(additionalProperties, at('A'), found);
}

test('lengths are those that the schema has in mm', () => {
  const found = new Set<string>();
  const schema = z.toJSONSchema(trayFileSchema('mm'), { io: 'input' });
  lengthsOf(schema, '', found);
  expect(found.size).toBeGreaterThan(20);
  expect([...found].filter((path) => !isLengthPath(path))).toEqual([]);
});

import { expect, it } from 'vitest';
import {
  notchNotes,
  partNotes,
  rimWarnings,
  sheetOf,
  sizesOnly,
} from '../../../src/step/freeForm/partReport.ts';
import { notchRelief } from '../../../src/tray/notches.ts';
import { givenLength, statement } from '../../../src/words/statement.ts';
import { randomNumbers } from '../../support/drawnTrays.ts';
import { GIVEN } from '../given.ts';

const given = { ...GIVEN, name: 'drip tray', grain: 30, trim: 2.5 };
const BY_HAND = { process: 'hand', kerf: 0, compensate: false } as const;

it('a part’s outer sizes are those of the middle of its sheet and half a thickness on either side', () => {
  const random = randomNumbers(20264);
  for (let i = 0; i < 20; i++) {
    const [length, width, height, thickness] = [200, 90, 40, 1].map((size) => size * (0.5 + random()));
    // In the middle of a base that lies at z = 0, with numbers of a node that are no place behind them.
    const points = [
      [0.3, 1, 0],
      [1, 0.2, 0.6],
      [0, 0.5, 1],
      [0.7, 0, 0],
    ].flatMap(([x, y, z]) => [x! * length! - 40, y! * width! + 15, z! * height!, -1e4, 1e4]);
    const { plan, section, sheet, measured } = sizesOnly(given, thickness!, points, 5);
    if ('vertices' in plan || 'dxf' in plan) throw new Error('no rectangle');
    expect(measured).toBe('outside');
    expect(plan).toMatchObject({ cornerRadius: 0 });
    expect((plan as { length: number }).length).toBeCloseTo(length! + thickness!, 3);
    expect((plan as { width: number }).width).toBeCloseTo(width! + thickness!, 3);
    expect(section.height).toBeCloseTo(height! + thickness! / 2, 3);
    expect(sheet.thickness).toBeCloseTo(thickness!, 3);
  }
});

it('what a person said of a part is in its tray as it was said', () => {
  const spec = sizesOnly(given, 1, [0, 0, 0], 3);
  expect(spec).toMatchObject({ name: 'drip tray', forming: { trim: 2.5 }, cut: given.cut });
  expect(spec.sheet).toEqual({ material: given.material, thickness: 1, grain: 30 });
});

it('a thickness measured on a solid is told without the kernel’s rounding', () => {
  expect(sheetOf(given, 0.99999999987).thickness).toBe(1);
  expect(sheetOf(given, 0.8125000001).thickness).toBe(0.8125);
});

it('says what is added and what is laid on, and nothing of what is not', () => {
  const spec = sizesOnly(given, 1, [0, 0, 0], 3);
  const skin = {
    mesh: { position: [], triangles: [], face: [], parameters: [] },
    turned: false,
    thickness: 1,
    depth: 0.5,
    edgeFaces: new Map(),
    bridges: [],
  };
  expect(rimWarnings({ ...skin, rimBroken: false })).toEqual([]);
  expect(rimWarnings({ ...skin, rimBroken: true })).toEqual([statement('parts.rimBroken')]);
  expect(notchNotes(0, spec)).toEqual([]);
  expect(notchNotes(1, spec)).toEqual([statement('parts.reliefAdded', givenLength(notchRelief(spec), 1))]);
  const entries = (trim: number, isSurface: boolean): string[] =>
    partNotes({ ...given, trim, cut: BY_HAND }, isSurface).map(({ entry }) => entry);
  expect(entries(0, false)).toEqual(['parts.sizesOnly']);
  expect(entries(0, true)).toEqual(['parts.sizesOnly', 'parts.middleOfSheet']);
  expect(entries(2.5, false)).toEqual(['parts.sizesOnly', 'parts.trimLaidOn']);
  expect(partNotes(given, false)[1]!.figures).toEqual([givenLength(2.5, 1)]);
});

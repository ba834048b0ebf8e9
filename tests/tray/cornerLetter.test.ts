/** Letters of corners and sides: one way there and back, and the same tray by letters and by numbers. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { GatherpanError } from '../../src/errors.ts';
import { cornerLetter, cornerOf, sideLetters, sideOf, turnName } from '../../src/tray/cornerLetter.ts';
import { VERTEX_COUNT } from '../../src/tray/limits.ts';
import { readTray } from '../../src/tray/readTray.ts';

const MOST = VERTEX_COUNT[1];

describe('letters', () => {
  test('run from A to Z, then AA', () => {
    expect([0, 1, 25, 26, 27, 51, 52, 199].map(cornerLetter)).toEqual([
      'A',
      'B',
      'Z',
      'AA',
      'AB',
      'AZ',
      'BA',
      'GR',
    ]);
  });

  test('lead back to the corner and the side, in small letters and with a hyphen too', () => {
    const place = fc
      .integer({ min: 2, max: MOST })
      .chain((count) =>
        fc.record({ count: fc.constant(count), index: fc.integer({ min: 0, max: count - 1 }) }),
      );
    fc.assert(
      fc.property(place, ({ count, index }) => {
        expect(cornerOf(cornerLetter(index), count)).toBe(index);
        expect(cornerOf(cornerLetter(index).toLowerCase(), count)).toBe(index);
        const side = sideLetters(index, count);
        expect(sideOf(side, count)).toBe(index);
        expect(sideOf(side.replace('–', '-'), count)).toBe(index);
        // The sides of a plan of two corners are told apart by the order alone.
        const back = side.split('–').reverse().join('–');
        expect(sideOf(back, count)).toBe(count === 2 ? 1 - index : index);
      }),
      { seed: 1 },
    );
  });

  test('of corners and sides that a plan does not have lead nowhere', () => {
    expect(cornerOf('E', 4)).toBeUndefined();
    expect(cornerOf('1', 4)).toBeUndefined();
    expect(cornerOf('', 4)).toBeUndefined();
    expect(sideOf('A–C', 4)).toBeUndefined();
    expect(sideOf('D–E', 4)).toBeUndefined();
    expect(sideOf('A', 4)).toBeUndefined();
  });

  test('name a corner by its own and a curved side by its two', () => {
    expect([0, 3, 4, 7].map((index) => turnName(index, 4))).toEqual(['A', 'D', 'A–B', 'D–A']);
  });
});

const tray = {
  name: 'lettered',
  plan: { length: 300, width: 200, cornerRadius: 40 as unknown },
  section: { bottomRadius: 20, height: 50 as number | undefined },
  sheet: { material: 'DC04', thickness: 1 },
};

const withParts = (parts: {
  plan?: object;
  section?: object;
  forming?: object;
  holes?: readonly object[];
}): unknown => ({
  ...tray,
  ...parts,
  plan: { ...tray.plan, ...parts.plan },
  section: { ...tray.section, ...parts.section },
});

const faultsOf = (file: unknown): string[] => {
  try {
    readTray(file);
    return [];
  } catch (error) {
    return (error as GatherpanError).faults.map(({ message }) => message);
  }
};

const HEX = {
  length: undefined,
  width: undefined,
  vertices: [
    { x: 120, y: 0 },
    { x: 60, y: 100 },
    { x: -60, y: 100 },
    { x: -120, y: 0 },
    { x: -60, y: -100 },
    { x: 60, y: -100 },
  ],
};

const hex = (more: object): object => {
  const { length: _length, width: _width, ...plan } = { ...HEX, cornerRadius: 30, ...more };
  return plan;
};

const hole = (edge: unknown): object => ({
  shape: { kind: 'round', diameter: 8 },
  place: { on: 'wall', edge, along: 0, height: 35 },
});

describe('a tray file by letters', () => {
  test.each([
    [
      'radii',
      { plan: { cornerRadius: { A: 40, b: 30, C: 35, D: 25 } } },
      { plan: { cornerRadius: [40, 30, 35, 25] } },
    ],
    ['open sides', { plan: { openEdges: ['A–B', 'c-d'] } }, { plan: { openEdges: ['top', 'bottom'] } }],
    [
      'heights',
      { section: { heights: { 'B–C': 40, 'D-A': 45 } } },
      { section: { height: undefined, heights: [50, 40, 50, 45] } },
    ],
    [
      'heights by both names',
      { section: { heights: { left: 40, 'A-D': 45 } } },
      { section: { heights: { left: 40, right: 45 } } },
    ],
    [
      'notches, the others gathered',
      { plan: { cornerRadius: { A: 40, C: 40, D: 40 } }, forming: { corners: { B: 'notch' } } },
      {
        plan: { cornerRadius: [40, 0, 40, 40] },
        forming: { corners: ['gather', 'notch', 'gather', 'gather'] },
      },
    ],
    ['holes', { holes: [hole('D–A')] }, { holes: [hole('right')] }],
    ['holes by number', { holes: [hole('D–A')] }, { holes: [hole(3)] }],
  ])('%s are those by numbers and names', (_, letters, numbers) => {
    expect(readTray(withParts(letters))).toEqual(readTray(withParts(numbers)));
  });

  test('of any plan', () => {
    const read = (plan: object, section: object, holes: readonly object[]): unknown =>
      readTray({ ...tray, plan: hex(plan), section: { ...tray.section, ...section }, holes });
    expect(read({ openEdges: ['F–A'] }, { heights: { 'A–B': 45 } }, [hole('C-D')])).toEqual(
      read({ openEdges: [5] }, { heights: [45, 50, 50, 50, 50, 50] }, [hole(2)]),
    );
  });

  test.each([
    [
      { plan: { cornerRadius: { A: 40, B: 40, C: 40, E: 40 } } },
      'plan.cornerRadius.E is no corner of this plan; its corners are A to D.',
    ],
    [
      { plan: { cornerRadius: { A: 40, a: 30, B: 40, C: 40, D: 40 } } },
      'plan.cornerRadius.a and plan.cornerRadius.A are the same; leave one of them out.',
    ],
    [
      { plan: { cornerRadius: { first: 40 } } },
      'plan.cornerRadius.first is not known here; give one radius, a list of four, or an object with A, B, C and D.',
    ],
    [
      { plan: { cornerRadius: { A: 40, B: 'round', C: 40, D: 40 } } },
      'plan.cornerRadius.B is "round"; give a number from 0 to 2500 mm.',
    ],
    [
      { plan: { openEdges: ['A–C'] } },
      'plan.openEdges.0 is "A–C", which is no side of this plan; its sides are A–B to D–A.',
    ],
    [
      { plan: { openEdges: ['A–B', 'top'] } },
      'plan.openEdges.1 and plan.openEdges.0 are the same; leave one of them out.',
    ],
    [
      { section: { heights: { 'A–B': 40, top: 45 } } },
      'section.heights.A–B and section.heights.top are the same; leave one of them out.',
    ],
    [
      { forming: { corners: { E: 'notch' } } },
      'forming.corners.E is no corner of this plan; its corners are A to D.',
    ],
    [{ forming: { corners: { A: 'weld' } } }, 'forming.corners.A is "weld"; give "gather" or "notch".'],
  ])('refused: %j', (parts, message) => {
    expect(faultsOf(withParts(parts))).toContain(message);
  });

  test('a corner that is left out is not rounded, which is told by its letter', () => {
    expect(faultsOf(withParts({ plan: { cornerRadius: { A: 40, B: 40, C: 40 } } }))[0]).toMatch(
      /^plan\.cornerRadius\.3 \(corner D\) is 0 mm, smaller than/,
    );
  });
});

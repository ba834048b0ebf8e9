/** Lips, and walls of different heights. */
import { describe, expect, test } from 'vitest';
import { readTray } from '../../src/tray/readTray.ts';
import { refusal } from '../support/refusal.ts';
import { changed, onlyFault } from './trayFiles.ts';

const lip = (changes: object = {}): object => ({
  kind: 'lip',
  direction: 'out',
  bendRadius: 5,
  width: 15,
  ...changes,
});
const withSection = (section: object, more: Record<string, unknown> = {}): unknown =>
  changed({ plan: { length: 300, width: 200, cornerRadius: 40 }, 'sheet.thickness': 1, section, ...more });
const withLip = (changes: object, section: object = {}): unknown =>
  withSection({ bottomRadius: 10, height: 30, rim: lip(changes), ...section });

describe('a lip', () => {
  test('is read in mm, also from inches', () => {
    const rim = { kind: 'lip', direction: 'in', bendRadius: 0.25, width: 0.5 };
    const file = changed({
      units: 'in',
      plan: { length: 12, width: 8, cornerRadius: 1.5 },
      section: { bottomRadius: 0.5, height: 1.5, rim },
      'sheet.thickness': 0.04,
    });
    expect(readTray(file).section.rim).toEqual({
      kind: 'lip',
      direction: 'in',
      bendRadius: 6.35,
      width: 12.7,
    });
    expect(readTray(readTray(file))).toEqual(readTray(file));
  });

  test.each([
    ['all its bend and no level part', { width: 5 }, {}],
    ['no straight wall below it', {}, { height: 15 }],
    ['a bend as tight as the sheet is thick', { bendRadius: 1 }, {}],
    ['turned in, leaving the smallest corner', { direction: 'in', width: 39.5 }, {}],
  ])('at the limit is accepted: %s', (_, changes, section) => {
    expect(() => readTray(withLip(changes, section))).not.toThrow();
  });

  test.each([
    [
      'narrower than its bend',
      { width: 4 },
      {},
      'section.rim.width is 4 mm, less than the bend of section.rim.bendRadius 5 mm takes; give a width of at least 5 mm or a bend radius of at most 4 mm.',
    ],
    // draft leans out: a lip out is bent less, by 70 degrees, and one in by 110 degrees.
    [
      'narrower than its bend at a draft',
      { direction: 'in', width: 7 },
      { draft: 20 },
      'section.rim.width is 7 mm, less than the bend of section.rim.bendRadius 5 mm takes; give a width of at least 7.141 mm or a bend radius of at most 4.901 mm.',
    ],
    [
      'too low for both bends',
      {},
      { height: 14 },
      'section.height is 14 mm, too low for the bends of section.bottomRadius 10 mm and section.rim.bendRadius 5 mm; give a height of at least 15 mm.',
    ],
    [
      'bent too tightly',
      { bendRadius: 0.5 },
      {},
      'section.rim.bendRadius is 0.5 mm, and the inside radius of a bend must not be smaller than the thickness of 1 mm; give at least 1 mm.',
    ],
    [
      'bent too tightly on the other skin',
      { direction: 'in', bendRadius: 1.5 },
      {},
      'section.rim.bendRadius is 1.5 mm, which leaves an inside radius of only 0.5 mm on the other skin, and the inside radius must not be smaller than the thickness of 1 mm; give at least 2 mm.',
    ],
    [
      'turned in, wider than the corners are round',
      { direction: 'in', width: 45 },
      {},
      'plan.cornerRadius is 40 mm, too small where the plan turns outwards with a lip of 45 mm; give a radius of at least 45.5 mm or section.rim.width of at most 39.5 mm.',
    ],
    ['of unknown kind', { kind: 'bead' }, {}, 'section.rim.kind is "bead"; give "plain" or "lip".'],
    ['of unknown direction', { direction: 'up' }, {}, 'section.rim.direction is "up"; give "out" or "in".'],
  ])('refused: %s', (_, changes, section, message) => {
    expect(onlyFault(withLip(changes, section)).message).toBe(message);
  });

  test('turned in over a trough must leave the lips apart', () => {
    const plan = { length: 300, width: 60, openEdges: ['left', 'right'] };
    const file = (width: number): unknown => changed({ plan }, withLip({ direction: 'in', width }) as object);
    expect(() => readTray(file(30))).not.toThrow();
    expect(onlyFault(file(35)).message).toBe(
      'section.rim.width is 35 mm, and the lips of side A–B (top) and side C–D (bottom) run into each other; give at most 30 mm.',
    );
  });

  test('turned out must leave an inward corner round, and the sides of a cleft apart', () => {
    const cleft = (radius: number) => ({
      vertices: (
        [
          [0, 0],
          [300, 0],
          [300, 100],
          [100, 100],
          [100, 150],
          [300, 150],
          [300, 250],
          [0, 250],
        ] as const
      ).map(([x, y], i) => ({ x, y, radius: i === 3 || i === 4 ? radius : 20 })),
    });
    const file = (radius: number, width: number): unknown =>
      changed({ plan: cleft(radius) }, withLip({ width }) as object);
    expect(() => readTray(file(25, 20))).not.toThrow();
    const [first] = refusal(() => readTray(file(12, 15))).faults;
    expect(first!.message).toBe(
      'plan.vertices.3.radius (corner D) is 12 mm, too small where the plan turns inwards with a lip of 15 mm; give a radius of at least 15.5 mm or section.rim.width of at most 11.5 mm.',
    );
  });
});

describe('heights', () => {
  const heights = { bottomRadius: 10, heights: [50, 30, 30, 30], runOut: 20 };

  test('by name are the same as by number, and the largest is the height', () => {
    const byNumber = readTray(withSection(heights));
    expect(byNumber.section).toMatchObject({ height: 50, heights: [50, 30, 30, 30], runOut: 20 });
    expect(readTray(withSection({ ...heights, heights: { top: 50 }, height: 30 }))).toEqual(byNumber);
    expect(
      readTray(withSection({ ...heights, heights: { top: 50, left: 30, bottom: 30, right: 30 } })),
    ).toEqual(byNumber);
    expect(readTray(withSection({ ...heights, height: 50 }))).toEqual(byNumber);
    expect(readTray(byNumber)).toEqual(byNumber);
  });

  test('that are all alike are one height', () => {
    const section = { bottomRadius: 10, heights: [30, 30, 30, 30] };
    expect(readTray(withSection(section))).toEqual(readTray(withSection({ bottomRadius: 10, height: 30 })));
  });

  test('above an open side count for nothing', () => {
    const open = { plan: { length: 300, width: 200, cornerRadius: 40, openEdges: ['left'] } };
    const section = { bottomRadius: 10, heights: [40, 999, 30, 30] };
    expect(readTray(withSection(section, open)).section).toMatchObject({
      height: 40,
      heights: [40, 40, 30, 30],
    });
    expect(
      readTray(withSection({ bottomRadius: 10, heights: { top: 40, bottom: 30, right: 30 } }, open)),
    ).toEqual(readTray(withSection(section, open)));
  });

  const d = {
    vertices: [
      { x: 100, y: 0, bulge: 1 },
      { x: -100, y: 0 },
      { x: -100, y: -50, radius: 30 },
      { x: 100, y: -50, radius: 30 },
    ],
  };
  test.each([
    [
      'none at all',
      { heights: undefined },
      {},
      'section.height is missing; give a number from 1 to 2000 mm.',
    ],
    [
      'too few',
      { heights: [50, 30] },
      {},
      'section.heights is a list of 2; give a list of 4, one for every side of the plan.',
    ],
    [
      'not the height',
      { height: 40 },
      {},
      'section.height is 40, but the largest of section.heights is 50; leave section.height out, or make them equal.',
    ],
    [
      'a side without one',
      { heights: { top: 50, left: 30, right: 30 } },
      {},
      'section.heights has none for side C–D (bottom); give a number from 1 to 2000 mm, or section.height for the sides that are left out.',
    ],
    [
      'a misspelt side',
      { heights: { tpo: 50 }, height: 30 },
      {},
      'section.heights.tpo is not known; the nearest known field is section.heights.top.',
    ],
    [
      'one below its bend',
      { heights: [50, 30, 10.5, 30] },
      {},
      'section.heights is 10.5 mm at side C–D (bottom), which needs a straight wall above the bend of section.bottomRadius 10 mm; give a height of at least 11 mm.',
    ],
    [
      'under a lip',
      { rim: lip() },
      {},
      'section.heights gives different heights, and a lip has to be level all round; give one height, or a plain rim.',
    ],
    [
      'sides of a polygon',
      { heights: { top: 50 }, height: 50 },
      { plan: d },
      'section.heights.top is no side of this plan; its sides are A–B to D–A.',
    ],
    [
      'at a smooth joint',
      { heights: [30, 50, 50, 30] },
      { plan: d },
      'section.heights is 30 mm at side A–B and 50 mm at side B–C, but these sides meet smoothly; give both the same height (the rim runs from one height to another at rounded corners only).',
    ],
    [
      'at a mitre',
      { heights: [50, 30, 30, 50], runOut: undefined },
      { 'plan.cornerRadius': [40, 0, 40, 40], 'forming.corners': ['gather', 'notch', 'gather', 'gather'] },
      'section.heights is 50 mm at side A–B (top) and 30 mm at side B–C (left), but these sides meet at a mitre; give both the same height (the rim runs from one height to another at rounded corners only).',
    ],
    [
      'run out too far',
      { runOut: 70 },
      {},
      'section.runOut is 70 mm, more than half of the 120 mm of side B–C (left) that are straight; give at most 60 mm.',
    ],
  ] as const)('refused: %s', (_, section, more, message) => {
    expect(onlyFault(withSection({ ...heights, ...section }, more)).message).toBe(message);
  });
});

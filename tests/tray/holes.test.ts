/** Holes on the finished tray: read, placed and kept clear, judged by points set out along their edges. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { lengthText } from '../../src/tray/checks.ts';
import { holeFaults } from '../../src/tray/holeChecks.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { HoleSpec, RectanglePlan, TraySpec } from '../../src/tray/spec.ts';
import { orRefusal, refusal } from '../support/refusal.ts';
import { changed, onlyFault } from './trayFiles.ts';

const T = 1;
const R = 10;
const [LENGTH, WIDTH, CORNER, HEIGHT] = [300, 200, 40, 30];

const tray = (holes: unknown, more: Record<string, unknown> = {}): unknown =>
  changed({
    plan: { length: LENGTH, width: WIDTH, cornerRadius: CORNER },
    section: { bottomRadius: R, height: HEIGHT },
    'sheet.thickness': T,
    holes,
    ...more,
  });
const round = (diameter: number, place: object, more: object = {}) => ({
  shape: { kind: 'round', diameter },
  place,
  ...more,
});
const onBase = (x: number, y: number) => ({ on: 'base', x, y });
const onTop = (along: number, height: number) => ({ on: 'wall', edge: 'top', along, height });

describe('holes', () => {
  test('are read with names, default angle and edges by number', () => {
    const slot = { kind: 'slot', length: 20, width: 6 };
    const points = [
      { x: -5, y: -5 },
      { x: 5, y: -5 },
      { x: 0, y: 5 },
    ];
    const spec = readTray(
      tray([
        round(30, onBase(0, 0), { name: 'drain' }),
        { shape: slot, place: onTop(20, 20) },
        { shape: { kind: 'polygon', points }, place: onBase(60, 0) },
      ]),
    );
    expect(spec.holes).toEqual([
      { name: 'drain', shape: { kind: 'round', diameter: 30 }, place: { on: 'base', x: 0, y: 0 } },
      { name: 'hole-2', shape: { ...slot, angle: 0 }, place: { on: 'wall', edge: 0, along: 20, height: 20 } },
      { name: 'hole-3', shape: { kind: 'polygon', points }, place: { on: 'base', x: 60, y: 0 } },
    ]);
    expect(readTray(spec)).toEqual(spec);
  });

  test('are converted from inches', () => {
    const inches = {
      units: 'in',
      plan: { length: 12, width: 8, cornerRadius: 1.5 },
      section: { bottomRadius: 0.5, height: 1.5 },
      'sheet.thickness': 0.04,
    };
    expect(readTray(tray([round(1, onBase(2, -1))], inches)).holes).toEqual([
      { name: 'hole-1', shape: { kind: 'round', diameter: 25.4 }, place: { on: 'base', x: 50.8, y: -25.4 } },
    ]);
  });

  test('none are the same as no list', () => {
    expect(readTray(tray([]))).toEqual(readTray(tray(undefined)));
  });

  const square = [
    { x: -5, y: -5 },
    { x: 5, y: -5 },
    { x: 5, y: 5 },
    { x: -5, y: 5 },
  ];
  const polygon = (points: object[]) => ({ shape: { kind: 'polygon', points }, place: onBase(0, 0) });
  test.each([
    [
      'off the base',
      [round(30, onBase(130, 0))],
      'holes.0 ("hole-1") is not all on the flat of the base; leave at least 1 mm, the thickness of the sheet, to bends and edges.',
    ],
    [
      'near the bend',
      [round(30, onBase(124.5, 0))],
      'holes.0 ("hole-1") comes within 0.5 mm of where the flat of the base ends; leave at least 1 mm, the thickness of the sheet, to bends and edges.',
    ],
    [
      'in the bend of the wall',
      [round(10, onTop(0, 12))],
      'holes.0 ("hole-1") is not all in the straight wall of side A–B (top), clear of bend and rim by the thickness of 1 mm; give a height from 16 mm to 24 mm.',
    ],
    [
      'in the corner of the wall',
      [round(10, onTop(110, 20))],
      'holes.0 ("hole-1") is not all between the corners of side A–B (top), clear of them by the thickness of 1 mm; give along from -104 mm to 104 mm.',
    ],
    [
      'higher than the wall',
      [round(30, onTop(0, 20))],
      'holes.0 ("hole-1") is not all in the straight wall of side A–B (top), clear of bend and rim by the thickness of 1 mm; give a smaller hole or a higher wall.',
    ],
    [
      'one in another',
      [round(30, onBase(0, 0)), round(30, onBase(20, 0))],
      'holes.1 ("hole-2") runs into holes.0 ("hole-1"); leave at least 1 mm between them, the thickness of the sheet.',
    ],
    [
      'one near another',
      [round(30, onBase(0, 0)), round(30, onBase(30.5, 0))],
      'holes.1 ("hole-2") is only 0.5 mm from holes.0 ("hole-1"); leave at least 1 mm between them, the thickness of the sheet.',
    ],
    [
      'a small one within a large polygon',
      [polygon(square), round(1, onBase(0, 0))],
      'holes.1 ("hole-2") runs into holes.0 ("hole-1"); leave at least 1 mm between them, the thickness of the sheet.',
    ],
    [
      'two of one name',
      [round(9, onBase(0, 0), { name: 'a' }), round(9, onBase(50, 0), { name: 'a' })],
      'holes.1.name is "a", the name of holes.0 too; give every hole a name of its own.',
    ],
    [
      'a slot no longer than wide',
      [{ shape: { kind: 'slot', length: 8, width: 8 }, place: onBase(0, 0) }],
      'holes.0.shape.length is 8 mm, not more than the width of 8 mm; give a greater length, or a round hole.',
    ],
    [
      'a polygon that crosses itself',
      [polygon([square[0]!, square[2]!, square[1]!, square[3]!])],
      'holes.0.shape.points crosses itself; give the corners in the order one walks around the hole.',
    ],
    [
      'a clockwise polygon',
      [polygon([...square].reverse())],
      'holes.0.shape.points runs clockwise; give the corners counter-clockwise (the same list in reverse order).',
    ],
    [
      'an unknown shape',
      [{ shape: { kind: 'square' }, place: onBase(0, 0) }],
      'holes.0.shape.kind is "square"; give "round", "slot" or "polygon".',
    ],
    ['an unknown place', [round(9, { on: 'lip' })], 'holes.0.place.on is "lip"; give "base" or "wall".'],
    [
      'an edge that is not there',
      [round(9, { ...onTop(0, 20), edge: 4 })],
      'holes.0.place.edge is 4, which is no side of this plan; its sides are A–B to D–A.',
    ],
    [
      'a misspelt size',
      [{ shape: { kind: 'round', diametre: 9, diameter: 9 }, place: onBase(0, 0) }],
      'holes.0.shape.diametre is not known; the nearest known field is holes.0.shape.diameter.',
    ],
  ])('refused: %s', (_, holes, message) => {
    expect(onlyFault(tray(holes)).message).toBe(message);
  });

  test('on an open side are refused', () => {
    const file = tray([round(9, onTop(0, 20))], { 'plan.openEdges': ['top'] });
    expect(onlyFault(file).message).toBe(
      'holes.0 ("hole-1") is on side A–B (top), which is open; give a side that has a wall.',
    );
  });

  test('stay below a rim that runs down', () => {
    const section = { bottomRadius: R, heights: { top: 60, left: 30, bottom: 30, right: 30 }, runOut: 50 };
    const hole = (along: number) => tray([round(10, onTop(along, 50))], { section });
    expect(() => readTray(hole(0))).not.toThrow();
    expect(refusal(() => readTray(hole(95))).path).toBe('holes.0.place.height');
    expect(refusal(() => readTray(hole(-95))).path).toBe('holes.0.place.height');
  });

  test('of any shape and direction are accepted exactly where all of them lies clear', () => {
    const shape = fc.oneof(
      fc.record({
        kind: fc.constant('round' as const),
        diameter: fc.double({ min: 1, max: 60, noNaN: true }),
      }),
      fc
        .record({
          kind: fc.constant('slot' as const),
          width: fc.double({ min: 1, max: 20, noNaN: true }),
          longer: fc.double({ min: 1, max: 60, noNaN: true }),
          angle: fc.double({ min: -360, max: 360, noNaN: true }),
        })
        .map(({ longer, ...rest }) => ({ ...rest, length: rest.width + longer })),
    );
    const place = fc.record({
      x: fc.double({ min: -LENGTH / 2, max: LENGTH / 2, noNaN: true }),
      y: fc.double({ min: -WIDTH / 2, max: WIDTH / 2, noNaN: true }),
    });
    let [taken, refused] = [0, 0];
    fc.assert(
      fc.property(shape, place, ({ ...form }, { x, y }) => {
        // The flat of the base is a rectangle with corners of radius CORNER − R; room is measured to it.
        const room = Math.min(
          ...outline(form).map(([px, py]) => {
            const [a, b] = [LENGTH / 2 - R, WIDTH / 2 - R];
            const r = CORNER - R;
            const [qx, qy] = [Math.abs(px + x) - (a - r), Math.abs(py + y) - (b - r)];
            return r - Math.hypot(Math.max(qx, 0), Math.max(qy, 0)) - Math.min(Math.max(qx, qy), 0);
          }),
        );
        fc.pre(Math.abs(room - T) > 0.02);
        expect(isAccepted(tray([{ shape: form, place: { on: 'base', x, y } }]))).toBe(room > T);
        if (room > T) taken++;
        else refused++;
      }),
      { seed: 1, numRuns: 400 },
    );
    expect(Math.min(taken, refused)).toBeGreaterThan(50);
  });

  test('on a leaning wall have the room that is up the wall', () => {
    // Up a wall that leans by 30 degrees there is 1/cos 30° of the height; the bend of 60 degrees rises R/2.
    const draft = 30;
    const room = (HEIGHT - R * (1 - Math.sin(Math.PI / 6))) / Math.cos(Math.PI / 6);
    const middle = R / 2 + (HEIGHT - R / 2) / 2;
    const file = (diameter: number) => tray([round(diameter, onTop(0, middle))], { 'section.draft': draft });
    expect(isAccepted(file(room - 2 * T - 0.01))).toBe(true);
    expect(isAccepted(file(room - 2 * T + 0.01))).toBe(false);
  });

  type Form =
    | { kind: 'round'; diameter: number }
    | { kind: 'slot'; length: number; width: number; angle: number };

  function outline(form: Form): (readonly [number, number])[] {
    const radius = form.kind === 'round' ? form.diameter / 2 : form.width / 2;
    const half = form.kind === 'round' ? 0 : (form.length - form.width) / 2;
    const turn = form.kind === 'round' ? 0 : (form.angle * Math.PI) / 180;
    return Array.from({ length: 720 }, (_, k) => {
      const angle = (k * Math.PI) / 360;
      const x = radius * Math.cos(angle) + half * Math.sign(Math.cos(angle));
      const y = radius * Math.sin(angle);
      return [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)] as const;
    });
  }

  const isAccepted = (file: unknown): boolean => !(orRefusal(() => readTray(file)) instanceof GatherpanError);
});

test('holes that are looked for again have the faults they had, whatever was looked for in between', () => {
  const holes: HoleSpec[] = [
    { name: 'drain', place: { on: 'base', x: 60, y: 0 }, shape: { kind: 'round', diameter: 12 } },
    { name: 'tap', place: { on: 'base', x: 60, y: 13.2 }, shape: { kind: 'round', diameter: 12 } },
    {
      name: 'pipe',
      place: { on: 'wall', edge: 0, along: 30, height: 26 },
      shape: { kind: 'round', diameter: 8 },
    },
  ];
  const spec = readTray({
    name: 'tray',
    plan: { length: 200, width: 120, cornerRadius: 25 },
    section: { bottomRadius: 10, height: 40 },
    sheet: { material: 'DC04', thickness: 1 },
  });
  const { section } = spec;
  const plan = spec.plan as RectanglePlan;
  const variants: TraySpec[] = [
    spec,
    { ...spec, plan: { ...plan, length: 150 } },
    { ...spec, plan: { ...plan, width: 60 } },
    { ...spec, plan: { ...plan, openEdges: [0] } },
    { ...spec, section: { ...section, bottomRadius: 24 } },
    { ...spec, section: { ...section, draft: 30 } },
    { ...spec, section: { ...section, height: 30 } },
    { ...spec, section: { ...section, heights: [31, 40, 40, 40] } },
    { ...spec, sheet: { ...spec.sheet, thickness: 1.5 } },
    { ...spec, forming: { ...spec.forming, corners: 'notch', weldGap: 4 } },
    { ...spec, measured: 'inside' },
  ];
  const all = variants.flatMap((each) => [
    { ...each, holes },
    { ...each, holes: holes.slice(0, 2) },
    { ...each, holes: holes.slice(2) },
  ]);
  const faultsOf = (each: TraySpec): unknown => [
    holeFaults(each, lengthText('mm')),
    holeFaults(each, lengthText('in')),
  ];
  // More than are kept: each is worked out.
  const first = all.map(faultsOf);
  expect(new Set(first.map((each) => JSON.stringify(each))).size).toBeGreaterThan(8);
  for (const step of [0, 1, 2, 5]) {
    for (const [i, each] of all.entries()) {
      expect(faultsOf(each)).toEqual(first[i]);
      const other = (i + step) % all.length;
      expect(faultsOf(all[other]!)).toEqual(first[other]);
      expect(faultsOf(each)).toEqual(first[i]);
    }
  }
});

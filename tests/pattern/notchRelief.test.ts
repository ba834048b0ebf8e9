/** Notched corners at every weld gap from 0 up: a hole at the root, and a slot to where the edges part by themselves. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { arcOf } from '../../src/geometry/arc.ts';
import { selfIntersections } from '../../src/geometry/intersect.ts';
import { distanceToPath, pathArea, pathLength } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { OUTLINE_TOLERANCE } from '../../src/pattern/fittedLines.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { sentences } from '../../src/words/statement.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { LONG } from '../support/long.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

const RUNS = LONG ? 1000 : 25;

const notched = fc.record({
  bottomRadius: fc.constantFrom(3, 8, 14, 25, 40),
  weldGap: fc.oneof(fc.constantFrom(0, 0.05, 0.5), fc.double({ min: 0, max: 5, noNaN: true })),
  notchRelief: fc.constantFrom(undefined, 0, 1, 3, 6),
  compensate: fc.boolean(),
  all: fc.boolean(),
});

test('any gap, any relief', () => {
  fc.assert(
    fc.property(notched, ({ bottomRadius, weldGap, notchRelief, compensate, all }) => {
      const spec = readTray({
        name: 'notched-tray',
        plan: { length: 300, width: 220, cornerRadius: bottomRadius + 20 },
        section: { bottomRadius, height: 2 * bottomRadius + 6 },
        sheet: { material: 'DC04', thickness: 1 },
        forming: {
          corners: all ? 'notch' : ['notch', 'gather', 'gather', 'gather'],
          weldGap,
          ...(notchRelief === undefined ? {} : { notchRelief }),
        },
        cut: { kerf: 0.2, compensate },
      });
      const { rim, outline } = flatPatternOf(
        developTray(spec, { ...OUTLINE_ONLY, solve: { minimumRefinements: 0, maximumRefinements: 0 } }),
      );
      expect(selfIntersections(outline)).toEqual([]);
      expect(pathArea(outline)).toBeGreaterThan(0);
      // The hole is there in the rim, about the corner of the base, which moves a little with all around it: beside
      // a tall wall that is gathered, by up to a few mm.
      const root = { x: 150 - bottomRadius, y: 110 - bottomRadius };
      const radius = Math.max(0.3, notchRelief ?? 2) / 2;
      const holes = rim.vertices.flatMap((from, k) => {
        const arc = arcOf(from, rim.vertices[(k + 1) % rim.vertices.length]!);
        const isHole = arc !== null && arc.sweep < 0 && Math.abs(arc.radius - radius) < 1e-6;
        return isHole && Math.hypot(arc.centre.x - root.x, arc.centre.y - root.y) < 5 ? [arc.centre] : [];
      });
      expect(holes).toHaveLength(2);
      for (const centre of holes) expect(distanceToPath(centre, rim)).toBeGreaterThan(radius - 1e-6);
    }),
    { seed: 19, numRuns: LONG ? 300 : 10 },
  );
});

const trimmed = fc.record({
  /** Angle of the trapezium at its long side, degrees. */
  angle: fc.constantFrom(50, 60, 75, 90),
  bottomRadius: fc.constantFrom(8, 12),
  /** Height above the end of the bend, mm: little of the wall is straight, or much. */
  above: fc.constantFrom(0.5, 1, 12),
  draft: fc.constantFrom(0, 10, 25),
  lip: fc.constantFrom(undefined, 'in', 'out'),
  trim: fc.constantFrom(2, 4, 8),
  weldGap: fc.constantFrom(0, 0.5, 2),
});

test('trim goes to the rim at any angle and height of wall, and the weld edges run on straight to it', () => {
  fc.assert(
    fc.property(trimmed, ({ angle, bottomRadius, above, draft, lip, trim, weldGap }) => {
      const aside = 160 / Math.tan((angle * Math.PI) / 180);
      const bend = bottomRadius + (lip === undefined ? 0 : 7);
      const { rim, outline } = flatPatternOf(
        developTray(
          readTray({
            name: 'notched-tray',
            plan: {
              vertices: [
                { x: 0, y: 0 },
                { x: 320, y: 0 },
                { x: 320 - aside, y: 160 },
                { x: aside, y: 160 },
              ],
            },
            section: {
              bottomRadius,
              height: bend + above,
              draft,
              ...(lip === undefined
                ? {}
                : { rim: { kind: 'lip', direction: lip, bendRadius: 4, width: 14 } }),
            },
            sheet: { material: 'DC04', thickness: 1 },
            forming: { corners: 'notch', weldGap, trim },
          }),
          { solve: { minimumRefinements: 0, maximumRefinements: 0 } },
        ),
      );
      expect(selfIntersections(outline)).toEqual([]);
      // No corner of the rim stays where it was, none of the roots moves.
      const distances = rim.vertices.map((vertex) => distanceToPath(vertex, outline));
      // Both lines are fitted to the solved ones.
      expect(Math.max(...distances)).toBeLessThan(trim + 2 * OUTLINE_TOLERANCE);
      expect(distances.filter((distance) => distance < 1e-6).length).toBeGreaterThanOrEqual(12);
      const area = pathArea(outline) - pathArea(rim);
      expect(area).toBeGreaterThan(0.5 * trim * 788);
      expect(area).toBeLessThan(1.5 * trim * 960);
    }),
    { seed: 20, numRuns: LONG ? 300 : 12 },
  );
});

const degrees = (angle: number): number => (angle * Math.PI) / 180;

/** Corners of plans of one size and slant, none of which turns inwards. */
const PLANS: Readonly<Record<string, (length: number, width: number, slant: number) => [number, number][]>> =
  {
    parallelogram: (a, b, slant) => {
      const [x, y] = [b * Math.cos(degrees(slant)), b * Math.sin(degrees(slant))];
      return [
        [0, 0],
        [a, 0],
        [a + x, y],
        [x, y],
      ];
    },
    rhombus: (a, _, slant) => PLANS.parallelogram!(a, a, slant),
    trapezium: (a, b, slant) => {
      const x = Math.min(a / 3, b / Math.tan(degrees(slant)));
      return [
        [0, 0],
        [a, 0],
        [a - x, b],
        [x, b],
      ];
    },
    triangle: (a, b, slant) => [
      [0, 0],
      [a, 0],
      [b / Math.tan(degrees(slant)), b],
    ],
    hexagon: (a, _, slant) =>
      Array.from({ length: 6 }, (__, k) => [
        (a / 2) * Math.cos(degrees(60 * k + slant)),
        (a / 2) * Math.sin(degrees(60 * k + slant)),
      ]),
    crooked: (a, b, slant) => [
      [0, 0],
      [a, -slant / 3],
      [0.8 * a, b],
      [slant / 2, 0.8 * b],
    ],
  };

const cutOut = fc.record({
  shape: fc.constantFrom(...Object.keys(PLANS)),
  length: fc.constantFrom(80, 120, 200, 300),
  width: fc.constantFrom(60, 150, 250),
  slant: fc.constantFrom(35, 45, 60, 75, 90, 110),
  bottomRadius: fc.constantFrom(2, 3, 5, 8, 14, 25),
  above: fc.constantFrom(0.3, 0.5, 1, 2, 5, 12, 30),
  draft: fc.constantFrom(0, 5, 15, 25),
  lip: fc.constantFrom(undefined, undefined, 'in', 'out'),
  weldGap: fc.oneof(fc.constantFrom(0, 0.05, 0.5), fc.double({ min: 0, max: 5, noNaN: true })),
  notchRelief: fc.constantFrom(undefined, 0, 1, 3, 6, 10),
  trim: fc.constantFrom(0, 2, 4, 8),
  material: fc.constantFrom('DC04', '1050A-O', '1.4301'),
  grain: fc.constantFrom(0, 30),
});

test('a tray of any plan whose corners are all cut out has a flat, or is refused for a field by name or for a notch', () => {
  let solved = 0;
  fc.assert(
    fc.property(cutOut, ({ shape, length, width, slant, above, lip, draft, bottomRadius, ...more }) => {
      const { material, grain, trim, weldGap, notchRelief } = more;
      const corners = PLANS[shape]!(length, width, slant);
      try {
        const spec = readTray({
          name: 'notched-tray',
          plan: { vertices: corners.map(([x, y]) => ({ x, y })) },
          section: {
            bottomRadius,
            height: bottomRadius + above + (lip === undefined ? 0 : 6),
            draft,
            ...(lip === undefined ? {} : { rim: { kind: 'lip', direction: lip, bendRadius: 4, width: 12 } }),
          },
          sheet: { material, thickness: 1, grain },
          forming: {
            corners: 'notch',
            weldGap,
            trim,
            ...(notchRelief === undefined ? {} : { notchRelief }),
          },
        });
        const made = developTray(spec, { solve: { minimumRefinements: 0, maximumRefinements: 0 } });
        if (made.kind === 'no flat') {
          const text = sentences(
            made.verdict.reasons.map(({ sentence }) => sentence),
            english,
          ).join(' ');
          expect(text).toContain('notch');
          return;
        }
        solved++;
        // It only bends: chords of 30° for the arcs of its bends are short by 1.1 %.
        const { majorStrain, minorStrain } = made.field;
        expect(Math.max(...majorStrain, ...minorStrain.map((strain) => -strain))).toBeLessThan(0.011);
      } catch (error) {
        if (!(error instanceof GatherpanError)) throw error;
        // What the reader refuses names a field; what is found on the blank names the notch.
        if (error.code === 'BAD_INPUT') expect(error.path).toMatch(/^(plan|section|forming|cut|sheet)\./);
        else expect(error.message).toMatch(/^At the notch of corner [A-F]/);
      }
    }),
    { seed: 21, numRuns: RUNS },
  );
  expect(solved).toBeGreaterThan(0.6 * RUNS);
}, 3_600_000);

test('a notch on a mirror line of plan and grain is as open as the same notch in a sheet turned a little', () => {
  for (const [shape, slant] of [
    ['rhombus', 60],
    ['rhombus', 90],
    ['hexagon', 0],
    ['hexagon', 90],
    ['triangle', 45],
  ] as const) {
    const blank = (turned: number): FlatPattern =>
      flatPatternOf(
        developTray(
          readTray({
            name: 'notched-tray',
            plan: { vertices: PLANS[shape]!(160, 80, slant).map(([x, y]) => ({ x, y })) },
            section: { bottomRadius: 8, height: 20 },
            sheet: { material: 'DC04', thickness: 1, grain: slant / 2 + turned },
            forming: { corners: 'notch', weldGap: 0.5, trim: 0 },
          }),
        ),
      );
    const [along, beside] = [blank(0), blank(7)];
    // It only bends, so the grain does not matter.
    const chords: Tolerance = { why: 'chords of the mesh for arcs of the bend', relative: 1e-4 };
    closeTo(pathArea(along.outline), pathArea(beside.outline), chords, `area of the ${shape}`);
    closeTo(pathLength(along.outline), pathLength(beside.outline), chords, `cut of the ${shape}`);
  }
});

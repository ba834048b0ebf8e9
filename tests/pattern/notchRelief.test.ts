/** Notched corners at every weld gap from 0 up: a hole at the root, and a slot to where the edges part by themselves. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { selfIntersections } from '../../src/geometry/intersect.ts';
import { distanceToPath, pathArea } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { readTray } from '../../src/tray/readTray.ts';

const LONG = process.env.LONG === '1';

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
        developTray(spec, { solve: { minimumRefinements: 0, maximumRefinements: 0 } }),
      );
      expect(selfIntersections(outline)).toEqual([]);
      expect(pathArea(outline)).toBeGreaterThan(0);
      // The hole is there in the rim, about the corner of the base.
      const root = { x: 150 - bottomRadius, y: 110 - bottomRadius };
      expect(distanceToPath(root, rim)).toBeGreaterThan(Math.max(0.3, notchRelief ?? 2) / 2 - 0.5);
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
      expect(Math.max(...distances)).toBeLessThan(trim + 1e-6);
      expect(distances.filter((distance) => distance < 1e-6).length).toBeGreaterThanOrEqual(12);
      const area = pathArea(outline) - pathArea(rim);
      expect(area).toBeGreaterThan(0.5 * trim * 788);
      expect(area).toBeLessThan(1.5 * trim * 960);
    }),
    { seed: 20, numRuns: LONG ? 300 : 12 },
  );
});

/** Notched corners at every weld gap from 0 up: a hole at the root, and a slot to where the edges part by themselves. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { selfIntersections } from '../../src/outline/intersect.ts';
import { distanceToPath, pathArea } from '../../src/outline/measure.ts';
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

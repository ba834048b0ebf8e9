/**
 * Rims that break their direction, where one height runs out to another: a small break is rounded within the fit's
 * tolerance, a large one stays a corner, and no row of arcs swings about either. What is cut then has no short pieces.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { arcOf, containsPoint, distanceToPath, tangentBreaks } from '../../src/geometry/measure.ts';
import { type Path, SHORTEST_PIECE } from '../../src/geometry/path.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { LEAST_PIECE, OUTLINE_TOLERANCE } from '../../src/pattern/fittedLines.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { SolveOptions } from '../../src/solve/solveTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { demo } from '../step/trays.ts';
import { LONG } from '../support/long.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

const SEED = 41;

/** Length of the arc that rounds a break within the tolerance, mm; of a break in radians (sagitta = length · break / 8). */
const roundingArc = (turn: number): number => (8 * 0.75 * OUTLINE_TOLERANCE) / Math.abs(turn);

/** How far the solved worked rim, the parabolas through its nodes, lies from the fitted one. */
function away({ workedRim: rim, field }: FlatPattern): number {
  const { flat, rimNodes } = field;
  let most = 0;
  for (let i = 0; i < rimNodes.length; i += 2) {
    const [a, m, b] = [0, 1, 2].map((k) => rimNodes[(i + k) % rimNodes.length]!) as [number, number, number];
    for (const s of [0, 0.02, 0.05, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 0.95, 0.98]) {
      const [x, y] = [0, 1].map(
        (axis) =>
          (1 - s) * (1 - 2 * s) * flat[2 * a + axis]! +
          4 * s * (1 - s) * flat[2 * m + axis]! +
          s * (2 * s - 1) * flat[2 * b + axis]!,
      );
      most = Math.max(most, distanceToPath({ x: x!, y: y! }, rim));
    }
  }
  return most;
}

const lengths = (path: Path): number[] =>
  path.vertices.map((from, i) => {
    const to = path.vertices[(i + 1) % path.vertices.length]!;
    const arc = arcOf(from, to);
    return arc ? Math.abs(arc.sweep) * arc.radius : Math.hypot(to.x - from.x, to.y - from.y);
  });

const hasShortPieces = (path: Path): boolean => Math.min(...lengths(path)) < SHORTEST_PIECE * (1 - 1e-9);

const largestBreak = (path: Path): number => Math.max(...tangentBreaks(path).map(Math.abs));

/** A break is left only where the arc in its place, or what it would leave of a piece beside it, would be too short. */
function expectRoundedBreaks(path: Path): void {
  const pieces = lengths(path);
  for (const [i, turn] of tangentBreaks(path).entries()) {
    if (Math.abs(turn) <= 1e-6) continue;
    const arc = roundingArc(turn) / 1.25;
    const shorter = Math.min(pieces[i]!, pieces[(i + pieces.length - 1) % pieces.length]!);
    expect(Math.min(arc, shorter - arc / 2), `the break of ${turn}`).toBeLessThan(SHORTEST_PIECE);
  }
}

/** @param asked the trim of the tray file */
function expectClean(pattern: FlatPattern, asked: number): void {
  const { trim } = pattern.spec.forming;
  expect(away(pattern)).toBeLessThan(OUTLINE_TOLERANCE + 1e-4);
  for (const path of [pattern.rim, pattern.outline]) expectRoundedBreaks(path);
  // Where a rim bends too sharply for pieces of that length it has shorter ones.
  for (const path of [pattern.rim, pattern.outline])
    expect(Math.min(...lengths(path))).toBeGreaterThan(LEAST_PIECE * (1 - 1e-9));
  const lessened = pattern.notes.some(({ entry }) => entry === 'pattern.trimLessened');
  expect(lessened ? trim < asked : trim === asked).toBe(true);
  // The net rim runs within the outline; the trim between them is about as wide in the flat as it is on the wall.
  for (const { x, y } of pattern.rim.vertices) {
    expect(containsPoint(pattern.outline, { x, y })).toBe(true);
    const distance = distanceToPath({ x, y }, pattern.outline);
    expect(distance).toBeGreaterThan(0.5 * trim);
    expect(distance).toBeLessThan(1.2 * trim);
  }
}

it('where a high back runs out over the sides', () => {
  const pattern = flatPatternOf(developTray(demo('splash-back-tray')));
  expectClean(pattern, 4);
  expect(hasShortPieces(pattern.rim) || hasShortPieces(pattern.outline)).toBe(false);
  expect(largestBreak(pattern.rim)).toBeLessThan(1e-6);
  expect(largestBreak(pattern.outline)).toBeLessThan(1e-6);
});

const splashBacks = fc.record({
  length: fc.integer({ min: 300, max: 600 }),
  width: fc.integer({ min: 250, max: 400 }),
  cornerRadius: fc.integer({ min: 30, max: 100 }),
  bottomRadius: fc.integer({ min: 12, max: 30 }),
  low: fc.double({ min: 0.2, max: 1, noNaN: true }),
  rise: fc.double({ min: 0.05, max: 2.5, noNaN: true }),
  runOut: fc.integer({ min: 2, max: 80 }),
  sides: fc.constantFrom<readonly string[]>(['top'], ['left'], ['top', 'left'], ['top', 'bottom']),
  trim: fc.constantFrom(0.5, 1, 2, 4, 6),
});

it('whatever height runs out to another', () => {
  const coarse: Partial<SolveOptions> = LONG ? {} : { minimumRefinements: 0, maximumRefinements: 0 };
  let [rounded, left, short] = [0, 0, 0];
  fc.assert(
    fc.property(splashBacks, ({ low, rise, sides, runOut, trim, ...plan }) => {
      const { length, width, bottomRadius } = plan;
      const cornerRadius = Math.max(plan.cornerRadius, bottomRadius + 10);
      const straight = Math.min(length, width) - 2 * cornerRadius;
      const height = Math.round(bottomRadius * (1.1 + low));
      const high = Math.round(height + rise * bottomRadius);
      const heights = Object.fromEntries(
        ['top', 'left', 'bottom', 'right'].map((side) => [side, sides.includes(side) ? high : height]),
      );
      const spec: TraySpec = readTray({
        name: 'splash-back',
        plan: { length, width, cornerRadius },
        section: { bottomRadius, heights, runOut: Math.min(runOut, straight / 2 - 1) },
        sheet: { material: 'DC04', thickness: 1 },
        forming: { trim },
      });
      const developed = developTray(spec, { ...OUTLINE_ONLY, solve: coarse });
      // A high side that falls within a few mm can ask for more than the sheet gathers.
      fc.pre(developed.kind !== 'no flat');
      const pattern = flatPatternOf(developed);
      expectClean(pattern, trim);
      if (hasShortPieces(pattern.outline)) short++;
      if (largestBreak(pattern.rim) > 1e-6) left++;
      else rounded++;
    }),
    { seed: SEED, numRuns: LONG ? 300 : 12, endOnFailure: true },
  );
  expect(Math.min(rounded, left)).toBeGreaterThan(0);
  expect(short / (rounded + left), 'share of cuts with a short piece').toBeLessThan(0.02);
});

/**
 * Plan corners hardly rounder than the bend at the base: an inch drawing, or a former that was made to the inside.
 * The bend begins about a corner that is nearly a point; its line to be scribed must not keep the blank from being cut.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { solvedFor } from '../../src/gather/solvedTray.ts';
import { distanceToPath } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { fitSolvedRow, SCRIBE_TOLERANCE } from '../../src/pattern/fittedLines.ts';
import { pointArcsAsCorners } from '../../src/pattern/pointArcs.ts';
import { scribed } from '../../src/pattern/scribed.ts';
import type { SolveOptions, TraySolution } from '../../src/solve/solveTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { statement } from '../../src/words/statement.ts';
import { LONG } from '../support/long.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

const SEED = 55;
const BOTTOM_RADII = [3, 8, 12.5, 25, 55, 100];

interface Case {
  readonly bottom: number;
  /** Plan radius less bottom radius, mm. */
  readonly more: number;
  /** A square's mirror lines go through its corners. */
  readonly square: boolean;
}

const ALL: readonly Case[] = BOTTOM_RADII.flatMap((bottom) =>
  Array.from({ length: 101 }, (_, i) => ({ bottom, more: i / 20, square: i % 5 === 0 })),
);
const CASES = LONG
  ? ALL
  : fc
      .sample(fc.constantFrom(...ALL), { numRuns: 16, seed: SEED })
      .concat(BOTTOM_RADII.map((bottom, i) => ({ bottom, more: (1 + (i % 3)) / 10, square: i % 2 === 0 })));

const developed = ({ bottom, more, square }: Case, solve: Partial<SolveOptions>) => {
  const length = Math.max(120, 4 * (bottom + more) + 60);
  return flatPatternOf(
    developTray(
      readTray({
        name: 'inch-drip-tray',
        plan: { length, width: square ? length : 0.8 * length + 10, cornerRadius: bottom + more },
        section: { bottomRadius: bottom, height: 1.2 * bottom + 4 },
        sheet: { material: 'DC04', thickness: bottom < 5 ? 0.8 : 1 },
      }),
      { ...OUTLINE_ONLY, solve },
    ),
  );
};

describe('a plan radius from 0 to 5 mm above the bottom radius', () => {
  test.each(CASES)('$bottom and $more mm more, square: $square', (each) => {
    const pattern = developed(each, LONG ? {} : { minimumRefinements: 0, maximumRefinements: 1 });
    const { solution } = solvedFor(pattern);
    for (const [row, kind] of ['bend-begin', 'bend-end'].entries()) {
      const own = pattern.scribeLines.filter((line) => line.kind === kind);
      expect(own).toHaveLength(1);
      expect(own[0]!.path.closed).toBe(true);
      for (const { nodes } of solution.mesh.sectionLines.filter((line) => line.row === row)) {
        for (const node of nodes) {
          const at = { x: solution.flat[2 * node]!, y: solution.flat[2 * node + 1]! };
          expect(distanceToPath(at, own[0]!.path)).toBeLessThanOrEqual(SCRIBE_TOLERANCE + 1e-6);
        }
      }
    }
  });
});

describe('a row of edges that is nearly a point', () => {
  const TOLERANCE = 0.05;
  const TURN = 0.35;

  /** Edges of 1 mm, an arc of the radius about a corner that turns by the angle, and edges of 1 mm again. */
  const bend = (radius: number, turn: number, edges: number): Float64Array => {
    const points: [number, number][] = [];
    for (let i = -8; i < 0; i++) points.push([i / 2, 0]);
    for (let i = 0; i <= 2 * edges; i++) {
      const angle = (turn * i) / (2 * edges);
      points.push([radius * Math.sin(angle), radius * (1 - Math.cos(angle))]);
    }
    const [x, y] = points[points.length - 1]!;
    for (let i = 1; i <= 8; i++) points.push([x + (i / 2) * Math.cos(turn), y + (i / 2) * Math.sin(turn)]);
    return Float64Array.from(points.flat());
  };
  const bends = fc.record({
    radius: fc.double({ min: 1e-4, max: 0.2, noNaN: true }),
    turn: fc.double({ min: 0.4, max: 2, noNaN: true }),
    edges: fc.integer({ min: 2, max: 10 }),
  });

  test('becomes one corner within the tolerance; a longer one stays', () => {
    fc.assert(
      fc.property(bends, ({ radius, turn, edges }) => {
        const points = bend(radius, turn, edges);
        const line = pointArcsAsCorners(points, false, null, TOLERANCE, TURN);
        if (radius * turn > 2 * TOLERANCE * 1.01) {
          expect(line.points).toBe(points);
          return;
        }
        if (radius * turn > 2 * TOLERANCE * 0.99) return;
        expect(line.points.length / 2).toBe(points.length / 2 - 2 * edges);
        const [x, y] = [line.points[16]!, line.points[17]!];
        expect(x).toBeCloseTo(radius * Math.tan(turn / 2), 4);
        expect(y).toBeCloseTo(0, 4);
        // To the arc's middle.
        expect(Math.hypot(x, y - radius) - radius).toBeLessThan(TOLERANCE);
      }),
      { seed: SEED, numRuns: LONG ? 5000 : 200 },
    );
  });

  test('of a loop, wherever its nodes begin', () => {
    const corner = (cx: number, cy: number, from: number): [number, number][] =>
      [0, 1, 2, 3, 4].map((i) => {
        const angle = from + (i * Math.PI) / 8;
        return [cx + 0.02 * Math.cos(angle), cy + 0.02 * Math.sin(angle)];
      });
    const loop: [number, number][] = [];
    for (const [i, [cx, cy]] of [
      [20, 10],
      [-20, 10],
      [-20, -10],
      [20, -10],
    ].entries()) {
      const own = corner(cx!, cy!, (i * Math.PI) / 2);
      const [nx, ny] = [
        [-20, 10],
        [-20, -10],
        [20, -10],
        [20, 10],
      ][i]!;
      const after = corner(nx!, ny!, ((i + 1) * Math.PI) / 2)[0]!;
      const last = own[4]!;
      loop.push(...own, [(last[0] + after[0]) / 2, (last[1] + after[1]) / 2]);
    }
    for (let first = 0; first < loop.length; first += 2) {
      const points = Float64Array.from([...loop.slice(first), ...loop.slice(0, first)].flat());
      const line = pointArcsAsCorners(points, true, null, TOLERANCE, TURN);
      const corners = Array.from({ length: line.points.length / 4 }, (_, i) => [
        Math.abs(line.points[4 * i]!),
        Math.abs(line.points[4 * i + 1]!),
      ]);
      expect(corners).toHaveLength(4);
      for (const [x, y] of corners) {
        expect(x).toBeCloseTo(20.02, 6);
        expect(y).toBeCloseTo(10.02, 6);
      }
    }
  });
});

test('a line that no lines and arcs follow is left out with a warning', () => {
  // Edges that go out and straight back: hairpins narrower than any arc that would do.
  const count = 24;
  const flat = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const angle = (2 * Math.PI * i) / count;
    const radius = i % 2 === 0 ? 0.05 : 0.5;
    flat[2 * i] = radius * Math.cos(angle);
    flat[2 * i + 1] = radius * Math.sin(angle);
  }
  const nodes = Uint32Array.from({ length: count }, (_, i) => i);
  const solution = { mesh: { mirrorLines: null }, flat } as unknown as TraySolution;
  const line = { nodes, closed: true };
  const { paths, leftOut } = fitSolvedRow(solution, [line]);
  expect([paths.length, leftOut]).toEqual([0, 1]);
  const rows = (['bend-begin', 'bend-end'] as const).map((kind) => ({ kind, lines: [line, line] }));
  expect(scribed(solution, rows)).toEqual({
    scribeLines: [],
    warnings: [statement('pattern.bendBeginLeftOut'), statement('pattern.bendEndLeftOut')],
  });
});

test('what is wrong with the nodes themselves is no line to leave out', () => {
  const solution = { mesh: { mirrorLines: null }, flat: new Float64Array(24) } as unknown as TraySolution;
  const line = { nodes: Uint32Array.from({ length: 12 }, (_, i) => i), closed: true };
  expect(() => fitSolvedRow(solution, [line])).toThrow(GatherpanError);
});

/**
 * What the solve says its rim is worth, against meshes refined twice more: in random trays of all kinds, with lips,
 * drafts, sides of different heights and concave plans.
 *
 * The long form is the evidence behind the shares in `solveTray.ts`: of 200 trays the estimate has to bound the error in
 * 198, and to be no more than three times as large in the median.
 */
import { expect, test } from 'vitest';
import { isUnsolved } from '../../src/errors.ts';
import { solveInput } from '../../src/gather/solvedTray.ts';
import { DEFAULT_SOLVE, type SolveOptions, solveTray, type TraySolution } from '../../src/solve/solveTray.ts';
import { type Reach, surveyTrays } from '../../src/tools/bench/survey.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { LONG } from '../support/long.ts';
import { rimDistance } from '../support/measures.ts';

/** Seconds of work a tray go with the triangles of its finest mesh. */
const MOST_TRIANGLES = LONG ? 60_000 : 16_000;

interface Found {
  readonly name: string;
  readonly estimate: number;
  readonly error: number;
}

function found(name: string, spec: TraySpec): Found | null {
  const { surface, symmetry, law, growth } = solveInput(spec);
  const solve = (more: Partial<SolveOptions>): TraySolution =>
    solveTray(surface, symmetry, law, { ...DEFAULT_SOLVE, growth, ...more });
  try {
    const own = solve({});
    if (16 * own.mesh.base.length > MOST_TRIANGLES) return null;
    const times = own.refinements + 2;
    const fine = solve({
      accuracy: 0,
      minimumRefinements: times,
      maximumRefinements: times,
      maximumTriangles: MOST_TRIANGLES,
    });
    return { name, estimate: own.estimate, error: rimDistance(own, fine) };
  } catch (error) {
    // No flat is said in other words.
    if (isUnsolved(error)) return null;
    throw error;
  }
}

const kinds: readonly (readonly [Reach, number, number, number, number])[] = LONG
  ? [
      ['everyday', 16, 40, 50, 50],
      ['promised', 5, 30, 35, 35],
    ]
  : [
      ['everyday', 16, 4, 2, 1],
      ['promised', 5, 2, 1, 0],
    ];

test('the estimate bounds the error of the rim, and is not much larger', () => {
  const all = kinds.flatMap(([reach, seed, quarter, half, whole]) =>
    surveyTrays({ quarter, half, whole }, seed, reach).flatMap(({ file, spec }) => {
      const each = found(`${reach} ${file.name}`, spec);
      return each === null ? [] : [each];
    }),
  );
  const figures = all
    .map(({ name, estimate, error }) => `${name}: ${estimate.toFixed(4)} said, ${error.toFixed(4)} had`)
    .join('\n');
  if (LONG) process.stdout.write(`${figures}\n`);
  expect(all.length, figures).toBeGreaterThanOrEqual(LONG ? 150 : 6);
  // One in a hundred may be wrong.
  const wrong = all.filter(({ estimate, error }) => error > estimate);
  expect(wrong.length, figures).toBeLessThanOrEqual(Math.floor(all.length / 100));
  const ratios = all.map(({ estimate, error }) => estimate / error).sort((a, b) => a - b);
  expect(ratios[ratios.length >> 1], figures).toBeLessThan(3);
});

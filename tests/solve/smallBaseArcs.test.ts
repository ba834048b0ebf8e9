/**
 * Corners whose bend begins on hardly an arc (plan radius just above the bottom radius), gathered as hard as can be:
 * they solve as their neighbours do, and their strains are their neighbours'.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { SolveOptions } from '../../src/solve/solveTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { LONG } from '../support/long.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

const SEED = 58;

interface Case {
  readonly bottom: number;
  readonly height: number;
  /** Plan radius less bottom radius, mm. */
  readonly more: number;
  readonly square: boolean;
}

const solved = ({ bottom, height, more, square }: Case, solve: Partial<SolveOptions>): FlatPattern => {
  const length = Math.max(120, 4 * (bottom + more) + 60);
  const developed = developTray(
    readTray({
      name: 'drip-tray',
      plan: { length, width: square ? length : 0.8 * length + 4, cornerRadius: bottom + more },
      section: { bottomRadius: bottom, height },
      sheet: { material: 'DC04', thickness: bottom < 5 ? 0.8 : 1 },
    }),
    { ...OUTLINE_ONLY, solve },
  );
  if (developed.kind === 'no flat') throw new Error(`no flat: ${developed.cause}`);
  return developed;
};

const stretch = ({ field }: FlatPattern): number => Math.max(...field.majorStrain);
const shrink = ({ field }: FlatPattern): number => -Math.min(...field.minorStrain);

/** Bottom radius and height: the wall is more than two bottom radii high. */
const HARD: readonly (readonly [number, number])[] = [
  [3, 10.5],
  [8, 18],
  [100, 200],
];
const ONCE: Partial<SolveOptions> = { minimumRefinements: 1, maximumRefinements: 1 };
const ALL: readonly Case[] = HARD.flatMap(([bottom, height]) =>
  Array.from({ length: 50 }, (_, i) => i / 20 + 0.05).flatMap((more) =>
    [true, false].map((square) => ({ bottom, height, more, square })),
  ),
);
/** Once, a triangle of the wall turned over on the coarse mesh of the first six; the others had no strain right. */
const ONCE_WRONG: readonly Case[] = [
  ...[0.65, 1, 1.1].map((more) => ({ bottom: 3, height: 10.5, more, square: false })),
  ...[0.7, 0.95, 1.15].map((more) => ({ bottom: 3, height: 10.5, more, square: true })),
  ...[0.05, 0.1, 0.2].map((more) => ({ bottom: 8, height: 18, more, square: false })),
];
const CASES = LONG ? ALL : [...ONCE_WRONG, ...fc.sample(fc.constantFrom(...ALL), { numRuns: 5, seed: SEED })];

describe('a small arc of the base under a wall that is gathered hard', () => {
  const without = new Map<string, FlatPattern>();
  test.each(CASES)('$bottom and $more mm more, $height mm high, square: $square', (each) => {
    const key = `${each.bottom} ${each.square}`;
    const neighbour = without.get(key) ?? solved({ ...each, more: 0 }, ONCE);
    without.set(key, neighbour);
    const own = solved(each, ONCE);
    // Rounder corners are gathered and stretched less; what is left is the coarseness of the mesh.
    expect(stretch(own)).toBeLessThan(stretch(neighbour) + 0.015);
    expect(shrink(own)).toBeLessThan(shrink(neighbour) + 0.015);
    expect(stretch(own)).toBeGreaterThan((1 - each.more / each.bottom / 2) * stretch(neighbour) - 0.015);
    expect(shrink(own)).toBeGreaterThan((1 - each.more / each.bottom / 2) * shrink(neighbour) - 0.015);
  });
});

test('a coarse mesh alone, which is what the band of hands is found from, has the same strains', () => {
  const coarse = { minimumRefinements: 0, maximumRefinements: 0 };
  const neighbour = solved({ bottom: 3, height: 10.5, more: 0.5, square: false }, coarse);
  for (const more of [0.65, 1, 1.1]) {
    const own = solved({ bottom: 3, height: 10.5, more, square: false }, coarse);
    expect(Math.abs(stretch(own) - stretch(neighbour))).toBeLessThan(0.05);
    expect(Math.abs(shrink(own) - shrink(neighbour))).toBeLessThan(0.05);
  }
});

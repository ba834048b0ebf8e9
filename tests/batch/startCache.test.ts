/** Starts from the neighbour: the same solution in fewer steps. */
import { describe, expect, it } from 'vitest';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { RESIDUAL_TOLERANCE } from '../../src/solve/solveTray.ts';
import { StartCache } from '../../src/solve/startCache.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

const tray = (over: {
  length?: number;
  width?: number;
  corner?: number | number[];
  height?: number;
  grain?: number;
}): TraySpec =>
  readTray({
    name: 'tray',
    plan: { length: over.length ?? 300, width: over.width ?? 200, cornerRadius: over.corner ?? 45 },
    section: { bottomRadius: 22, height: over.height ?? 40 },
    sheet: { material: 'DC04', thickness: 1.2, grain: over.grain ?? 0 },
  });

function solveAll(specs: readonly TraySpec[], starts: StartCache | null): FlatPattern[] {
  return specs.map((spec) => flatPatternOf(developTray(spec, { ...OUTLINE_ONLY, solve: { starts } })));
}

function largestDifference(a: FlatPattern, b: FlatPattern): number {
  expect(a.field.flat.length).toBe(b.field.flat.length);
  let largest = 0;
  a.field.flat.forEach((value, i) => {
    largest = Math.max(largest, Math.abs(value - b.field.flat[i]!));
  });
  return largest;
}

/**
 * Largest difference of two flats, mm; the outline is promised to 0.05. A tray without mirror lines is held in
 * its place by the base alone, which the residual sees less sharply.
 */
const MIRRORED = 5e-5;
const HELD = 5e-3;

const FAMILIES: [string, TraySpec[], number][] = [
  ['lengths', [300, 310, 320, 330].map((length) => tray({ length })), MIRRORED],
  ['heights', [36, 38, 40, 42].map((height) => tray({ height })), MIRRORED],
  ['corner radii', [40, 42, 44, 46].map((corner) => tray({ corner })), MIRRORED],
  ['four different corners', [300, 305].map((length) => tray({ length, corner: [45, 40, 35, 30] })), HELD],
  [
    'nothing in common',
    [tray({}), tray({ length: 200 }), tray({ corner: [45, 40, 45, 30], grain: 30 }), tray({ length: 900 })],
    HELD,
  ],
];

describe('a start from the neighbour', () => {
  it.each(FAMILIES)('%s: the same flats, far within the stated accuracy', (_name, specs, most) => {
    const cold = solveAll(specs, null);
    const warm = solveAll(specs, new StartCache());
    specs.forEach((_, i) => {
      expect(largestDifference(cold[i]!, warm[i]!)).toBeLessThan(most);
      expect(warm[i]!.report.solver.residual).toBeLessThanOrEqual(RESIDUAL_TOLERANCE);
    });
  });

  it('needs fewer steps', () => {
    const [, specs] = FAMILIES[0]!;
    const steps = (list: readonly FlatPattern[]): number =>
      list.slice(1).reduce((sum, { report }) => sum + report.solver.steps, 0);
    expect(steps(solveAll(specs, new StartCache()))).toBeLessThan(0.7 * steps(solveAll(specs, null)));
  });

  it('serves where the base is triangulated otherwise after the smallest change', () => {
    const wings = [18, 17.99, 17.9].map((bottomRadius) =>
      readTray({
        name: 'wings',
        plan: {
          vertices: [
            { x: 0, y: 0, radius: 60 },
            { x: 460, y: 0, radius: 60 },
            { x: 460, y: 200, radius: 60 },
            { x: 220, y: 200, radius: 110 },
            { x: 220, y: 400, radius: 60 },
            { x: 0, y: 400, radius: 60 },
          ],
        },
        section: { bottomRadius, height: 24 },
        sheet: { material: 'DC04', thickness: 1 },
        forming: { trim: 0 },
      }),
    );
    const coarse = { minimumRefinements: 0, maximumRefinements: 0, tolerance: 1e-3 };
    const steps = (starts: StartCache | null): number[] =>
      wings.map((spec) => {
        const made = developTray(spec, { ...OUTLINE_ONLY, solve: { ...coarse, starts } });
        return flatPatternOf(made).report.solver.steps;
      });
    const [cold, warm] = [steps(null), steps(new StartCache())];
    for (const i of [1, 2]) expect(warm[i]!).toBeLessThan(0.4 * cold[i]!);
  });

  it('is the same every time to the last digit', () => {
    const [, specs] = FAMILIES[2]!;
    const once = solveAll(specs, new StartCache());
    const again = solveAll(specs, new StartCache());
    for (const [i, each] of once.entries()) expect(largestDifference(each, again[i]!)).toBe(0);
  });
});

/** The working plan of a pattern is the same whether its tray was solved a moment ago or is solved again. */
import { describe, expect, it } from 'vitest';
import { solvedFor, solveSpec } from '../../src/gather/solvedTray.ts';
import { courseOf } from '../../src/gather/workingPlan.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { NESTING, UPRIGHT } from '../papers/trays.ts';

describe('a tray that was solved for its pattern', () => {
  it('is not solved again for its plan, whatever is solved in between', () => {
    const pattern = flatPatternOf(developTray(NESTING));
    const kept = solvedFor(pattern);
    expect(solvedFor(pattern)).toBe(kept);
    expect(Math.max(...kept.solution.flat)).toBeCloseTo(Math.max(...pattern.field.flat), 9);
    flatPatternOf(developTray(UPRIGHT));
    expect(solvedFor(pattern)).toBe(kept);
    expect(solvedFor(structuredClone(pattern))).not.toBe(kept);
  });

  it('gives the plan that a fresh solve gives, to the last digit', () => {
    const pattern = flatPatternOf(developTray(UPRIGHT));
    const atOnce = courseOf(pattern);
    const kept = solvedFor(pattern).solution.flat;
    const elsewhere = courseOf({ ...pattern, workedRim: { ...pattern.workedRim } });
    expect(elsewhere).toEqual(atOnce);
    expect(solveSpec(UPRIGHT).solution.flat).toEqual(kept);
  });

  it('is not taken for another tray that has the same rim', () => {
    const pattern = flatPatternOf(developTray(NESTING));
    const other = { ...pattern, spec: { ...NESTING, sheet: { ...NESTING.sheet, thickness: 1.5 } } };
    expect(solvedFor(other).sheet.thickness).toBe(1.5);
  });
});

/** How many factorisations a sheet takes whose strengths are stated: near those of the same sheet without. */
import { describe, expect, test } from 'vitest';
import type { LawParameters } from '../../src/material/law.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { rectangle, solveSpec } from '../support/trays.ts';
import { AA6016 } from '../support/yieldLaws.ts';

const tray = rectangle(400, 250, 30, { bottomRadius: 15, height: 30, thickness: 1 });
const stepsOf = (sheet: LawParameters): number => solveSpec(tray, sheet, { maximumRefinements: 1 }).steps;
const withoutStrengths = ({ strengths: _none, ...rest }: LawParameters): LawParameters => rest;

// From the plain start and without stiffness against turns they took 15 to 9 and 45 to 9; now 13 and 22.
describe('factorisations with strengths over those without', () => {
  test.each([
    { name: '5754-O', sheet: findSheet('5754-O'), most: 1.5 },
    { name: 'AA6016-T4', sheet: AA6016, most: 2.6 },
  ])('$name', ({ sheet, most }) => {
    expect(stepsOf(sheet)).toBeLessThanOrEqual(most * stepsOf(withoutStrengths(sheet)));
  });
});

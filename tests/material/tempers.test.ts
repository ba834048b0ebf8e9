/** The strain between anneals beside the tempers of the standards, which are rolled reductions and so strains. */
import { describe, expect, test } from 'vitest';
import { HALF_HARD_COPPER, rolledStrain } from '../../src/material/sheets/entry.ts';
import { findSheet } from '../../src/material/sheets.ts';

/** Strain at which a sheet has come a share of the way to its hard temper's strength, as long as it stretches evenly. */
const onTheWay = (soft: number, hard: number, share: number): number =>
  Math.log1p((share * (hard - soft)) / soft);

describe('tempers', () => {
  // EN 515 and Askeland, The Science and Engineering of Materials, as quoted: half hard has a tensile strength midway
  // between soft and hard, quarter hard midway between soft and half hard. Copper Development Association, design guide,
  // cold-rolled properties of C26000, as quoted: reductions of 11, 21 and 37 % have 54, 62 and 76 ksi. Soft, grain of
  // 0.050 mm: 47 ksi, from memory.
  test.each([
    [0.25, 11, 54],
    [0.5, 21, 62],
  ])('of brass: %d of the way to hard is a reduction of %d %%', (share, reduction, strength) => {
    const [soft, hard] = [47, 76];
    // Whole ksi are given: one more or less is a strain of 0.016.
    expect(Math.abs(soft + share * (hard - soft) - strength)).toBeLessThan(1);
    expect(Math.abs(onTheWay(soft, hard, share) - rolledStrain(reduction))).toBeLessThan(0.016);
  });

  // ASTM B601 and the Brown and Sharpe gauge, from memory: a number hard is a number thinner, 92^(1/39) times.
  test('two numbers hard are half hard', () => {
    expect(HALF_HARD_COPPER / ((2 / Math.sqrt(3)) * ((2 * Math.log(92)) / 39))).toBeCloseTo(1, 2);
    for (const name of ['Cu-ETP-R220', 'CuZn37-R300']) {
      expect(findSheet(name).anneal.strainBudget).toBe(HALF_HARD_COPPER);
    }
  });

  // EN 10139, C590, as quoted in a strip maker's table.
  test.each(['DC01', 'DC04', 'DC06', 'DX51D+Z'])('%s at its budget is quarter hard', (name) => {
    const { tensileStrength, anneal } = findSheet(name);
    expect(Math.abs(anneal.strainBudget - onTheWay(tensileStrength, 590, 0.25))).toBeLessThan(0.01);
  });

  // Typical strengths of half-hard sheet, Aluminum Association, Aluminum Standards and Data, from memory.
  test.each([
    ['1050A-O', 110],
    ['3003-O', 150],
    ['5052-O', 260],
  ])('%s is not half hard yet', (name, halfHard) => {
    const { tensileStrength, anneal } = findSheet(name);
    expect(anneal.strainBudget).toBeLessThan(Math.log(halfHard / tensileStrength));
  });
});

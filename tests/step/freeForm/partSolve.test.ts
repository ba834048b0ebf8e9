import { expect, it } from 'vitest';
import { workedMaterial } from '../../../src/gather/hand.ts';
import { plasticLaw } from '../../../src/material/law.ts';
import { resolveSheet } from '../../../src/material/sheets.ts';
import { RESIDUAL_TOLERANCE } from '../../../src/solve/solveTray.ts';
import { NoShape } from '../../../src/step/freeForm/noShape.ts';
import type { PartMesh } from '../../../src/step/freeForm/partMesh.ts';
import { finalStage, roughStage } from '../../../src/step/freeForm/partSolve.ts';
import { randomNumbers } from '../../support/drawnTrays.ts';
import { refusal } from '../../support/refusal.ts';
import { meshed } from './meshed.ts';
import { bend } from './patches.ts';

const BENT = meshed(bend([20, 15], 8, 30));
const lawOf = (material: string, grain: number) => {
  const sheet = resolveSheet({ material, thickness: 1, grain });
  return plasticLaw(workedMaterial(sheet.material, undefined), sheet.grain);
};

/** A start that is not the solution: stretched, turned and moved, every node a little off. */
function away(part: PartMesh): PartMesh {
  const random = randomNumbers(20268);
  const [c, s] = [Math.cos(0.2), Math.sin(0.2)];
  const start = new Float64Array(part.start.length);
  for (let i = 0; i < start.length; i += 2) {
    const [x, y] = [1.03 * part.start[i]! + 0.2 * random(), 0.98 * part.start[i + 1]! + 0.2 * random()];
    start.set([c * x - s * y + 9, s * x + c * y - 4], i);
  }
  return { ...part, start };
}

const apart = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!)), 0);

it.each([
  ['alike in its plane', 'DC04', 0],
  ['with a grain across', '1.4301', 30],
])('a sheet that is only bent is found without strain, its base where it lies: %s', (_, material, grain) => {
  const law = lawOf(material, grain);
  const [coarse, fine] = [BENT.mesh(14), BENT.mesh(9)];
  const rough = roughStage(law, BENT.atlas, away(coarse));
  // Laid out by its lengths it is the solution; the rough one is found to a thousandth.
  expect(apart(rough.solution.flat, coarse.start)).toBeLessThan(0.2);
  const random = randomNumbers(20269);
  const off = rough.solution.flat.map((value) => value + 0.2 * random());
  const { solution, part } = finalStage(
    law,
    BENT.atlas,
    { ...rough, solution: { ...rough.solution, flat: off, steps: 100 } },
    away(fine),
  );
  expect(solution.residual).toBeLessThan(RESIDUAL_TOLERANCE);
  expect(apart(solution.flat, fine.start)).toBeLessThan(1e-3);
  expect(solution.steps).toBeGreaterThan(100);
  expect(part.mesh).toBe(fine.mesh);
});

it('a start folded over itself is refused, however evenly the sheet hardens, with the place that strains most', () => {
  const part = BENT.mesh(14);
  // Folded over: what lies beyond the bend is laid back on the base.
  const start = part.start.map((value, i) => (i % 2 === 0 && value > 25 ? 50 - value : value));
  const refused = refusal(() => roughStage(lawOf('DC04', 0), BENT.atlas, { ...part, start })) as NoShape;
  expect(refused).toBeInstanceOf(NoShape);
  expect([refused.code, refused.why]).toEqual(['NO_FLAT', 'no equilibrium']);
  expect(refused.sentence.entry).toBe('parts.noFlat.noShape');
  // The fold is in the bend: beyond the base's 20 mm, below the wall, which begins at a height of 8.
  const [x, y, z] = refused.sentence.figures.map(Number) as [number, number, number];
  for (const [value, low, high] of [
    [x, 20, 28],
    [y, 0, 30],
    [z, 0, 8],
  ] as const) {
    expect(value).toBeGreaterThanOrEqual(low);
    expect(value).toBeLessThanOrEqual(high);
  }
});

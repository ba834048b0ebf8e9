/** Hill 1948 in plane stress: unit paths, the fall-back to normal anisotropy, and what a pull in any direction does. */
import fc from 'fast-check';
import { describe, test } from 'vitest';
import {
  equivalentStrain,
  flowStress,
  hillStrainForm,
  type LawParameters,
  plasticLaw,
} from '../../src/material/law.ts';
import { closeTo, ROUNDING, type Tolerance } from '../support/closeTo.ts';
import { equivalentStrainOf, equivalentStress, lankfordAt } from '../support/hill.ts';
import { type Matrix2, rotation, times, transposed } from '../support/smallMatrices.ts';
import { EARING, HARDENING, planarIsotropic } from '../support/trays.ts';

const SIX_DECIMALS: Tolerance = { why: 'six decimals given', absolute: 1e-6 };
const DIFFERENCES: Tolerance = { why: 'central differences', absolute: 1e-7, relative: 1e-7 };

// W. F. Hosford and R. M. Caddell, Metal Forming, on Hill's 1948 criterion in plane stress (textbook form, from
// memory); figures worked by hand from ε̄ = (1+r)/√(1+2r) · √(ε1² + ε2² + 2r/(1+r)·ε1·ε2).
const UNIT_PATHS = [
  { r: 1, planeStrain: 1.154701, equibiaxial: 2, shear: 1.154701 },
  { r: 1.8, planeStrain: 1.305507, equibiaxial: 2.366432, shear: 1.103355 },
];

describe.each(UNIT_PATHS)('unit strain paths, r = $r', ({ r, planeStrain, equibiaxial, shear }) => {
  const law = plasticLaw(planarIsotropic(r, 0.2), 0);
  test.each([
    ['a pull, ε2 = −r/(1+r)', 1, -r / (1 + r), 1],
    ['plane strain', 1, 0, planeStrain],
    ['equal stretch both ways', 1, 1, equibiaxial],
    ['shear, ε2 = −ε1', 1, -1, shear],
  ] as const)('%s', (_, e1, e2, expected) => {
    closeTo(equivalentStrain(law, e1, e2, 0), expected, SIX_DECIMALS, 'equivalent strain');
    closeTo(equivalentStrain(law, -e2, -e1, 0), expected, SIX_DECIMALS, 'with signs and axes exchanged');
  });

  test('pure shear in the axes is shear along the diagonals', () => {
    closeTo(equivalentStrain(law, 0, 0, 2), shear, SIX_DECIMALS, 'engineering shear 2');
  });
});

const anyR = fc.double({ min: 0.05, max: 20, noNaN: true });
const anySheet = fc
  .record({ r0: anyR, r45: anyR, r90: anyR })
  .map((r): LawParameters => ({ ...HARDENING, ...r }));
const anyStrain = fc.double({ min: -0.7, max: 0.7, noNaN: true });
const anyAngle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });

describe('any sheet', () => {
  test('has the strain form that inverts the textbook stress matrix, in turned axes too', () => {
    fc.assert(
      fc.property(anySheet, anyStrain, anyStrain, anyStrain, anyAngle, (sheet, e11, e22, e12, grain) => {
        const strain: Matrix2 = [
          [e11, e12],
          [e12, e22],
        ];
        closeTo(
          equivalentStrain(plasticLaw(sheet, grain), e11, e22, 2 * e12),
          equivalentStrainOf(sheet, strain, grain),
          { why: 'rounding of two ways round', absolute: 1e-11, relative: 1e-11 },
          'equivalent strain',
        );
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  test('does not care whether grain and strain are both turned', () => {
    fc.assert(
      fc.property(anySheet, anyStrain, anyStrain, anyStrain, anyAngle, (sheet, e11, e22, e12, angle) => {
        const strain: Matrix2 = [
          [e11, e12],
          [e12, e22],
        ];
        const turned = times(rotation(angle), times(strain, transposed(rotation(angle))));
        closeTo(
          equivalentStrain(plasticLaw(sheet, 0.3 + angle), turned[0][0], turned[1][1], 2 * turned[0][1]),
          equivalentStrain(plasticLaw(sheet, 0.3), e11, e22, 2 * e12),
          { why: 'rounding', absolute: 1e-11, relative: 1e-11 },
          'equivalent strain',
        );
      }),
      { seed: 12, numRuns: 300 },
    );
  });

  test('falls back to normal anisotropy when r is the same in all directions', () => {
    fc.assert(
      fc.property(anyR, anyStrain, anyStrain, anyAngle, (r, e1, e2, angle) => {
        // Principal strains e1, e2 in axes turned by the angle: only they may matter.
        const turned = times(
          rotation(angle),
          times(
            [
              [e1, 0],
              [0, e2],
            ],
            transposed(rotation(angle)),
          ),
        );
        const plain =
          ((1 + r) / Math.sqrt(1 + 2 * r)) * Math.sqrt(e1 * e1 + e2 * e2 + ((2 * r) / (1 + r)) * e1 * e2);
        closeTo(
          equivalentStrain(
            plasticLaw(planarIsotropic(r, 0.2), 1.1),
            turned[0][0],
            turned[1][1],
            2 * turned[0][1],
          ),
          plain,
          { why: 'rounding', absolute: 1e-11, relative: 1e-11 },
          'equivalent strain',
        );
      }),
      { seed: 13, numRuns: 300 },
    );
  });

  test('work is done at the flow stress: stress · strain = equivalent stress × equivalent strain on the normal', () => {
    // For a proportional path σ along P⁻¹ε, σ:ε = σ̄·ε̄ (Hill's equivalent quantities are work-conjugate).
    fc.assert(
      fc.property(anySheet, anyStrain, anyStrain, anyStrain, (sheet, e11, e22, e12) => {
        const form = hillStrainForm(sheet.r0, sheet.r45, sheet.r90);
        const e = [e11, e22, 2 * e12] as const;
        const [q11, q12, q13, q22, q23, q33] = form;
        const s = [
          q11 * e[0] + q12 * e[1] + q13 * e[2],
          q12 * e[0] + q22 * e[1] + q23 * e[2],
          q13 * e[0] + q23 * e[1] + q33 * e[2],
        ] as const;
        const stress: Matrix2 = [
          [s[0], s[2]],
          [s[2], s[1]],
        ];
        const work = s[0] * e[0] + s[1] * e[1] + s[2] * e[2];
        const product = equivalentStress(sheet, stress) * equivalentStrain(plasticLaw(sheet, 0), ...e);
        closeTo(product, work, { why: 'rounding', absolute: 1e-10, relative: 1e-10 }, 'work');
      }),
      { seed: 14, numRuns: 300 },
    );
  });
});

describe('Lankford coefficient in a direction', () => {
  test('is r0, r45 and r90 where these are measured', () => {
    for (const quarter of [0, 1, 2, 3]) {
      const turn = (quarter * Math.PI) / 2;
      const [along, across] = quarter % 2 === 0 ? [EARING.r0, EARING.r90] : [EARING.r90, EARING.r0];
      closeTo(lankfordAt(EARING, turn), along, ROUNDING, `at ${quarter} quarters`);
      closeTo(lankfordAt(EARING, turn + Math.PI / 4), EARING.r45, ROUNDING, `at ${quarter} quarters + 45°`);
      closeTo(lankfordAt(EARING, turn + Math.PI / 2), across, ROUNDING, `at ${quarter} quarters + 90°`);
    }
  });

  test('is the same all round when the sheet is', () => {
    for (const angle of [0, 0.2, 0.9, 1.7]) {
      closeTo(lankfordAt(planarIsotropic(0.7, 0.2), angle), 0.7, ROUNDING, `at ${angle}`);
    }
  });

  test('is the ratio of width to thickness strain by the normal to the yield surface', () => {
    // Hill 1948: strain increments are the derivatives of σ̄ by the stresses; taken here by differences.
    fc.assert(
      fc.property(anySheet, anyAngle, (sheet, angle) => {
        const along = [Math.cos(angle), Math.sin(angle)] as const;
        const pull = (extra11: number, extra22: number, extra12: number): number =>
          equivalentStress(sheet, [
            [along[0] * along[0] + extra11, along[0] * along[1] + extra12],
            [along[0] * along[1] + extra12, along[1] * along[1] + extra22],
          ]);
        const h = 1e-5;
        const e11 = (pull(h, 0, 0) - pull(-h, 0, 0)) / (2 * h);
        const e22 = (pull(0, h, 0) - pull(0, -h, 0)) / (2 * h);
        const e12 = (pull(0, 0, h) - pull(0, 0, -h)) / (4 * h);
        const width = e11 * along[1] ** 2 + e22 * along[0] ** 2 - 2 * e12 * along[0] * along[1];
        closeTo(
          lankfordAt(sheet, angle),
          -width / (e11 + e22),
          { ...DIFFERENCES, absolute: 1e-6, relative: 1e-6 },
          'Lankford coefficient',
        );
      }),
      { seed: 15, numRuns: 200 },
    );
  });
});

describe('hardening', () => {
  test('is Swift’s: K (ε0 + ε̄)^n', () => {
    const law = plasticLaw({ K: 520, epsilon0: 0.004, n: 0.22, r0: 1, r45: 1, r90: 1 }, 0);
    // 520 · 0.3^0.22 and 520 · 0.004^0.22, worked with logarithms: ln 0.3 = −1.2039728, ln 0.004 = −5.5214609.
    closeTo(
      flowStress(law, 0.296),
      520 * Math.exp(0.22 * -1.2039728),
      { why: 'seven digits', relative: 1e-7 },
      'at 0.296',
    );
    closeTo(
      flowStress(law, 0),
      520 * Math.exp(0.22 * -5.5214609),
      { why: 'seven digits', relative: 1e-7 },
      'at rest',
    );
  });
});

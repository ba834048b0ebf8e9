/** The membrane force: derives from the work, does not care how the axes lie, and has the derivative it claims. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type LawParameters, plasticLaw } from '../../src/material/law.ts';
import { EASED, EXACT, FORCE_SIZE, membraneForce, NONE } from '../../src/solve/constitutive.ts';
import { closeTo, ROUNDING, type Tolerance } from '../support/closeTo.ts';
import { equivalentStrainOf, workDensity } from '../support/hill.ts';
import { LONG } from '../support/long.ts';
import {
  determinant,
  eigen,
  hencky,
  inverse,
  type Matrix2,
  rotation,
  times,
  transposed,
} from '../support/smallMatrices.ts';
import { EARING, HARDENING, planarIsotropic } from '../support/trays.ts';
import { LAWS } from '../support/yieldLaws.ts';

/** T of a gradient G = ∂X/∂p. */
function forceOf(parameters: LawParameters, grain: number, g: Matrix2, growth = 0): Matrix2 {
  const out = new Float64Array(FORCE_SIZE);
  membraneForce(plasticLaw(parameters, grain), g[0][0], g[0][1], g[1][0], g[1][1], growth, NONE, out);
  return [
    [out[0]!, out[2]!],
    [out[2]!, out[1]!],
  ];
}

const anyR = fc.double({ min: 0.3, max: 6, noNaN: true });
const anySheet = fc.record({ r0: anyR, r45: anyR, r90: anyR }).map((r) => ({ ...HARDENING, ...r }));
const anyAngle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });
const anyStretch = fc.double({ min: Math.log(0.55), max: Math.log(1.8), noNaN: true }).map(Math.exp);
const withStrengths = fc.constantFrom(...LAWS);
/** G from stretches of the flat and two turns. */
const anyGradient = fc.tuple(anyStretch, anyStretch, anyAngle, anyAngle).map(
  ([a, b, one, other]): Matrix2 =>
    times(
      rotation(one),
      times(
        [
          [a, 0],
          [0, b],
        ],
        rotation(other),
      ),
    ),
);

/**
 * False near rest, where the force of a sheet with strengths has no derivative, or one that changes within the step of a
 * difference: its strain form depends on the direction of the strain.
 */
function isStrained(g: Matrix2, growth = 0): boolean {
  const [[a, b], [c, d]] = hencky(inverse(g));
  return Math.hypot(a - growth, b, c, d - growth) > 0.01;
}

const entries = (m: Matrix2): number[] => [m[0][0], m[0][1], m[1][0], m[1][1]];
const size = (m: Matrix2): number => Math.hypot(...entries(m));

/** Largest difference of two forces, relative to their size or to a small share of K. */
function difference(a: Matrix2, b: Matrix2): number {
  const values = entries(b);
  const most = Math.max(...entries(a).map((value, i) => Math.abs(value - values[i]!)));
  return most / (size(b) + 1e-3 * HARDENING.K);
}

describe('derives from the work', () => {
  test('moving the formed surface by L costs (T / thickness ratio) : L per volume', () => {
    // Per flat volume dw = τ : L with τ the Kirchhoff stress; thickness over flat thickness is det G, so
    // T = det G · τ. Work by the spectral route of tests/support/hill.ts, differentiated centrally.
    const costs = (sheet: LawParameters, grain: number, g: Matrix2): void => {
      const map = inverse(g);
      const h = 1e-6;
      const slope = (l: Matrix2): number => {
        const moved = (by: number): Matrix2 =>
          times(
            [
              [1 + by * l[0][0], by * l[0][1]],
              [by * l[1][0], 1 + by * l[1][1]],
            ],
            map,
          );
        return (workDensity(sheet, moved(h), grain) - workDensity(sheet, moved(-h), grain)) / (2 * h);
      };
      const ratio = determinant(g);
      const shear = slope([
        [0, 1],
        [0, 0],
      ]);
      const other = slope([
        [0, 0],
        [1, 0],
      ]);
      const expected: Matrix2 = [
        [
          ratio *
            slope([
              [1, 0],
              [0, 0],
            ]),
          ratio * shear,
        ],
        [
          ratio * other,
          ratio *
            slope([
              [0, 0],
              [0, 1],
            ]),
        ],
      ];
      const off = difference(forceOf(sheet, grain, g), expected);
      expect(off, `off by ${off} of the force at G = ${JSON.stringify(g)}`).toBeLessThan(2e-6);
    };
    fc.assert(fc.property(anySheet, anyAngle, anyGradient, costs), { seed: 21, numRuns: 300 });
    fc.assert(
      fc.property(
        withStrengths,
        anyAngle,
        anyGradient.filter((g) => isStrained(g)),
        costs,
      ),
      { seed: 27, numRuns: LONG ? 2000 : 100 },
    );
  });

  test('without planar anisotropy it is the principal stresses on the principal directions', () => {
    fc.assert(
      fc.property(anyR, anyGradient, (r, g) => {
        // σ_k = ∂w/∂ε_k by the textbook rule for normal anisotropy; directions those of F Fᵀ.
        const sheet = planarIsotropic(r, 0.2);
        const map = inverse(g);
        const { values, vectors } = eigen(times(map, transposed(map)));
        const [e1, e2] = values.map((value) => Math.log(value) / 2) as [number, number];
        const strain =
          ((1 + r) / Math.sqrt(1 + 2 * r)) * Math.sqrt(e1 * e1 + e2 * e2 + ((2 * r) / (1 + r)) * e1 * e2);
        const radius = Math.hypot(strain, 1e-3); // smoothed at rest
        const secant = (sheet.K * (sheet.epsilon0 + radius - 1e-3) ** sheet.n) / radius;
        const factor = ((1 + r) ** 2 / (1 + 2 * r)) * secant;
        const stress = (a: number, b: number): number => factor * (a + (r / (1 + r)) * b);
        const ratio = determinant(g);
        const expected = times(
          vectors,
          times(
            [
              [ratio * stress(e1, e2), 0],
              [0, ratio * stress(e2, e1)],
            ],
            transposed(vectors),
          ),
        );
        const off = difference(forceOf(sheet, 0.7, g), expected);
        expect(off, `off by ${off} of the force at G = ${JSON.stringify(g)}`).toBeLessThan(1e-9);
      }),
      { seed: 22, numRuns: 300 },
    );
  });

  test('a sheet that was pulled one way carries force that way only', () => {
    // Uniaxial tension along the grain: ε = (e, −r0/(1+r0)·e).
    const e = 0.21;
    const across = (-EARING.r0 / (1 + EARING.r0)) * e;
    const force = forceOf(EARING, 0, [
      [Math.exp(-e), 0],
      [0, Math.exp(-across)],
    ]);
    const thickness = Math.exp(-e - across);
    const flow = EARING.K * (EARING.epsilon0 + Math.hypot(e, 1e-3) - 1e-3) ** EARING.n;
    closeTo(
      force[0][0],
      (flow * thickness * e) / Math.hypot(e, 1e-3),
      { why: 'rounding', relative: 1e-10 },
      'along',
    );
    closeTo(force[1][1] / force[0][0], 0, ROUNDING, 'across');
    closeTo(force[0][1] / force[0][0], 0, ROUNDING, 'shear');
  });
});

describe('does not care how the axes lie', () => {
  test('turning the axes on the formed surface turns the force with them', () => {
    fc.assert(
      fc.property(anySheet, anyAngle, anyGradient, anyAngle, (sheet, grain, g, angle) => {
        const turn = rotation(angle);
        // p' = Q p, so G' = G Qᵀ.
        const turned = forceOf(sheet, grain, times(g, transposed(turn)));
        const expected = times(turn, times(forceOf(sheet, grain, g), transposed(turn)));
        expect(difference(turned, expected)).toBeLessThan(1e-9);
      }),
      { seed: 23, numRuns: 200 },
    );
  });

  test('turning the blank with its grain changes nothing', () => {
    fc.assert(
      fc.property(anySheet, anyAngle, anyGradient, anyAngle, (sheet, grain, g, angle) => {
        const turned = forceOf(sheet, grain + angle, times(rotation(angle), g));
        expect(difference(turned, forceOf(sheet, grain, g))).toBeLessThan(1e-9);
      }),
      { seed: 24, numRuns: 200 },
    );
  });

  test('turning the blank without its grain does change it', () => {
    const g: Matrix2 = [
      [1.2, 0],
      [0, 0.95],
    ];
    expect(difference(forceOf(EARING, 0, times(rotation(0.5), g)), forceOf(EARING, 0, g))).toBeGreaterThan(
      0.01,
    );
  });

  test('the sheet turned over (grain mirrored) gives the mirrored force', () => {
    const mirror: Matrix2 = [
      [1, 0],
      [0, -1],
    ];
    fc.assert(
      fc.property(anySheet, anyAngle, anyGradient, (sheet, grain, g) => {
        const mirrored = forceOf(sheet, -grain, times(mirror, times(g, mirror)));
        const expected = times(mirror, times(forceOf(sheet, grain, g), mirror));
        expect(difference(mirrored, expected)).toBeLessThan(1e-9);
      }),
      { seed: 25, numRuns: 200 },
    );
  });
});

describe('its derivative', () => {
  const CENTRAL: Tolerance = { why: 'central differences of step 1e-6', absolute: 2e-6, relative: 2e-6 };

  /** Compares all twelve derivatives with differences of the force; relative to K where they are small. */
  function compareDerivative(sheet: LawParameters, grain: number, g: Matrix2, growth: number): void {
    const law = plasticLaw(sheet, grain);
    const exact = new Float64Array(FORCE_SIZE);
    const [g11, g12, g21, g22] = entries(g) as [number, number, number, number];
    membraneForce(law, g11, g12, g21, g22, growth, EXACT, exact);
    const scale = Math.max(...exact.subarray(3).map(Math.abs));
    for (let k = 0; k < 4; k++) {
      const h = 1e-6;
      const at = (by: number): Float64Array => {
        const v = entries(g);
        v[k] = v[k]! + by;
        const out = new Float64Array(FORCE_SIZE);
        membraneForce(law, v[0]!, v[1]!, v[2]!, v[3]!, growth, NONE, out);
        return out;
      };
      const plus = at(h);
      const minus = at(-h);
      for (let i = 0; i < 3; i++) {
        const numeric = (plus[i]! - minus[i]!) / (2 * h);
        closeTo(
          exact[3 + 3 * k + i]! / scale,
          numeric / scale,
          CENTRAL,
          `d T${i} / d G${k} at ${JSON.stringify(g)}`,
        );
      }
    }
  }

  test('agrees with differences at any strain', () => {
    fc.assert(
      fc.property(anySheet, anyAngle, anyGradient, fc.constantFrom(0, 0.02), (sheet, grain, g, growth) =>
        compareDerivative(sheet, grain, g, growth),
      ),
      { seed: 26, numRuns: 200 },
    );
    fc.assert(
      fc.property(
        withStrengths,
        anyAngle,
        anyGradient,
        fc.constantFrom(0, 0.02),
        (sheet, grain, g, growth) => {
          fc.pre(isStrained(g, growth));
          compareDerivative(sheet, grain, g, growth);
        },
      ),
      { seed: 28, numRuns: LONG ? 2000 : 100 },
    );
  });

  test.each([
    ['at rest', 1, 1],
    ['near rest', 1.0004, 0.9997],
    ['evenly shrunk', 1.1, 1.1],
    // z = (difference/sum of squared stretches)² = 0.02 at a ratio of stretches of 1.1532: both forms meet there.
    ['just under the change from series to closed form', 1.153, 1],
    ['just over it', 1.1535, 1],
  ] as const)('%s', (_, a, b) => {
    for (const [one, other] of [
      [0, 0],
      [0.4, -1.1],
    ] as const) {
      const g = times(
        rotation(one),
        times(
          [
            [a, 0],
            [0, b],
          ],
          rotation(other),
        ),
      );
      compareDerivative(EARING, 0.3, g, 0);
      compareDerivative(planarIsotropic(1, 0.2), 0, g, 0);
    }
  });

  test('the force itself does not depend on the kind of stiffness asked for', () => {
    const law = plasticLaw(EARING, 0.3);
    const outs = ([NONE, EASED, EXACT] as const).map((kind) => {
      const out = new Float64Array(FORCE_SIZE);
      membraneForce(law, 1.2, 0.1, -0.05, 0.9, 0, kind, out);
      return Array.from(out.subarray(0, 3));
    });
    for (const out of outs) expect(out).toEqual(outs[0]);
  });

  test('is continuous where the series hands over to the closed form', () => {
    const law = plasticLaw(EARING, 0.3);
    // Ratio of stretches at which z is exactly 0.02: (ρ² − 1)/(ρ² + 1) = √0.02.
    const root = Math.sqrt(0.02);
    const ratio = Math.sqrt((1 + root) / (1 - root));
    const outs = [ratio * (1 - 1e-13), ratio * (1 + 1e-13)].map((a) => {
      const out = new Float64Array(FORCE_SIZE);
      membraneForce(law, a, 0, 0, 1, 0, EXACT, out);
      return out;
    });
    outs[0]!.forEach((value, i) => {
      closeTo(value, outs[1]![i]!, { why: 'truncated series', absolute: 1e-6, relative: 1e-8 }, `entry ${i}`);
    });
  });
});

describe('growth', () => {
  test('is free of stress when the flat is that much smaller', () => {
    const small = Math.exp(-0.03);
    const force = forceOf(
      EARING,
      0.4,
      [
        [small, 0],
        [0, small],
      ],
      0.03,
    );
    expect(size(force)).toBeLessThan(1e-9);
    expect(
      size(
        forceOf(EARING, 0.4, [
          [small, 0],
          [0, small],
        ]),
      ),
    ).toBeGreaterThan(1);
  });
});

test('the helper’s equivalent strain is what the flat-to-formed stretches say', () => {
  // Guards the helper: a 25 % pull along the grain of an isotropic sheet, width and thickness sharing it.
  const map: Matrix2 = [
    [1.25, 0],
    [0, 1 / Math.sqrt(1.25)],
  ];
  closeTo(
    equivalentStrainOf(planarIsotropic(1, 0.2), hencky(map), 0.9),
    Math.log(1.25),
    ROUNDING,
    'ε̄ of a pull',
  );
});

/** Necking and buckling limits, against printed values and a second way of solving the plate. */
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import {
  bucklingCoefficient,
  criticalEdgeStrain,
  criticalWave,
  edgeBuckling,
  type FlangeRoot,
  formingLimit,
  formingLimitPlaneStrain,
  naturalHalfWave,
  naturalWaves,
  type PlateLaw,
} from '../../src/material/neckingAndBuckling.ts';

describe('necking of steel sheet', () => {
  // Keeler and Brazier (1977): (23.3 + 14.13 t) n/0.21, worked by hand; true strain ln(1 + FLD0).
  it.each([
    [1, 0.21, 37.43, 0.3179],
    [1, 0.3, 37.43, 0.3179],
    [1.5, 0.25, 44.495, 0.3681],
    [2, 0.21, 51.56, 0.4158],
    [0.78, 0.25, 34.32, 0.2951],
    [1, 0.18, 32.08, 0.2783],
  ])('t %d mm, n %d: FLD0 %d %%', (t, n, percent, strain) => {
    expect(Math.abs(formingLimitPlaneStrain(t, n) - percent)).toBeLessThan(0.006);
    expect(Math.abs(formingLimit(0, t, n) - strain)).toBeLessThan(6e-5);
  });

  it('agrees within 0.2 % with the inch form 23.3 + 360 t (NADDRG, from memory)', () => {
    for (const t of [0.6, 1, 1.6, 2.5]) {
      const inch = 23.3 + (360 * t) / 25.4;
      expect(Math.abs(formingLimitPlaneStrain(t, 0.21) / inch - 1)).toBeLessThan(0.002);
    }
  });

  it('keeps the thinning constant on the left branch', () => {
    const thinning = formingLimit(0, 1, 0.22);
    for (const minor of [-0.05, -0.1, -0.3]) {
      expect(formingLimit(minor, 1, 0.22) + minor).toBeCloseTo(thinning, 12);
    }
  });

  it('rises by 0.6 engineering per cent a per cent on the right branch, to 20 % and no further', () => {
    const major = (minor: number): number => 100 * Math.expm1(formingLimit(Math.log1p(minor / 100), 1, 0.22));
    expect(major(10) - major(0)).toBeCloseTo(6, 9);
    expect(major(20) - major(0)).toBeCloseTo(12, 9);
    expect(major(35)).toBeCloseTo(major(20), 9);
  });

  it('does not extrapolate beyond 3 mm, and refuses nonsense', () => {
    expect(formingLimitPlaneStrain(6, 0.2)).toBe(formingLimitPlaneStrain(3, 0.2));
    expect(() => formingLimitPlaneStrain(0, 0.2)).toThrow(GatherpanError);
    expect(() => formingLimitPlaneStrain(1, Number.NaN)).toThrow(GatherpanError);
  });
});

describe('buckling coefficient of a flange', () => {
  // Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. (1961), sec. 9.4, tables for nu = 0.25; the
  // printed digits from memory. They were worked by hand: one unit of the last place is allowed.
  const law: PlateLaw = { poisson: 0.25, tangentRatio: 1 };

  it.each([
    [1.0, 1.7],
    [1.1, 1.56],
    [1.2, 1.47],
    [1.3, 1.41],
    [1.4, 1.36],
    [1.5, 1.34],
    [1.6, 1.33],
    [1.7, 1.33],
    [1.8, 1.34],
    [1.9, 1.36],
    [2.0, 1.38],
    [2.2, 1.45],
  ])('clamped root, a/b %d: %d', (ratio, printed) => {
    expect(Math.abs(bucklingCoefficient(ratio, 'clamped', law) - printed)).toBeLessThan(0.01);
  });

  it.each([
    [0.5, 4.4],
    [1.0, 1.44],
    [1.2, 1.135],
    [1.4, 0.952],
    [1.6, 0.835],
    [1.8, 0.755],
    [2.0, 0.698],
    [2.5, 0.61],
    [3.0, 0.564],
    [4.0, 0.516],
  ])('hinged root, a/b %d: %d', (ratio, printed) => {
    expect(Math.abs(bucklingCoefficient(ratio, 'hinged', law) - printed)).toBeLessThan(0.006);
  });

  it('has the least value 1.328 at a/b 1.64 clamped (nu 0.25), 1.277 with nu 0.3', () => {
    const { halfWave, k } = criticalWave('clamped', law);
    expect(Math.abs(k - 1.328)).toBeLessThan(0.002);
    expect(Math.abs(halfWave - 1.635)).toBeLessThan(0.005);
    // 1.277 is the value aircraft tables print for nu = 0.3 (from memory); the equation gives 1.280
    expect(Math.abs(criticalWave('clamped').k - 1.277)).toBeLessThan(0.005);
  });

  it('tends to 0.425 + (b/a)² for a hinged root, nu 0.3', () => {
    for (const ratio of [1, 2, 4, 8, 20]) {
      // 0.425 is rounded, and the formula takes the flange to stay straight across: that is from above
      const excess = 0.426 + ratio ** -2 - bucklingCoefficient(ratio, 'hinged');
      expect(excess).toBeGreaterThan(0);
      expect(excess).toBeLessThan(0.025);
    }
    expect(Math.abs(bucklingCoefficient(200, 'hinged') - criticalWave('hinged').k)).toBeLessThan(1e-4);
    expect(Math.abs(criticalWave('hinged').k - 0.425)).toBeLessThan(6e-4);
  });

  it.each([
    ['hinged', 0.3, 1],
    ['clamped', 0.3, 1],
    ['clamped', 0, 1],
    ['hinged', 0.5, 0.2],
    ['clamped', 0.5, 0.2],
    ['clamped', 0.5, 0],
  ] as const)('agrees with the energy method: %s, nu %d, tangent ratio %d', (root, poisson, tangentRatio) => {
    for (const ratio of [0.6, 1, 1.64, 3]) {
      const exact = bucklingCoefficient(ratio, root, { poisson, tangentRatio });
      const ritz = ritzCoefficient(ratio, root, { poisson, tangentRatio });
      expect(ritz / exact - 1).toBeGreaterThan(-1e-9); // Ritz is an upper bound
      expect(ritz / exact - 1).toBeLessThan(1e-6);
    }
  });

  it('is that of a wave along a free edge for short half-waves, whatever the root (Konenkov 1960, from memory)', () => {
    for (const poisson of [0, 0.3, 0.5]) {
      const edge = (1 - poisson) * (3 * poisson - 1 + 2 * Math.sqrt(2 * poisson ** 2 - 2 * poisson + 1));
      for (const tangentRatio of [0.2, 1]) {
        const C = 0.25 + 0.75 * tangentRatio;
        for (const root of ['hinged', 'clamped'] as const) {
          const k = bucklingCoefficient(0.01, root, { poisson, tangentRatio });
          // With ν = 0 the wave does not fade, and the root still counts.
          expect(Math.abs(k * 0.01 ** 2 - (edge - (1 - C)))).toBeLessThan(poisson === 0 ? 1e-3 : 1e-9);
        }
      }
    }
  });

  it('finds a root for every law and every half-wave it takes', () => {
    for (const root of ['hinged', 'clamped'] as const) {
      for (const poisson of [0, 0.25, 0.5]) {
        for (const tangentRatio of [0, 0.3, 1]) {
          for (const ratio of [0.005, 0.05, 0.2, 0.5, 0.7, 1, 3, 30, 1000]) {
            expect(bucklingCoefficient(ratio, root, { poisson, tangentRatio })).toBeGreaterThan(0);
          }
        }
      }
    }
    expect(() => bucklingCoefficient(0.004, 'hinged')).toThrow(GatherpanError);
    expect(() => bucklingCoefficient(1, 'hinged', { poisson: 0.6, tangentRatio: 1 })).toThrow(/Poisson/);
    expect(() => bucklingCoefficient(1, 'hinged', { poisson: 0.3, tangentRatio: -1 })).toThrow(
      GatherpanError,
    );
  });
});

describe('critical strain of a flange', () => {
  it('comes before the sheet yields where it is slender (Timoshenko and Gere, sec. 9.4), and after it where not', () => {
    const steel = { yieldStrength: 180, youngsModulus: 210_000, n: 0.22 };
    // k = 1.28 of a plate built in at one edge, free at the other, ν = 0.3 there; ν = 0.25 in their table: 1.33.
    const slender = edgeBuckling(steel, 1 / 40);
    expect(slender.regime).toBe('elastic');
    expect(slender.strain * 1600).toBeCloseTo((1.277 * Math.PI ** 2) / (12 * (1 - 0.3 ** 2)), 2);
    expect(slender.strain).toBeLessThan(180 / 210_000);
    const stout = edgeBuckling(steel, 1 / 10);
    expect(stout.regime).toBe('plastic');
    expect(stout.strain).toBeCloseTo(criticalEdgeStrain(1, 10, 'clamped', 0.22), 12);
    // Never less, the stouter it is, and never yielded below yield.
    let before = 0;
    for (let width = 60; width > 3; width -= 0.5) {
      const { strain, regime } = edgeBuckling(steel, 1 / width);
      expect(strain).toBeGreaterThanOrEqual(before);
      expect(strain >= 180 / 210_000).toBe(regime === 'plastic');
      before = strain;
    }
    expect(() => edgeBuckling(steel, 0)).toThrow(GatherpanError);
  });

  it('comes later in a short run held at its ends, by the force of its half-waves, and is a long flange’s in a long one', () => {
    const hard = { yieldStrength: 900, youngsModulus: 200_000, n: 0.2 };
    const soft = { ...hard, yieldStrength: 20 };
    const slenderness = 1 / 30;
    for (const sheet of [hard, soft]) {
      const long = edgeBuckling(sheet, slenderness).strain;
      expect(edgeBuckling(sheet, slenderness, 200).strain / long).toBeCloseTo(1, 4);
      let before = Infinity;
      for (const run of [0.2, 0.5, 0.8, 1, 1.2]) {
        const { strain } = edgeBuckling(sheet, slenderness, run);
        expect(strain).toBeLessThan(before);
        expect(strain).toBeGreaterThan(long);
        before = strain;
      }
      // As many half-waves as need the least: never far above the long one's.
      for (let run = 1.7; run < 12; run += 0.37)
        expect(edgeBuckling(sheet, slenderness, run).strain / long).toBeLessThan(1.13);
    }
    const law = { poisson: 0.5, tangentRatio: 0.2 };
    const plastic = (ritzCoefficient(0.7, 'clamped', law) * Math.PI ** 2 * slenderness ** 2) / 9;
    expect(edgeBuckling(soft, slenderness, 0.7)).toEqual({
      strain: expect.closeTo(plastic, 8),
      regime: 'plastic',
    });
  });

  it('is (1/3)(t/b)² at a hinged root whatever the hardening (Stowell 1948: the secant modulus alone)', () => {
    for (const n of [0.05, 0.2, 0.5]) {
      expect(criticalEdgeStrain(1, 20, 'hinged', n)).toBeCloseTo(1 / 3 / 400, 12);
    }
    expect(100 * criticalEdgeStrain(1, 20, 'hinged')).toBeCloseTo(0.083, 3);
  });

  it('is 1.154 (t/b)² at a clamped root of an elastic sheet (from memory; aircraft handbooks, nu 0.3)', () => {
    const { k } = criticalWave('clamped');
    expect(Math.abs((k * Math.PI ** 2) / (12 * (1 - 0.3 ** 2)) - 1.154)).toBeLessThan(0.005);
  });

  it('loses at a clamped root what Stowell and Gerard found, from the tangent modulus', () => {
    // Reduction against the secant-modulus value, C = 1/4 + 3/4 Et/Es: 0.428 + 0.572 sqrt C (Stowell 1948),
    // 0.330 + 0.670 sqrt C (Gerard and Becker, NACA TN 3781, 1957), both from memory. Both keep the elastic
    // shape, so they may only be higher than the full solution at nu = 1/2.
    const full = criticalWave('clamped', { poisson: 0.5, tangentRatio: 1 }).k;
    for (const n of [0.1, 0.2, 0.3, 0.5, 0.8]) {
      const C = 0.25 + 0.75 * n;
      const ours = criticalWave('clamped', { poisson: 0.5, tangentRatio: n }).k / full;
      const gerard = 0.33 + 0.67 * Math.sqrt(C);
      expect(ours).toBeLessThan(gerard);
      expect(ours).toBeLessThan(0.428 + 0.572 * Math.sqrt(C));
      expect(ours).toBeGreaterThan(0.93 * gerard);
    }
  });

  it('goes with the square of thickness over width', () => {
    expect(criticalEdgeStrain(2, 20, 'clamped')).toBeCloseTo(4 * criticalEdgeStrain(1, 20, 'clamped'), 12);
    expect(criticalEdgeStrain(1, 40, 'clamped')).toBeCloseTo(criticalEdgeStrain(1, 20, 'clamped') / 4, 12);
    expect(() => criticalEdgeStrain(1, 0, 'clamped')).toThrow(GatherpanError);
    expect(() => criticalEdgeStrain(1, 20, 'hinged', 1.5)).toThrow(GatherpanError);
  });
});

describe('natural half-waves', () => {
  it('are 1.64 widths at a clamped root, shorter when the sheet flows, endless at a hinged one', () => {
    expect(Math.abs(naturalHalfWave(30, 'clamped') / 30 - 1.64)).toBeLessThan(0.01);
    expect(naturalHalfWave(30, 'clamped', 0.5, 0.2)).toBeLessThan(naturalHalfWave(30, 'clamped', 0.5, 1));
    expect(naturalHalfWave(30, 'hinged')).toBe(Infinity);
    expect(() => naturalHalfWave(-1, 'clamped')).toThrow(GatherpanError);
  });

  it('sit at a minimum of k', () => {
    for (const tangentRatio of [0, 0.2, 1]) {
      const law = { poisson: 0.5, tangentRatio };
      const { halfWave, k } = criticalWave('clamped', law);
      expect(bucklingCoefficient(1.001 * halfWave, 'clamped', law)).toBeGreaterThan(k);
      expect(bucklingCoefficient(0.999 * halfWave, 'clamped', law)).toBeGreaterThan(k);
    }
  });

  it('come in the number that needs the least force, by trying all', () => {
    for (const length of [5, 20, 45, 69, 70, 71, 120, 150, 333]) {
      const tried = Array.from({ length: 40 }, (_, i) => i + 1)
        .filter((waves) => waves === 1 || length / waves / 30 >= 0.5)
        .map((waves) => ({
          waves,
          k: length / waves < 15 ? 0 : bucklingCoefficient(length / waves / 30, 'clamped'),
        }))
        .reduce((best, next) => (next.k < best.k ? next : best));
      expect(naturalWaves(length, 30, 'clamped'), `length ${length}`).toBe(tried.waves);
    }
    expect(naturalWaves(500, 30, 'hinged')).toBe(1);
  });

  it('change from one to two where both need the same force, at length = sqrt 2 half-waves or nearly', () => {
    // Timoshenko and Gere, sec. 9.2: m to m + 1 at a length of sqrt(m(m + 1)) half-waves, exact when
    // k = A r² + B + C/r²; the plate at hand keeps to that within 2 %.
    const halfWave = naturalHalfWave(30, 'clamped');
    expect(naturalWaves(0.98 * Math.SQRT2 * halfWave, 30, 'clamped')).toBe(1);
    expect(naturalWaves(1.02 * Math.SQRT2 * halfWave, 30, 'clamped')).toBe(2);
  });
});

/**
 * Buckling coefficient by the energy method (Ritz), the width 1: the least
 * ∫ (C β⁴f² + f″² − 2ν β² f f″ + 2(1 − ν) β² f′²) dy / (π² β² ∫ f² dy) over f = y^root · polynomial.
 * Independent of the characteristic equation: no free-rim condition is put in, it comes out.
 */
function ritzCoefficient(ratio: number, root: FlangeRoot, { poisson, tangentRatio }: PlateLaw): number {
  const first = root === 'hinged' ? 1 : 2;
  const terms = 9;
  const b2 = (Math.PI / ratio) ** 2;
  const C = 0.25 + 0.75 * tangentRatio;
  const integral = (a: number, power: number): number => (a === 0 ? 0 : a / (power + 1)); // ∫₀¹ a yᵖ dy
  const A: number[][] = [];
  const B: number[][] = [];
  for (let i = 0; i < terms; i++) {
    A.push([]);
    B.push([]);
    for (let j = 0; j < terms; j++) {
      const [p, q] = [i + first, j + first];
      const [p2, q2] = [p * (p - 1), q * (q - 1)];
      A[i]!.push(
        C * b2 ** 2 * integral(1, p + q) +
          integral(p2 * q2, p + q - 4) -
          poisson * b2 * (integral(p2, p + q - 2) + integral(q2, p + q - 2)) +
          2 * (1 - poisson) * b2 * integral(p * q, p + q - 2),
      );
      B[i]!.push(Math.PI ** 2 * b2 * integral(1, p + q));
    }
  }
  // inverse iteration on A x = k B x
  let x = Array.from({ length: terms }, () => 1);
  let k = 0;
  for (let step = 0; step < 60; step++) {
    const Bx = B.map((row) => row.reduce((sum, value, j) => sum + value * x[j]!, 0));
    x = solve(A, Bx);
    const length = Math.hypot(...x);
    x = x.map((value) => value / length);
    k = quadratic(A, x) / quadratic(B, x);
  }
  return k;
}

const quadratic = (M: number[][], x: number[]): number =>
  M.reduce((sum, row, i) => sum + x[i]! * row.reduce((s, value, j) => s + value * x[j]!, 0), 0);

/** Gauss elimination with pivoting on copies. */
function solve(matrix: number[][], right: number[]): number[] {
  const M = matrix.map((row, i) => [...row, right[i]!]);
  const size = M.length;
  for (let c = 0; c < size; c++) {
    let pivot = c;
    for (let r = c + 1; r < size; r++) if (Math.abs(M[r]![c]!) > Math.abs(M[pivot]![c]!)) pivot = r;
    [M[c], M[pivot]] = [M[pivot]!, M[c]!];
    for (let r = c + 1; r < size; r++) {
      const factor = M[r]![c]! / M[c]![c]!;
      for (let j = c; j <= size; j++) M[r]![j]! -= factor * M[c]![j]!;
    }
  }
  const x: number[] = new Array(size).fill(0);
  for (let r = size - 1; r >= 0; r--) {
    let sum = M[r]![size]!;
    for (let j = r + 1; j < size; j++) sum -= M[r]![j]! * x[j]!;
    x[r] = sum / M[r]![r]!;
  }
  return x;
}

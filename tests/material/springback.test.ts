/** Springback: closed form, an integration step by step of our own, and a worked example from a textbook. */
import { describe, expect, it } from 'vitest';
import { listSheets } from '../../src/material/sheets.ts';
import {
  correctedByTrial,
  curvatureLeft,
  type FibreLaw,
  fibreLaw,
  overbend,
} from '../../src/material/springback.ts';
import { closeTo, printed, type Tolerance } from '../support/closeTo.ts';
import { LONG, some } from '../support/long.ts';

/** R/R_left of a sheet that does not harden; 0 from the radius on that it takes without yielding. */
function ratioLeft(
  radius: number,
  { stress, modulus, thickness }: { stress: number; modulus: number; thickness: number },
): number {
  const x = (stress * radius) / (modulus * thickness);
  return x >= 0.5 ? 0 : 4 * x ** 3 - 3 * x + 1;
}

/** Halvings stop at 60, and sums are of some hundred terms. */
const SAME: Tolerance = { why: 'rounding', relative: 1e-9 };
/** Simpson's rule over 128 intervals, whose remainder falls with the fourth power of their width. */
const SIMPSON: Tolerance = { why: "Simpson's rule", absolute: 1e-7 };
/** The midpoint rule over 4000 fibres: 1/(24 · 4000²) of a second derivative, and the kink where fibres begin to yield. */
const MIDPOINT: Tolerance = { why: '4000 fibres', absolute: 1e-5 };

/**
 * The moment of a sheet bent step by step, each fibre followed by its own plastic strain (return to the yield stress by
 * bisection), then let go elastically. Midpoint rule over the fibres.
 */
function steppedLeft({ modulus, K, epsilon0, n }: FibreLaw, thickness: number, curvature: number): number {
  const fibres = 4000;
  const steps = LONG ? 40 : 8;
  let moment = 0;
  for (let i = 0; i < fibres; i++) {
    const y = (thickness / 2) * ((i + 0.5) / fibres);
    let plastic = 0;
    let stress = 0;
    for (let step = 1; step <= steps; step++) {
      const strain = (curvature * y * step) / steps;
      const elastic = modulus * (strain - plastic);
      if (elastic > K * (epsilon0 + plastic) ** n) {
        let [low, high] = [plastic, strain];
        for (let k = 0; k < 50; k++) {
          const middle = (low + high) / 2;
          if (modulus * (strain - middle) > K * (epsilon0 + middle) ** n) low = middle;
          else high = middle;
        }
        plastic = (low + high) / 2;
      }
      stress = modulus * (strain - plastic);
    }
    moment += 2 * stress * y * (thickness / 2 / fibres);
  }
  return curvature - (12 * moment) / (modulus * thickness ** 3);
}

const PERFECT = (stress: number, modulus: number): FibreLaw => ({ modulus, K: stress, epsilon0: 0.01, n: 0 });

/** Of radii printed with two decimals. */
const HUNDREDTH = { ...printed(2), absolute: 0.01 };

describe('a bend let go', () => {
  it('is that of the closed form where the sheet does not harden', () => {
    for (const [radius, thickness, stress, modulus] of [
      [25, 1, 180, 210_000],
      [60, 0.8, 300, 71_000],
      [8, 2, 120, 110_000],
      [300, 1, 200, 210_000],
    ] as const) {
      const kept = radius * curvatureLeft(PERFECT(stress, modulus), thickness, 1 / radius);
      closeTo(kept, ratioLeft(radius, { stress, modulus, thickness }), SIMPSON, `radius ${radius}`);
    }
  });

  it('is that of a bend followed step by step, for every sheet of the table', () => {
    for (const material of some(listSheets(), 4)) {
      const law = fibreLaw(material);
      for (const [radius, thickness] of [
        [24.5, 1],
        [10, 1.5],
        [120, 0.6],
      ] as const) {
        const kept = radius * curvatureLeft(law, thickness, 1 / radius);
        closeTo(kept, radius * steppedLeft(law, thickness, 1 / radius), MIDPOINT, material.name);
      }
    }
  });

  it('is flat again where no fibre yields', () => {
    expect(curvatureLeft(PERFECT(180, 210_000), 1, 1 / 700)).toBe(0);
    expect(ratioLeft(700, { stress: 180, modulus: 210_000, thickness: 1 })).toBe(0);
  });

  // S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology, example of springback (sheet of 20 gage,
  // 0.0359 in, bent over 0.5 in; yield stress 40,000 psi, E 29,000,000 psi): R left 0.531 in, and bent to 95.4° for 90°.
  // From memory.
  it('is that of the textbook example', () => {
    const kept = ratioLeft(0.5, { stress: 40_000, modulus: 29_000_000, thickness: 0.0359 });
    expect(kept).toBeCloseTo(0.942, 3);
    expect(0.5 / kept).toBeCloseTo(0.531, 3);
    expect((90 * (2 * 0.531 + 0.0359)) / (2 * 0.5 + 0.0359)).toBeCloseTo(95.4, 1);
  });

  it('leaves 25 mm of 23.49 mm, in plane strain of 23.42 mm, worked by hand', () => {
    const [stress, modulus] = [180, 210_000];
    closeTo(23.49 / ratioLeft(23.49, { stress, modulus, thickness: 1 }), 25, HUNDREDTH, 'plane stress');
    const wide = { stress: (2 * stress) / Math.sqrt(3), modulus: modulus / (1 - 0.3 ** 2), thickness: 1 };
    closeTo(23.42 / ratioLeft(23.42, wide), 25, HUNDREDTH, 'plane strain');
  });
});

describe('the fibres of a sheet', () => {
  it('are in plane strain: 2/√3 of the yield stress without anisotropy', () => {
    const [steel] = listSheets();
    const even = fibreLaw({ ...steel!, r0: 1, r45: 1, r90: 1 });
    const f = 2 / Math.sqrt(3);
    closeTo(even.K * even.epsilon0 ** even.n, f * steel!.K * steel!.epsilon0 ** steel!.n, SAME, 'yield');
    closeTo(even.modulus, 210_000 / 0.91, SAME, 'modulus');
  });
});

describe('the bend to make', () => {
  it('leaves the radius and the angle that are wanted, with the length of the middle kept', () => {
    for (const material of listSheets()) {
      const law = fibreLaw(material);
      const [t, r, angle] = [1, 24, Math.PI / 2];
      const made = overbend(law, t, r, angle);
      expect(made.insideRadius).toBeLessThan(r);
      closeTo(1 / curvatureLeft(law, t, 1 / (made.insideRadius + t / 2)), r + t / 2, SAME, material.name);
      closeTo(made.angle * (made.insideRadius + t / 2), angle * (r + t / 2), SAME, material.name);
    }
  });

  it('is further, the harder the sheet', () => {
    const law = fibreLaw(listSheets()[0]!);
    const angles = [0.5, 1, 2].map((times) => overbend({ ...law, K: times * law.K }, 1, 24, 1).angle);
    expect(angles).toEqual([...angles].sort((a, b) => a - b));
    expect(new Set(angles).size).toBe(3);
  });
});

describe('a trial bend', () => {
  it('gives back the sheet it was made of', () => {
    const law = fibreLaw(listSheets()[1]!);
    for (const yieldRatio of [0.7, 1, 1.4]) {
      const hard = { ...law, K: yieldRatio * law.K };
      const opened = 90 * (1 - 24.5 * curvatureLeft(hard, 1, 1 / 24.5));
      const found = correctedByTrial(law, 1, 24, opened);
      closeTo(found.yieldRatio, yieldRatio, SAME, 'yield ratio');
      closeTo(overbend(found.law, 1, 24, 1).angle, overbend(hard, 1, 24, 1).angle, SAME, 'angle');
    }
  });

  it('is refused with the possible range where no sheet opens so', () => {
    const law = fibreLaw(listSheets()[1]!);
    const found = (opened: number) => () => correctedByTrial(law, 1, 24, opened);
    expect(found(0.01)).toThrow(/opened by 0.01°.*opens by 0\.6 to 33\.4°/);
    expect(found(70)).toThrow(/opened by 70°/);
  });
});

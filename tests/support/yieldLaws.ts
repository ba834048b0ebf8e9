/** Laws with strengths for the tests, and a yield function worked out from principal values, as its source prints it. */
import type { LawParameters, Strengths } from '../../src/material/law.ts';
import { HARDENING } from './trays.ts';

/**
 * AA6016-T4, t 1.0: yield stresses over that along the grain and r-values, every 15° from the rolling direction;
 * balanced biaxial 1.0. Source: Habraken et al., "Analysis of ESAFORM 2021 cup drawing benchmark of an Al alloy", Int.
 * J. Material Forming (2022), doi 10.1007/s12289-022-01672-w.
 */
export const AA6016_STRENGTHS = [1.0, 0.944, 0.913, 0.908, 0.898, 0.928, 0.983] as const;
export const AA6016_R = [0.526, 0.344, 0.301, 0.253, 0.294, 0.393, 0.601] as const;
export const AA6016: LawParameters = {
  K: 498.8,
  epsilon0: 0.0089,
  n: 0.285,
  r0: 0.526,
  r45: 0.253,
  r90: 0.601,
  strengths: { exponent: 8, at45: 0.908, at90: 0.983, biaxial: 1 },
};

const sheet = (
  r0: number,
  r45: number,
  r90: number,
  exponent: Strengths['exponent'],
  at45 = 1,
  at90 = 1,
  biaxial?: number,
): LawParameters => ({
  ...HARDENING,
  ...{ r0, r45, r90 },
  strengths: { exponent, at45, at90, ...(biaxial === undefined ? {} : { biaxial }) },
});

/** Twenty laws, from even ones to such as hold two metals' worth of unevenness. */
export const LAWS: readonly LawParameters[] = [
  AA6016,
  sheet(1, 1, 1, 2),
  sheet(1, 1, 1, 6),
  sheet(1, 1, 1, 8),
  sheet(0.3, 0.3, 0.3, 8),
  sheet(24, 24, 24, 6),
  sheet(24, 24, 24, 8),
  sheet(0.1, 0.1, 0.1, 6),
  sheet(1.8, 1.8, 1.8, 6, 1, 1, 1.18),
  sheet(1.79, 1.51, 2.27, 6),
  sheet(1.79, 1.51, 2.27, 6, 1.02, 0.98, 1.1),
  sheet(1.79, 1.51, 2.27, 8),
  sheet(2.53, 1.84, 2.72, 6, 1.03, 1.01),
  sheet(1.9, 1.1, 2.3, 6, 1.05, 1),
  sheet(0.85, 0.6, 0.85, 8),
  sheet(0.7, 0.8, 0.75, 8, 0.97, 0.99, 0.98),
  sheet(0.5, 2, 0.9, 8),
  sheet(0.21, 1.58, 0.69, 8, 0.811, 0.91, 1.035),
  sheet(1.2, 1, 1.5, 6, 0.95, 1.05, 0.9),
  sheet(0.6, 0.7, 0.6, 8, 1.05, 1.02, 1.05),
];

/** φ of Yld2000-2d by its printed formulas: linear maps, principal values, powers. */
export function printedYieldStress(
  exponent: number,
  alpha: readonly number[],
  [s11, s22, s12]: readonly [number, number, number],
): number {
  const [a1, a2, a3, a4, a5, a6, a7, a8] = alpha as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const principal = (x11: number, x22: number, x12: number): [number, number] => {
    const middle = (x11 + x22) / 2;
    const radius = Math.hypot((x11 - x22) / 2, x12);
    return [middle + radius, middle - radius];
  };
  const [p1, p2] = principal((2 * a1 * s11 - a1 * s22) / 3, (2 * a2 * s22 - a2 * s11) / 3, a7 * s12);
  const [q1, q2] = principal(
    ((-2 * a3 + 2 * a4 + 8 * a5 - 2 * a6) * s11 + (a3 - 4 * a4 - 4 * a5 + 4 * a6) * s22) / 9,
    ((4 * a3 - 4 * a4 - 4 * a5 + a6) * s11 + (-2 * a3 + 8 * a4 + 2 * a5 - 2 * a6) * s22) / 9,
    a8 * s12,
  );
  const sum =
    Math.abs(p1 - p2) ** exponent + Math.abs(2 * q2 + q1) ** exponent + Math.abs(2 * q1 + q2) ** exponent;
  return (sum / 2) ** (1 / exponent);
}

/**
 * Hill's 1948 plane-stress sheet written the long way: the stress matrix as textbooks give it, inverted
 * numerically. R. Hill, Proc. Royal Society A 193 (1948) 281–297; the form normalised to the rolling direction
 * as in W. F. Hosford and R. M. Caddell, Metal Forming, chapter on anisotropy (from memory).
 */
import { equivalentStrain, type LawParameters, plasticLaw, REST_SMOOTHING } from '../../src/material/law.ts';
import { hencky, type Matrix2, rotation, solveLinear, times, transposed } from './smallMatrices.ts';

/** P of σ̄² = sᵀ P s, s = (σ11, σ22, σ12) in the rolling axes. */
export function stressMatrix({ r0, r45, r90 }: LawParameters): number[][] {
  const scale = r90 * (1 + r0);
  return [
    [1, -r0 / (1 + r0), 0],
    [-r0 / (1 + r0), (r0 * (1 + r90)) / scale, 0],
    [0, 0, ((r0 + r90) * (1 + 2 * r45)) / scale],
  ];
}

/** Equivalent stress of a stress in the rolling axes. */
export function equivalentStress(parameters: LawParameters, stress: Matrix2): number {
  const s = [stress[0][0], stress[1][1], stress[0][1]];
  const matrix = stressMatrix(parameters);
  return Math.sqrt(
    s.reduce((sum, a, i) => sum + s.reduce((own, b, j) => own + a * matrix[i]![j]! * b, 0), 0),
  );
}

/**
 * Equivalent strain √(eᵀ P⁻¹ e) of a strain in axes from which the rolling direction is turned by `grain`; of a sheet
 * with strengths the solver's own, which `yieldFunction.test.ts` holds against direct maximisation.
 */
export function equivalentStrainOf(parameters: LawParameters, strain: Matrix2, grain: number): number {
  if (parameters.strengths !== undefined) {
    return equivalentStrain(plasticLaw(parameters, grain), strain[0][0], strain[1][1], 2 * strain[0][1]);
  }
  const turn = rotation(-grain);
  const inRolling = times(turn, times(strain, transposed(turn)));
  const e = [inRolling[0][0], inRolling[1][1], 2 * inRolling[0][1]];
  const s = solveLinear(stressMatrix(parameters), e);
  return Math.sqrt(Math.max(0, s[0]! * e[0]! + s[1]! * e[1]! + s[2]! * e[2]!));
}

/** Work per volume to a map F from flat to formed, N/mm². */
export function workDensity(parameters: LawParameters, map: Matrix2, grain: number): number {
  const { K, epsilon0, n } = parameters;
  const strain = equivalentStrainOf(parameters, hencky(map), grain);
  const smoothed = Math.sqrt(strain * strain + REST_SMOOTHING ** 2) - REST_SMOOTHING;
  return (K * ((epsilon0 + smoothed) ** (n + 1) - epsilon0 ** (n + 1))) / (n + 1);
}

/**
 * Strain through the thickness next to a free edge, for a logarithmic strain along the edge that is given.
 *
 * A free edge lets the strip beside it stretch and shear as it likes, so it takes the least work: found by
 * nested golden section over the stretch across and the shear, without any formula for r in a direction.
 *
 * @param direction of the edge in the flat, radians from the plan's x axis
 */
export function freeEdgeThickness(
  parameters: LawParameters,
  grain: number,
  hoop: number,
  direction: number,
): number {
  const along = Math.exp(hoop);
  const turn = rotation(-direction);
  const strainOf = (across: number, shear: number): number => {
    const map: Matrix2 = [
      [along, shear],
      [0, Math.exp(across)],
    ];
    return equivalentStrainOf(parameters, hencky(times(map, turn)), grain);
  };
  const reach = Math.abs(hoop);
  const least = (across: number): number =>
    strainOf(
      across,
      goldenSection((shear) => strainOf(across, shear), -reach, reach),
    );
  const across = goldenSection(least, -reach, reach);
  return -hoop - across;
}

/** Where a function with one valley is least. */
function goldenSection(f: (x: number) => number, low: number, high: number): number {
  const share = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [low, high];
  let [x, y] = [b - share * (b - a), a + share * (b - a)];
  let [fx, fy] = [f(x), f(y)];
  while (b - a > 1e-5 * (high - low)) {
    if (fx < fy) {
      [b, y, fy] = [y, x, fx];
      x = b - share * (b - a);
      fx = f(x);
    } else {
      [a, x, fx] = [x, y, fy];
      y = a + share * (b - a);
      fy = f(y);
    }
  }
  return (a + b) / 2;
}

/**
 * Lankford coefficient for a pull at `angle` radians from the rolling direction: the strain across over the
 * strain through the thickness of a uniaxial pull, from Hill's flow rule.
 */
export function lankfordAt(parameters: LawParameters, angle: number): number {
  const { r0, r45, r90 } = parameters;
  const p12 = -r0 / (1 + r0);
  const p22 = (r0 * (1 + r90)) / (r90 * (1 + r0));
  const p33 = ((r0 + r90) * (1 + 2 * r45)) / (r90 * (1 + r0));
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const s11 = c * c;
  const s22 = s * s;
  const s12 = c * s;
  // Flow rule: strain increments along P·s; the shear entry of P·s is the engineering shear.
  const e11 = s11 + p12 * s22;
  const e22 = p12 * s11 + p22 * s22;
  const gamma = p33 * s12;
  const across = e11 * s * s + e22 * c * c - gamma * c * s;
  const through = -(e11 + e22);
  return across / through;
}

/** Ways to an equilibrium that Newton's method does not reach at once: by laws that are easier to solve with. */

import { pow } from '../elementary.ts';
import { hillStrainForm, type PlasticLaw } from '../material/law.ts';
import type { NewtonResult } from './newton.ts';

/** Newton steps after which the way from an easier law is given up. */
const CONTINUATION_STEPS = 150;

/** Solves with an eased law; only the last one on the way has to be exact. */
export type SolveEased = (law: PlasticLaw, from: Float64Array, exact: boolean) => NewtonResult;

/** Law at a place on the way from the easiest (0) to the wanted one (1). */
type LawPath = (share: number) => PlasticLaw;

/**
 * From an easier law to the one wanted. First with a hardening exponent of 1, for which the equilibrium is nearly
 * that of an elastic sheet; if that does not hold either, with the anisotropy brought in from that of an isotropic
 * sheet before.
 */
export function continueFromEasierLaw(
  law: PlasticLaw,
  start: Float64Array,
  solve: SolveEased,
): NewtonResult | null {
  const hardening: LawPath = (share) => ({ ...law, n: pow(law.n, share) });
  const first = solve(hardening(0), start, false);
  const elastic = first.converged ? first : follow(anisotropyPath({ ...law, n: 1 }), start, solve);
  if (elastic === null) return null;
  return followFrom(hardening, elastic, solve);
}

/**
 * From an even law to the law's own: from the quadratic one near it to the dual, or from the isotropic form to Hill's,
 * evenly in its logarithm, since it grows with r.
 */
export function anisotropyPath(law: PlasticLaw): LawPath {
  const { dual, strainForm } = law;
  if (dual !== null) return (share) => ({ ...law, dual: share === 0 ? null : { ...dual, share } });
  const isotropic = hillStrainForm(1, 1, 1);
  return (share) => {
    const grown = pow(strainForm[0] / isotropic[0], share);
    const weight = share === 1 ? 1 : (grown - 1) / (strainForm[0] / isotropic[0] - 1) || share;
    const blend = (k: number): number => isotropic[k]! + weight * (strainForm[k]! - isotropic[k]!);
    return { ...law, strainForm: [blend(0), blend(1), blend(2), blend(3), blend(4), blend(5)] };
  };
}

export function follow(path: LawPath, start: Float64Array, solve: SolveEased): NewtonResult | null {
  const easiest = solve(path(0), start, false);
  return easiest.converged ? followFrom(path, easiest, solve) : null;
}

/** Along the path in strides that shrink where Newton's method fails; null when they get too short. */
function followFrom(path: LawPath, easiest: NewtonResult, solve: SolveEased): NewtonResult | null {
  let last = easiest;
  let steps = easiest.steps;
  let share = 0;
  for (let stride = 0.5; share < 1 && stride > 0.03 && steps < CONTINUATION_STEPS; ) {
    const next = Math.min(1, share + stride);
    const result = solve(path(next), last.flat, next === 1);
    steps += result.steps;
    if (result.converged) {
      share = next;
      last = result;
    } else {
      stride /= 2;
    }
  }
  return share < 1 ? null : { ...last, steps };
}

/**
 * How far a sheet can be gathered before the equilibrium stops deciding the flat.
 *
 * The equations of the equilibrium are elliptic as long as no direction is a characteristic one: with
 * A(k)ᵢₐ = Σ kⱼ (∂Tᵢⱼ/∂Gₐᵦ) kᵦ, det A(k) must not vanish for any direction k. Where it does, the strain may jump
 * across a line: the metal gathers in narrow bands, and what a mesh gives depends on the mesh. (Hill, R.: Acceleration
 * waves in solids, J. Mech. Phys. Solids 10 (1962), 1–16; for sheets of this law Stören, S., Rice, J. R.: Localized
 * necking in thin sheets, J. Mech. Phys. Solids 23 (1975), 421–441; both from memory.)
 *
 * A free rim that is gathered is in uniaxial compression along itself, so the strain at which that state loses its
 * ellipticity is a limit of the law alone.
 */

import { narrowing, type PlasticLaw } from '../material/law.ts';
import { halved } from '../search.ts';
import { EXACT, FORCE_SIZE, membraneForce } from './constitutive.ts';

/** Directions looked at over a quarter turn: the determinant is smooth in the direction and the same on both sides. */
const DIRECTIONS = 90;
/** Strain beyond which nothing is looked for: no hand gathers metal to a seventh of its length. */
const MOST = 2;
const STEP = 0.02;

/**
 * Largest shrink, as a positive logarithmic strain, to which a free rim gathers evenly.
 *
 * @param law without planar anisotropy
 */
export function shrinkLimit(law: PlasticLaw): number {
  const across = narrowing(law);
  const elliptic = (shrink: number): boolean =>
    leastDeterminant(law, Math.exp(shrink), Math.exp(-shrink * across)) > 0;
  let high = STEP;
  while (high < MOST && elliptic(high)) high += STEP;
  return halved(high - STEP, high, elliptic, 20)[0];
}

/** Smallest det A(k) over the directions k, for G = [g1 0; 0 g2]; positive where elliptic. */
function leastDeterminant(law: PlasticLaw, g1: number, g2: number): number {
  const force = new Float64Array(FORCE_SIZE);
  membraneForce(law, g1, 0, 0, g2, 0, EXACT, force);
  let least = Infinity;
  for (let direction = 0; direction < DIRECTIONS; direction++) {
    const angle = ((Math.PI / 2) * direction) / DIRECTIONS;
    const k = [Math.cos(angle), Math.sin(angle)];
    /** Σ kⱼ (∂Tᵢⱼ/∂Gₐᵦ) kᵦ; the derivatives stand by entry of G, each as T11, T22, T12. */
    const acoustic = (i: number, a: number): number => {
      let sum = 0;
      for (let j = 0; j < 2; j++)
        for (let b = 0; b < 2; b++) sum += k[j]! * force[3 + 3 * (2 * a + b) + (i === j ? i : 2)]! * k[b]!;
      return sum;
    };
    least = Math.min(least, acoustic(0, 0) * acoustic(1, 1) - acoustic(0, 1) * acoustic(1, 0));
  }
  return least;
}

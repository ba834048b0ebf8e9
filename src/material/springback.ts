/**
 * What a bend loses when it is let go: bent over a tool to one curvature, the sheet keeps a smaller one.
 *
 * The sheet is bent about its middle surface without pull, and a side is wide, so its fibres are in plane strain:
 * E' = E/(1 − ν²), and the flow stress of the law times f, the equivalent strain of a plane strain of 1. Letting go
 * takes the moment M off elastically and with it the curvature 12 M/(E't³). The length of the middle surface stays,
 * so angle × radius of it does too. mm, N/mm², radians.
 *
 * For a sheet that does not harden, with its flow stress σ and X = σR/(E't),
 *
 *   R/R_left = 4X³ − 3X + 1
 *
 * Sources: F. J. Gardiner, The spring back of metals, Trans. ASME 79 (1957); Z. Marciniak, J. L. Duncan and S. J. Hu,
 * Mechanics of Sheet Metal Forming (2002), bending; both from memory. A sheet that hardens by Swift's law has no such
 * short form: its moment is summed over the fibres.
 *
 * Hammering leaves less springback than one clean bend does, since each blow yields a spot anew (common practice, no
 * source), so this is the most to reckon with; a trial bend of a strip tells.
 */

import { pow } from '../elementary.ts';
import { GatherpanError } from '../errors.ts';
import { halved } from '../search.ts';
import { words } from '../words/language.ts';
import { equivalentStrain, plasticLaw } from './law.ts';
import type { SheetMaterial } from './sheet.ts';

/** A fibre of a bent side: elastic, then σ = K (ε0 + εp)ⁿ of its own plastic strain. */
export interface FibreLaw {
  /** E/(1 − ν²) */
  readonly modulus: number;
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
}

/** A bend as it is made, so that the wanted one is left. */
export interface Overbend {
  /** Of the dolly or former, on the inside of the bend, mm. */
  readonly insideRadius: number;
  /** To which the sheet is bent over it, radians. */
  readonly angle: number;
}

/** Poisson's ratio; from memory: 0.27 to 0.30 for steel, 0.33 to 0.35 for aluminium, copper and brass. */
const poissonsRatio = ({ family }: Pick<SheetMaterial, 'family'>): number =>
  family === 'steel' || family === 'stainless steel' ? 0.3 : 0.34;

/** The fibres of a sheet's sides; a sheet with a grain as the mean of its directions, as for r̄. */
export function fibreLaw(material: SheetMaterial): FibreLaw {
  const { K, epsilon0, n, youngsModulus } = material;
  const law = plasticLaw(material, 0);
  const along = equivalentStrain(law, 1, 0, 0);
  const slant = equivalentStrain(law, 0.5, 0.5, 1);
  const across = equivalentStrain(law, 0, 1, 0);
  const f = (along + 2 * slant + across) / 4;
  return {
    modulus: youngsModulus / (1 - poissonsRatio(material) ** 2),
    K: pow(f, 1 + n) * K,
    epsilon0: epsilon0 / f,
    n,
  };
}

/** Intervals of Simpson's rule over the plastic part of the thickness; even. */
const INTERVALS = 128;

/** Curvature that is left of `curvature` (of the middle surface, 1/mm) when the sheet is let go. */
export function curvatureLeft(law: FibreLaw, thickness: number, curvature: number): number {
  const { modulus, K, epsilon0, n } = law;
  const stress = (plastic: number): number => K * pow(epsilon0 + plastic, n);
  const strain = (plastic: number): number => stress(plastic) / modulus + plastic;
  const yields = strain(0);
  const outer = (thickness * curvature) / 2;
  if (outer <= yields) return 0;
  const [low, high] = halved(0, outer, (plastic) => strain(plastic) <= outer);
  // ∫ σ ε dε over the plastic fibres, by their plastic strain p = most·s²: hardening is steepest where it begins.
  const most = (low + high) / 2;
  const value = (s: number): number => {
    const plastic = most * s * s;
    const slope = (n * stress(plastic)) / (epsilon0 + plastic) / modulus + 1;
    return stress(plastic) * strain(plastic) * slope * 2 * most * s;
  };
  let sum = value(0) + value(1);
  for (let i = 1; i < INTERVALS; i++) sum += (i % 2 === 1 ? 4 : 2) * value(i / INTERVALS);
  const integral = (modulus * yields ** 3) / 3 + sum / (3 * INTERVALS);
  const moment = (2 * integral) / curvature ** 2;
  return curvature - (12 * moment) / (modulus * thickness ** 3);
}

/**
 * The bend to make, so that letting go leaves `insideRadius` and `angle`.
 *
 * @param thickness mm
 * @param angle radians, the angle bent through
 */
export function overbend(law: FibreLaw, thickness: number, insideRadius: number, angle: number): Overbend {
  const wanted = 1 / (insideRadius + thickness / 2);
  const tooLittle = (curvature: number): boolean => curvatureLeft(law, thickness, curvature) < wanted;
  let enough = 2 * wanted;
  while (tooLittle(enough)) enough *= 2;
  const [low, high] = halved(enough / 2, enough, tooLittle);
  const made = (low + high) / 2;
  return { insideRadius: 1 / made - thickness / 2, angle: (angle * made) / wanted };
}

/** Flow stresses that a trial bend may tell of, as multiples of the law's. */
const YIELD_RATIOS = [1 / 16, 4] as const;

/**
 * The law corrected by a trial bend: a strip bent by 90° over a former, which opened when it was let go. The flow stress
 * is the law's times the yield ratio.
 *
 * @param insideRadius of the former, mm
 * @param opened       degrees
 * @throws GatherpanError BAD_INPUT for an angle by which no such sheet opens
 */
export function correctedByTrial(
  law: FibreLaw,
  thickness: number,
  insideRadius: number,
  opened: number,
): { readonly law: FibreLaw; readonly yieldRatio: number } {
  const curvature = 1 / (insideRadius + thickness / 2);
  const times = (ratio: number): FibreLaw => ({ ...law, K: ratio * law.K });
  const opens = (ratio: number): number =>
    90 * (1 - curvatureLeft(times(ratio), thickness, curvature) / curvature);
  const [lowest, highest] = YIELD_RATIOS;
  if (!(opened >= opens(lowest) && opened <= opens(highest))) {
    const [least, most] = [opens(lowest).toFixed(1), opens(highest).toFixed(1)];
    const say = words().messages.material.trialBend;
    throw new GatherpanError('BAD_INPUT', say(String(opened), String(insideRadius), least, most));
  }
  const [yieldRatio] = halved(lowest, highest, (ratio) => opens(ratio) < opened);
  return { law: times(yieldRatio), yieldRatio };
}

/**
 * The hand: which share of the gather a person sends up the wall.
 *
 * Two people work the same corner differently: one shrinks the rim and lets it get thick, the other stretches the
 * wall. At a free rim the sheet is in uniaxial compression, and Hill's law sends the share r/(1+r) of the hoop
 * strain into length up the wall and 1/(1+r) into thickness, r the normal anisotropy. So a hand h from 0 (all to
 * thickness) to 1 (all to length) is the law with r = h/(1−h). Where r depends on direction (the grain), all three
 * coefficients are scaled by one factor so that the mean, r̄ = (r0 + 2·r45 + r90)/4, gives the share h: their
 * ratios are the sheet's, the mean share is the person's.
 *
 * Source of r/(1+r): definition of the Lankford coefficient with constant volume (R. Hill, Proc. Royal Society
 * A 193 (1948)); of the mean: W. F. Hosford and R. M. Caddell, Metal Forming (normal anisotropy), from memory.
 */
import { meanLankford, type Strengths } from '../material/law.ts';
import type { SheetMaterial } from '../material/sheet.ts';
import { biaxialStrength } from '../material/yieldFit.ts';
import type { TraySpec } from '../tray/spec.ts';

/**
 * The law needs 0 < r < ∞, so hands beyond these are taken as these. At the upper end r is 24 and only 4 % of the
 * gather is left for the thickness; nearer to 1 the sheet locks in its plane and tall corners find no equilibrium.
 */
export const LOWEST_HAND = 0.001;
export const HIGHEST_HAND = 0.96;

/** A hand within what the law takes. */
export const clampHand = (hand: number): number => Math.min(HIGHEST_HAND, Math.max(LOWEST_HAND, hand));

/** The sheet's own hand: the share r̄/(1+r̄) it takes when nobody favours one way or the other. */
export function ownHand(material: Pick<SheetMaterial, 'r0' | 'r45' | 'r90'>): number {
  const r = meanLankford(material);
  return r / (1 + r);
}

/**
 * The sheet as a person of this hand works it; the sheet itself when no hand is given. Strengths stay, but that of
 * balanced biaxial tension goes along with the mean r as Hosford's does.
 *
 * @param hand 0 to 1; taken as 0.001 or 0.96 beyond those
 */
export function workedMaterial<
  M extends Pick<SheetMaterial, 'r0' | 'r45' | 'r90'> & { readonly strengths?: Strengths },
>(material: M, hand: number | undefined): M {
  if (hand === undefined) return material;
  const h = clampHand(hand);
  const r = meanLankford(material);
  const scale = h / (1 - h) / r;
  const worked = {
    ...material,
    r0: scale * material.r0,
    r45: scale * material.r45,
    r90: scale * material.r90,
  };
  const { strengths } = material;
  if (strengths?.biaxial === undefined) return worked;
  const hosford = (mean: number): number => biaxialStrength(strengths.exponent, mean);
  const biaxial = (strengths.biaxial * hosford(scale * r)) / hosford(r);
  return { ...worked, strengths: { ...strengths, biaxial } };
}

/** The hand a tray is solved for: the file's, or the sheet's own. */
export const handOf = (spec: TraySpec, material: Pick<SheetMaterial, 'r0' | 'r45' | 'r90'>): number =>
  spec.forming.hand === undefined ? ownHand(material) : clampHand(spec.forming.hand);

/**
 * Growth of the stress-free state where the sheet is worked, as a logarithmic strain in every direction of the
 * plane: half of ln(1 + spread/100), spread being the per cent of area that planishing adds.
 */
export const growthOf = (spread: number): number => Math.log1p(spread / 100) / 2;

/**
 * Where the neutral fibre of a bend lies.
 *
 * Source: DIN 6935, Cold bending of flat rolled steel, correction factor k, as quoted in public notes; the
 * standard itself was not read. The fibre that keeps its length runs at the radius ri + k s/2, so k = 1 is
 * the middle of the sheet and k = 0 its inner skin. (A "K factor" of other handbooks is k/2.)
 *
 *   k = 0.65 + ½ log10(ri/s)   for ri/s below 5,   k = 1   from 5 on
 *
 * The law is usually printed for 0.65 < ri/s (from memory); tighter bends are still answered down to
 * ri/s = 0.1, with less confidence. At ri/s = 5 it steps by 0.0005, as the standard has it. It was made for
 * steel. Machinery's Handbook (31st ed., p. 1421) stays within 0.2 mm of it a millimetre of thickness for soft
 * and hard steel and aluminium in right-angled bends from ri/s = 1 on, but gives soft copper and brass up to
 * about 0.25 mm less at large radii.
 */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** Ratio of inside radius to thickness from which the neutral fibre is taken in the middle. */
const MIDDLE_FROM = 5;
/** Below this ratio of inside radius to thickness the law has no meaning. */
const LEAST_RATIO = 0.1;

/**
 * DIN 6935 factor k, no unit, from 0.15 to 1: the neutral fibre lies at inside radius + k × thickness / 2.
 *
 * @param insideRadius mm
 * @param thickness mm
 * @throws GatherpanError BAD_INPUT unless both are positive and insideRadius ≥ 0.1 thickness
 */
export function neutralFactor(insideRadius: number, thickness: number): number {
  if (!(thickness > 0 && Number.isFinite(thickness))) {
    throw new GatherpanError('BAD_INPUT', words().messages.material.thicknessNotPositive(String(thickness)));
  }
  const ratio = insideRadius / thickness;
  if (!(ratio >= LEAST_RATIO && Number.isFinite(ratio))) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.material.insideRadius(
        String(insideRadius),
        String(thickness),
        String(LEAST_RATIO * thickness),
      ),
    );
  }
  return ratio >= MIDDLE_FROM ? 1 : 0.65 + 0.5 * Math.log10(ratio);
}

/** Radius of the neutral fibre of a bend, mm. Arguments and errors as `neutralFactor`. */
export const neutralRadius = (insideRadius: number, thickness: number): number =>
  insideRadius + (neutralFactor(insideRadius, thickness) * thickness) / 2;

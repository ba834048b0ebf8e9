/** Strengths by direction as a person states them: checked against what a law can give back, and made a law's. */
import type { Fault } from '../errors.ts';
import { words } from '../words/language.ts';
import type { Crystal, Family } from './families.ts';
import { meanLankford, type Strengths, testsOf } from './law.ts';
import type { SheetMaterial } from './sheet.ts';
import type { CustomMaterial, StatedStrengths } from './sheetSpec.ts';
import { fitYieldFunction } from './yieldFit.ts';
import type { YieldExponent } from './yieldFunction.ts';

/**
 * Exponent of the yield function by crystal. Source: R. W. Logan and W. F. Hosford, "Upper-bound anisotropic yield locus
 * calculations assuming ⟨111⟩-pencil glide", Int. J. Mechanical Sciences 22 (1980) 419–430; the usual choice since.
 */
const EXPONENTS: Readonly<Record<Crystal, YieldExponent>> = { bcc: 6, fcc: 8 };

/** Of metals whose sheet is always the one; stainless steel is either, others are unknown. */
const CRYSTAL_OF: Partial<Record<Family, Crystal>> = {
  steel: 'bcc',
  aluminium: 'fcc',
  copper: 'fcc',
  brass: 'fcc',
  'nickel silver': 'fcc',
};

/** Metals that pull and push unlike each other, which a function of this kind is not for. */
const HEXAGONAL: readonly Family[] = ['magnesium', 'titanium'];

/** Range of every ratio of strengths, and of r in balanced biaxial tension: wide, to catch what is not a ratio. */
export const STRENGTH_RANGE: readonly [number, number] = [0.5, 2];
export const BIAXIAL_R_RANGE: readonly [number, number] = [0.1, 10];

/**
 * Largest misfit of ln strength or of r/(1 + r) that is taken without a word: half a per cent of a strength, which a
 * tensile test does not measure better.
 */
const MOST_MISFIT = 0.005;

type Stated = Pick<CustomMaterial, 'family' | 'r0' | 'r45' | 'r90' | 'strengths'>;

const crystalOf = ({ crystal }: StatedStrengths, family: Family | undefined): Crystal | undefined =>
  crystal ?? (family === undefined ? undefined : CRYSTAL_OF[family]);

/**
 * A sheet of which only r-values are known, taken as equally strong in every direction. Where its crystal is not known
 * either it is taken as face-centred, which moves a rim by some hundredths of a millimetre.
 */
export function equallyStrong(material: SheetMaterial): SheetMaterial {
  const exponent = EXPONENTS[CRYSTAL_OF[material.family] ?? 'fcc'];
  return { ...material, strengths: { exponent, at45: 1, at90: 1 } };
}

/** What the law takes of stated strengths that have no faults. */
export function completeStrengths(stated: StatedStrengths, family: Family | undefined): Strengths {
  const { crystal: _crystal, ...ratios } = stated;
  return { exponent: EXPONENTS[crystalOf(stated, family)!], ...ratios };
}

/**
 * What of a sheet's strengths cannot be so.
 *
 * @param path dotted path of the material in the file
 */
export function strengthFaults(material: Stated, path: string): Fault[] {
  const { strengths, family } = material;
  if (strengths === undefined) return [];
  const field = `${path}.strengths`;
  const say = words().messages.material;
  const faults: Fault[] = [];
  const ranges = {
    at45: STRENGTH_RANGE,
    at90: STRENGTH_RANGE,
    biaxial: STRENGTH_RANGE,
    biaxialR: BIAXIAL_R_RANGE,
  };
  for (const [key, [low, high]] of Object.entries(ranges)) {
    const value = strengths[key as keyof typeof ranges];
    if (value === undefined ? key === 'at45' || key === 'at90' : !(value >= low && value <= high)) {
      const own = `${field}.${key}`;
      faults.push({ path: own, message: say.range(own, String(value), String(low), String(high)) });
    }
  }
  if (family !== undefined && HEXAGONAL.includes(family)) {
    faults.push({ path: field, message: say.hexagonal(field, words().material.families[family]) });
  } else if (crystalOf(strengths, family) === undefined) {
    const own = `${field}.crystal`;
    faults.push({ path: own, message: say.crystalMissing(own) });
  }
  return faults.length > 0 ? faults : fitFaults(material, strengths, field);
}

/** That no convex law of the kind gives strengths and r-values back together. */
function fitFaults(material: Stated, stated: StatedStrengths, field: string): Fault[] {
  const strengths = completeStrengths(stated, material.family);
  const tests = testsOf(material, strengths);
  const fit = fitYieldFunction(strengths.exponent, meanLankford(material), tests);
  if (fit.misfit <= MOST_MISFIT) return [];
  const figures = (list: readonly { readonly strength: number; readonly r: number }[]): [string, string] => [
    list.map(({ strength }) => strength.toFixed(3)).join(', '),
    list.map(({ r }) => r.toFixed(2)).join(', '),
  ];
  const [given, found] = [figures(tests), figures(fit.tests)];
  return [{ path: field, message: words().messages.material.noLaw(field, ...given, ...found) }];
}

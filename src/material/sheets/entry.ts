/**
 * One row of the table of sheets, and how it becomes a `SheetMaterial`.
 *
 * How the hardening values are chosen. Where a book prints a pair K, n that agrees with the sheet's own
 * tensile strength, that pair is used. Where it does not, n is taken from a published range and K and ε0
 * follow from tensile and yield strength by Considère's construction for Swift's law,
 *
 *   Rm = K nⁿ exp(−(n − ε0)) at the uniform strain n − ε0,   Rp0.2 = K ε0ⁿ
 *
 * (Swift, H. W. (1952), Plastic instability under plane stress, J. Mech. Phys. Solids 1, 1–18; Considère's
 * rule d(force) = 0 is in every book on the tensile test). The words "by Considère" in a source mean that.
 * K does not move the outline of a blank, n and the Lankford coefficients do.
 */
import { logStrainFromPercent } from '../../units.ts';
import type { Words } from '../../words/english.ts';
import { statement } from '../../words/statement.ts';
import type { Anneal, SheetMaterial } from '../sheet.ts';

type MaterialWords = Words['material'];

/** The properties every sheet gives a source for; the keys of `SheetMaterial.sources`. */
export const SOURCED_PROPERTIES = [
  'K',
  'epsilon0',
  'n',
  'r0',
  'r45',
  'r90',
  'density',
  'youngsModulus',
  'yieldStrength',
  'tensileStrength',
  'uniformElongation',
  'annealTemperature',
  'annealCue',
  'strainBudget',
  'thicknessRange',
] as const;

/** Sources of a row: the three Lankford coefficients share one. Cautions have theirs in `material/cautions.ts`. */
export interface EntrySources {
  readonly K: string;
  readonly epsilon0: string;
  readonly n: string;
  readonly lankford: string;
  /** Where an entry has strengths. */
  readonly strengths?: string;
  readonly density: string;
  readonly youngsModulus: string;
  readonly yieldStrength: string;
  readonly tensileStrength: string;
  readonly uniformElongation: string;
  readonly annealTemperature: string;
  readonly annealWords: string;
  readonly thicknessRange: string;
  readonly solidus?: string;
}

/** How a sheet is softened, its sentences by their keys in the table of words. */
export interface AnnealEntry {
  readonly temperature: Anneal['temperature'];
  readonly cue: keyof MaterialWords['cues'];
  readonly instead?: keyof MaterialWords['instead'];
  readonly soft?: Anneal['soft'];
  readonly solidus?: number;
}

export interface SheetEntry extends Omit<SheetMaterial, 'name' | 'sources' | 'anneal'> {
  readonly name: keyof MaterialWords['titles'];
  /** Equivalent logarithmic strain at which it is half hard, where that is before its uniform elongation. */
  readonly halfHard?: number;
  readonly anneal: AnnealEntry;
  readonly sources: EntrySources;
}

/** Where the strain between anneals comes from; see `strainBudget`. */
export const STRAIN_BUDGET_SOURCE = 'common practice, no source: ln(1 + uniform elongation)';
const HALF_HARD_SOURCE =
  'a rule of ours: until half hard, a rolled reduction of 20.7 % (ASTM B601, as quoted in a strip maker’s table)';

/** Equivalent logarithmic strain of a rolled reduction: plane strain by von Mises. @param percent of the thickness */
export const rolledStrain = (percent: number): number => (2 / Math.sqrt(3)) * -Math.log1p(-percent / 100);

/**
 * Copper and its alloys are half hard, "two numbers hard", at 20.7 % (ASTM B601, as quoted in a strip maker's table; 21 % for C26000
 * in the Copper Development Association's design guide, cold-rolled properties, as quoted).
 */
export const HALF_HARD_COPPER = rolledStrain(20.7);

/**
 * Equivalent logarithmic strain a soft sheet takes between anneals.
 *
 * No published table of "so much, then anneal" was found for hand work, so this is a rule of our own (common practice,
 * no source): until it would neck if it were stretched, ln(1 + Ag), or is half hard, whichever comes first. Up to the
 * first the sheet cannot neck in any direction even where it is stretched instead of gathered. The tempers that the
 * standards name are strains, since they are rolled, and say where that stands: of the sheets here only copper and
 * brass are half hard first, and low-carbon steel at its Ag is quarter hard, a quarter of the way to C590 of EN 10139
 * (checked in `tests/material/tempers.test.ts`). Metal raised by hand is annealed between every course or every other
 * one (Atkins, Practical Sheet and Plate Metal Work, ch. XXVIII).
 *
 * @param uniformElongation engineering per cent
 * @param halfHard          equivalent logarithmic strain at which the sheet is half hard, where that comes first
 */
export const strainBudget = (uniformElongation: number, halfHard = Infinity): number =>
  Math.min(logStrainFromPercent(uniformElongation), halfHard);

/** The full material of a row. */
export function completeSheet(entry: SheetEntry): SheetMaterial {
  const { lankford, annealWords, ...sources } = entry.sources;
  const { name, halfHard, ...values } = entry;
  return {
    name,
    ...values,
    anneal: annealOf(entry.anneal, strainBudget(entry.uniformElongation, halfHard)),
    sources: {
      ...sources,
      r0: lankford,
      r45: lankford,
      r90: lankford,
      annealCue: annealWords,
      strainBudget: halfHard === undefined ? STRAIN_BUDGET_SOURCE : HALF_HARD_SOURCE,
    },
  };
}

/** The sentences of an anneal, found by their keys. */
export function annealOf(entry: AnnealEntry, budget: number): Anneal {
  const { temperature, cue, instead, soft, solidus } = entry;
  return {
    temperature,
    cue: statement(`material.cues.${cue}`),
    ...(instead === undefined ? {} : { instead: statement(`material.instead.${instead}`) }),
    strainBudget: budget,
    ...(soft === undefined ? {} : { soft }),
    ...(solidus === undefined ? {} : { solidus }),
  };
}

/** Table 19.1 of the book below gives ranges of n and of the mean Lankford coefficient for classes of metal. */
export const HOSFORD_CADDELL =
  'Hosford and Caddell, Metal Forming: Mechanics and Metallurgy, 3rd ed. (2007), table 19.1, as quoted by an online library';

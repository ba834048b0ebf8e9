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
  readonly anneal: AnnealEntry;
  readonly sources: EntrySources;
}

/** Where the strain between anneals comes from; see `strainBudget`. */
export const STRAIN_BUDGET_SOURCE = 'common practice, no source: ln(1 + uniform elongation)';

/**
 * Equivalent logarithmic strain a soft sheet takes between anneals.
 *
 * No published table of "so much, then anneal" was found for hand work, so this is a rule of our own
 * (common practice, no source): the strain of a tensile bar at the onset of necking, ln(1 + Ag). Up to that
 * strain the sheet cannot neck in any plane direction even if it is stretched instead of gathered, and what
 * it still has left takes the local bending of tucking. Two published figures stand beside it: cartridge
 * brass C26000 keeps 23 % elongation after 21 % rolling reduction (equivalent strain 0.272) and 8 % after
 * 37 % (0.533) (Copper Development Association, design guide, cold-rolled properties, as quoted), and the
 * rule gives brass about 0.35, between the two; and metal raised by hand is annealed between every course
 * or every other one (Atkins, Practical Sheet and Plate Metal Work, ch. XXVIII).
 *
 * @param uniformElongation engineering per cent
 */
export const strainBudget = (uniformElongation: number): number => logStrainFromPercent(uniformElongation);

/** The full material of a row. */
export function completeSheet(entry: SheetEntry): SheetMaterial {
  const { lankford, annealWords, ...sources } = entry.sources;
  const { name, ...values } = entry;
  return {
    name,
    ...values,
    anneal: annealOf(entry.anneal, strainBudget(entry.uniformElongation)),
    sources: {
      ...sources,
      r0: lankford,
      r45: lankford,
      r90: lankford,
      annealCue: annealWords,
      strainBudget: STRAIN_BUDGET_SOURCE,
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

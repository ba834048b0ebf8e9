/** In what temper a sheet is worked: as it comes, or annealed before the first stage because it is sold hard. */
import type { SheetMaterial } from './sheet.ts';

export interface Temper {
  /** True when the whole blank is annealed before anything is shaped. */
  readonly annealedFirst: boolean;
  /** Name of the sheet whose figures these are. */
  readonly name: string;
  /** Equivalent logarithmic strain between anneals. */
  readonly strainBudget: number;
  /** Engineering per cent. */
  readonly uniformElongation: number;
}

/**
 * The temper for a piece of work. A hard sheet that would have to take more than it can as it comes is annealed
 * first and has the strain budget of the soft sheet from then on (common practice, no source).
 *
 * @param work equivalent logarithmic strain of the hardest-worked place, on its whole way
 */
export function temperFor({ name, uniformElongation, anneal }: SheetMaterial, work: number): Temper {
  const { soft, strainBudget, temperature } = anneal;
  const asItComes = soft === undefined || temperature === null || work <= strainBudget * (1 + 1e-9);
  return asItComes
    ? { annealedFirst: false, name, strainBudget, uniformElongation }
    : { annealedFirst: true, name, ...soft };
}

/** How much of the work that a sheet takes between anneals a strain uses up, per cent, in the temper it is worked in. */
export const workUsed = (material: SheetMaterial, strain: number): number =>
  (100 * strain) / temperFor(material, strain).strainBudget;

/** Anneals that a strain needs in between, for a budget between anneals. */
export const annealCount = (strain: number, budget: number): number =>
  Math.max(0, Math.ceil(strain / budget - 1e-9) - 1);

/** All anneals of a piece of work, the one before the first stage included. */
export function annealsNeeded(material: SheetMaterial, work: number): number {
  const { annealedFirst, strainBudget } = temperFor(material, work);
  return Number(annealedFirst) + annealCount(work, strainBudget);
}

/** The same; null where it takes some and none may be, because the sheet must not be heated in the workshop. */
export function annealsFound(material: SheetMaterial, work: number): number | null {
  const needed = annealsNeeded(material, work);
  return needed > 0 && material.anneal.temperature === null ? null : needed;
}

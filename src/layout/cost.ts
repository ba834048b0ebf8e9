/** A simple estimate of what cutting costs, from the person's own rates and nobody else's. */

/** Each in the person's own money; left out where it is not to be counted. */
export interface CostRates {
  /** Per metre of cut. */
  readonly metre?: number;
  /** Per pierce. */
  readonly pierce?: number;
  /** Per kg of sheet, offcut included: the sheet is bought whole. */
  readonly kg?: number;
}

/**
 * @param work cut length mm, mass of the whole sheet kg
 * @returns null when no rate is given
 */
export function costOf(
  work: { readonly cutLength: number; readonly pierces: number; readonly mass: number },
  rates: CostRates,
): number | null {
  if (rates.metre === undefined && rates.pierce === undefined && rates.kg === undefined) return null;
  return (
    (work.cutLength / 1000) * (rates.metre ?? 0) +
    work.pierces * (rates.pierce ?? 0) +
    work.mass * (rates.kg ?? 0)
  );
}

/** Where the tucks of a zone are set, in words. */
import type { TuckPlan } from '../gather/report.ts';
import type { Words } from '../words/english.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';

/** Tucks whose places are listed; of more it is said how far they stand apart. */
const MOST_LISTED = 8;

export function tuckWords(
  { count, at, takeUp, rounds }: TuckPlan,
  unit: LengthUnit,
  { plan }: Words,
): string {
  const { tucks } = plan;
  const apart = at.slice(1).map((along, i) => along - at[i]!);
  const where =
    count <= MOST_LISTED
      ? tucks.places(at.map((along, i) => (i < count - 1 ? lengthText : withUnit)(along, unit, 0)).join(', '))
      : tucks.apart(withUnit(Math.min(...apart), unit, 0), withUnit(Math.max(...apart), unit, 0));
  return tucks.line(String(count), where, withUnit(takeUp, unit), String(rounds));
}

/** Where the tucks of a zone are set, or the rows of blows, in words. */
import type { TuckPlan } from '../gather/report.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { GatheringName } from '../tray/spec.ts';
import type { Words } from '../words/english.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';

/** How a tray's gather is worked in. */
export const wayOf = ({ spec: { forming } }: Pick<FlatPattern, 'spec'>): GatheringName =>
  forming.gathering ?? 'tucks';

/** Tucks whose places are listed; of more it is said how far they stand apart. */
const MOST_LISTED = 8;

export function tuckWords(
  { way, count, at, takeUp, rounds, height }: TuckPlan,
  unit: LengthUnit,
  { plan }: Words,
): string {
  const { tucks } = plan;
  const apart = at.slice(1).map((along, i) => along - at[i]!);
  const where =
    count <= MOST_LISTED
      ? tucks.places(at.map((along, i) => (i < count - 1 ? lengthText : withUnit)(along, unit, 0)).join(', '))
      : tucks.apart(withUnit(Math.min(...apart), unit, 0), withUnit(Math.max(...apart), unit, 0));
  const said = way === 'tucks' ? tucks.line : tucks.blows;
  return said(String(count), where, withUnit(takeUp, unit), String(rounds), withUnit(height, unit));
}

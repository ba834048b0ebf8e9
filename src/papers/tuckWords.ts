/** Where the tucks of a zone are set, or the rows of blows, in words. */
import type { TuckPlan } from '../gather/report.ts';
import { shareOf, steepestOf } from '../gather/tucks.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { GatheringName } from '../tray/spec.ts';
import { degrees } from '../units.ts';
import type { PaperWords, Words } from '../words/english.ts';
import { type DataTable, groupedRows } from './dataTable.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';
import { zoneName } from './stageTable.ts';

/** How a tray's gather is worked in. */
export const wayOf = ({ spec: { forming } }: Pick<FlatPattern, 'spec'>): GatheringName =>
  forming.gathering ?? 'tucks';

/** Tucks whose places are listed; of more it is said how far they stand apart. */
const MOST_LISTED = 8;
/** Letters of places that a table has room for. */
const MOST_LETTERS = 21;

/** The least and the largest distance from one to the next, mm. */
function apartOf({ at }: TuckPlan): readonly [number, number] {
  const apart = at.slice(1).map((along, i) => along - at[i]!);
  return [Math.min(...apart), Math.max(...apart)];
}

/** Where they are set, listed or how far apart. */
export function tuckPlaces(tuck: TuckPlan, unit: LengthUnit, { plan: { tucks } }: Words): string {
  const { count, at } = tuck;
  const [least, most] = apartOf(tuck).map((length) => withUnit(length, unit, 0)) as [string, string];
  return count <= MOST_LISTED
    ? tucks.places(at.map((along, i) => (i < count - 1 ? lengthText : withUnit)(along, unit, 0)).join(', '))
    : tucks.apart(least, most);
}

export function tuckWords(tuck: TuckPlan, unit: LengthUnit, table: Words): string {
  const { way, count, takeUp, rounds, height } = tuck;
  const { tucks } = table.plan;
  const where = tuckPlaces(tuck, unit, table);
  const said = way === 'tucks' ? tucks.line : tucks.blows;
  return said(String(count), where, withUnit(takeUp, unit), String(rounds), withUnit(height, unit));
}

/** What the edge takes by itself, where it takes least, and the rule of thumb beside it; none without tucks or rows. */
export function edgeWords(
  pattern: Pick<FlatPattern, 'spec' | 'gather'>,
  unit: LengthUnit,
  { plan }: Words,
): readonly string[] {
  const { tucks } = pattern.gather;
  if (tucks.length === 0) return [];
  const least = tucks.reduce((a, b) => (b.edge.takeUp < a.edge.takeUp ? b : a));
  const way = wayOf(pattern);
  const said = plan.tucks.edge[way];
  const apart = withUnit(least.edge.apart, unit, 0);
  return [
    said.byItself(
      least.count === 1 ? plan.tucks.edge.fromMarkToMark(apart) : said.between(apart),
      withUnit(least.edge.takeUp, unit, 2),
    ),
    said.thumb(degrees(steepestOf(way)).toFixed(0), (100 * shareOf(way)).toFixed(1)),
  ];
}

/** The same as a table, a row for the corners that are alike. */
export function tuckTable(pattern: FlatPattern, words: PaperWords, unit: LengthUnit): DataTable {
  const { heads } = words.gatherings[wayOf(pattern)];
  const cells = (tuck: TuckPlan): string[] => {
    const { count, at, takeUp, rounds, height } = tuck;
    const length = (mm: number): string => lengthText(mm, unit, 0);
    const [least, most] = apartOf(tuck).map(length) as [string, string];
    const listed = at.map(length).join(', ');
    const where =
      listed.length <= MOST_LETTERS
        ? listed
        : words.apart(String(count), least === most ? least : words.range(least, most));
    return [where, lengthText(takeUp, unit), String(rounds), lengthText(height, unit)];
  };
  return {
    // Inches carry their mark.
    heads: [
      unit === 'mm' ? words.inMillimetres(heads.where) : heads.where,
      heads.takeUp,
      heads.rounds,
      heads.height,
    ],
    rows: groupedRows(
      pattern.gather.tucks.map((tuck) => [cells(tuck), tuck.zone] as const),
      (zones) => zoneName(pattern, zones, words),
    ),
  };
}

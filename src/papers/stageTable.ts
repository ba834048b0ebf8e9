/**
 * The stages of the working plan as a table: a column for each stage with the gauge that checks it, a row for the
 * corners that change alike, in each cell how much rim to lose or to gain and the thickness that is then there.
 */
import type { Stage, StageZone } from '../gather/stages.ts';
import type { Course } from '../gather/workingPlan.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';
import { zoneNames } from './cornerNames.ts';
import { type DataTable, groupedRows } from './dataTable.ts';
import { short } from './figureRows.ts';
import { type LengthUnit, lengthText } from './lengths.ts';

/** The table of a plan; zones whose figures are the same in every stage share a row. */
export function stageColumns(
  pattern: FlatPattern,
  { stages }: Course,
  words: PaperWords,
  unit: LengthUnit,
): DataTable {
  const cells = (zone: number): string[] =>
    stages.map((stage) => {
      const found = stage.zones.find((each) => each.zone === zone);
      return found === undefined ? '' : cell(found, unit);
    });
  return {
    heads: stages.map((stage, i) => head(stage, i + 1, words)),
    rows: groupedRows(
      (stages[0]?.zones ?? []).map(({ zone }) => [cells(zone), zone] as const),
      (zones) => zoneName(pattern, zones, words),
    ),
  };
}

const head = (stage: Stage, number: number, words: PaperWords): string =>
  stage.lip ? words.stageLip(String(number)) : words.stageWall(String(number), short(stage.angle));

/** −4.7 / 1.01: the rim gets 4.7 mm shorter and is then at most 1.01 mm thick; no sign where it keeps its length as told. */
function cell({ rimToLose, thickness }: StageZone, unit: LengthUnit): string {
  const change = lengthText(Math.abs(rimToLose), unit);
  const kept = change === lengthText(0, unit);
  const sign = kept ? '' : rimToLose > 0 ? '−' : '+';
  return `${sign}${change} / ${lengthText(thickness, unit, 2)}`;
}

/** Gather zones by the corners they belong to. */
export function zoneName(pattern: FlatPattern, zones: readonly number[], words: PaperWords): string {
  const corners = zones.map((zone) => pattern.gather.zones[zone]?.corners ?? []);
  return corners.some((list) => list.length > 0)
    ? zoneNames(pattern, corners, words)
    : words.zone(zones.map(String).join(', '));
}

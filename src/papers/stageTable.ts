/**
 * The stages of the working plan as a table: a column for each stage with the gauge that checks it, a row for the
 * corners that change alike, in each cell how much rim to lose or to gain and the thickness that is then there.
 */
import { drawn, type Item, openLine } from '../drawing/picture.ts';
import { textWidth, wrapText } from '../drawing/textWidth.ts';
import { LINE_PITCH, LINES } from '../drawing/weights.ts';
import type { Stage, StageZone } from '../gather/stages.ts';
import type { Course } from '../gather/workingPlan.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';
import { cornerNames } from './cornerNames.ts';
import { short } from './figureRows.ts';
import { gatherOf } from './gatherOf.ts';
import { type LengthUnit, lengthText } from './lengths.ts';
import { type Block, text } from './marks.ts';

/** Heads of the columns, and rows of a name and a cell for each. */
export interface StageColumns {
  readonly heads: readonly string[];
  readonly rows: readonly { readonly name: string; readonly cells: readonly string[] }[];
}

/** The table of a plan; zones whose figures are the same in every stage share a row. */
export function stageColumns(
  pattern: FlatPattern,
  { stages }: Course,
  words: PaperWords,
  unit: LengthUnit,
): StageColumns {
  const cells = (zone: number): string[] =>
    stages.map((stage) => {
      const found = stage.zones.find((each) => each.zone === zone);
      return found === undefined ? '' : cell(found, unit);
    });
  const groups = new Map<string, { cells: string[]; zones: number[] }>();
  for (const { zone } of stages[0]?.zones ?? []) {
    const own = cells(zone);
    const known = groups.get(own.join('|'));
    if (known === undefined) groups.set(own.join('|'), { cells: own, zones: [zone] });
    else known.zones.push(zone);
  }
  return {
    heads: stages.map((stage, i) => head(stage, i + 1, words)),
    rows: [...groups.values()].map((group) => ({
      name: zoneName(pattern, group.zones, words),
      cells: group.cells,
    })),
  };
}

const head = (stage: Stage, number: number, words: PaperWords): string =>
  stage.lip ? words.stageLip(String(number)) : words.stageWall(String(number), short(stage.angle));

/** −4.7 / 1.01: the rim gets 4.7 mm shorter and is then at most 1.01 mm thick. */
function cell({ rimToLose, thickness }: StageZone, unit: LengthUnit): string {
  const sign = rimToLose >= 0 ? '−' : '+';
  return `${sign}${lengthText(Math.abs(rimToLose), unit)} / ${lengthText(thickness, unit, 2)}`;
}

/** Gather zones by the corners they belong to. */
export function zoneName(pattern: FlatPattern, zones: readonly number[], words: PaperWords): string {
  const gather = gatherOf(pattern);
  const corners = [...new Set(zones.flatMap((zone) => gather?.zones[zone]?.corners ?? []))];
  return corners.length > 0 ? cornerNames(pattern, corners, words) : words.zone(zones.map(String).join(', '));
}

/** Width of the names, mm. */
const NAME_WIDTH = 24;

/** The table drawn; more stages than fit beside each other go into further rows of heads. */
export function stageTable(
  top: { readonly x: number; readonly y: number },
  width: number,
  { heads, rows }: StageColumns,
  height: number,
): Block {
  const pitch = LINE_PITCH * height;
  const widest = Math.max(
    ...rows.flatMap(({ cells }) => cells.map((each) => textWidth(each, height))),
    // A head may go over three lines, but its words stay whole.
    ...heads.flatMap((each) => each.split(' ').map((word) => textWidth(word, height, true))),
  );
  const perBlock = Math.max(1, Math.min(heads.length, Math.floor((width - NAME_WIDTH) / (widest + 2))));
  const column = (width - NAME_WIDTH) / perBlock;
  const items: Item[] = [];
  const lines: ReturnType<typeof openLine>[] = [];
  let y = top.y;
  for (let first = 0; first < heads.length; first += perBlock) {
    const count = Math.min(perBlock, heads.length - first);
    const right = (i: number): number => top.x + NAME_WIDTH + (i + 1) * column;
    const wrapped = heads
      .slice(first, first + count)
      .map((each) => wrapText(each, column - 1.5, height, true));
    const deepest = Math.max(...wrapped.map((each) => each.length));
    wrapped.forEach((each, i) => {
      each.forEach((line, l) => {
        const base = y - height - (deepest - each.length + l) * pitch;
        items.push(text({ x: right(i), y: base }, height, line, { align: 'right', bold: true }));
      });
    });
    y -= deepest * pitch;
    lines.push(
      openLine([
        { x: top.x, y },
        { x: top.x + width, y },
      ]),
    );
    y -= 0.6 * height;
    for (const { name, cells } of rows) {
      const names = wrapText(name, NAME_WIDTH - 1.5, height);
      names.forEach((line, l) => {
        items.push(text({ x: top.x, y: y - height - l * pitch }, height, line, { colour: '#444444' }));
      });
      cells.slice(first, first + count).forEach((each, i) => {
        items.push(text({ x: right(i), y: y - height }, height, each, { align: 'right' }));
      });
      y -= names.length * pitch;
    }
    y -= 0.4 * height;
  }
  items.push(drawn(lines, LINES.thin));
  return { items, height: top.y - y };
}

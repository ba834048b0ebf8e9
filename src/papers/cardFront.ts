/**
 * The front of the shop card, to be read at arm's length: the blank with its gather, what to cut, the stages in large
 * figures, the anneals. Why, and what to mind, stands on the back.
 */
import { drawn, type Item, rectangle } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import type { AnnealStep } from '../gather/anneals.ts';
import type { Course } from '../gather/workingPlan.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { degrees } from '../units.ts';
import type { PaperWords } from '../words/english.ts';
import { tuckPaths } from './blankItems.ts';
import { blankGroup, blankSizes } from './blankPicture.ts';
import { type DataTable, dataTable } from './dataTable.ts';
import { cornerRows, short } from './figureRows.ts';
import { type LengthUnit, sizeText, withUnit } from './lengths.ts';
import { type Block, type Column, heading, type Placed, paragraph, rows, Stack, text } from './marks.ts';
import { madeBend, stateOfWork, wholeBottomBend } from './overbends.ts';
import { stageColumns } from './stageTable.ts';

/** Heights of the letters of the table of stages, the largest first, mm. */
const FIGURES = [4.6, 4, 3.5, 3, TEXT.normal];
/** Of the size to cut and of the lines below the table, mm. */
const CUT = 5.5;
const LINE = 3.4;
/** The picture of the blank, with its sizes, mm. */
const LEAST_PICTURE = 62;
const MOST_PICTURE = 125;
/** Room for the sizes beside and below the blank, mm. */
const SIZES = 9;
/** A table of more cells than this says too much for a front. */
const MOST_CELLS = 30;

export interface FrontOptions {
  readonly unit: LengthUnit;
  readonly words: PaperWords;
  readonly plan: Course | undefined;
  readonly trialBend: number;
}

/** A box to tick and a sentence. */
export function tickBox(top: Column, sentence: string, size: number): Block {
  const aside = { x: top.x + size + 2, y: top.y, width: top.width - size - 2 };
  const block = paragraph(aside, sentence, size);
  const box = rectangle({ x: top.x, y: top.y - size - 0.2, width: size + 0.2, height: size + 0.2 });
  return { items: [drawn([box], LINES.thin), ...block.items], height: block.height };
}

/** The checks on the way as one block. */
const checks =
  (words: PaperWords): Placed =>
  (top) => {
    const stack = new Stack(top).add((column) => heading(column, words.checks, TEXT.normal), 1);
    for (const check of words.checkList) stack.add((column) => tickBox(column, check, TEXT.normal), 1);
    return stack;
  };

/** The table of stages, and whether the front has room for it. */
export function frontTable(
  pattern: FlatPattern,
  { plan, words, unit }: FrontOptions,
): { table: DataTable; onFront: boolean } | null {
  if (plan === undefined || plan.stages.length === 0 || plan.stages[0]!.zones.length === 0) return null;
  const table = stageColumns(pattern, plan, words, unit);
  return { table, onFront: table.rows.length * table.heads.length <= MOST_CELLS };
}

/** Where the front stands, and its height down to the margin. */
interface Front extends Column {
  readonly height: number;
}

/** Blocks of the front under one another. */
function stacked(top: Column, blocks: readonly Placed[]): Stack {
  const stack = new Stack(top);
  for (const block of blocks) stack.add(block, 4);
  return stack;
}

/** The front, without its title. */
export function cardFront(pattern: FlatPattern, at: Front, options: FrontOptions): Item[] {
  const below = lowerBlocks(pattern, at, options);
  const top = at.y - CUT - LINE - 7;
  const picture = Math.min(MOST_PICTURE, at.height - (at.y - top) - stacked(at, below).height);
  const view = blankView(pattern, { ...at, y: top, height: picture }, options);
  const lower = stacked({ ...at, y: top - view.height - 4 }, below);
  return [...cutLines(pattern, at, options), ...view.items, ...lower.items];
}

/** What to cut, and of what. */
function cutLines(
  { report, sheet, spec }: FlatPattern,
  { x, y, width }: Column,
  { unit, words }: FrontOptions,
): Item[] {
  const { blank } = report;
  const grain = short(report.sheet.grain);
  const trim = words.trimLine(withUnit(spec.forming.trim, unit));
  const line = words.sheetLine(sheet.material.name, withUnit(sheet.thickness, unit, 2), grain);
  return [
    text({ x, y: y - CUT }, CUT, words.cutSize(sizeText(blank.length, blank.width, unit)), { bold: true }),
    text({ x: x + width, y: y - CUT }, LINE, words.named(words.trim, trim), {
      align: 'right',
    }),
    text({ x, y: y - CUT - LINE - 2.5 }, LINE, line),
  ];
}

/** The blank with its gather, corner letters, marks and sizes. */
function blankView(
  pattern: FlatPattern,
  { x, y: top, width, height }: Front,
  { unit, words }: FrontOptions,
): Block {
  const { minX, minY, maxX, maxY } = pathBounds(pattern.outline);
  const scale = Math.min((width - 2 * SIZES) / (maxX - minX), (height - SIZES) / (maxY - minY));
  const left = x + SIZES + (width - 2 * SIZES - scale * (maxX - minX)) / 2;
  const place = { scale, left, top };
  const marks: Item = {
    kind: 'group',
    at: { x: left - minX * scale, y: top - maxY * scale },
    scale,
    items: [drawn(tuckPaths(pattern), LINES.tuck)],
  };
  const blank = blankGroup(pattern, { ...place, contours: false, words, letters: TEXT.title });
  return {
    items: [blank, marks, ...blankSizes(pattern, { ...place, unit })],
    height: scale * (maxY - minY) + SIZES,
  };
}

/** What stands below the picture: stages, anneals, springback; of a tray without a plan its corners. */
function lowerBlocks(pattern: FlatPattern, at: Front, options: FrontOptions): Placed[] {
  const { plan, words, unit } = options;
  const lines = (list: readonly string[]): Placed[] =>
    list.map((line) => (top) => paragraph(top, line, LINE));
  const made = madeBend(pattern, stateOfWork(pattern), wholeBottomBend(pattern.spec), options.trialBend);
  const bend = words.frontBend(
    withUnit(made.insideRadius, unit),
    degrees(made.angle).toFixed(0),
    short(degrees(wholeBottomBend(pattern.spec).angle)),
  );
  const found = frontTable(pattern, options);
  if (found === null) {
    const corners = cornerRows(pattern, words, unit);
    if (corners.length > MOST_CELLS / 6) return [...lines([bend]), checks(words)];
    return [(top) => rows(top, corners, 42, 3), ...lines([bend]), checks(words)];
  }
  const anneals = lines(annealLines(plan!, words));
  if (!found.onFront) return [...lines([words.stagesOnBack]), ...anneals, ...lines([bend]), checks(words)];
  const key: Placed = (top) => paragraph(top, words.stageKey(unit === 'mm' ? 'mm' : words.inches));
  const rest = [key, ...anneals, ...lines([bend]), checks(words)];
  const room = at.height - CUT - LINE - 7 - LEAST_PICTURE - stacked(at, rest).height - 8;
  const tableOf =
    (size: number): Placed =>
    (top) =>
      new Stack(top)
        .add((column) => heading(column, words.stages, LINE), 1)
        .add((column) => dataTable(column, found.table, size));
  const fits = FIGURES.map(tableOf).find((block) => block(at).height <= room);
  return [fits ?? tableOf(TEXT.normal), ...rest];
}

/** When to anneal, one line. */
function annealLines({ anneals }: Course, words: PaperWords): string[] {
  const { steps, temperature } = anneals;
  if (temperature === null) return [words.frontAnneal.never];
  if (steps.length === 0) return [words.frontAnneal.none];
  const said = steps.map((step) => annealWords(step, words)).join(', ');
  return [words.frontAnneal.line(said, String(temperature[0]), String(temperature[1]))];
}

function annealWords({ when, stage, angle }: AnnealStep, { frontAnneal }: PaperWords): string {
  const number = String(stage + 1);
  if (when === 'before') return frontAnneal.before;
  return when === 'after' ? frontAnneal.after(number) : frontAnneal.within(number, angle.toFixed(0));
}

/** The first page of a template: what to measure, how to join, which page is where, the figures, the cautions. */
import { drawn, filled, type Item, level, type Picture, rectangle, type Stroke } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { cuttingActs } from '../gather/acts.ts';
import { cautionList } from '../material/cautions.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords, Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';
import { hasStretch, tuckPaths } from './blankItems.ts';
import { checkRule, checkSquare } from './checkRule.ts';
import { cornerRows, mainRows } from './figureRows.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { type Block, type Column, heading, type Placed, paragraph, rows, Stack, text } from './marks.ts';
import { PAGE_SIZES } from './pageSizes.ts';
import { minded } from './sentences.ts';
import type { TemplateOptions } from './templateOptions.ts';
import type { Tiling } from './tiling.ts';
import { wayOf } from './tuckWords.ts';

/** Reading size first; a cover with much to say gets smaller letters, but none that nobody can read. */
const SIZES = [2.5, 2.3, 2.1, 1.9, TEXT.small];
/** Lowest place of text, mm from the edge of the paper. */
const BOTTOM = 12;
const LEFT = 15;
/** Highest map of the pages, mm. */
const MAP = 58;
/** Width of the names of rows, mm. */
const NAME_WIDTH = 28;

/**
 * The first page: what to measure, how to join, which page is where, the lines, the figures, the cautions. Figures
 * of a blank that has very many go on pages of their own behind it.
 *
 * @param rehearsalApart whether the rehearsal in paper has no room here
 */
export function templateCover(
  pattern: FlatPattern,
  layout: Tiling,
  options: TemplateOptions,
  words: Words,
  rehearsalApart: boolean,
): Picture[] {
  const paper = options.paper === 'roll' ? PAGE_SIZES.A4 : PAGE_SIZES[options.paper];
  const picture = (items: readonly Item[]): Picture => ({
    ...paper,
    title: words.papers.templateTitle(pattern.name),
    items,
  });
  const top = { x: LEFT, y: paper.height - LEFT, width: paper.width - 2 * LEFT };
  const head = headOf(top, pattern, layout, options, words.papers);
  const { unit } = options;
  const notes = [
    ...(layout.tiles.length > 1 ? [words.papers.joinHow(withUnit(layout.overlap, unit, 0))] : []),
    ...(rehearsalApart ? [words.papers.rehearsal.apart] : []),
  ];
  const how = (size: number): Spaced[] => notes.map((note) => said(note, size, 3));
  const figures = (size: number): Spaced[] => figureBlocks(pattern, unit, words, size);
  const cautions = (size: number): Spaced[] => cautionBlocks(pattern, words, size);
  for (const size of SIZES) {
    const { items, rest } = setDown(head.below, [...how(size), ...figures(size), ...cautions(size)]);
    if (rest.length === 0) return [picture([...head.items, ...items])];
  }
  const size = SIZES[0]!;
  // The cautions stay where nobody can miss them; figures begin on a page of their own.
  const first = setDown(head.below, [...how(size), ...cautions(size)]);
  const pages = [picture([...head.items, ...first.items])];
  for (let rest = [...first.rest, ...figures(size)]; rest.length > 0; ) {
    const set = setDown(top, rest);
    pages.push(picture(set.items));
    rest = [...set.rest];
  }
  return pages;
}

/** A block and what is left free below it, mm. */
interface Spaced {
  readonly make: Placed;
  readonly gap: number;
}

/** Sets blocks under one another until the page ends; the first one always. */
function setDown(top: Column, blocks: readonly Spaced[]): { items: Item[]; rest: readonly Spaced[] } {
  const stack = new Stack(top);
  for (const [i, { make, gap }] of blocks.entries()) {
    const { below } = stack;
    if (i > 0 && below.y - make(below).height < BOTTOM) return { items: stack.items, rest: blocks.slice(i) };
    stack.add(make, gap);
  }
  return { items: stack.items, rest: [] };
}

const said = (sentence: string, size: number, gap = 1): Spaced => ({
  make: (top) => paragraph(top, sentence, size),
  gap,
});

/** Figures of tray and blank, and what to mind. */
function figureBlocks(pattern: FlatPattern, unit: LengthUnit, table: Words, size: number): Spaced[] {
  const words = table.papers;
  const list = [...mainRows(pattern, words, unit), ...cornerRows(pattern, words, unit)];
  return [
    { make: (top) => heading(top, words.trayAndBlank), gap: 0.5 },
    ...list.map(
      (row, i): Spaced => ({
        make: (top) => rows(top, [row], NAME_WIDTH, size),
        gap: i + 1 < list.length ? 0 : 3,
      }),
    ),
    ...minded(pattern, table, unit).map((sentence) => said(sentence, size)),
  ];
}

function cautionBlocks(pattern: FlatPattern, table: Words, size: number): Spaced[] {
  const list = sentences(cautionList(cuttingActs(pattern.spec), pattern.sheet.material), table);
  return [
    {
      make: (top) => {
        const { items, height } = heading({ ...top, y: top.y - 2 }, table.papers.cautions);
        return { items, height: height + 2 };
      },
      gap: 0.5,
    },
    ...list.map((caution) => said(caution, size)),
  ];
}

/** What stands above the figures. */
const headOf = (
  top: Column,
  pattern: FlatPattern,
  layout: Tiling,
  options: TemplateOptions,
  words: PaperWords,
): Stack =>
  new Stack(top)
    .add((column) => paragraph(column, words.templateTitle(pattern.name), TEXT.title, true), 2)
    // What to measure, first and framed.
    .add((column) => measureBox(column, options.unit, words), 6)
    // Page map at the left, lines at the right.
    .add((column) => {
      const half = { ...column, width: column.width / 2 - 4 };
      const leftOut = layout.rows * layout.columns - layout.tiles.length;
      const title = leftOut === 0 ? words.pageMap : words.pageMapLeftOut(String(leftOut));
      const map = new Stack(half)
        .add((own) => heading(own, title))
        .add((own) => pageMap(own, pattern, layout), 3);
      const legend = new Stack({ ...half, x: column.x + column.width / 2 + 4 }).add(
        (own) => heading(own, words.legend),
        1,
      );
      for (const [name, stroke] of legendRows(pattern, options, words))
        legend.add(({ x, y }) => ({ items: sample(x, y, name, stroke), height: 5 }));
      return { items: [...map.items, ...legend.items], height: Math.max(map.height, legend.height) };
    }, 1);

/** A line and its name. */
const sample = (x: number, y: number, name: string, stroke: Stroke): Item[] => [
  drawn([level(y - 1.6, x, x + 16)], stroke),
  text({ x: x + 19, y: y - 2.7 }, TEXT.normal, name),
];

/** The square and the rule that are measured before the print is trusted. */
function measureBox({ x, y, width }: Column, unit: LengthUnit, words: PaperWords): Block {
  const square = checkSquare(unit);
  const height = square + 14;
  const aside = { x: x + 7 + square + 8, y: y - 7, width: width - square - 20 };
  const said = new Stack(aside)
    .add((column) => paragraph(column, words.measureFirst, TEXT.large, true))
    .add((column) =>
      paragraph(column, `${words.squareSide(withUnit(square, unit, 0))} ${words.printSettings}`),
    );
  return {
    items: [
      drawn([rectangle({ x, y: y - height, width, height })], LINES.frame),
      drawn([rectangle({ x: x + 7, y: y - 7 - square, width: square, height: square })], LINES.frame),
      ...said.items,
      ...checkRule({ x: aside.x, y: y - 7 - square }, unit, words, true),
    ],
    height,
  };
}

function legendRows(pattern: FlatPattern, options: TemplateOptions, words: PaperWords): [string, Stroke][] {
  const list: [string, Stroke][] = [[words.cutHere, LINES.cut]];
  if (pattern.outline !== pattern.rim) list.push([words.legendRim, LINES.rim]);
  if (pattern.scribeLines.length > 0) list.push([words.scribeHere, LINES.scribe]);
  if (options.contours) list.push([words.contourHere, LINES.contour]);
  if (options.contours && hasStretch(pattern)) list.push([words.stretchHere, LINES.stretch]);
  if (options.tucks && tuckPaths(pattern).length > 0)
    list.push([words.gatherings[wayOf(pattern)].here, LINES.tuck]);
  if (options.dots) list.push([words.dotsHere, LINES.thin]);
  list.push([words.centreLine, LINES.centre]);
  return list;
}

/** The windows of all pages over the outline, with their page numbers. */
function pageMap(room: Column, pattern: FlatPattern, layout: Tiling): Block {
  const { window, overlap, rows: rowCount, columns, start, tiles } = layout;
  const spanX = columns * (window.width - overlap) + overlap;
  const spanY = rowCount * (window.height - overlap) + overlap;
  const scale = Math.min(room.width / spanX, MAP / spanY);
  const at = { x: room.x - start.x * scale, y: room.y - spanY * scale - start.y * scale };
  const items: Item[] = tiles.map((tile, i) => ({
    kind: 'group',
    at: { x: at.x + tile.x * scale, y: at.y + tile.y * scale },
    scale: 1,
    items: [
      drawn(
        [rectangle({ x: 0, y: 0, width: window.width * scale, height: window.height * scale })],
        LINES.thin,
      ),
      text(
        { x: (window.width * scale) / 2, y: (window.height * scale) / 2 - TEXT.small / 2 },
        TEXT.small,
        String(i + 1),
        { align: 'center', halo: true },
      ),
    ],
  }));
  items.unshift({
    kind: 'group',
    at,
    scale,
    items: [
      filled([pattern.outline, ...pattern.holes.map((hole) => hole.path)], '#e4e4e4'),
      drawn([pattern.outline], LINES.frame),
    ],
  });
  return { items, height: spanY * scale };
}

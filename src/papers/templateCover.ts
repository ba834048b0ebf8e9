/** The first page of a template: what to measure, how to join, which page is where, the figures, the cautions. */
import { drawn, filled, type Item, openLine, type Picture, rectangle } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { cuttingActs } from '../gather/acts.ts';
import { cautionList } from '../material/cautions.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords, Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';
import { hasStretch, tuckPaths } from './blankItems.ts';
import { checkRule, checkSquare } from './checkRule.ts';
import type { Placed } from './columns.ts';
import { cornerRows, mainRows } from './figureRows.ts';
import { withUnit } from './lengths.ts';
import { heading, paragraph, rows, text } from './marks.ts';
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
  for (const size of SIZES) {
    const head = headOf(pattern, layout, options, words.papers, size, rehearsalApart);
    const body = [
      ...figureBlocks(pattern, options, words, size),
      ...cautionBlocks(pattern, options, words, size),
    ];
    const { items, rest } = setDown(body, head.lowest);
    if (rest.length === 0) return [picture([...head.items, ...items])];
  }
  const size = SIZES[0]!;
  const head = headOf(pattern, layout, options, words.papers, size, rehearsalApart);
  // The cautions stay where nobody can miss them; figures begin on a page of their own.
  const first = setDown(cautionBlocks(pattern, options, words, size), head.lowest);
  const pages = [picture([...head.items, ...first.items])];
  for (let rest = [...first.rest, ...figureBlocks(pattern, options, words, size)]; rest.length > 0; ) {
    const set = setDown(rest, paper.height - LEFT);
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
function setDown(blocks: readonly Spaced[], top: number): { items: Item[]; rest: readonly Spaced[] } {
  const items: Item[] = [];
  let y = top;
  for (const [i, { make, gap }] of blocks.entries()) {
    const block = make({ x: LEFT, y });
    if (i > 0 && y - block.height < BOTTOM) return { items, rest: blocks.slice(i) };
    items.push(...block.items);
    y -= block.height + gap;
  }
  return { items, rest: [] };
}

const widthOf = ({ paper }: TemplateOptions): number =>
  (paper === 'roll' ? PAGE_SIZES.A4 : PAGE_SIZES[paper]).width - 2 * LEFT;

/** Figures of tray and blank, and what to mind. */
function figureBlocks(
  pattern: FlatPattern,
  options: TemplateOptions,
  table: Words,
  size: number,
): readonly Spaced[] {
  const { unit } = options;
  const width = widthOf(options);
  const words = table.papers;
  const list = [...mainRows(pattern, words, unit), ...cornerRows(pattern, words, unit)];
  return [
    { make: (top) => heading(top, width, words.trayAndBlank), gap: 0.5 },
    ...list.map(
      (row, i): Spaced => ({
        make: (top) => rows(top, width, [row], NAME_WIDTH, size),
        gap: i + 1 < list.length ? 0 : 3,
      }),
    ),
    ...minded(pattern, table, unit).map(
      (sentence): Spaced => ({ make: (top) => paragraph(top, width, sentence, size), gap: 1 }),
    ),
  ];
}

function cautionBlocks(
  pattern: FlatPattern,
  options: TemplateOptions,
  table: Words,
  size: number,
): readonly Spaced[] {
  const { papers: words } = table;
  const width = widthOf(options);
  return [
    {
      make: ({ x, y }) => {
        const { items, height } = heading({ x, y: y - 2 }, width, words.cautions);
        return { items, height: height + 2 };
      },
      gap: 0.5,
    },
    ...sentences(cautionList(cuttingActs(pattern.spec), pattern.sheet.material), table).map(
      (caution): Spaced => ({ make: (top) => paragraph(top, width, caution, size), gap: 1 }),
    ),
  ];
}

/** What stands above the figures, and where they begin. */
function headOf(
  pattern: FlatPattern,
  layout: Tiling,
  options: TemplateOptions,
  words: PaperWords,
  size: number,
  rehearsalApart: boolean,
): { items: Item[]; lowest: number } {
  const { unit } = options;
  const page = options.paper === 'roll' ? PAGE_SIZES.A4 : PAGE_SIZES[options.paper];
  const left = LEFT;
  const width = widthOf(options);
  const items: Item[] = [];
  let y = page.height - LEFT;
  const add = (block: { items: readonly Item[]; height: number }, gap = 0): void => {
    items.push(...block.items);
    y -= block.height + gap;
  };
  add(paragraph({ x: left, y }, width, words.templateTitle(pattern.name), TEXT.title, true), 2);

  // What to measure, first and framed.
  const square = checkSquare(unit);
  const boxHeight = square + 14;
  items.push(drawn([rectangle({ x: left, y: y - boxHeight, width, height: boxHeight })], LINES.frame));
  items.push(
    drawn([rectangle({ x: left + 7, y: y - 7 - square, width: square, height: square })], LINES.frame),
  );
  const aside = left + 7 + square + 8;
  const asideWidth = width - square - 20;
  const said = paragraph({ x: aside, y: y - 7 }, asideWidth, words.measureFirst, TEXT.large, true);
  items.push(...said.items);
  const more = paragraph(
    { x: aside, y: y - 7 - said.height },
    asideWidth,
    `${words.squareSide(withUnit(square, unit, 0))} ${words.printSettings}`,
  );
  items.push(...more.items);
  items.push(...checkRule({ x: aside, y: y - 7 - square }, unit, words, true));
  y -= boxHeight + 6;

  // Page map at the left, lines at the right.
  const half = width / 2 - 4;
  const mapTop = y;
  const leftOut = layout.rows * layout.columns - layout.tiles.length;
  add(heading({ x: left, y }, half, leftOut === 0 ? words.pageMap : words.pageMapLeftOut(String(leftOut))));
  const map = pageMap(pattern, layout, { x: left, y, width: half, height: 58 });
  items.push(...map.items);
  const mapBottom = y - map.height - 3;
  const rightX = left + width / 2 + 4;
  y = mapTop;
  add(heading({ x: rightX, y }, half, words.legend), 1);
  for (const [name, stroke] of legendRows(pattern, options, words)) {
    items.push(
      drawn(
        [
          openLine([
            { x: rightX, y: y - 1.6 },
            { x: rightX + 16, y: y - 1.6 },
          ]),
        ],
        stroke,
      ),
      text({ x: rightX + 19, y: y - 2.7 }, TEXT.normal, name),
    );
    y -= 5;
  }
  y = Math.min(y, mapBottom) - 1;
  if (layout.tiles.length > 1)
    add(paragraph({ x: left, y }, width, words.joinHow(withUnit(layout.overlap, unit, 0)), size), 3);
  if (rehearsalApart) add(paragraph({ x: left, y }, width, words.rehearsal.apart, size), 3);
  return { items, lowest: y };
}

function legendRows(
  pattern: FlatPattern,
  options: TemplateOptions,
  words: PaperWords,
): [string, (typeof LINES)[keyof typeof LINES]][] {
  const list: [string, (typeof LINES)[keyof typeof LINES]][] = [[words.cutHere, LINES.cut]];
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
function pageMap(
  pattern: FlatPattern,
  layout: Tiling,
  room: { x: number; y: number; width: number; height: number },
): { items: Item[]; height: number } {
  const { window, overlap, rows: rowCount, columns, start, tiles } = layout;
  const spanX = columns * (window.width - overlap) + overlap;
  const spanY = rowCount * (window.height - overlap) + overlap;
  const scale = Math.min(room.width / spanX, room.height / spanY);
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

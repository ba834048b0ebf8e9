/**
 * The full-size template: the blank at 1:1 on as many pages as it takes, after a page that says how to join and
 * check them, followed by the tables for marking out without a printer.
 */

import { circle, drawn, type Item, openLine, type Picture, rectangle } from '../drawing/picture.ts';
import { GREY, LINES, TEXT } from '../drawing/weights.ts';
import { GatherpanError } from '../errors.ts';
import { type Bounds, pathBounds } from '../outline/measure.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { blankLines, clearPlace, contourItems, contoursOf, gatherScale, tuckPaths } from './blankItems.ts';
import { centreLines } from './blankPicture.ts';
import { checkRule } from './checkRule.ts';
import type { LengthUnit } from './lengths.ts';
import { type MarkingOptions, markingPages } from './markingPages.ts';
import { grainArrow, text } from './marks.ts';
import { PAGE_SIZES } from './pageSizes.ts';
import { templateCover } from './templateCover.ts';
import type { TemplateOptions } from './templateOptions.ts';
import { type Paper, type Tile, type Tiling, tiling } from './tiling.ts';
import { english, type Words } from './words.ts';

/** More pages than anybody tapes together. */
const MOST_PAGES = 150;
/** Line of text under each window, mm. */
const FOOTER = 7;
/** Room round the blank, mm. */
const ROUND = 4;

/**
 * The pages, the first one the cover.
 *
 * @param pattern not changed
 * @throws GatherpanError TOO_LARGE when more than 150 pages would be needed
 */
export function templatePages(pattern: FlatPattern, options: TemplateOptions): Picture[] {
  const words = options.words ?? english;
  const size = options.paper === 'roll' ? null : PAGE_SIZES[options.paper];
  const paper: Paper = {
    width: size?.width ?? options.rollWidth,
    height: size?.height ?? null,
    margin: options.margin,
    overlap: options.overlap,
    footer: FOOTER,
  };
  const box = pathBounds(pattern.outline);
  const bounds: Bounds = {
    minX: box.minX - ROUND,
    minY: box.minY - ROUND,
    maxX: box.maxX + ROUND,
    maxY: box.maxY + ROUND,
  };
  const layout = tiling(bounds, paper);
  if (layout.tiles.length > MOST_PAGES) {
    throw new GatherpanError(
      'TOO_LARGE',
      `The template of ${pattern.name} needs ${layout.tiles.length} pages of ${options.paper}; up to ${MOST_PAGES} are printed: choose a larger paper or a roll, or mark out from the tables.`,
    );
  }
  const blank = blankAtFullSize(pattern, options, words);
  const pages = [templateCover(pattern, layout, options, words)];
  for (const tile of layout.tiles) pages.push(tilePage(pattern, tile, layout, blank, words, options.unit));
  if (options.markingOut) {
    const marking: MarkingOptions = {
      paper: options.paper === 'roll' ? 'A4' : options.paper,
      unit: options.unit,
      words,
    };
    pages.push(...markingPages(pattern, marking));
  }
  return pages;
}

/** Everything drawn on the blank, in its own coordinates; scale 1, so paper sizes are mm. */
function blankAtFullSize(pattern: FlatPattern, options: TemplateOptions, words: Words): Item[] {
  const bounds = pathBounds(pattern.outline);
  const lines = blankLines(pattern);
  const items: Item[] = [...centreLines(bounds, 3), lines.scribe];
  if (lines.rim !== null) items.push(lines.rim);
  if (options.contours) {
    items.push(...contourItems(contoursOf(pattern, gatherScale(pattern.field), 1), 1, TEXT.normal));
  }
  if (options.tucks) items.push(drawn(tuckPaths(pattern), LINES.tuck));
  items.push(lines.cut);
  const across = Math.min(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const middle = { x: (bounds.minX + bounds.maxX) / 2, y: (bounds.minY + bounds.maxY) / 2 };
  const arrow = Math.min(60, across / 4);
  const wanted = { x: middle.x + across / 12, y: middle.y + across / 10 };
  const at = clearPlace(pattern, wanted, 0.55 * arrow);
  const below = at.y - (arrow / 2) * Math.abs(Math.sin(pattern.sheet.grain)) - 8;
  const { grain } = pattern.sheet;
  const reading = Math.cos(grain) < -1e-9 ? grain + Math.PI : grain;
  items.push(
    ...grainArrow(at, grain, arrow),
    text({ x: at.x - 2 * Math.sin(reading), y: at.y + 2 * Math.cos(reading) }, TEXT.large, words.grain, {
      align: 'center',
      angle: reading,
      halo: true,
    }),
    text({ x: at.x, y: below - TEXT.title }, TEXT.title, pattern.name, { halo: true, align: 'center' }),
    text({ x: at.x, y: below - 6 - TEXT.title }, TEXT.normal, words.insideUp, {
      halo: true,
      align: 'center',
    }),
  );
  return items;
}

function tilePage(
  pattern: FlatPattern,
  tile: Tile,
  layout: Tiling,
  blank: readonly Item[],
  words: Words,
  unit: LengthUnit,
): Picture {
  const { page, window, rows: rowCount, columns } = layout;
  const items: Item[] = [
    {
      kind: 'group',
      at: { x: window.x - tile.x, y: window.y - tile.y },
      scale: 1,
      decimals: 4,
      clip: { x: tile.x, y: tile.y, width: window.width, height: window.height },
      items: blank,
    },
    drawn([rectangle(window)], { ...LINES.thin, colour: GREY }),
    ...joins(tile, layout),
  ];
  const number = (tile.row - 1) * columns + tile.column;
  const base = window.y - 4;
  items.push(
    text(
      { x: window.x, y: base },
      TEXT.normal,
      `${words.tile(String(tile.row), String(tile.column))}, ${words.tileOf(String(number), String(rowCount * columns))}`,
      {
        bold: true,
      },
    ),
    text({ x: window.x + window.width, y: base }, TEXT.normal, pattern.name, { align: 'right' }),
    ...checkRule({ x: window.x + Math.max(62, window.width / 2 - 40), y: base - 1 }, unit, words, false),
  );
  return { width: page.width, height: page.height, title: words.templateTitle(pattern.name), items };
}

/** Dashed lines on which the neighbour's cut edge lies, and the marks that make whole circles there. */
function joins({ row, column }: Tile, layout: Tiling): Item[] {
  const { window, overlap, rows: rowCount, columns } = layout;
  const right = window.x + window.width;
  const top = window.y + window.height;
  const items: Item[] = [];
  const lines: ReturnType<typeof openLine>[] = [];
  /** Joints across the columns are lettered A1, A2 …, those across the rows B1, B2 … */
  const across = (line: number): string => `A${(row - 1) * (columns - 1) + line}`;
  const along = (line: number): string => `B${(line - 1) * columns + column}`;
  if (column < columns) {
    lines.push(
      openLine([
        { x: right - overlap, y: window.y },
        { x: right - overlap, y: top },
      ]),
    );
    items.push(...joinMarks('x', right - overlap, window.y, top, across(column), 'before'));
  }
  if (row < rowCount) {
    lines.push(
      openLine([
        { x: window.x, y: top - overlap },
        { x: right, y: top - overlap },
      ]),
    );
    items.push(...joinMarks('y', top - overlap, window.x, right, along(row), 'before'));
  }
  if (column > 1) items.push(...joinMarks('x', window.x, window.y, top, across(column - 1), 'after'));
  if (row > 1) items.push(...joinMarks('y', window.y, window.x, right, along(row - 1), 'after'));
  return [drawn(lines, LINES.join), ...items];
}

/**
 * Two crossed circles on the line along which pages meet, each with the joint's name on its own page's side.
 *
 * The page that is cut along the line keeps half of each circle; laid in place, the halves make whole circles.
 */
function joinMarks(
  across: 'x' | 'y',
  at: number,
  from: number,
  to: number,
  name: string,
  side: 'before' | 'after',
): Item[] {
  const sign = side === 'before' ? -1 : 1;
  return [0.2, 0.8].flatMap((part, i) => {
    const along = from + part * (to - from);
    const center = across === 'x' ? { x: at, y: along } : { x: along, y: at };
    const half = 3.2;
    const label =
      across === 'x'
        ? { x: center.x + sign * 2.6, y: center.y + 1 }
        : { x: center.x + 1, y: center.y + (sign > 0 ? 2.6 : -2.6 - TEXT.small) };
    return [
      drawn(
        [
          circle(center, 1.8),
          openLine([
            { x: center.x - half, y: center.y },
            { x: center.x + half, y: center.y },
          ]),
          openLine([
            { x: center.x, y: center.y - half },
            { x: center.x, y: center.y + half },
          ]),
        ],
        LINES.thin,
      ),
      text(label, TEXT.small, `${name}${i === 0 ? 'a' : 'b'}`, {
        halo: true,
        align: across === 'x' && side === 'before' ? 'right' : 'left',
      }),
    ];
  });
}

/**
 * The full-size template: the blank at 1:1 on as many pages as it takes, after a page that says how to join and
 * check them, followed by the tables for marking out without a printer and by a corner to rehearse in paper.
 */

import { circle, drawn, filled, type Item, openLine, type Picture } from '../drawing/picture.ts';
import { fittingHeight, textWidth } from '../drawing/textWidth.ts';
import { INK, LINES, TEXT } from '../drawing/weights.ts';
import { containsPoint, distanceToPath, pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { trialDots } from '../pattern/trialDots.ts';
import { english, type PaperWords } from '../words/english.ts';
import { blankLines, clearPlace, contourItems, contoursOf, tuckPaths } from './blankItems.ts';
import { centreLines } from './blankPicture.ts';
import { cornerMarks, textBoxes } from './cornerNames.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { type MarkingOptions, markingPages } from './markingPages.ts';
import { dimension, grainArrow, text, towards } from './marks.ts';
import { PAGE_SIZES } from './pageSizes.ts';
import { rehearsalPages, rehearsalSize } from './rehearsal.ts';
import { templateCover } from './templateCover.ts';
import type { TemplateOptions } from './templateOptions.ts';
import { FOOTER, tilePage, tilingOf, wholeOnPage } from './tilePage.ts';
import type { Tiling } from './tiling.ts';

/**
 * The pages, the first one the cover.
 *
 * @param pattern not changed
 * @throws GatherpanError TOO_LARGE when more than 150 pages would be needed
 */
export function templatePages(pattern: FlatPattern, options: TemplateOptions): Picture[] {
  const table = options.words ?? english;
  const words = table.papers;
  const size = options.paper === 'roll' ? null : PAGE_SIZES[options.paper];
  const paper = {
    name: options.paper,
    width: size?.width ?? options.rollWidth,
    height: size?.height ?? null,
    margin: options.margin,
    overlap: options.overlap,
    footer: FOOTER,
  };
  const layout = tilingOf(pattern.name, markedPaths(pattern, options), paper, words);
  const blank = {
    name: pattern.name,
    title: words.templateTitle(pattern.name),
    items: blankAtFullSize(pattern, options, words, layout),
  };
  const sheets: MarkingOptions = {
    paper: options.paper === 'roll' ? 'A4' : options.paper,
    unit: options.unit,
    words,
  };
  // Sheets to be joined for it could be taken for those of the blank: it is then a paper of its own only.
  const rehearsal = options.rehearsal ? rehearsalSize(pattern, sheets) : 'nothing';
  const pages = templateCover(pattern, layout, options, table, rehearsal === 'several sheets');
  for (const tile of layout.tiles) pages.push(tilePage(blank, tile, layout, words, options.unit));
  if (options.markingOut) pages.push(...markingPages(pattern, sheets));
  if (rehearsal === 'one sheet') pages.push(...rehearsalPages(pattern, sheets));
  return pages;
}

/** What is cut or marked. */
const markedPaths = (
  pattern: FlatPattern,
  { tucks, contours, dots }: TemplateOptions,
): [outline: Path, ...Path[]] => [
  pattern.outline,
  ...pattern.holes.map(({ path }) => path),
  ...pattern.scribeLines.map(({ path }) => path),
  ...(tucks ? tuckPaths(pattern) : []),
  ...(contours ? contoursOf(pattern).map(({ path }) => path) : []),
  ...(dots ? trialDots(pattern).map(({ points }) => openLine(points)) : []),
];

/** Everything drawn on the blank, in its own coordinates; scale 1, so paper sizes are mm. */
function blankAtFullSize(
  pattern: FlatPattern,
  options: TemplateOptions,
  words: PaperWords,
  layout: Tiling,
): Item[] {
  const bounds = pathBounds(pattern.outline);
  const lines = blankLines(pattern);
  const items: Item[] = [...centreLines(bounds, 3), lines.scribe];
  if (lines.rim !== null) items.push(lines.rim);
  const corners = cornerMarks(pattern, 1, TEXT.large);
  const boxes = textBoxes(corners, 1);
  if (options.contours) {
    const tucks = options.tucks ? tuckPaths(pattern) : [];
    items.push(...contourItems(contoursOf(pattern), 1, TEXT.normal, [...tucks, ...boxes]));
  }
  if (options.tucks) items.push(drawn(tuckPaths(pattern), LINES.tuck));
  if (options.dots) items.push(...dotItems(pattern, options.unit));
  items.push(lines.cut, ...corners);
  const across = Math.min(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const middle = { x: (bounds.minX + bounds.maxX) / 2, y: (bounds.minY + bounds.maxY) / 2 };
  const arrow = Math.min(60, across / 4);
  const wanted = { x: middle.x + across / 12, y: middle.y + across / 10 };
  const { grain: laid } = pattern.sheet;
  const nameHeight = fittingHeight(pattern.name, 0.6 * (bounds.maxX - bounds.minX), TEXT.title);
  const nameWidth = Math.max(textWidth(pattern.name, nameHeight), textWidth(words.insideUp, TEXT.normal));
  const rise = (arrow / 2) * Math.abs(Math.sin(laid));
  // Arrow above, name and the side below it: one box, whole on a page where one has room for it.
  const box = {
    width: Math.max(nameWidth, arrow * Math.abs(Math.cos(laid))) + 4,
    height: 2 * rise + 14 + TEXT.title + 6,
  };
  const down = box.height / 2 - rise - 4;
  const marked = markedPaths(pattern, options);
  const clear = (at: Point): boolean =>
    containsPoint(pattern.outline, at) &&
    marked.every((path) => distanceToPath(at, path) > Math.hypot(box.width, box.height) / 2);
  const { point: free } = clearPlace(pattern, wanted, 0.55 * arrow, boxes);
  const middleOfBox = wholeOnPage(layout, { x: free.x, y: free.y - down }, box, clear);
  const at = { x: middleOfBox.x, y: middleOfBox.y + down };
  const below = at.y - rise - 8;
  const { grain } = pattern.sheet;
  const reading = Math.cos(grain) < -1e-9 ? grain + Math.PI : grain;
  items.push(
    ...grainArrow(at, grain, arrow),
    text({ x: at.x - 2 * Math.sin(reading), y: at.y + 2 * Math.cos(reading) }, TEXT.large, words.grain, {
      align: 'center',
      angle: reading,
      halo: true,
    }),
    text({ x: at.x, y: below - TEXT.title }, nameHeight, pattern.name, { halo: true, align: 'center' }),
    text({ x: at.x, y: below - 6 - TEXT.title }, TEXT.normal, words.insideUp, {
      halo: true,
      align: 'center',
    }),
  );
  return items;
}

/** The dots of the trial corner, with how far they are apart and from the edge. */
function dotItems(pattern: FlatPattern, unit: LengthUnit): Item[] {
  return trialDots(pattern).flatMap(({ points: [a, b], apart, inset }): Item[] => {
    const outwards = Math.atan2(b.y - a.y, b.x - a.x) - Math.PI / 2;
    const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
    const edge = towards(middle, outwards, inset);
    return [
      filled([circle(a, 0.8), circle(b, 0.8)], INK),
      drawn([circle(a, 2), circle(b, 2)], LINES.thin),
      ...dimension(a, b, 5, withUnit(apart, unit, 1)),
      ...dimension(middle, edge, 3, withUnit(inset, unit, 1)),
    ];
  });
}

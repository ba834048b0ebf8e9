/**
 * The picture of the blank: true to scale, gather shaded and contoured, lines to scribe, figures beside it.
 *
 * Two forms of one picture: `wide` for a sheet of A4 across (figures beside the blank) and `narrow` for a
 * phone (figures below it). No Node here, so that the page in the browser draws it too.
 */
import { drawn, type GroupItem, type Item, level, type Picture, upright } from '../drawing/picture.ts';
import { rampColour } from '../drawing/ramp.ts';
import { fittingHeight } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type PaperWords, type Words } from '../words/english.ts';
import {
  blankLines,
  CONTOUR_TEXT,
  clearPlace,
  contourItems,
  contoursOf,
  gatherScale,
  gatherShade,
} from './blankItems.ts';
import { legendBlock } from './blankLegend.ts';
import { cornerMarks, textBoxes } from './cornerNames.ts';
import { dataTable } from './dataTable.ts';
import { cornerRows, cornerTable, mainRows } from './figureRows.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import {
  type Block,
  type Column,
  dimension,
  grainArrow,
  heading,
  paragraph,
  rows,
  Stack,
  text,
} from './marks.ts';
import { plainScale } from './plainScale.ts';
import { minded } from './sentences.ts';

export { svgText } from '../drawing/svg.ts';

export interface BlankPictureOptions {
  /** `wide`: A4 across, figures beside; `narrow`: figures below, for a phone. */
  readonly form: 'wide' | 'narrow';
  readonly unit?: LengthUnit;
  readonly words?: Words;
  /** Lines of equal gather with their levels; on by default. */
  readonly contours?: boolean;
  /** The figures; on by default. Without them the picture is the blank, its scale and its legend. */
  readonly figures?: boolean;
}

const MARGIN = 8;
/** Room for a dimension at the left of and below the blank. */
const DIMENSION = 9;
/** Letters of the table of corners, so that it fits beside the blank, mm. */
const TABLE_TEXT = 2.2;

/** The picture. The pattern is not changed. */
export function blankPicture(pattern: FlatPattern, options: BlankPictureOptions): Picture {
  const { form, unit = 'mm', words: table = english, contours = true, figures = true } = options;
  const words = table.papers;
  const bounds = pathBounds(pattern.outline);
  const length = bounds.maxX - bounds.minX;
  const height = bounds.maxY - bounds.minY;
  const wide = form === 'wide';
  const width = wide ? 297 : 100;
  const column = wide && figures ? 88 : 0;
  const room = {
    width: width - 2 * MARGIN - DIMENSION - (column > 0 ? column + 8 : 0),
    height: wide ? 210 - 2 * MARGIN - 12 - DIMENSION - 22 : 400,
  };
  const fit = Math.min(room.width / length, room.height / height);
  const scale = wide ? plainScale(fit) : fit;
  const drawnHeight = height * scale;

  // Everything is set from the top down, with y negative, and moved up once the height is known.
  const items: Item[] = [];
  const titleHeight = fittingHeight(pattern.name, width - 2 * MARGIN, TEXT.title, true);
  items.push(text({ x: MARGIN, y: -MARGIN - TEXT.title }, titleHeight, pattern.name, { bold: true }));
  const top = -MARGIN - TEXT.title - 7;
  const left = MARGIN + DIMENSION + (room.width - length * scale) / 2;
  items.push(blankGroup(pattern, { scale, left, top, contours, words }));
  items.push(...blankSizes(pattern, { scale, left, top, unit }));
  let y = top - drawnHeight - DIMENSION - 3;
  const legendWidth = column > 0 ? room.width + DIMENSION : width - 2 * MARGIN;
  const legend = legendBlock(pattern, { x: MARGIN, y, width: legendWidth, scale, words, unit, contours });
  items.push(...legend.items);
  y -= legend.height;
  if (figures) {
    const at =
      column > 0
        ? { x: width - MARGIN - column, y: top, width: column }
        : { x: MARGIN, y: y - 3, width: width - 2 * MARGIN };
    const block = figureBlock(at, pattern, table, unit);
    items.push(...block.items);
    y = Math.min(y, at.y - block.height);
  }
  const pageHeight = wide ? Math.max(210, -y + MARGIN) : -y + MARGIN;
  return {
    width,
    height: pageHeight,
    title: words.blankTitle(pattern.name),
    items: [{ kind: 'group', at: { x: 0, y: pageHeight }, scale: 1, items }],
  };
}

/** Where the blank stands: its upper left corner on the paper. */
interface Place {
  readonly scale: number;
  readonly left: number;
  readonly top: number;
}

/** The blank itself, in a group whose coordinates are mm of the blank. */
export function blankGroup(
  pattern: FlatPattern,
  {
    scale,
    left,
    top,
    contours,
    words,
    letters = TEXT.normal,
  }: Place & { contours: boolean; words: PaperWords; letters?: number },
): GroupItem {
  const bounds = pathBounds(pattern.outline);
  const most = gatherScale(pattern.field);
  const lines = blankLines(pattern);
  const sheet: Item = {
    kind: 'path',
    paths: [pattern.outline, ...pattern.holes.map((hole) => hole.path)],
    fill: rampColour(0),
  };
  const items: Item[] = [
    sheet,
    {
      kind: 'group',
      id: 'gather',
      at: { x: 0, y: 0 },
      scale: 1,
      items: gatherShade(pattern.field, most, scale),
    },
    ...centreLines(bounds, 2.5 / scale),
    lines.scribe,
  ];
  if (lines.rim !== null) items.push(lines.rim);
  const corners = cornerMarks(pattern, scale, letters);
  if (contours) {
    const boxes = textBoxes(corners, scale);
    items.push(...contourItems(contoursOf(pattern), scale, CONTOUR_TEXT, boxes));
  }
  // More decimals than a picture needs: whoever takes the outline from here gets the blank itself.
  items.push({ kind: 'group', id: 'cut', at: { x: 0, y: 0 }, scale: 1, decimals: 7, items: [lines.cut] });
  items.push(...corners, ...grainMark(pattern, bounds, scale, words, textBoxes(corners, scale, TEXT.normal)));
  return {
    kind: 'group',
    id: 'blank',
    at: { x: left - bounds.minX * scale, y: top - bounds.maxY * scale },
    scale,
    items,
  };
}

/** Axes of the blank's box, a little longer than it. */
export function centreLines(bounds: ReturnType<typeof pathBounds>, beyond: number): Item[] {
  const x = (bounds.minX + bounds.maxX) / 2;
  const y = (bounds.minY + bounds.maxY) / 2;
  return [
    drawn(
      [
        level(y, bounds.minX - beyond, bounds.maxX + beyond),
        upright(x, bounds.minY - beyond, bounds.maxY + beyond),
      ],
      LINES.centre,
    ),
  ];
}

/** Of an arrow's length, the radius of the place it needs; and the shortest arrow, mm. */
const ARROW_ROOM = 0.55;
const SHORTEST_ARROW = 8;

/** The arrow along the rolling direction, off the axes, shorter where it has no room. Its marks have paper sizes, so it is a group at 1/scale. */
function grainMark(
  pattern: FlatPattern,
  bounds: ReturnType<typeof pathBounds>,
  scale: number,
  words: PaperWords,
  marks: readonly Path[],
): Item[] {
  const across = Math.min(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY) * scale;
  const longest = Math.min(26, across * 0.3);
  const wanted = {
    x: (bounds.minX + bounds.maxX) / 2 + (bounds.maxX - bounds.minX) / 8,
    y: (bounds.minY + bounds.maxY) / 2 + (bounds.maxY - bounds.minY) / 10,
  };
  const { point: at, room } = clearPlace(pattern, wanted, (ARROW_ROOM * longest) / scale, marks);
  const length = Math.min(longest, Math.max(SHORTEST_ARROW, (room * scale) / ARROW_ROOM));
  const grain = pattern.sheet.grain;
  const reading = Math.cos(grain) < -1e-9 ? grain + Math.PI : grain;
  return [
    {
      kind: 'group',
      id: 'grain',
      at,
      scale: 1 / scale,
      items: [
        ...grainArrow({ x: 0, y: 0 }, grain, length),
        text({ x: -1.4 * Math.sin(reading), y: 1.4 * Math.cos(reading) }, TEXT.normal, words.grain, {
          align: 'center',
          angle: reading,
          halo: true,
        }),
      ],
    },
  ];
}

/** Length and width of the blank. */
export function blankSizes(
  pattern: FlatPattern,
  { scale, left, top, unit }: Place & { unit: LengthUnit },
): Item[] {
  const { blank } = pattern.report;
  const bounds = pathBounds(pattern.outline);
  const right = left + (bounds.maxX - bounds.minX) * scale;
  const bottom = top - (bounds.maxY - bounds.minY) * scale;
  return [
    ...dimension({ x: left, y: bottom }, { x: right, y: bottom }, -6, withUnit(blank.length, unit)),
    ...dimension({ x: left, y: bottom }, { x: left, y: top }, 4.5, withUnit(blank.width, unit)),
  ];
}

function figureBlock(top: Column, pattern: FlatPattern, table: Words, unit: LengthUnit): Block {
  const words = table.papers;
  const nameWidth = 24;
  const corners = cornerRows(pattern, words, unit);
  const stack = new Stack(top)
    .add((column) => heading(column, words.trayAndBlank), 0.5)
    .add((column) => rows(column, mainRows(pattern, words, unit), nameWidth), 2.5)
    .add((column) => heading(column, words.corners), 0.5)
    // Several kinds of corners are easier to compare, and shorter, in a table.
    .add(
      (column) =>
        corners.length > 1
          ? dataTable(column, cornerTable(pattern, words, unit), TABLE_TEXT)
          : rows(column, corners, nameWidth),
      2.5,
    );
  const said = minded(pattern, table, unit);
  if (said.length > 0) stack.add((column) => heading(column, words.warnings), 0.5);
  for (const sentence of said) stack.add((column) => paragraph(column, sentence, TEXT.small), 1);
  return stack;
}

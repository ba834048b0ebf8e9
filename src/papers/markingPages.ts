/** The blank of `markingOut.ts` as pages: a picture of the whole, and of each kind of corner beside its table. */

import { drawn, type Item, level, openLine, type Picture, upright } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { goesRound } from '../gather/rimMarks.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import { joinedNames } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import type { PaperWords } from '../words/english.ts';
import { cornerMarks } from './cornerNames.ts';
import { notchRows } from './figureRows.ts';
import { fine, type LengthUnit, lengthText, withUnit } from './lengths.ts';
import { markedCornerPicture } from './markedCornerPicture.ts';
import { type MarkedBlank, type MarkedCorner, type MarkedLine, markedBlank } from './markingOut.ts';
import { type Block, type Column, dimension, heading, paragraph, Stack, text } from './marks.ts';
import { PageFlow } from './pageFlow.ts';
import type { PageSize } from './pageSizes.ts';
import { type RowsTable, rowsBlock, rowsTable, type TableRow } from './rowsTable.ts';
import { MARKING_DEFAULTS } from './templateOptions.ts';
import { type Reach, samplesAlong, struck } from './trammel.ts';

export interface MarkingOptions {
  readonly paper: PageSize;
  readonly unit: LengthUnit;
  readonly words: PaperWords;
  /** How far a line may lie off the true one, and the largest radius of a trammel, mm. */
  readonly tolerance?: number;
  readonly trammel?: number;
}

/** Between columns, mm. */
const GAP = 6;
/** Width of the picture of a corner, mm. */
const PICTURE = 80;

const besidePicture = ({ x, y, width }: Column): Column => ({
  x: x + PICTURE + GAP,
  y,
  width: width - PICTURE - GAP,
});

/** What a hand can do, with figures as they are printed: tenths of a mm, or thousandths of an inch. */
export function reachOf({ tolerance, trammel, unit }: MarkingOptions): Reach {
  const inch = (parts: number): number => parts * MILLIMETRES_PER_INCH;
  return {
    tolerance: tolerance ?? MARKING_DEFAULTS.tolerance,
    trammel: trammel ?? MARKING_DEFAULTS.trammel,
    step: unit === 'mm' ? 0.1 : inch(0.001),
    stations: unit === 'mm' ? [50, 40, 30, 20, 10, 5] : [2, 1.5, 1, 0.5, 0.25].map(inch),
  };
}

/** The pages; as many as the corners need, one for a rectangle with equal corners. */
export function markingPages(pattern: FlatPattern, options: MarkingOptions): Picture[] {
  const { paper, words } = options;
  const reach = reachOf(options);
  const marked = markedBlank(pattern, reach);
  const flow = new PageFlow(paper, words.markingTitle(pattern.name));
  flow.add((top) => opening(top, pattern, marked, reach, options));
  for (const group of marked.corners) flow.add((top) => cornerBlock(top, group, options));
  if (marked.rest.length > 0) flow.add((top) => cornerBlock(top, wholeOf(marked.rest), options));
  for (const table of tablesOf(pattern, marked, reach, options)) flow.add((top) => rowsTable(top, table));
  return flow.pages;
}

/** Lines that belong to no corner, as one. */
const wholeOf = (lines: readonly MarkedLine[]): MarkedCorner => ({
  frame: { origin: { x: 0, y: 0 }, angle: 0 },
  letters: [],
  turnedOver: [],
  along: [],
  lines,
});

/** The whole blank with its sizes, and how to go about it. */
function opening(
  top: Column,
  pattern: FlatPattern,
  marked: MarkedBlank,
  { tolerance, trammel, step }: Reach,
  { unit, words }: MarkingOptions,
): Block {
  const view = wholeBlank(top, pattern, marked, unit);
  const how = words.markingHow;
  const { rectangle, corners, rest } = marked;
  const said = (mm: number): string => withUnit(mm, unit, fine(unit));
  const laths = [...corners.flatMap(({ lines }) => lines), ...rest].some(({ pieces }) =>
    pieces.some(({ kind }) => kind === 'offsets'),
  );
  const sentences = [
    rectangle !== null
      ? how.rectangle(
          said(rectangle.length),
          said(rectangle.width),
          said(Math.hypot(rectangle.length, rectangle.width)),
        )
      : corners.length > 0
        ? how.edges
        : how.curves,
    corners.length > 0 ? how.corners : how.arcs,
    ...(laths ? [how.lath] : []),
    ...(corners.length > 0 ? [how.rest] : []),
    how.tolerance(withUnit(tolerance, unit, 2), withUnit(trammel, unit, step < 0.1 ? 1 : 0)),
    ...notchRows(pattern.spec, words, unit).map(([name, value]) => words.named(name, value)),
  ];
  const beside = new Stack(besidePicture(top));
  for (const sentence of sentences) beside.add((column) => paragraph(column, sentence), 1.2);
  return { items: [...view.items, ...beside.items], height: Math.max(view.height, beside.height) };
}

/** Where the height of the whole ends, mm on the paper. */
const HIGHEST = 78;

/** The blank small, its straight edges run on to where they meet, with their sizes and the letters of its corners. */
function wholeBlank(
  top: Point,
  pattern: FlatPattern,
  { origin, edges, rectangle }: MarkedBlank,
  unit: LengthUnit,
): Block {
  const bounds = pathBounds(pattern.outline);
  const room = { width: PICTURE - 12, height: HIGHEST - 12 };
  const scale = Math.min(room.width / (bounds.maxX - bounds.minX), room.height / (bounds.maxY - bounds.minY));
  const [wide, high] = [scale * (bounds.maxX - bounds.minX), scale * (bounds.maxY - bounds.minY)];
  const place = ({ x, y }: Point): Point => ({
    x: top.x + 10 + scale * (x - bounds.minX),
    y: top.y - 2 - high + scale * (y - bounds.minY),
  });
  const fromDatum = ({ x, y }: Point): Point => place({ x: x + origin.x, y: y + origin.y });
  const at = place({ x: 0, y: 0 });
  const items: Item[] = [
    {
      kind: 'group',
      at,
      scale,
      items: [
        drawn(
          pattern.scribeLines.map((line) => line.path),
          LINES.scribe,
        ),
        drawn([pattern.outline, ...pattern.holes.map((hole) => hole.path)], LINES.cut),
        ...cornerMarks(pattern, scale, TEXT.normal),
      ],
    },
    drawn(
      edges.map(({ from, to }) => openLine([fromDatum(from), fromDatum(to)])),
      LINES.thin,
    ),
  ];
  const zero = fromDatum({ x: 0, y: 0 });
  if (rectangle === null) {
    items.push(
      drawn(
        [level(zero.y, zero.x - 5, zero.x + wide + 3), upright(zero.x, zero.y - 5, zero.y + high + 3)],
        LINES.frame,
      ),
      text({ x: zero.x + wide + 4, y: zero.y - 1 }, TEXT.normal, 'x'),
      text({ x: zero.x - 5, y: zero.y + high }, TEXT.normal, 'y'),
    );
  } else {
    const [right, upper] = [
      fromDatum({ x: rectangle.length, y: 0 }),
      fromDatum({ x: 0, y: rectangle.width }),
    ];
    const size = (mm: number): string => lengthText(mm, unit, fine(unit));
    items.push(
      ...dimension(zero, right, -6, size(rectangle.length)),
      ...dimension(zero, upper, 5, size(rectangle.width)),
    );
  }
  return { items, height: high + 12 };
}

/** One kind of corner: heading, picture, table beside it. */
function cornerBlock(top: Column, group: MarkedCorner, options: MarkingOptions): Block {
  const { words } = options;
  const letters = group.letters.join(', ');
  const named =
    group.letters.length === 0
      ? words.wholeLines
      : group.letters.length + group.turnedOver.length === 1
        ? words.atCorner(letters)
        : words.atCorners([...group.letters, ...group.turnedOver].sort().join(', '));
  const stack = new Stack(top).add((column) => heading(column, named), 1);
  const view = new Stack({ ...stack.below, width: PICTURE }).add((column) =>
    markedCornerPicture(column, group, options.unit),
  );
  const notes = [
    ...(group.along.length > 0 ? [words.alongEdges(group.along.join(', '))] : []),
    ...(group.turnedOver.length > 0 ? [words.turnedOver(group.turnedOver.join(', '))] : []),
  ];
  for (const note of notes) view.add((column) => paragraph(column, note), 1);
  return stack.add((column) => {
    const table = chainTable(besidePicture(column), group, options);
    return { items: [...view.items, ...table.items], height: Math.max(view.height, table.height) };
  });
}

/** Line by line its points in order, beside each the arc that leads there. */
function chainTable(top: Column, { lines }: MarkedCorner, { unit, words }: MarkingOptions): Block {
  const said = (mm: number): string => lengthText(mm, unit, fine(unit));
  const head = { cells: ['', `${words.point} x`, 'y', words.radius, `${words.centre} x`, 'y'], bold: true };
  const rows: TableRow[] = [head];
  let number = 0;
  for (const line of lines) {
    const kind = {
      cut: words.cutLine,
      'bend-begin': words.bendBegin,
      'bend-end': words.bendEnd,
      'net-rim': words.netRim,
    }[line.kind];
    rows.push({ cells: [], note: kind, bold: true });
    if (line.apex !== null) rows.push({ cells: [words.meets, said(line.apex.x), said(line.apex.y)] });
    let before: Point | null = null;
    for (const piece of line.pieces) {
      number++;
      const label = `${number} ${{ line: words.line, arc: words.arc, circle: words.circle, offsets: words.lath }[piece.kind]}`;
      if (piece.kind === 'circle') {
        rows.push({ cells: [label, '', '', said(piece.radius), said(piece.centre.x), said(piece.centre.y)] });
        continue;
      }
      if (before === null || before.x !== piece.from.x || before.y !== piece.from.y)
        rows.push({ cells: [words.begins, said(piece.from.x), said(piece.from.y)] });
      const arc =
        piece.kind === 'arc' ? [said(piece.radius), said(piece.centre.x), said(piece.centre.y)] : [];
      rows.push({ cells: [label, said(piece.to.x), said(piece.to.y), ...arc] });
      if (piece.kind === 'offsets' && piece.stations.length > 0)
        rows.push({ cells: [], note: lathNote(piece.stations, unit, words) });
      before = piece.to;
    }
  }
  return rowsBlock(top, rows, [0, 0.345, 0.495, 0.665, 0.835, 1]);
}

const lathNote = (
  stations: readonly { along: number; off: number }[],
  unit: LengthUnit,
  words: PaperWords,
): string =>
  words.lathOffsets(
    withUnit(stations[0]!.along, unit, unit === 'mm' ? 0 : 1),
    stations.map(({ off }) => lengthText(off, unit, fine(unit))).join(', '),
  );

/** Where edges meet, holes and rim marks, from the datum. */
function tablesOf(
  pattern: FlatPattern,
  marked: MarkedBlank,
  reach: Reach,
  { unit, words }: MarkingOptions,
): RowsTable[] {
  const said = (mm: number): string => lengthText(mm, unit, fine(unit));
  const own = ({ x, y }: Point): Point => ({ x: x - marked.origin.x, y: y - marked.origin.y });
  const place = (point: Point): string[] => [said(own(point).x), said(own(point).y)];
  const tables: RowsTable[] = [];
  if (marked.rectangle === null && marked.edges.length > 0) {
    tables.push({
      title: words.edgesMeet,
      rights: [0.4, 0.6, 0.8],
      rows: [
        { cells: ['', 'x', 'y'], bold: true },
        ...marked.edges.map(({ to, name }) => ({ cells: [name, said(to.x), said(to.y)] })),
      ],
    });
  }
  if (pattern.holes.length > 0) {
    const rows = pattern.holes.flatMap(({ name, path }): TableRow[] => {
      const moved: Path = {
        ...path,
        vertices: path.vertices.map((vertex) => ({ ...vertex, ...own(vertex) })),
      };
      return struck(samplesAlong(moved), null, null, reach).map((piece, i) => {
        const label = i === 0 ? name : '';
        if (piece.kind === 'circle')
          return {
            cells: [label, '', '', '', '', said(piece.radius), said(piece.centre.x), said(piece.centre.y)],
          };
        const arc =
          piece.kind === 'arc' ? [said(piece.radius), said(piece.centre.x), said(piece.centre.y)] : [];
        const ends = [piece.from, piece.to].flatMap(({ x, y }) => [said(x), said(y)]);
        return { cells: [label, ...ends, ...arc] };
      });
    });
    const heads = ['', `${words.from} x`, 'y', `${words.to} x`, 'y', words.radius, `${words.centre} x`, 'y'];
    tables.push({
      title: words.holes,
      rights: [0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
      rows: [{ cells: heads, bold: true }, ...rows],
    });
  }
  const marks = pattern.gather.zones.flatMap(({ corners, rim }): TableRow[] =>
    rim === null || goesRound(rim)
      ? []
      : [
          {
            cells: [
              joinedNames(pattern, corners),
              ...place(rim.begin),
              ...place(rim.end),
              said(rim.flatLength),
              said(rim.formedLength),
            ],
          },
        ],
  );
  if (marks.length > 0) {
    const heads = ['', `${words.from} x`, 'y', `${words.to} x`, 'y', words.rimFlat, words.rimFormed];
    tables.push({
      title: words.rimMarks,
      rights: [0.2, 0.33, 0.46, 0.59, 0.72, 0.86, 1],
      rows: [{ cells: heads, bold: true }, ...marks],
    });
  }
  return tables;
}

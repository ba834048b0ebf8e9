/** The blank of `markingOut.ts` as pages: a picture of the whole, and of each kind of corner beside its table. */

import { circle, drawn, type Item, openLine, type Picture, polygon } from '../drawing/picture.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { goesRound } from '../gather/rimMarks.ts';
import { wrapAngle } from '../geometry/arc.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import { joinedNames } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import type { PaperWords } from '../words/english.ts';
import { cornerMarks } from './cornerNames.ts';
import { notchRows } from './figureRows.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';
import { type MarkedBlank, type MarkedCorner, type MarkedLine, markedBlank } from './markingOut.ts';
import { type Block, dimension, heading, paragraph, text } from './marks.ts';
import { PageFlow } from './pageFlow.ts';
import type { PageSize } from './pageSizes.ts';
import { type RowsTable, rowsBlock, rowsTable, type TableRow } from './rowsTable.ts';
import { MARKING_DEFAULTS } from './templateOptions.ts';
import { type Reach, type StruckPiece, samplesAlong, struck } from './trammel.ts';

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
  const { width } = flow;
  flow.add((top) => opening(pattern, marked, top, width, reach, options));
  for (const group of marked.corners) flow.add((top) => cornerBlock(group, top, width, options));
  if (marked.rest.length > 0) flow.add((top) => cornerBlock(wholeOf(marked.rest), top, width, options));
  for (const table of tablesOf(pattern, marked, reach, options))
    flow.add((top) => rowsTable(table, top, width));
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
  pattern: FlatPattern,
  marked: MarkedBlank,
  top: Point,
  width: number,
  { tolerance, trammel, step }: Reach,
  { unit, words }: MarkingOptions,
): Block {
  const view = wholeBlank(pattern, marked, { x: top.x, y: top.y }, unit);
  const beside = { x: top.x + PICTURE + GAP, width: width - PICTURE - GAP };
  const how = words.markingHow;
  const { rectangle, corners, rest } = marked;
  const decimals = finest(unit);
  const said = (mm: number): string => withUnit(mm, unit, decimals);
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
  const items = [...view.items];
  let y = top.y;
  for (const sentence of sentences) {
    const block = paragraph({ x: beside.x, y }, beside.width, sentence);
    items.push(...block.items);
    y -= block.height + 1.2;
  }
  return { items, height: Math.max(view.height, top.y - y) };
}

/** Decimals of the mm, so that nothing is rounded again. */
const finest = (unit: LengthUnit): number => (unit === 'mm' ? 1 : 2);

/** Where the height of the whole ends, mm on the paper. */
const HIGHEST = 78;

/** The blank small, its straight edges run on to where they meet, with their sizes and the letters of its corners. */
function wholeBlank(
  pattern: FlatPattern,
  { origin, edges, rectangle }: MarkedBlank,
  top: Point,
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
        [
          openLine([
            { x: zero.x - 5, y: zero.y },
            { x: zero.x + wide + 3, y: zero.y },
          ]),
          openLine([
            { x: zero.x, y: zero.y - 5 },
            { x: zero.x, y: zero.y + high + 3 },
          ]),
        ],
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
    const size = (mm: number): string => lengthText(mm, unit, finest(unit));
    items.push(
      ...dimension(zero, right, -6, size(rectangle.length)),
      ...dimension(zero, upper, 5, size(rectangle.width)),
    );
  }
  return { items, height: high + 12 };
}

/** A piece with the number it has on the picture, and the kind of line it is part of. */
interface Numbered {
  readonly line: MarkedLine;
  readonly piece: StruckPiece;
  readonly number: number;
}

const numbered = (lines: readonly MarkedLine[]): Numbered[] =>
  lines
    .flatMap((line) => line.pieces.map((piece) => ({ line, piece })))
    .map((each, i) => ({ ...each, number: i + 1 }));

/** One kind of corner: heading, picture, table beside it. */
function cornerBlock(group: MarkedCorner, top: Point, width: number, options: MarkingOptions): Block {
  const { words } = options;
  const items: Item[] = [];
  const letters = group.letters.join(', ');
  const named =
    group.letters.length === 0
      ? words.wholeLines
      : group.letters.length + group.turnedOver.length === 1
        ? words.atCorner(letters)
        : words.atCorners([...group.letters, ...group.turnedOver].sort().join(', '));
  const head = heading(top, width, named);
  items.push(...head.items);
  const y = top.y - head.height - 1;
  const view = cornerPicture(group, { x: top.x, y }, options);
  items.push(...view.items);
  let below = y - view.height;
  const notes = [
    ...(group.along.length > 0 ? [words.alongEdges(group.along.join(', '))] : []),
    ...(group.turnedOver.length > 0 ? [words.turnedOver(group.turnedOver.join(', '))] : []),
  ];
  for (const note of notes) {
    const block = paragraph({ x: top.x, y: below }, PICTURE, note);
    items.push(...block.items);
    below -= block.height + 1;
  }
  const table = chainTable(group, { x: top.x + PICTURE + GAP, y }, width - PICTURE - GAP, options);
  items.push(...table.items);
  return { items, height: Math.max(top.y - below, head.height + 1 + table.height) };
}

/** The path of a piece; a lath as the chain of its stations. */
function pathOf(piece: StruckPiece): Path {
  if (piece.kind === 'circle') return circle(piece.centre, piece.radius);
  const { from, to } = piece;
  if (piece.kind === 'line') return openLine([from, to]);
  if (piece.kind === 'arc') {
    const turn = (point: Point): number => Math.atan2(point.y - piece.centre.y, point.x - piece.centre.x);
    const cross =
      (from.x - piece.centre.x) * (to.y - piece.centre.y) -
      (from.y - piece.centre.y) * (to.x - piece.centre.x);
    const sweep = cross === 0 ? Math.PI : wrapAngle(turn(to) - turn(from));
    return {
      vertices: [
        { ...from, bulge: Math.tan(sweep / 4) },
        { ...to, bulge: 0 },
      ],
      closed: false,
    };
  }
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const [c, s] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const on = piece.stations.map(({ along, off }) => ({
    x: from.x + along * c - off * s,
    y: from.y + along * s + off * c,
  }));
  return openLine([from, ...on, to]);
}

const endsOf = (piece: StruckPiece): Point[] => (piece.kind === 'circle' ? [] : [piece.from, piece.to]);

/** Room for the leaders of figures left of and below the picture of a corner, mm. */
const LEADERS = 4.5;

/**
 * The corner to scale: the two edges, every piece with its number, where the centres are, and x and y of the points of the
 * cut line.
 */
function cornerPicture(group: MarkedCorner, top: Point, { unit }: MarkingOptions): Block {
  const { lines } = group;
  const corner = group.letters.length > 0;
  const curves = lines.map(({ curve }) => curve);
  const points = lines.flatMap(({ pieces, apex }) => [
    ...pieces.flatMap(endsOf),
    ...(apex === null ? [] : [apex]),
  ]);
  // The straight edges go on for a little beyond the last point.
  const seen = corner ? points : curves.flat();
  const beyond = corner ? 12 : 0;
  const maxX = Math.max(...seen.map(({ x }) => x), 10) + beyond;
  const maxY = Math.max(...seen.map(({ y }) => y), 10) + beyond;
  const minX = Math.min(...seen.map(({ x }) => x), 0);
  const minY = Math.min(...seen.map(({ y }) => y), 0);
  const cut = lines.filter(({ kind }) => kind === 'cut').flatMap(({ pieces }) => pieces.flatMap(endsOf));
  const figures = cut.flatMap(({ x, y }) => [x, y]).map((mm) => lengthText(mm, unit, finest(unit)));
  const ordinate = corner ? LEADERS + Math.max(...figures.map((said) => textWidth(said, TEXT.normal)), 0) : 3;
  const room = { width: PICTURE - ordinate - 3, height: 82 };
  const scale = Math.min(room.width / (maxX - minX), room.height / (maxY - minY));
  const high = scale * (maxY - minY);
  const zero = { x: top.x + ordinate - scale * minX, y: top.y - high - scale * minY };
  const place = ({ x, y }: Point): Point => ({ x: zero.x + scale * x, y: zero.y + scale * y });
  const list = numbered(lines);
  const clip = { x: minX, y: minY, width: maxX - minX, height: maxY - minY };
  const centres = list.flatMap(({ piece }) =>
    piece.kind === 'arc' || piece.kind === 'circle' ? [piece.centre] : [],
  );
  const shown = centres.filter(({ x, y }) => x > minX && x < maxX && y > minY && y < maxY);
  const items: Item[] = [
    drawn(
      [
        openLine([place({ x: minX, y: 0 }), place({ x: maxX, y: 0 })]),
        openLine([place({ x: 0, y: minY }), place({ x: 0, y: maxY })]),
      ],
      LINES.centre,
    ),
    {
      kind: 'group',
      at: zero,
      scale,
      clip,
      items: lines.flatMap(({ kind, curve }) => [
        drawn([openLine(curve)], kind === 'cut' ? LINES.cut : kind === 'net-rim' ? LINES.rim : LINES.scribe),
      ]),
    },
    drawn(
      shown.flatMap((point) => cross(place(point))),
      LINES.thin,
    ),
  ];
  if (corner) items.push(...ordinates(cut, place, { x: top.x + ordinate, y: top.y - high }, unit));
  items.push(
    drawn(
      points.map((point) => tick(place(point))),
      LINES.edge,
    ),
  );
  const taken: { x: number; y: number }[] = [];
  for (const { piece, number } of list) {
    const at = freeSpot(pathOf(piece), place, taken);
    taken.push(at);
    items.push(
      text({ x: at.x, y: at.y - TEXT.normal / 2 }, TEXT.normal, String(number), {
        align: 'center',
        halo: true,
        bold: true,
      }),
    );
  }
  return { items, height: high + ordinate };
}

const cross = ({ x, y }: Point): Path[] => [
  openLine([
    { x: x - 1.2, y },
    { x: x + 1.2, y },
  ]),
  openLine([
    { x, y: y - 1.2 },
    { x, y: y + 1.2 },
  ]),
];
const tick = ({ x, y }: Point): Path =>
  polygon([
    { x: x - 0.5, y },
    { x, y: y - 0.5 },
    { x: x + 0.5, y },
    { x, y: y + 0.5 },
  ]);

/** Beside the middle of a piece, or near it, where no other number stands, on the paper. */
function freeSpot(path: Path, place: (point: Point) => Point, taken: readonly Point[]): Point {
  const curve = samplesAlong(path);
  let best: { at: Point; room: number } | null = null;
  for (const share of [0.5, 0.35, 0.65, 0.2, 0.8]) {
    const sample = curve[Math.round(share * (curve.length - 1))]!;
    const on = place(sample);
    for (const off of [3, -3, 5.5, -5.5]) {
      const at = { x: on.x - off * Math.sin(sample.direction), y: on.y + off * Math.cos(sample.direction) };
      const room = Math.min(...taken.map((other) => Math.hypot(other.x - at.x, other.y - at.y)), 6);
      if (best === null || room > best.room + 1e-9) best = { at, room };
    }
  }
  return best!.at;
}

/** x of points below and y at their left, spread so that none lies on another. */
function ordinates(
  points: readonly Point[],
  place: (point: Point) => Point,
  corner: Point,
  unit: LengthUnit,
): Item[] {
  const said = (mm: number): string => lengthText(mm, unit, finest(unit));
  const each = (pick: (point: Point) => number): number[] =>
    [...new Set(points.map((point) => Number(pick(point).toFixed(6))))].sort((a, b) => a - b);
  const spread = (list: readonly number[]): number[] => {
    let before = -Infinity;
    return list.map((at) => {
      before = Math.max(at, before + TEXT.normal + 0.9);
      return before;
    });
  };
  const items: Item[] = [];
  const leaders: Path[] = [];
  const xs = each(({ x }) => x);
  const at = spread(xs.map((x) => place({ x, y: 0 }).x));
  xs.forEach((x, i) => {
    const mine = points.find((point) => Math.abs(point.x - x) < 1e-5)!;
    const from = place({ x, y: mine.y });
    leaders.push(openLine([from, { x: from.x, y: corner.y - 1 }, { x: at[i]!, y: corner.y - 3 }]));
    items.push(
      text({ x: at[i]! + TEXT.normal / 2, y: corner.y - 4 }, TEXT.normal, said(x), {
        align: 'right',
        angle: Math.PI / 2,
      }),
    );
  });
  const ys = each(({ y }) => y);
  const up = spread(ys.map((y) => place({ x: 0, y }).y));
  ys.forEach((y, i) => {
    const mine = points.find((point) => Math.abs(point.y - y) < 1e-5)!;
    const from = place({ x: mine.x, y });
    leaders.push(openLine([from, { x: corner.x - 1, y: from.y }, { x: corner.x - 3, y: up[i]! }]));
    items.push(
      text({ x: corner.x - 3.6, y: up[i]! - TEXT.normal / 2 }, TEXT.normal, said(y), { align: 'right' }),
    );
  });
  return [drawn(leaders, LINES.join), ...items];
}

/** Line by line its points in order, beside each the arc that leads there. */
function chainTable(
  { lines }: MarkedCorner,
  top: Point,
  width: number,
  { unit, words }: MarkingOptions,
): Block {
  const said = (mm: number): string => lengthText(mm, unit, finest(unit));
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
  return rowsBlock(rows, [0, 0.345, 0.495, 0.665, 0.835, 1], top, width);
}

const lathNote = (
  stations: readonly { along: number; off: number }[],
  unit: LengthUnit,
  words: PaperWords,
): string =>
  words.lathOffsets(
    withUnit(stations[0]!.along, unit, unit === 'mm' ? 0 : 1),
    stations.map(({ off }) => lengthText(off, unit, finest(unit))).join(', '),
  );

/** Where edges meet, holes and rim marks, from the datum. */
function tablesOf(
  pattern: FlatPattern,
  marked: MarkedBlank,
  reach: Reach,
  { unit, words }: MarkingOptions,
): RowsTable[] {
  const said = (mm: number): string => lengthText(mm, unit, finest(unit));
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

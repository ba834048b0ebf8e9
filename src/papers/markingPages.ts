/** The tables of `markingOut.ts` as pages. */
import { drawn, filled, type Item, openLine, type Picture, polygon } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { goesRound } from '../gather/rimMarks.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Point } from '../geometry/path.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern, ScribeLine } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';
import { notchRows } from './figureRows.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';
import { datum, type MarkedPiece, markedPieces, stations } from './markingOut.ts';
import { heading, paragraph, text, towards } from './marks.ts';
import { PAGE_SIZES, type PageSize } from './pageSizes.ts';

export interface MarkingOptions {
  readonly paper: PageSize;
  readonly unit: LengthUnit;
  readonly words: PaperWords;
}

/** A table: heads, right edges of its columns as shares of its width, and rows. */
interface Table {
  readonly title: string;
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Tables of few columns stand side by side. */
  readonly sideBySide: number;
}

/** Arcs of a larger radius are not struck from a centre but bent along a lath: their rise stands alone, mm. */
const LONGEST_TRAMMEL = 10_000;

const LEFT = 15;
const ROW = 4.3;
const HEIGHT = 2.1;
/** From a row's base line to a rule below it: half the room between rows. */
const RULE_BELOW = (ROW - HEIGHT) / 2;

/** The pages; as many as the tables need. */
export function markingPages(pattern: FlatPattern, { paper, unit, words }: MarkingOptions): Picture[] {
  const page = PAGE_SIZES[paper];
  const width = page.width - 2 * LEFT;
  const pages: Item[][] = [];
  let items: Item[] = [];
  let y = 0;
  const begin = (): void => {
    items = [];
    pages.push(items);
    y = page.height - 15;
  };
  begin();
  const title = paragraph({ x: LEFT, y }, width, words.markingTitle(pattern.name), TEXT.title, true);
  items.push(...title.items);
  y -= title.height + 1;
  const { blank } = pattern.report;
  const how = paragraph(
    { x: LEFT, y },
    width,
    words.markingHow(withUnit(blank.length, unit), withUnit(blank.width, unit)),
  );
  items.push(...how.items);
  y -= how.height;
  for (const [name, value] of notchRows(pattern.spec, words, unit)) {
    const notches = paragraph({ x: LEFT, y: y - 2 }, width, words.named(name, value));
    items.push(...notches.items);
    y -= notches.height + 2;
  }
  y -= 9;
  const key = keyPlan(pattern, { x: LEFT + 8, y, width: width - 16, height: 78 });
  items.push(...key.items);
  y -= key.height + 8;

  for (const table of tables(pattern, unit, words)) {
    const columns = table.sideBySide;
    const gap = 6;
    const columnWidth = (width - gap * (columns - 1)) / columns;
    let row = 0;
    while (row < table.rows.length) {
      if (y < 15 + 8 + 5 * ROW) begin();
      const head = heading({ x: LEFT, y }, width, table.title);
      items.push(...head.items);
      y -= head.height + 1;
      const room = Math.floor((y - 15 - ROW) / ROW);
      const left = table.rows.length - row;
      const perColumn = Math.min(room, Math.ceil(left / columns));
      for (let column = 0; column < columns && row < table.rows.length; column++) {
        const part = table.rows.slice(row, row + perColumn);
        row += part.length;
        items.push(...tableItems(table.heads, part, LEFT + column * (columnWidth + gap), y, columnWidth));
      }
      y -= (perColumn + 1) * ROW + 5;
    }
  }
  return pages.map((list) => ({
    width: page.width,
    height: page.height,
    title: words.markingTitle(pattern.name),
    items: list,
  }));
}

function tables(pattern: FlatPattern, unit: LengthUnit, words: PaperWords): Table[] {
  const origin = datum(pattern);
  // A hundredth of an inch would be coarser than a tenth of a mm.
  const length = (mm: number): string => lengthText(mm, unit, unit === 'inch' ? 2 : 1);
  const pieceRow = ({ number, from, to, length: long, arc }: MarkedPiece): string[] => [
    String(number),
    arc === null ? words.line : words.arc,
    length(from.x),
    length(from.y),
    length(to.x),
    length(to.y),
    length(long),
    arc === null ? '' : length(arc.rise),
    ...(arc === null || arc.radius > LONGEST_TRAMMEL
      ? ['', '', '']
      : [length(arc.radius), length(arc.centre.x), length(arc.centre.y)]),
  ];
  const heads = [
    words.number,
    '',
    `${words.from} x`,
    'y',
    `${words.to} x`,
    'y',
    words.length,
    words.rise,
    words.radius,
    `${words.centre} x`,
    'y',
  ];
  const pieceTable = (title: string, path: FlatPattern['outline']): Table => ({
    title,
    heads,
    rows: markedPieces(path, origin).map(pieceRow),
    sideBySide: 1,
  });
  return [
    {
      title: words.stations,
      heads: [words.number, 'x', 'y'],
      rows: stations(pattern.outline, origin).map(({ number, x, y }) => [
        String(number),
        length(x),
        length(y),
      ]),
      // Fractions take more room.
      sideBySide: unit === 'fraction' ? 3 : 4,
    },
    pieceTable(words.pieces, pattern.outline),
    ...pattern.holes.map((hole) => pieceTable(words.hole(hole.name), hole.path)),
    ...pattern.scribeLines.flatMap((line) =>
      line.kind === 'rim-mark' ? [] : [pieceTable(scribeTitle(pattern, line.kind, line, words), line.path)],
    ),
    rimMarkTable(pattern, words, (point) => [length(point.x - origin.x), length(point.y - origin.y)], length),
  ].filter(({ rows }) => rows.length > 0);
}

/** Where a tape is laid along the edge, and what it reads before and after. */
function rimMarkTable(
  pattern: FlatPattern,
  words: PaperWords,
  place: (point: Point) => string[],
  length: (mm: number) => string,
): Table {
  return {
    title: words.rimMarks,
    heads: ['', `${words.from} x`, 'y', `${words.to} x`, 'y', words.rimFlat, words.rimFormed],
    rows: pattern.gather.zones.flatMap(({ corners, rim }) =>
      rim === null || goesRound(rim)
        ? []
        : [
            [
              corners.map((index) => cornerName(pattern, index)).join(' + '),
              ...place(rim.begin),
              ...place(rim.end),
              length(rim.flatLength),
              length(rim.formedLength),
            ],
          ],
    ),
    sideBySide: 1,
  };
}

/** What a scribe line is; with its number where there are several of a kind, from the base outwards. */
function scribeTitle(
  { scribeLines }: FlatPattern,
  of: Exclude<ScribeLine['kind'], 'rim-mark'>,
  line: ScribeLine,
  words: PaperWords,
): string {
  const kind = { 'bend-begin': words.bendBegin, 'bend-end': words.bendEnd, 'net-rim': words.netRim }[of];
  const alike = scribeLines.filter((each) => each.kind === of);
  return alike.length === 1
    ? words.scribePieces(kind)
    : words.scribePiecesOf(kind, String(alike.indexOf(line) + 1), String(alike.length));
}

function tableItems(
  heads: readonly string[],
  body: readonly (readonly string[])[],
  x: number,
  top: number,
  width: number,
): Item[] {
  // Number and kind are short, lengths may be long.
  const shares = heads.map((_, i) => (heads.length > 4 && i < 2 ? 0.5 : 1));
  const all = shares.reduce((sum, share) => sum + share, 0);
  const rights = shares.map((_, i) => (width * shares.slice(0, i + 1).reduce((a, b) => a + b, 0)) / all);
  const cell = (words: string, i: number, y: number, bold: boolean): Item =>
    text({ x: x + rights[i]! - 1, y }, HEIGHT, words, { align: 'right', bold });
  const items: Item[] = heads.flatMap((head, i) => (head === '' ? [] : [cell(head, i, top - HEIGHT, true)]));
  const lines = [
    openLine([
      { x, y: top - HEIGHT - RULE_BELOW },
      { x: x + width, y: top - HEIGHT - RULE_BELOW },
    ]),
  ];
  body.forEach((row, r) => {
    const y = top - (r + 1) * ROW - HEIGHT;
    row.forEach((words, i) => {
      if (words !== '') items.push(cell(words, i, y, false));
    });
    // A rule after every fifth row leads the eye.
    if (r % 5 === 4)
      lines.push(
        openLine([
          { x, y: y - RULE_BELOW },
          { x: x + width, y: y - RULE_BELOW },
        ]),
      );
  });
  items.push(drawn(lines, LINES.thin));
  return items;
}

/** The outline with its datum edges and the numbers of some stations. */
function keyPlan(
  pattern: FlatPattern,
  room: { x: number; y: number; width: number; height: number },
): { items: Item[]; height: number } {
  const bounds = pathBounds(pattern.outline);
  const scale = Math.min(room.width / (bounds.maxX - bounds.minX), room.height / (bounds.maxY - bounds.minY));
  const height = (bounds.maxY - bounds.minY) * scale;
  const left = room.x + (room.width - (bounds.maxX - bounds.minX) * scale) / 2;
  const origin = { x: left, y: room.y - height };
  const items: Item[] = [
    {
      kind: 'group',
      at: { x: origin.x - bounds.minX * scale, y: origin.y - bounds.minY * scale },
      scale,
      items: [
        drawn(
          pattern.scribeLines.map((line) => line.path),
          LINES.scribe,
        ),
        drawn([pattern.outline, ...pattern.holes.map((hole) => hole.path)], LINES.cut),
      ],
    },
    // The datum edges run on beyond the corner they make.
    drawn(
      [
        openLine([
          { x: origin.x - 6, y: origin.y },
          { x: left + (bounds.maxX - bounds.minX) * scale + 4, y: origin.y },
        ]),
        openLine([
          { x: origin.x, y: origin.y - 6 },
          { x: origin.x, y: room.y + 4 },
        ]),
      ],
      LINES.frame,
    ),
    text({ x: left + (bounds.maxX - bounds.minX) * scale + 5, y: origin.y - 1 }, TEXT.normal, 'x'),
    text({ x: origin.x - 0.8, y: room.y + 5 }, TEXT.normal, 'y'),
    text({ x: origin.x - 1.5, y: origin.y - 3.5 }, TEXT.small, '0', { align: 'right' }),
  ];
  const all = stations(pattern.outline, datum(pattern));
  const dots = [];
  // Numbers keep clear of the one before and, at the end of the way round, of the first.
  const numbered: { x: number; y: number }[] = [];
  for (const { number, x, y, tangent } of all) {
    const at = { x: x * scale, y: y * scale };
    dots.push(
      polygon(
        [0, 1, 2, 3].map((k) => towards({ x: origin.x + at.x, y: origin.y + at.y }, (k * Math.PI) / 2, 0.6)),
      ),
    );
    const near = [numbered[0], numbered.at(-1)].some(
      (other) => other !== undefined && Math.hypot(at.x - other.x, at.y - other.y) < 5,
    );
    if (near) continue;
    numbered.push(at);
    // Numbers stand inside the outline.
    const spot = towards(at, tangent + Math.PI / 2, 2.8);
    items.push(
      text({ x: origin.x + spot.x, y: origin.y + spot.y - TEXT.small / 2 }, TEXT.small, String(number), {
        align: 'center',
        halo: true,
      }),
    );
  }
  items.push(filled(dots, '#000000'));
  return { items, height };
}

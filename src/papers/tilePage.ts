/** Pages of a full-size drawing that are taped together: see `tiling.ts` for how it is cut. */
import {
  circle,
  cross,
  drawn,
  type Item,
  level,
  type Picture,
  rectangle,
  upright,
} from '../drawing/picture.ts';
import { fitText, textWidth } from '../drawing/textWidth.ts';
import { GREY, LINES, TEXT } from '../drawing/weights.ts';
import { GatherpanError } from '../errors.ts';
import { pieceCount, pieceEnd, pieceLength, pointOnPiece } from '../geometry/arc.ts';
import { type Bounds, pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import type { PaperWords } from '../words/english.ts';
import { checkRule, ruleLength } from './checkRule.ts';
import type { LengthUnit } from './lengths.ts';
import { text } from './marks.ts';
import { type Paper, type Tile, type Tiling, tileAt, tiling, withoutEmpty } from './tiling.ts';

/** More pages than anybody tapes together. */
const MOST_PAGES = 150;
/** Line of text under each window, mm. */
export const FOOTER = 7;
/** Room round the drawing, mm. */
const ROUND = 4;

/**
 * The tiling of a drawing with a little room round it.
 *
 * @param name  of what is drawn, for the message
 * @param lines what is cut or marked, none of it outside the first: a page without any of it is left out
 * @throws GatherpanError TOO_LARGE when more than 150 pages would be needed
 */
export function tilingOf(
  name: string,
  lines: readonly [outline: Path, ...Path[]],
  paper: Paper & { readonly name: string },
  words: PaperWords,
): Tiling {
  const box = pathBounds(lines[0]);
  const bounds: Bounds = {
    minX: box.minX - ROUND,
    minY: box.minY - ROUND,
    maxX: box.maxX + ROUND,
    maxY: box.maxY + ROUND,
  };
  const layout = withoutEmpty(tiling(bounds, paper), lines.flatMap(pointsOn));
  if (layout.tiles.length > MOST_PAGES) {
    throw new GatherpanError(
      'TOO_LARGE',
      words.errors.pages(name, String(layout.tiles.length), paper.name, String(MOST_PAGES)),
    );
  }
  return layout;
}

/** Points so close that no page with a line on it has none of them, mm. */
const CLOSE = 2;

function pointsOn(path: Path): Point[] {
  const points: Point[] = [];
  for (let i = 0; i < pieceCount(path); i++) {
    const [from, to] = [path.vertices[i]!, pieceEnd(path, i)];
    const parts = Math.max(1, Math.ceil(pieceLength(from, to) / CLOSE));
    for (let k = 0; k <= parts; k++) points.push(pointOnPiece(from, to, k / parts));
  }
  return points;
}

/**
 * A place for a label of a size, so that no page edge goes through it; the nearest to where it is wanted, or there where
 * no page has room.
 *
 * @param free whether the box with that middle may stand there
 */
export function wholeOnPage(
  layout: Tiling,
  wanted: Point,
  { width, height }: { readonly width: number; readonly height: number },
  free: (middle: Point) => boolean,
): Point {
  const { window, overlap } = layout;
  let best: Point | null = null;
  const off = ({ x, y }: Point): number => Math.hypot(x - wanted.x, y - wanted.y);
  for (const tile of layout.tiles) {
    const [left, low] = [tile.x + overlap + width / 2, tile.y + overlap + height / 2];
    const [right, high] = [
      tile.x + window.width - overlap - width / 2,
      tile.y + window.height - overlap - height / 2,
    ];
    if (left > right || low > high) continue;
    for (let i = 0; i <= PLACES; i++)
      for (let k = 0; k <= PLACES; k++) {
        const at = { x: left + ((right - left) * i) / PLACES, y: low + ((high - low) * k) / PLACES };
        if ((best === null || off(at) < off(best)) && free(at)) best = at;
      }
  }
  return best ?? wanted;
}

/** Places tried along each side of a page. */
const PLACES = 16;

/** What is drawn over several pages, at full size. */
export interface TiledDrawing {
  /** At the foot of every page. */
  readonly name: string;
  /** Of the document. */
  readonly title: string;
  readonly items: readonly Item[];
}

/** One page of a tiled drawing: its window, the joining marks, and at the foot its place and a rule to be measured. */
export function tilePage(
  { name, title, items: drawing }: TiledDrawing,
  tile: Tile,
  layout: Tiling,
  words: PaperWords,
  unit: LengthUnit,
): Picture {
  const { page, window, tiles } = layout;
  const items: Item[] = [
    {
      kind: 'group',
      id: 'drawing',
      at: { x: window.x - tile.x, y: window.y - tile.y },
      scale: 1,
      decimals: 4,
      clip: { x: tile.x, y: tile.y, width: window.width, height: window.height },
      items: drawing,
    },
    drawn([rectangle(window)], { ...LINES.thin, colour: GREY }),
    ...joins(tile, layout),
  ];
  const number = tiles.indexOf(tile) + 1;
  // Below the halves of the joining marks that lie outside the window.
  const base = window.y - 6.4;
  // The name at the left as far as there is room, the rule at the right.
  const ruleX = window.x + window.width - ruleLength(unit);
  const place = words.tileOf(
    words.tile(String(tile.row), String(tile.column)),
    String(number),
    String(tiles.length),
  );
  const room = ruleX - window.x - 4;
  const named = fitText(name, room - textWidth(`: ${place}`, TEXT.normal), TEXT.normal);
  items.push(
    text({ x: window.x, y: base }, TEXT.normal, `${named}: ${place}`),
    ...checkRule({ x: ruleX, y: base - 0.4 }, unit, words, false),
  );
  return { width: page.width, height: page.height, title, items };
}

/** Dashed lines on which the neighbour's cut edge lies, and the marks that make whole circles there. */
function joins({ row, column }: Tile, layout: Tiling): Item[] {
  const { window, overlap, columns } = layout;
  const beside = (rows: number, across: number): boolean =>
    tileAt(layout, row + rows, column + across) !== undefined;
  const right = window.x + window.width;
  const top = window.y + window.height;
  const side = (x: number): Path => upright(x, window.y, top);
  const edge = (y: number): Path => level(y, window.x, right);
  const items: Item[] = [];
  const lines: Path[] = [];
  /** Joints across the columns are lettered A1, A2 …, those across the rows B1, B2 … */
  const across = (line: number): string => `A${(row - 1) * (columns - 1) + line}`;
  const along = (line: number): string => `B${(line - 1) * columns + column}`;
  if (beside(0, 1)) {
    lines.push(side(right - overlap));
    items.push(...joinMarks(side(right - overlap), across(column), 'before'));
  }
  if (beside(1, 0)) {
    lines.push(edge(top - overlap));
    items.push(...joinMarks(edge(top - overlap), along(row), 'before'));
  }
  if (beside(0, -1)) items.push(...joinMarks(side(window.x), across(column - 1), 'after'));
  if (beside(-1, 0)) items.push(...joinMarks(edge(window.y), along(row - 1), 'after'));
  return [drawn(lines, LINES.join), ...items];
}

/**
 * Two crossed circles on the line along which pages meet, each with the joint's name on its own page's side.
 *
 * The page that is cut along the line keeps half of each circle; laid in place, the halves make whole circles.
 */
function joinMarks({ vertices }: Path, name: string, side: 'before' | 'after'): Item[] {
  const [from, to] = [vertices[0]!, vertices[1]!];
  const sign = side === 'before' ? -1 : 1;
  const isUpright = from.x === to.x;
  return [0.2, 0.8].flatMap((part, i) => {
    const center = { x: from.x + part * (to.x - from.x), y: from.y + part * (to.y - from.y) };
    const label = isUpright
      ? { x: center.x + sign * 2.6, y: center.y + 1 }
      : { x: center.x + 1, y: center.y + (sign > 0 ? 2.6 : -2.6 - TEXT.small) };
    return [
      drawn([circle(center, 1.8), ...cross(center, 3.2)], LINES.thin),
      text(label, TEXT.small, `${name}${i === 0 ? 'a' : 'b'}`, {
        halo: true,
        align: isUpright && side === 'before' ? 'right' : 'left',
      }),
    ];
  });
}

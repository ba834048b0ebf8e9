/**
 * How a large drawing is cut into pages that are taped together again.
 *
 * Every page shows a window of the drawing. Neighbouring windows share a strip, the overlap, so that a page
 * cut along its left and lower edge finds paper to lie on. mm.
 */
import type { Bounds } from '../geometry/measure.ts';

/** Length of the longest page PDF has, with room to spare, mm (14,400 points are 5,080 mm). */
export const LONGEST_PAGE = 5000;

export interface Tile {
  /** From 1, from the lower left. */
  readonly row: number;
  readonly column: number;
  /** Lower left corner of the window in the drawing. */
  readonly x: number;
  readonly y: number;
}

export interface Tiling {
  /** Size of the paper as it is printed. */
  readonly page: { readonly width: number; readonly height: number };
  /** Where the window stands on the paper, and its size. */
  readonly window: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
  readonly overlap: number;
  readonly rows: number;
  readonly columns: number;
  /** Lower left corner of the lower left window in the drawing. */
  readonly start: { readonly x: number; readonly y: number };
  /** Row by row from the lower left; those that are printed. */
  readonly tiles: readonly Tile[];
}

export interface Paper {
  /** A sheet of a fixed size, or a roll of which as much is taken as is needed. */
  readonly width: number;
  /** null for a roll */
  readonly height: number | null;
  /** What the printer cannot print on, each side. */
  readonly margin: number;
  readonly overlap: number;
  /** Room for the line of text under the window. */
  readonly footer: number;
}

/** The tiling with the fewest pages: upright or across, upright when it makes no difference. */
export function tiling(bounds: Bounds, paper: Paper): Tiling {
  const { width, height } = paper;
  if (height === null) return rollTiling(bounds, paper);
  const upright = tilesOn(bounds, paper, width, height);
  const across = tilesOn(bounds, paper, height, width);
  return across.tiles.length < upright.tiles.length ? across : upright;
}

/** On a roll the longer side of the drawing runs along the paper when the shorter one fits across it. */
function rollTiling(bounds: Bounds, paper: Paper): Tiling {
  const [length, width] = [bounds.maxX - bounds.minX, bounds.maxY - bounds.minY];
  const across = paper.width - 2 * paper.margin;
  const page = (needed: number): number =>
    Math.min(LONGEST_PAGE, Math.ceil(needed + 2 * paper.margin + paper.footer + 2 * ROLL_ROOM));
  const upright = tilesOn(bounds, paper, paper.width, page(width));
  const turned = tilesOn(bounds, paper, page(length), paper.width);
  const fitsUpright = length <= across;
  return fitsUpright || upright.tiles.length < turned.tiles.length ? upright : turned;
}

/** Room left round the drawing on a roll, mm. */
const ROLL_ROOM = 2;

function tilesOn(bounds: Bounds, paper: Paper, pageWidth: number, pageHeight: number): Tiling {
  const { margin, overlap, footer } = paper;
  const window = {
    x: margin,
    y: margin + footer,
    width: pageWidth - 2 * margin,
    height: pageHeight - 2 * margin - footer,
  };
  const steps = (needed: number, size: number): number =>
    Math.max(1, Math.ceil((needed - overlap) / (size - overlap) - 1e-9));
  const columns = steps(bounds.maxX - bounds.minX, window.width);
  const rows = steps(bounds.maxY - bounds.minY, window.height);
  // What is left over lies evenly round the drawing.
  const spanX = columns * (window.width - overlap) + overlap;
  const spanY = rows * (window.height - overlap) + overlap;
  const startX = (bounds.minX + bounds.maxX - spanX) / 2;
  const startY = (bounds.minY + bounds.maxY - spanY) / 2;
  const tiles: Tile[] = [];
  for (let row = 1; row <= rows; row++) {
    for (let column = 1; column <= columns; column++) {
      tiles.push({
        row,
        column,
        x: startX + (column - 1) * (window.width - overlap),
        y: startY + (row - 1) * (window.height - overlap),
      });
    }
  }
  const start = { x: startX, y: startY };
  return { page: { width: pageWidth, height: pageHeight }, window, overlap, rows, columns, start, tiles };
}

/**
 * The tiling without the pages that show none of the points: what is only in the strip that a neighbour shows too is the
 * neighbour's. All pages stay where those left would not hang together.
 */
export function withoutEmpty(
  layout: Tiling,
  points: readonly { readonly x: number; readonly y: number }[],
): Tiling {
  const { window, overlap, rows, columns } = layout;
  const tiles = layout.tiles.filter(({ row, column, x, y }) => {
    const right = x + window.width - (column < columns ? overlap : 0);
    const top = y + window.height - (row < rows ? overlap : 0);
    return points.some((point) => point.x >= x && point.x <= right && point.y >= y && point.y <= top);
  });
  return isConnected(tiles) ? { ...layout, tiles } : layout;
}

/** Whether one comes from every tile to every other by neighbours. */
function isConnected(tiles: readonly Tile[]): boolean {
  const [first] = tiles;
  if (first === undefined) return false;
  const reached = new Set([first]);
  for (const { row, column } of reached)
    for (const tile of tiles)
      if (Math.abs(tile.row - row) + Math.abs(tile.column - column) === 1) reached.add(tile);
  return reached.size === tiles.length;
}

/** The tile there, where it is printed. */
export const tileAt = ({ tiles }: Tiling, row: number, column: number): Tile | undefined =>
  tiles.find((tile) => tile.row === row && tile.column === column);

/** A flat thing to be cut: a gauge, a former's ply, a part of a strip; with holes, lines to scribe and its name. */
import { textWidth, wrapText } from '../drawing/textWidth.ts';
import { LINE_PITCH, TEXT } from '../drawing/weights.ts';
import { containsPoint, distanceToPath, pathBounds } from '../geometry/measure.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';

/** mm, coordinates of its own. */
export interface Plate {
  /** Lower-case words and hyphens, unique in a set. */
  readonly id: string;
  /** Closed, counter-clockwise. */
  readonly outline: Path;
  /** Closed, clockwise. */
  readonly holes: readonly Path[];
  readonly scribe: readonly Path[];
  /** What is engraved, line by line, and where its middle is; `height` of capitals in mm. */
  readonly text: { readonly lines: readonly string[]; readonly at: Point; readonly height: number };
}

/** Diameter of the hole to hang a gauge on a nail, mm. */
export const HANGING_HOLE = 6;
/** Rounding where a hand holds a gauge, mm. */
export const HOLD_RADIUS = 5;

const LARGEST_TEXT = 3.5;
const SMALLEST_TEXT = 1.2;
/** Metal left between the hole, or letters, and the edge, mm. */
const RIM = 2.5;
const LETTER_RIM = 1;

/** A round hole, clockwise. */
export const roundHole = ({ x, y }: Point, diameter: number): Path => ({
  vertices: [
    { x: x - diameter / 2, y, bulge: -1 },
    { x: x + diameter / 2, y, bulge: -1 },
  ],
  closed: true,
});

/**
 * A closed path with the corners between straight pieces at the given vertices rounded, as far as the pieces
 * are long enough.
 */
export function roundedAt(path: Path, corners: readonly number[], radius: number): Path {
  const { vertices } = path;
  const n = vertices.length;
  const out: Vertex[] = [];
  for (const [i, vertex] of vertices.entries()) {
    const before = vertices[(i + n - 1) % n]!;
    const after = vertices[(i + 1) % n]!;
    if (!corners.includes(i) || before.bulge !== 0 || vertex.bulge !== 0) {
      out.push(vertex);
      continue;
    }
    const inX = vertex.x - before.x;
    const inY = vertex.y - before.y;
    const outX = after.x - vertex.x;
    const outY = after.y - vertex.y;
    const inLength = Math.hypot(inX, inY);
    const outLength = Math.hypot(outX, outY);
    const turn = Math.atan2(inX * outY - inY * outX, inX * outX + inY * outY);
    const half = Math.tan(Math.abs(turn) / 2);
    const cut = Math.min(radius * half, 0.45 * inLength, 0.45 * outLength);
    if (!(cut > 1e-6)) {
      out.push(vertex);
      continue;
    }
    out.push(
      {
        x: vertex.x - (inX / inLength) * cut,
        y: vertex.y - (inY / inLength) * cut,
        bulge: Math.tan(turn / 4),
      },
      { x: vertex.x + (outX / outLength) * cut, y: vertex.y + (outY / outLength) * cut, bulge: 0 },
    );
  }
  return { vertices: out, closed: true };
}

/**
 * A plate with its hanging hole and its name where there is room for them: the hole first, at the roomiest
 * place of the upper half, then the letters as large as fit beside it.
 *
 * @param lines   what is engraved
 * @param shorter ways to say it on a plate that has no room for letters one can read, the longest first
 */
export function gaugePlate(
  id: string,
  outline: Path,
  lines: readonly string[],
  shorter: readonly (readonly string[])[] = [],
): Plate {
  const box = pathBounds(outline);
  const hole = roomiest(outline, box);
  const fits = distanceToPath(hole, outline) >= HANGING_HOLE / 2 + RIM;
  const holes = fits ? [roundHole(hole, HANGING_HOLE)] : [];
  let text = placedText(outline, holes, lines);
  for (const fewer of shorter) {
    if (text.height >= TEXT.normal) break;
    const placed = placedText(outline, holes, fewer);
    if (placed.height > text.height) text = placed;
  }
  return { id, outline, holes, scribe: [], text };
}

const GRID = 28;

/** A point of the upper left part with room for the hanging hole and no more room than it needs. */
function roomiest(outline: Path, box: ReturnType<typeof pathBounds>): Point {
  let best: Point = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  let bestScore = -Infinity;
  const needed = HANGING_HOLE / 2 + RIM + 1;
  for (let row = 1; row < GRID; row++) {
    for (let column = 1; column < GRID; column++) {
      const point = {
        x: box.minX + ((box.maxX - box.minX) * column) / GRID,
        y: box.minY + ((box.maxY - box.minY) * row) / GRID,
      };
      if (!containsPoint(outline, point)) continue;
      const room = distanceToPath(point, outline);
      // As soon as there is room enough, up and to the left: the letters get the rest.
      const score = room < needed ? room : needed + (row / GRID) * 2 - (column / GRID) * 1.9;
      if (score > bestScore) {
        bestScore = score;
        best = point;
      }
    }
  }
  return best;
}

/** Widths to which lines are broken, in heights of a capital, when that lets the letters be larger. */
const WRAPS = [Infinity, 26, 19, 14, 10];

/** Letters as large as there is room for, up to a reading size; small ones in the middle when there is none. */
export function placedText(
  outline: Path,
  holes: readonly Path[],
  sentences: readonly string[],
): Plate['text'] {
  const spots = spotsIn(outline);
  let best: Plate['text'] | null = null;
  for (const wrap of WRAPS) {
    const lines = sentences.flatMap((sentence) => wrapText(sentence, wrap, 1));
    const found = placedLines(outline, holes, lines, spots, (best?.height ?? 0) * 1.05);
    if (found !== null) best = found;
  }
  const box = pathBounds(outline);
  return (
    best ?? {
      lines: sentences,
      at: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 },
      height: SMALLEST_TEXT,
    }
  );
}

/** Where a text may have its middle, and how far that is from the outline. */
interface Spot extends Point {
  readonly room: number;
}

/** Points of a grid inside the outline, the nearest to the middle first. */
function spotsIn(outline: Path): Spot[] {
  const box = pathBounds(outline);
  const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const spots: Spot[] = [];
  for (let row = 1; row < GRID; row++) {
    for (let column = 1; column < GRID; column++) {
      const x = box.minX + ((box.maxX - box.minX) * column) / GRID;
      const y = box.minY + ((box.maxY - box.minY) * row) / GRID;
      if (containsPoint(outline, { x, y })) spots.push({ x, y, room: distanceToPath({ x, y }, outline) });
    }
  }
  const off = ({ x, y }: Point): number => Math.hypot(x - middle.x, y - middle.y);
  return spots.sort((a, b) => off(a) - off(b));
}

/** The lines at the largest height above `least` for which there is a free box. */
function placedLines(
  outline: Path,
  holes: readonly Path[],
  lines: readonly string[],
  spots: readonly Spot[],
  least: number,
): Plate['text'] | null {
  const wide = Math.max(...lines.map((line) => textWidth(line, 1)));
  const high = lines.length * LINE_PITCH;
  const taken = holes.map(pathBounds);
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  const free = (point: Point): boolean =>
    containsPoint(outline, point) && distanceToPath(point, outline) >= LETTER_RIM;
  for (let height = LARGEST_TEXT; height >= Math.max(SMALLEST_TEXT, least); height *= 0.88) {
    const [w, h] = [(wide * height) / 2, (high * height) / 2];
    const fits = ({ x, y, room }: Spot): boolean =>
      room >= Math.min(w, h) + LETTER_RIM &&
      x - w >= minX &&
      x + w <= maxX &&
      y - h >= minY &&
      y + h <= maxY &&
      taken.every(
        (hole) =>
          x - w > hole.maxX + LETTER_RIM ||
          x + w < hole.minX - LETTER_RIM ||
          y - h > hole.maxY + LETTER_RIM ||
          y + h < hole.minY - LETTER_RIM,
      ) &&
      (room >= Math.hypot(w, h) + LETTER_RIM || onBorder(x, y, w, h, free));
    const spot = spots.find(fits);
    if (spot !== undefined) return { lines, at: { x: spot.x, y: spot.y }, height };
  }
  return null;
}

/** Whether something holds of all points along the border of a box, its corners first. */
function onBorder(x: number, y: number, w: number, h: number, holds: (point: Point) => boolean): boolean {
  return [-1, 1, 0, -0.5, 0.5, -0.75, -0.25, 0.25, 0.75].every(
    (part) =>
      holds({ x: x + part * w, y: y - h }) &&
      holds({ x: x + part * w, y: y + h }) &&
      holds({ x: x - w, y: y + part * h }) &&
      holds({ x: x + w, y: y + part * h }),
  );
}

/** The plate moved by (x, y). */
export function movedPlate(plate: Plate, x: number, y: number): Plate {
  const move = (path: Path): Path => ({
    ...path,
    vertices: path.vertices.map((vertex) => ({ ...vertex, x: vertex.x + x, y: vertex.y + y })),
  });
  return {
    ...plate,
    outline: move(plate.outline),
    holes: plate.holes.map(move),
    scribe: plate.scribe.map(move),
    text: { ...plate.text, at: { x: plate.text.at.x + x, y: plate.text.at.y + y } },
  };
}

/**
 * Plates in rows beside each other, in the order they come, from the top left down.
 *
 * @param width where a row ends, unless a plate alone is wider; mm
 * @param gap   mm
 */
export function laidOut(plates: readonly Plate[], width: number, gap: number): Plate[] {
  const out: Plate[] = [];
  let x = 0;
  let y = 0;
  let rowHeight = 0;
  for (const plate of plates) {
    const box = pathBounds(plate.outline);
    const [wide, high] = [box.maxX - box.minX, box.maxY - box.minY];
    if (x > 0 && x + wide > width) {
      x = 0;
      y -= rowHeight + gap;
      rowHeight = 0;
    }
    out.push(movedPlate(plate, x - box.minX, y - box.maxY));
    x += wide + gap;
    rowHeight = Math.max(rowHeight, high);
  }
  return out;
}

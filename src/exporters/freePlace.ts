/** Finds room on the blank for a label: pure geometry, shared by every format that draws one. */
import { pieceCount, pieceEnd, pointOnPiece } from '../geometry/arc.ts';
import { containsPoint, pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';

/** A straight piece of a boundary, mm. */
interface Chord {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
}

/** A box that wants a place, in any unit. */
export interface LabelBox {
  readonly width: number;
  readonly height: number;
}

/** Where a box goes and by how much it is enlarged (or shrunk). */
export interface Place {
  readonly center: Point;
  readonly scale: number;
}

/** Candidate centres along each direction of the blank's bounding box. */
const GRID = 21;

/** Longest chord of an arc, radians: its sagitta is then 0.2 % of the radius, well inside the margin. */
const CHORD_ANGLE = Math.PI / 24;

/** Share of the free room that is used, so that a label keeps clear of the lines around it. */
const MARGIN = 0.85;

/**
 * The largest place for a box inside `outline`, clear of `obstacles`.
 *
 * The centre of the bounding box is taken when the box fits there at `largest`, so that a plain tray's label
 * stands in the middle; otherwise the roomiest point of a grid, the first of equals.
 *
 * @param largest mm per unit of the box; `scale` of the answer is never more
 * @param outline closed; not changed
 * @param holes closed; the box is never placed in or over one; not changed
 * @param obstacles lines the box must not touch, open or closed; inside a closed one is free room; not changed
 * @returns null when no candidate lies in the material
 */
export function largestPlace(
  box: LabelBox,
  largest: number,
  outline: Path,
  holes: readonly Path[],
  obstacles: readonly Path[],
): Place | null {
  const lines = [outline, ...holes, ...obstacles].flatMap(chords);
  const { minX, minY, maxX, maxY } = pathBounds(outline);

  let best: Place | null = null;
  const consider = (x: number, y: number): void => {
    const center = { x, y };
    if (!containsPoint(outline, center) || holes.some((hole) => containsPoint(hole, center))) return;
    const room = roomAround(lines, center, box, largest / MARGIN);
    const scale = Math.min(largest, room * MARGIN);
    // A hair of difference must not move the label of a symmetric blank off its axis.
    if (best === null || scale > best.scale * (1 + 1e-6)) {
      best = { center, scale };
    }
  };
  consider((minX + maxX) / 2, (minY + maxY) / 2);
  const middle = best as Place | null;
  if (middle !== null && middle.scale === largest) return middle;
  for (let row = 1; row <= GRID; row++) {
    for (let column = 1; column <= GRID; column++) {
      consider(minX + ((maxX - minX) * column) / (GRID + 1), minY + ((maxY - minY) * row) / (GRID + 1));
    }
  }
  return best;
}

/**
 * How far a box about a centre can be enlarged before it touches a chord: the smallest distance from the
 * centre in the norm whose unit ball is the box, at most `limit`.
 */
function roomAround(
  list: readonly Chord[],
  { x, y }: Point,
  { width, height }: LabelBox,
  limit: number,
): number {
  let least = limit;
  for (const { ax, ay, bx, by } of list) {
    // In box units u, v the box of scale 1 is |u| <= 1, |v| <= 1.
    const u0 = (2 * (ax - x)) / width;
    const v0 = (2 * (ay - y)) / height;
    const u1 = (2 * (bx - x)) / width;
    const v1 = (2 * (by - y)) / height;
    // Most chords are farther away than what was found, whatever their course between their ends.
    if (Math.max(leastSize(u0, u1), leastSize(v0, v1)) >= least) continue;
    const du = u1 - u0;
    const dv = v1 - v0;
    // max(|u|, |v|) is convex along the chord; its least value is at an end or where two of ±u, ±v meet.
    for (const t of [0, 1, -u0 / du, -v0 / dv, (v0 - u0) / (du - dv), -(u0 + v0) / (du + dv)]) {
      if (!(t >= 0 && t <= 1)) continue; // also leaves out the divisions by zero
      least = Math.min(least, Math.max(Math.abs(u0 + t * du), Math.abs(v0 + t * dv)));
    }
  }
  return least;
}

/** The least |w| for w from `a` to `b`. */
const leastSize = (a: number, b: number): number =>
  a > 0 === b > 0 ? Math.min(Math.abs(a), Math.abs(b)) : 0;

/** The path as straight pieces, arcs as chords. */
function chords(path: Path): Chord[] {
  const list: Chord[] = [];
  for (let i = 0; i < pieceCount(path); i++) {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const sweep = 4 * Math.atan(from.bulge);
    const count = Math.max(1, Math.ceil(Math.abs(sweep) / CHORD_ANGLE));
    let start: Point = from;
    for (let chord = 1; chord <= count; chord++) {
      const end: Point = chord === count ? to : pointOnPiece(from, to, chord / count);
      list.push({ ax: start.x, ay: start.y, bx: end.x, by: end.y });
      start = end;
    }
  }
  return list;
}

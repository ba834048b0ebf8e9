/**
 * What can be read off a path of lines and arcs: area, length, bounds, points, distances. Exact for arcs.
 *
 * mm and mm², angles in radians, counter-clockwise positive, y up.
 */

import {
  distanceToPiece,
  endDirection,
  pieceCount,
  pieceEnd,
  pieceLength,
  pointOnPiece,
  startDirection,
  wrapAngle,
} from './arc.ts';
import type { Extent } from './extent.ts';
import { hypotenuse } from './hypotenuse.ts';
import type { Path, Point, Vertex } from './path.ts';

export { type Arc, arcOf } from './arc.ts';

/** An upright box, mm. */
export type Bounds = Extent;

/** Calls `visit` for each line or arc, in order. */
function forEachPiece(path: Path, visit: (from: Vertex, to: Vertex, index: number) => void): void {
  const count = pieceCount(path);
  for (let i = 0; i < count; i++) visit(path.vertices[i]!, pieceEnd(path, i), i);
}

/** Area between an arc and its chord, mm², with the sign of the bulge. */
function segmentArea(chordSquared: number, bulge: number): number {
  const t = 4 * Math.atan(bulge);
  const t2 = t * t;
  // t - sin t, by its series where the difference would cancel
  const difference =
    Math.abs(t) < 0.2
      ? ((t * t2) / 6) * (1 - (t2 / 20) * (1 - (t2 / 42) * (1 - (t2 / 72) * (1 - t2 / 110))))
      : t - Math.sin(t);
  const s = (2 * bulge) / (1 + bulge * bulge); // sin(t / 2)
  return (chordSquared * difference) / (8 * s * s);
}

/**
 * Enclosed area, mm²: positive when the path runs counter-clockwise, negative when clockwise. An open path
 * is taken as closed by a straight line.
 */
export function pathArea(path: Path): number {
  const origin = path.vertices[0];
  if (!origin) return 0;
  let twice = 0;
  let arcs = 0;
  forEachPiece(path, (from, to) => {
    twice += (from.x - origin.x) * (to.y - origin.y) - (from.y - origin.y) * (to.x - origin.x);
    if (from.bulge !== 0) arcs += segmentArea((to.x - from.x) ** 2 + (to.y - from.y) ** 2, from.bulge);
  });
  return twice / 2 + arcs;
}

/** Length along the path, mm. */
export function pathLength(path: Path): number {
  let sum = 0;
  forEachPiece(path, (from, to) => {
    sum += pieceLength(from, to);
  });
  return sum;
}

/** Smallest upright box around one piece. */
export function pieceBounds(from: Vertex, to: Point): Bounds {
  let minX = Math.min(from.x, to.x);
  let minY = Math.min(from.y, to.y);
  let maxX = Math.max(from.x, to.x);
  let maxY = Math.max(from.y, to.y);
  if (from.bulge !== 0) {
    // The quarter points of the circle that the arc passes, found along the arc: its centre may be far away.
    const sweep = 4 * Math.atan(from.bulge);
    const start = startDirection(from, to) - (Math.sign(sweep) * Math.PI) / 2;
    const low = Math.min(start, start + sweep);
    const high = Math.max(start, start + sweep);
    for (let q = Math.ceil(low / (Math.PI / 2)); q * (Math.PI / 2) <= high; q++) {
      const fraction = (q * (Math.PI / 2) - start) / sweep;
      if (fraction < 1e-12 || fraction > 1 - 1e-12) continue; // that is an end
      const { x, y } = pointOnPiece(from, to, fraction);
      minX = Math.min(minX, x);
      minY = Math.min(minY, y);
      maxX = Math.max(maxX, x);
      maxY = Math.max(maxY, y);
    }
  }
  return { minX, minY, maxX, maxY };
}

/** Smallest upright box around the path, mm. A path without vertices gives an empty box (minX > maxX). */
export function pathBounds(path: Path): Bounds {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  const include = (box: Bounds) => {
    minX = Math.min(minX, box.minX);
    minY = Math.min(minY, box.minY);
    maxX = Math.max(maxX, box.maxX);
    maxY = Math.max(maxY, box.maxY);
  };
  for (const { x, y } of path.vertices) include({ minX: x, minY: y, maxX: x, maxY: y });
  forEachPiece(path, (from, to) => {
    if (from.bulge !== 0) include(pieceBounds(from, to));
  });
  return { minX, minY, maxX, maxY };
}

/** The same path run backwards. A closed path keeps its first vertex. */
export function reversePath(path: Path): Path {
  const { vertices, closed } = path;
  const n = vertices.length;
  const reversed = vertices.map((_, i): Vertex => {
    // Vertex i of the result is the end of the old piece that the new piece i runs backwards.
    const at = closed ? (n - i) % n : n - 1 - i;
    const { x, y } = vertices[at]!;
    const piece = closed ? (at + n - 1) % n : at - 1;
    const bulge = piece < 0 ? 0 : vertices[piece]!.bulge;
    return { x, y, bulge: bulge === 0 ? 0 : -bulge };
  });
  return { vertices: reversed, closed };
}

/**
 * The point at a distance along the path, mm from the first vertex, and the direction of travel there in
 * radians within (-π, π]. On a closed path the distance goes round and round (negative ones backwards), on
 * an open one it stops at the ends.
 */
export function pointAlong(path: Path, distance: number): { x: number; y: number; tangent: number } {
  const count = pieceCount(path);
  const total = pathLength(path);
  let left = distance;
  if (path.closed && total > 0) left -= Math.floor(distance / total) * total;
  left = Math.min(Math.max(left, 0), total);
  for (let i = 0; i < count; i++) {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const length = pieceLength(from, to);
    if (left <= length || i === count - 1) {
      const at = pointOnPiece(from, to, length > 0 ? Math.min(left / length, 1) : 0);
      return { x: at.x, y: at.y, tangent: wrapAngle(at.tangent) };
    }
    left -= length;
  }
  const only = path.vertices[0] ?? { x: Number.NaN, y: Number.NaN };
  return { x: only.x, y: only.y, tangent: 0 };
}

/**
 * How much the direction of travel jumps at each vertex, radians within (-π, π], positive to the left. One
 * number a vertex; the two ends of an open path have 0.
 */
export function tangentBreaks(path: Path): number[] {
  const n = path.vertices.length;
  return path.vertices.map((vertex, i) => {
    if (!path.closed && (i === 0 || i === n - 1)) return 0;
    const arriving = endDirection(path.vertices[(i + n - 1) % n]!, vertex);
    const leaving = startDirection(vertex, path.vertices[(i + 1) % n]!);
    return wrapAngle(leaving - arriving);
  });
}

/** Distance from a point to the nearest point of the path, mm, never negative. */
export function distanceToPath(point: Point, path: Path): number {
  let least = Number.POSITIVE_INFINITY;
  forEachPiece(path, (from, to) => {
    least = Math.min(least, distanceToPiece(point.x, point.y, from, to));
  });
  if (least === Number.POSITIVE_INFINITY && path.vertices[0])
    least = hypotenuse(point.x - path.vertices[0].x, point.y - path.vertices[0].y);
  return least;
}

/**
 * How often the path goes round the point, counter-clockwise positive. An open path is taken as closed by a
 * straight line. For a point on the path itself the answer is that of one side or the other.
 *
 * The winding number of the polygon of chords (crossings of the ray to +x, half-open edges), and one more or
 * less for every arc with the point between it and its chord.
 */
export function windingNumber(path: Path, point: Point): number {
  const { x, y } = point;
  const n = path.vertices.length;
  let winding = 0;
  for (let i = 0; i < n; i++) {
    const from = path.vertices[i]!;
    const to = path.vertices[(i + 1) % n]!;
    const dx = to.x - from.x;
    const dy = to.y - from.y;
    const left = dx * (y - from.y) - dy * (x - from.x); // positive: the point is left of the chord
    if (from.y <= y) {
      if (to.y > y && left > 0) winding++;
    } else if (to.y <= y && left < 0) winding--;
    const b = from.bulge;
    if (b === 0 || (i === n - 1 && !path.closed)) continue;
    // A point on the chord itself goes to the side that the half-open edges above put it on.
    const side = left !== 0 ? left : dy !== 0 ? -dy : dx;
    if (side * b >= 0) continue; // a counter-clockwise arc lies right of its chord
    const mx = x - (from.x + to.x) / 2;
    const my = y - (from.y + to.y) / 2;
    const chordSquared = dx * dx + dy * dy;
    const power = 4 * (mx * mx + my * my) - chordSquared - (2 * (1 - b * b) * (my * dx - mx * dy)) / b;
    if (power < 0) winding += b > 0 ? 1 : -1; // inside the circle
  }
  return winding;
}

/** True when the closed path goes round the point, whichever way it runs. */
export function containsPoint(path: Path, point: Point): boolean {
  return windingNumber(path, point) !== 0;
}

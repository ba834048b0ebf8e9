/**
 * Where lines and arcs meet: by formula, not by chords.
 *
 * mm. Points closer than `TOUCH` count as one; pieces that lie on each other meet at the ends of the stretch
 * they share.
 */

import { arcOf, distanceToPiece, pieceCount, pieceEnd, wrapAngle } from './arc.ts';
import { hypotenuse } from './hypotenuse.ts';
import { type Bounds, pieceBounds, tangentBreaks } from './measure.ts';
import type { Path, Point, Vertex } from './path.ts';

/** A common point of two pieces of a path. */
export interface Crossing extends Point {
  /** Numbers of the two pieces, the smaller one first. */
  readonly first: number;
  readonly second: number;
}

/** Points closer than this are the same point, mm. */
export const TOUCH = 1e-8;

/** Neighbouring pieces whose directions differ by less run on into each other, radians. */
export const SMOOTH = 1e-6;

/**
 * All points where the path meets itself, other than where a piece ends and the next begins. Pieces that
 * follow each other smoothly have no other point in common; neighbours at a corner may have.
 */
export function selfIntersections(path: Path): Crossing[] {
  const count = pieceCount(path);
  const breaks = tangentBreaks(path);
  const boxes = Array.from({ length: count }, (_, i) => pieceBounds(path.vertices[i]!, pieceEnd(path, i)));
  const found: Crossing[] = [];
  for (const [i, j] of overlappingPairs(boxes)) {
    const a = path.vertices[i]!;
    const aEnd = pieceEnd(path, i);
    const b = path.vertices[j]!;
    const bEnd = pieceEnd(path, j);
    const shared: Point[] = [];
    let smooth = false;
    if (j === i + 1) {
      shared.push(b);
      smooth ||= Math.abs(breaks[j]!) < SMOOTH;
    }
    if (path.closed && (j + 1) % count === i) {
      shared.push(a);
      smooth ||= Math.abs(breaks[i]!) < SMOOTH;
    }
    if (smooth && shared.length === 1) continue;
    for (const point of meetings(a, aEnd, b, bEnd)) {
      const own = shared.some((v) => hypotenuse(v.x - point.x, v.y - point.y) < 10 * TOUCH);
      if (!own) found.push({ ...point, first: i, second: j });
    }
  }
  return found;
}

/** Numbers of the boxes that overlap, by sweeping along x. */
function* overlappingPairs(boxes: readonly Bounds[]): Generator<[number, number]> {
  const order = boxes.map((_, i) => i).sort((i, j) => boxes[i]!.minX - boxes[j]!.minX || i - j);
  for (let p = 0; p < order.length; p++) {
    const i = order[p]!;
    for (let q = p + 1; q < order.length; q++) {
      const j = order[q]!;
      if (boxes[j]!.minX > boxes[i]!.maxX + TOUCH) break;
      if (boxes[j]!.minY > boxes[i]!.maxY + TOUCH || boxes[i]!.minY > boxes[j]!.maxY + TOUCH) continue;
      yield i < j ? [i, j] : [j, i];
    }
  }
}

/** The common points of two lines or arcs. */
export function meetings(a: Vertex, aEnd: Point, b: Vertex, bEnd: Point): Point[] {
  const candidates = [...circlesMeet(a, aEnd, b, bEnd)].map((point) => polished(point, a, aEnd, b, bEnd));
  // Ends that lie on the other piece: touching, and pieces on top of each other.
  candidates.push(a, aEnd, b, bEnd);
  const found: Point[] = [];
  for (const { x, y } of candidates) {
    if (distanceToPiece(x, y, a, aEnd) > TOUCH || distanceToPiece(x, y, b, bEnd) > TOUCH) continue;
    if (found.some((p) => hypotenuse(p.x - x, p.y - y) < 10 * TOUCH)) continue;
    found.push({ x, y });
  }
  return found;
}

/** Where the whole lines or circles meet, whether or not the pieces reach that far. */
function* circlesMeet(a: Vertex, aEnd: Point, b: Vertex, bEnd: Point): Generator<Point> {
  const first = arcOf(a, aEnd);
  const second = arcOf(b, bEnd);
  if (!first && !second) {
    const ux = aEnd.x - a.x;
    const uy = aEnd.y - a.y;
    const vx = bEnd.x - b.x;
    const vy = bEnd.y - b.y;
    const cross = ux * vy - uy * vx;
    if (cross === 0) return;
    const t = ((b.x - a.x) * vy - (b.y - a.y) * vx) / cross;
    yield { x: a.x + t * ux, y: a.y + t * uy };
  } else if (first && second) {
    const dx = second.centre.x - first.centre.x;
    const dy = second.centre.y - first.centre.y;
    const d = hypotenuse(dx, dy);
    const [r, q] = [first.radius, second.radius];
    if (d === 0) return;
    // Half the common chord, from Heron's formula for the triangle r, q, d.
    const along = (d * d + (r - q) * (r + q)) / (2 * d);
    const product = (r + q + d) * (r + q - d) * (r - q + d) * (q - r + d);
    if (product < -1e-6 * (TOUCH + r * q) * d * d) return;
    const across = Math.sqrt(Math.max(0, product)) / (2 * d);
    for (const side of across > 0 ? [1, -1] : [1])
      yield {
        x: first.centre.x + (along * dx - side * across * dy) / d,
        y: first.centre.y + (along * dy + side * across * dx) / d,
      };
  } else {
    const [line, lineEnd, arc] = first ? ([b, bEnd, first] as const) : ([a, aEnd, second!] as const);
    const ux = lineEnd.x - line.x;
    const uy = lineEnd.y - line.y;
    const length = hypotenuse(ux, uy);
    if (length === 0) return;
    const cx = arc.centre.x - line.x;
    const cy = arc.centre.y - line.y;
    const along = (cx * ux + cy * uy) / length;
    const off = (ux * cy - uy * cx) / length;
    const square = (arc.radius - off) * (arc.radius + off);
    if (square < -1e-6 * arc.radius) return;
    const half = Math.sqrt(Math.max(0, square));
    for (const t of half > 0 ? [along - half, along + half] : [along])
      yield { x: line.x + (t * ux) / length, y: line.y + (t * uy) / length };
  }
}

/**
 * The point after two Newton steps on the distances from both pieces, measured so that they are exact for flat
 * arcs too: their centres are so far away that the formulas above lose digits.
 */
function polished(point: Point, a: Vertex, aEnd: Point, b: Vertex, bEnd: Point): Point {
  let { x, y } = point;
  for (let step = 0; step < 2; step++) {
    const [f, fx, fy] = leftOfPiece(x, y, a, aEnd);
    const [g, gx, gy] = leftOfPiece(x, y, b, bEnd);
    const cross = fx * gy - fy * gx;
    if (Math.abs(cross) < 1e-6) return { x, y };
    x -= (f * gy - g * fy) / cross;
    y -= (g * fx - f * gx) / cross;
  }
  return { x, y };
}

/** Signed distance from the piece's line or circle, positive to the left, and its gradient. */
function leftOfPiece(x: number, y: number, from: Vertex, to: Point): [number, number, number] {
  const b = from.bulge;
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const chord = hypotenuse(dx, dy);
  const mx = x - (from.x + to.x) / 2;
  const my = y - (from.y + to.y) / 2;
  const u = (mx * dx + my * dy) / chord;
  const v = (my * dx - mx * dy) / chord;
  const k = 1 - b * b;
  const power = 4 * b * (u * u + v * v - (chord * chord) / 4) - 2 * k * chord * v;
  const p = 4 * b * u;
  const w = k * chord - 4 * b * v;
  const far = hypotenuse(p, w);
  const left = -power / (far + chord * (1 + b * b));
  // The gradient points from the far side to the centre: (-4bu, k c - 4bv) in the frame of the chord.
  const gu = -p / far;
  const gv = w / far;
  return [left, (gu * dx - gv * dy) / chord, (gu * dy + gv * dx) / chord];
}

/** How far along the piece, 0 to 1, a point on it lies. */
export function fractionOn(point: Point, from: Vertex, to: Point): number {
  const arc = arcOf(from, to);
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  if (!arc || Math.abs(from.bulge) < 1e-6) {
    const t = ((point.x - from.x) * dx + (point.y - from.y) * dy) / (dx * dx + dy * dy);
    return Math.min(Math.max(t, 0), 1);
  }
  // Measured from the middle of the arc, so that the jump of the angle is opposite.
  const middle = arc.startAngle + arc.sweep / 2;
  const off = wrapAngle(Math.atan2(point.y - arc.centre.y, point.x - arc.centre.x) - middle);
  return Math.min(Math.max(0.5 + off / arc.sweep, 0), 1);
}

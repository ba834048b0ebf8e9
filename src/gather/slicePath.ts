/** A stretch of a closed path between two points on or next to it. */

import { arcOf, pieceCount, pieceEnd, pointOnPiece } from '../geometry/arc.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';

interface Foot {
  readonly piece: number;
  readonly fraction: number;
  readonly distance: number;
}

/**
 * The open path along `path`, in its own direction, from the point nearest `begin` to the one nearest `end`; all
 * the way round when the two are the same.
 */
export function slicePath(path: Path, begin: Point, end: Point): Path {
  const from = footOn(path, begin);
  const to = footOn(path, end);
  const count = pieceCount(path);
  const vertices: Vertex[] = [];
  const ahead = from.piece === to.piece && to.fraction > from.fraction;
  const steps = ahead ? 0 : ((to.piece - from.piece + count - 1) % count) + 1;
  for (let k = 0; k <= steps; k++) {
    const piece = (from.piece + k) % count;
    const start = k === 0 ? from.fraction : 0;
    const stop = k === steps ? to.fraction : 1;
    if (stop - start < 1e-12) continue;
    const a = path.vertices[piece]!;
    const { x, y } = pointOnPiece(a, pieceEnd(path, piece), start);
    vertices.push({ x, y, bulge: a.bulge === 0 ? 0 : Math.tan(Math.atan(a.bulge) * (stop - start)) });
  }
  const last = pointOnPiece(path.vertices[to.piece]!, pieceEnd(path, to.piece), to.fraction);
  vertices.push({ x: last.x, y: last.y, bulge: 0 });
  return { vertices, closed: false };
}

function footOn(path: Path, point: Point): Foot {
  let best: Foot = { piece: 0, fraction: 0, distance: Infinity };
  for (let piece = 0; piece < pieceCount(path); piece++) {
    const a = path.vertices[piece]!;
    const b = pieceEnd(path, piece);
    const fraction = fractionOnPiece(a, b, point);
    const at = pointOnPiece(a, b, fraction);
    const distance = hypotenuse(at.x - point.x, at.y - point.y);
    if (distance < best.distance) best = { piece, fraction, distance };
  }
  return best;
}

function fractionOnPiece(a: Vertex, b: Point, { x, y }: Point): number {
  const arc = arcOf(a, b);
  const clamp = (value: number): number => Math.min(1, Math.max(0, value));
  if (arc === null) {
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const square = dx * dx + dy * dy;
    return square === 0 ? 0 : clamp(((x - a.x) * dx + (y - a.y) * dy) / square);
  }
  const turned = Math.atan2(y - arc.centre.y, x - arc.centre.x) - arc.startAngle;
  const past = Math.sign(arc.sweep) * turned;
  const sweep = Math.abs(arc.sweep);
  // Measured from the middle of the arc, so that points just before its start do not count as a full turn.
  const fromMiddle = past - sweep / 2;
  const wrapped = fromMiddle - 2 * Math.PI * Math.round(fromMiddle / (2 * Math.PI));
  return clamp((wrapped + sweep / 2) / sweep);
}

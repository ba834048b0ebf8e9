/**
 * The line at a constant distance from an outline, exact: lines stay lines, arcs stay arcs.
 *
 * The curve at distance d from a piece is a parallel line, or an arc about the same centre with the radius
 * changed by d; where the outline has a corner and the offset goes round its outside, an arc of radius d about
 * the corner joins them, or, where that would be no longer than a cut should be, they run on to where they cross.
 * On a smooth outline these follow each other without a gap. Where the outline is too
 * hollow for the distance they overlap: then all are cut at each other, and the parts that are nearer to the
 * outline than d are dropped.
 *
 * mm; positive to the right of the direction of travel: outward for a counter-clockwise outline, into the
 * hole for a clockwise one, so that a positive distance always leaves more material.
 */

import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import {
  distanceToPiece,
  endTangent,
  pieceCount,
  pieceEnd,
  pieceLength,
  pointOnPiece,
  startTangent,
} from './arc.ts';
import { hypotenuse } from './hypotenuse.ts';
import { fractionOn, meetings, SMOOTH, selfIntersections } from './intersect.ts';
import { pathArea, tangentBreaks } from './measure.ts';
import { type Path, type Point, SHORTEST_PIECE, type Vertex } from './path.ts';
import { bulgeBetween, crossingNear, type MovedEdge, type PlanEdge, planEdge } from './planEdges.ts';

/** A line or arc by itself. */
interface Loose {
  readonly from: Vertex;
  readonly to: Point;
}

/** How much nearer than the distance a whole offset may come, mm: what breaks of up to `SMOOTH` leave. */
const SLACK = 1e-6;

/** The same for a part that has been cut: small, so that the tails of pieces that cross at a low angle go. */
const CUT_SLACK = 1e-10;

/** Parts shorter than this are none, mm. */
const SLIVER = 1e-6;

/** A corner that turns by more than this is not mitred: the tip would stand out by half the distance, radians. */
const LARGEST_MITRE = Math.PI / 2;

/** Loose ends closer than this belong together, mm: what tails may be left. */
const GAP = 5e-5;

/**
 * The outline at a distance from a closed path.
 *
 * @param path     closed, free of crossings
 * @param distance mm, positive to the right of the direction of travel
 * @throws GatherpanError NOT_MAKEABLE when nothing is left at that distance, or not one piece
 */
export function offsetPath(path: Path, distance: number): Path {
  if (distance === 0) return path;
  if (!path.closed || !Number.isFinite(distance))
    throw new GatherpanError('BAD_INPUT', words().messages.outline.offsetOfWhat(String(distance)));
  const result = tryOffset(path, distance);
  if (result) return result;
  const largest = largestOffset(path, distance);
  const say = words().messages.outline.noSingleOutline;
  const sentence = distance > 0 ? say.outward : say.inward;
  throw new GatherpanError('NOT_MAKEABLE', sentence(String(Math.abs(distance)), String(largest)));
}

/** Largest distance towards `distance` that works, rounded down to 0.01 mm. */
function largestOffset(path: Path, distance: number): number {
  let works = 0;
  let fails = distance;
  while (Math.abs(fails - works) > 0.001) {
    const middle = (works + fails) / 2;
    if (tryOffset(path, middle)) works = middle;
    else fails = middle;
  }
  return Math.floor(Math.abs(works) * 100) / 100;
}

function tryOffset(path: Path, distance: number): Path | null {
  return joined(path, distance) ?? trimmed(path, distance);
}

/** The offset of an outline where nothing has to be cut off, or null. */
function joined(path: Path, distance: number): Path | null {
  const breaks = tangentBreaks(path);
  const count = pieceCount(path);
  const corners = path.vertices.map((_, i) => cornerOf(path, i, breaks[i]!, distance));
  const vertices: Vertex[] = [];
  for (let i = 0; i < count; i++) {
    if (vanishes(path.vertices[i]!, pieceEnd(path, i), distance)) return null;
    if (corners[i]!.overlap) return null;
    const { arrives, leaves } = corners[i]!;
    if (arrives !== leaves) vertices.push({ ...arrives, bulge: Math.tan(breaks[i]! / 4) });
    vertices.push({ ...leaves, bulge: bulgeOf(path, i, corners) });
  }
  const loop: Path = { vertices, closed: true };
  return holds(loop, path, distance) && selfIntersections(loop).length === 0 ? loop : null;
}

/** A corner of the path as it is in the offset. */
interface Corner {
  /** Where the offset of the piece before it ends; the same object as `leaves` where the two meet. */
  readonly arrives: Point;
  /** Where that of the piece after it begins. */
  readonly leaves: Point;
  /** Whether they have been lengthened to meet. */
  readonly mitred: boolean;
  /** Whether they overlap, inside the corner. */
  readonly overlap: boolean;
}

function cornerOf(path: Path, index: number, turn: number, distance: number): Corner {
  const count = path.vertices.length;
  const vertex = path.vertices[index]!;
  const before = path.vertices[(index + count - 1) % count]!;
  const after = pieceEnd(path, index);
  const arriving = endTangent(before, vertex);
  const leaving = startTangent(vertex, after);
  if (Math.abs(turn) < SMOOTH) {
    const both = { x: arriving.x + leaving.x, y: arriving.y + leaving.y };
    const point = beside(vertex, both, distance);
    return { arrives: point, leaves: point, mitred: false, overlap: false };
  }
  const plain = { arrives: beside(vertex, arriving, distance), leaves: beside(vertex, leaving, distance) };
  const overlap = turn * distance < 0;
  if (overlap || Math.abs(turn * distance) >= SHORTEST_PIECE || Math.abs(turn) > LARGEST_MITRE)
    return { ...plain, mitred: false, overlap };
  const moved = (edge: PlanEdge): MovedEdge => ({ edge, left: -distance });
  const [a, b] = [moved(planEdge(before, vertex)), moved(planEdge(vertex, after))];
  const crossing = crossingNear(a, b, plain.leaves);
  if (crossing === null) return { ...plain, mitred: false, overlap };
  const point = { x: crossing[0], y: crossing[1] };
  return { arrives: point, leaves: point, mitred: true, overlap };
}

/** Bulge of the offset of a piece: that of the piece itself, but where it has been lengthened. */
function bulgeOf(path: Path, index: number, corners: readonly Corner[]): number {
  const from = path.vertices[index]!;
  const [start, end] = [corners[index]!, corners[(index + 1) % corners.length]!];
  if (from.bulge === 0 || !(start.mitred || end.mitred)) return from.bulge;
  return bulgeBetween(planEdge(from, pieceEnd(path, index)), start.leaves, end.arrives);
}

/** True for an arc that is on the offset's side of its own centre, and not larger than the distance. */
function vanishes(from: Vertex, to: Point, distance: number): boolean {
  const b = from.bulge;
  if (b === 0 || b * distance > 0) return false;
  const radius = (hypotenuse(to.x - from.x, to.y - from.y) * (1 + b * b)) / (4 * Math.abs(b));
  return radius - Math.abs(distance) < SLACK;
}

/** The point right of another one, seen in the direction of a vector of any length. */
function beside({ x, y }: Point, direction: Point, distance: number): Point {
  const size = hypotenuse(direction.x, direction.y);
  return { x: x + (distance * direction.y) / size, y: y - (distance * direction.x) / size };
}

/** Every part of the loop is as far from the path as it should be. */
function holds(loop: Path, path: Path, distance: number): boolean {
  return loop.vertices.every((vertex, i) => {
    const middle = pointOnPiece(vertex, pieceEnd(loop, i), 0.5);
    const off = Math.abs(distance) - SLACK;
    return isClear(vertex, path, off) && isClear(middle, path, off);
  });
}

function isClear({ x, y }: Point, path: Path, off: number): boolean {
  for (let i = 0; i < path.vertices.length; i++)
    if (distanceToPiece(x, y, path.vertices[i]!, pieceEnd(path, i)) < off) return false;
  return true;
}

/** The offset with all that is too near to the path cut off, or null when that is not one loop. */
function trimmed(path: Path, distance: number): Path | null {
  const all = looseOffsets(path, distance);
  const kept: Loose[] = [];
  for (const piece of all) {
    const cuts = cutsOf(piece, all);
    const length = pieceLength(piece.from, piece.to);
    let begin: number | null = null; // where the part that is kept begins
    for (let k = 1; k < cuts.length; k++) {
      if ((cuts[k]! - cuts[k - 1]!) * length < SLIVER) continue;
      const middle = pointOnPiece(piece.from, piece.to, (cuts[k - 1]! + cuts[k]!) / 2);
      if (isClear(middle, path, Math.abs(distance) - CUT_SLACK)) begin ??= cuts[k - 1]!;
      else if (begin !== null) {
        kept.push(partOf(piece, begin, cuts[k - 1]!));
        begin = null;
      }
    }
    if (begin !== null) kept.push(partOf(piece, begin, 1));
  }
  const loop = stitched(kept);
  if (!loop || Math.sign(pathArea(loop)) !== Math.sign(pathArea(path))) return null;
  return selfIntersections(loop).length === 0 ? loop : null;
}

/** Where a piece is met by the others, as fractions of its length, in order, with 0 and 1. */
function cutsOf(piece: Loose, all: readonly Loose[]): number[] {
  const cuts = [0, 1];
  for (const other of all) {
    if (other === piece) continue;
    for (const point of meetings(piece.from, piece.to, other.from, other.to))
      cuts.push(fractionOn(point, piece.from, piece.to));
  }
  return cuts.sort((a, b) => a - b);
}

/** The offsets of all pieces that have one, and the arcs round the corners. */
function looseOffsets(path: Path, distance: number): Loose[] {
  const breaks = tangentBreaks(path);
  const corners = path.vertices.map((_, i) => cornerOf(path, i, breaks[i]!, distance));
  const found: Loose[] = [];
  for (let i = 0; i < pieceCount(path); i++) {
    const { arrives, leaves, overlap } = corners[i]!;
    if (arrives !== leaves && !overlap)
      found.push({ from: { ...arrives, bulge: Math.tan(breaks[i]! / 4) }, to: leaves });
    if (!vanishes(path.vertices[i]!, pieceEnd(path, i), distance))
      found.push({
        from: { ...leaves, bulge: bulgeOf(path, i, corners) },
        to: corners[(i + 1) % corners.length]!.arrives,
      });
  }
  return found;
}

/** The part of a piece between two fractions of its length. */
function partOf(piece: Loose, begin: number, end: number): Loose {
  const bulge = Math.tan(Math.atan(piece.from.bulge) * (end - begin));
  const from = begin === 0 ? piece.from : pointOnPiece(piece.from, piece.to, begin);
  const to = end === 1 ? piece.to : pointOnPiece(piece.from, piece.to, end);
  return { from: { x: from.x, y: from.y, bulge }, to: { x: to.x, y: to.y } };
}

/** The parts one after the other, or null when they do not make one loop. */
function stitched(parts: readonly Loose[]): Path | null {
  const first = parts[0];
  if (!first) return null;
  const left = new Set(parts);
  const vertices: Vertex[] = [];
  let part = first;
  for (;;) {
    left.delete(part);
    vertices.push(part.from);
    if (meet(part, first)) break;
    const next = [...left].find((other) => meet(part, other));
    if (!next) return null;
    part = next;
  }
  return left.size === 0 ? { vertices, closed: true } : null;
}

/** True when one part ends where the other begins. */
function meet(part: Loose, next: Loose): boolean {
  return hypotenuse(next.from.x - part.to.x, next.from.y - part.to.y) < GAP;
}

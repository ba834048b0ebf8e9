/**
 * Bends of a solved line so small that they are corners: where the corner of a plan is hardly rounder than the bend
 * at the base, the bend begins about an arc that is nearly a point, with all its nodes within some hundredths of a
 * millimetre.
 */

import { wrapAngle } from '../geometry/arc.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { tangentOf } from '../geometry/rimCurve.ts';

/** A line of quadratic edges: corner, middle, corner, …; x y a node, mm. */
export interface NodeLine {
  readonly points: Float64Array;
  /** Whether an open line begins with a corner on its mirror line. */
  readonly cornerAtStart: boolean;
  /** The same at its end. */
  readonly cornerAtEnd: boolean;
}

/** Directions of travel at the ends of an open line that lie on mirror lines, radians. */
export interface MirrorTangents {
  readonly start: number;
  readonly end: number;
}

/**
 * The line with one node, a corner, for each point arc: a row of edges that turns by more than `cornerTurn` and is
 * no longer than two tolerances, so that the corner lies within a tolerance of it. The line comes back as it is when
 * it has none.
 *
 * @param points    x y a node, mm; not changed
 * @param tangents  of an open line between two mirror lines, else null
 * @param tolerance mm
 * @param cornerTurn radians
 */
export function pointArcsAsCorners(
  points: Float64Array,
  closed: boolean,
  tangents: MirrorTangents | null,
  tolerance: number,
  cornerTurn: number,
): NodeLine {
  const unchanged = { points, cornerAtStart: false, cornerAtEnd: false };
  const lengths = edgeLengths(points, closed);
  const short = (edge: number): boolean => lengths[edge]! <= 2 * tolerance;
  if (!lengths.some((_, edge) => short(edge)) || lengths.every((_, edge) => short(edge))) return unchanged;
  const row = closed ? openedAt(points, lengths.indexOf(Math.max(...lengths))) : points;
  const own = edgeLengths(row, false);
  const kept: number[] = [];
  let [cornerAtStart, cornerAtEnd] = [false, false];
  let found = false;
  for (let edge = 0; edge < own.length; ) {
    let end = edge;
    let length = 0;
    while (end < own.length && own[end]! <= 2 * tolerance) length += own[end++]!;
    if (end > edge && length <= 2 * tolerance) {
      const atStart = edge === 0;
      const atEnd = end === own.length;
      const before = atStart ? tangents?.start : tangentOf(row, 2 * edge, -1);
      const after = atEnd && !closed ? tangents?.end : tangentOf(row, atEnd ? 0 : 2 * end, 1);
      if (before !== undefined && after !== undefined && Math.abs(wrapAngle(after - before)) > cornerTurn) {
        // Mirror lines stand square to the line.
        const u = atStart ? before + Math.PI / 2 : before;
        const v = atEnd && !closed ? after + Math.PI / 2 : after;
        const ends = row.subarray(4 * edge, 4 * end + 2);
        // A row that turns back has no such corner near it; its ends are as good.
        const corner = cornerOf(ends, u, v) ?? [...(atStart ? ends.subarray(0, 2) : ends.subarray(-2))];
        // The node at which the row begins has been kept already.
        if (!atStart) kept.length -= 2;
        kept.push(...corner);
        cornerAtStart ||= atStart;
        cornerAtEnd ||= atEnd;
        // A closed line begins where it ends.
        if (atEnd && closed) kept.splice(0, 2, ...corner);
        found = true;
        edge = end;
        continue;
      }
    }
    if (edge === 0) kept.push(row[0]!, row[1]!);
    const last = Math.max(end, edge + 1);
    for (let i = 2 * edge + 1; i <= 2 * last; i++) kept.push(row[2 * i]!, row[2 * i + 1]!);
    edge = last;
  }
  if (!found) return unchanged;
  if (closed) kept.length -= 2;
  return { points: Float64Array.from(kept), cornerAtStart, cornerAtEnd: cornerAtEnd && !closed };
}

/** A closed line as an open one that begins and ends at the first node of an edge. */
function openedAt(points: Float64Array, edge: number): Float64Array {
  const from = 4 * edge;
  const out = new Float64Array(points.length + 2);
  out.set(points.subarray(from));
  out.set(points.subarray(0, from), points.length - from);
  out.set(points.subarray(from, from + 2), points.length);
  return out;
}

function edgeLengths(points: Float64Array, closed: boolean): number[] {
  const count = points.length / 2;
  const lengths: number[] = [];
  for (let i = 0; i < (closed ? count : count - 1); i += 2) {
    const [m, b] = [i + 1, (i + 2) % count];
    lengths.push(
      hypotenuse(points[2 * m]! - points[2 * i]!, points[2 * m + 1]! - points[2 * i + 1]!) +
        hypotenuse(points[2 * b]! - points[2 * m]!, points[2 * b + 1]! - points[2 * m + 1]!),
    );
  }
  return lengths;
}

/**
 * Where the line in the direction `u` through the first point of a point arc and the line in the direction `v` through its
 * last one meet, if that is near.
 */
function cornerOf(row: Float64Array, u: number, v: number): [number, number] | null {
  const [ax, ay] = [row[0]!, row[1]!];
  const [bx, by] = [row.at(-2)!, row.at(-1)!];
  const cross = Math.sin(v - u);
  const t = ((bx - ax) * Math.sin(v) - (by - ay) * Math.cos(v)) / cross;
  if (!(Math.abs(t) <= hypotenuse(bx - ax, by - ay))) return null;
  return [ax + t * Math.cos(u), ay + t * Math.sin(u)];
}

/**
 * Marks as lines that never close: a program that reads every closed line as a contour, whatever its layer, would
 * otherwise cut the base out of the blank along its bend.
 *
 * A closed line is broken in the middle of each of its sides, where a straightedge finds the line again; one without
 * sides, a circle, in four places. Lines whose ends meet are broken too where they would run round in a ring. A line
 * that ends on what is cut stops short of it, so that nobody follows it out of a contour. A closed line of less than
 * a millimetre is a point to a scriber, and is left out.
 */

import { pieceCount, pieceEnd, pieceLength, pointOnPiece } from '../../geometry/arc.ts';
import { hypotenuse } from '../../geometry/hypotenuse.ts';
import { distanceToPath, pathLength, tangentBreaks } from '../../geometry/measure.ts';
import type { Path, Point, Vertex } from '../../geometry/path.ts';

/** Gap in a line, mm: far above the 0.01 to 0.1 mm over which programs join ends; common practice, no source. */
const GAP = 4;
/** A gap takes at most this share of a line; what is left stays readable. */
const GAP_SHARE = 1 / 12;
/** Smallest gap, mm, but for a line that is hardly longer. */
const SMALLEST_GAP = 0.5;
/** A shorter line, mm, is left out where it would have to be broken. */
const SHORTEST = 1;
/** Ends nearer to each other than this, mm, count as joined. */
const JOINED = 0.5;
/** How far a line stops short of a line that is cut, mm. */
const CLEAR = 1;
/** A piece of a smaller radius than this share of the line's length is no side; a circle's is a sixth of it. */
const SIDE_RADIUS = 1 / 2;
/** A turn between two pieces of more than this, radians, ends a side. */
const SIDE_TURN = 0.1;
/** Sides that are broken at most, the longest ones. */
const MOST_GAPS = 4;

/**
 * The same lines, open, and without a ring when their ends are joined.
 *
 * @param groups lines layer by layer; closed or open; not changed
 * @param cut    what is cut, closed
 * @returns as many groups
 */
export function openMarks(groups: readonly (readonly Path[])[], cut: readonly Path[]): Path[][] {
  const ends = new Ends();
  return groups.map((lines) =>
    lines
      .flatMap((line) => (line.closed ? opened(line) : [shortOf(line, cut)]))
      .flatMap((line) => withoutRing(line, ends)),
  );
}

/** The line, or what is left of it when it must not close a ring with those before. */
function withoutRing(line: Path, ends: Ends): Path[] {
  if (line.vertices.length < 2 || !ends.join(line)) return [line];
  return pathLength(line) < SHORTEST ? [] : halves(line).flatMap((half) => withoutRing(half, ends));
}

/** Ends of lines that have been met, in sets that hang together. */
class Ends {
  private readonly points: Point[] = [];
  private readonly parents: number[] = [];

  /** Adds a line; true when it closes a ring. */
  join({ vertices }: Path): boolean {
    const [first, last] = [this.add(vertices[0]!), this.add(vertices.at(-1)!)];
    const [a, b] = [this.root(first), this.root(last)];
    if (a === b) return true;
    this.parents[a] = b;
    return false;
  }

  /** The number of the point. */
  private add(point: Point): number {
    const own = this.points.length;
    this.points.push(point);
    this.parents.push(own);
    for (const [i, { x, y }] of this.points.entries()) {
      if (i < own && hypotenuse(x - point.x, y - point.y) < JOINED)
        this.parents[this.root(i)] = this.root(own);
    }
    return own;
  }

  private root(of: number): number {
    let at = of;
    while (this.parents[at] !== at) at = this.parents[at]!;
    return at;
  }
}

/** A closed line as open ones, with gaps between them. */
function opened(line: Path): Path[] {
  const length = pathLength(line);
  if (!(length >= SHORTEST)) return [];
  const gap = gapOf(length);
  const middles = middlesOfSides(line, length, gap);
  const places =
    middles.length > 1
      ? middles
      : Array.from({ length: MOST_GAPS }, (_, k) => (middles[0] ?? length / 8) + (k * length) / MOST_GAPS);
  // A line hardly longer than its gaps has one.
  const kept = places.length * gap > length / 2 ? places.slice(0, 1) : places;
  return kept.map((place, i) => {
    const next = i + 1 < kept.length ? kept[i + 1]! : kept[0]! + length;
    return stretch(line, place + gap / 2, next - gap / 2);
  });
}

const gapOf = (length: number): number =>
  Math.min(GAP, Math.max(SMALLEST_GAP, length * GAP_SHARE), length / 2);

/** An open line in two, with a gap in its middle. */
function halves(line: Path): Path[] {
  const length = pathLength(line);
  const gap = gapOf(length);
  return [stretch(line, 0, (length - gap) / 2), stretch(line, (length + gap) / 2, length)];
}

/** Where along a closed line its longest sides have their middles, mm from the first vertex, in order. */
function middlesOfSides(line: Path, length: number, gap: number): number[] {
  const breaks = tangentBreaks(line);
  const count = pieceCount(line);
  const pieces = line.vertices.map((vertex, i) => {
    const own = pieceLength(vertex, pieceEnd(line, i));
    const turn = 4 * Math.atan(Math.abs(vertex.bulge));
    return { length: own, straight: turn * SIDE_RADIUS * length <= own };
  });
  const follows = (i: number): boolean =>
    pieces[i]!.straight && pieces[(i + count - 1) % count]!.straight && Math.abs(breaks[i]!) < SIDE_TURN;
  const first = pieces.findIndex((piece, i) => piece.straight && !follows(i));
  if (first < 0) return [];
  const sides: { middle: number; length: number }[] = [];
  let at = pieces.slice(0, first).reduce((sum, piece) => sum + piece.length, 0);
  let start = at;
  for (let k = 0; k < count; k++) {
    const i = (first + k) % count;
    if (!follows(i)) start = at;
    at += pieces[i]!.length;
    const next = (i + 1) % count;
    if (pieces[i]!.straight && (k + 1 === count || !follows(next)))
      sides.push({ middle: (start + at) / 2, length: at - start });
  }
  return sides
    .filter((side) => side.length > 3 * gap)
    .sort((a, b) => b.length - a.length)
    .slice(0, MOST_GAPS)
    .map(({ middle }) => middle)
    .sort((a, b) => a - b);
}

/** An open line, shortened at an end that lies on what is cut. */
function shortOf(line: Path, cut: readonly Path[]): Path {
  if (line.vertices.length < 2) return line;
  const length = pathLength(line);
  const trim = (end: Point): number =>
    cut.some((path) => distanceToPath(end, path) < CLEAR) ? Math.min(CLEAR, length / 4) : 0;
  const [from, to] = [trim(line.vertices[0]!), trim(line.vertices.at(-1)!)];
  return from === 0 && to === 0 ? line : stretch(line, from, length - to);
}

/** The open line from one distance along a line to another, mm; on a closed one the second may be past its end. */
function stretch(line: Path, from: number, to: number): Path {
  const vertices: Vertex[] = [];
  const count = pieceCount(line);
  let at = 0;
  for (let k = 0; at < to && k < 2 * count; k++) {
    const start = line.vertices[k % count]!;
    const end = pieceEnd(line, k % count);
    const length = pieceLength(start, end);
    const [begin, stop] = [Math.max(0, from - at) / length, Math.min(1, (to - at) / length)];
    if (stop - begin > 1e-9) {
      const { x, y } = begin === 0 ? start : pointOnPiece(start, end, begin);
      vertices.push({ x, y, bulge: Math.tan(Math.atan(start.bulge) * (stop - begin)) });
      if (at + length >= to - 1e-9) {
        const last = stop === 1 ? end : pointOnPiece(start, end, stop);
        vertices.push({ x: last.x, y: last.y, bulge: 0 });
        break;
      }
    }
    at += length;
  }
  return { vertices, closed: false };
}

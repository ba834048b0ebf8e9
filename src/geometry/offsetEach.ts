/** Offset of a closed path by a distance of its own for every piece. */
import { GatherpanError } from '../errors.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import { selfIntersections } from './intersect.ts';
import type { Path, Vertex } from './path.ts';
import {
  bulgeBetween,
  crossingNear,
  directionAt,
  type MovedEdge,
  movedRadius,
  planEdge,
} from './planEdges.ts';

/** Pieces that turn by less than this, in radians, at a vertex run on into each other. */
const SMOOTH = 1e-4;
/**
 * An arc and its neighbour that turn by less, in radians, may not meet any more when both are moved: their ends are
 * then apart by this share of the distance at most, and meet half-way.
 */
const SLIGHT = 0.02;

/** Why an outline cannot be moved out. */
export type OffsetFault = keyof Words['messages']['outline']['trimTooLarge'];

/**
 * Moves every piece of a closed counter-clockwise path outwards by its own distance; neighbours are lengthened
 * or shortened to where they meet. An arc beside a piece that moves further out runs on straight to it.
 *
 * @param distances one per piece (the piece that starts at the vertex of that number), mm, outwards positive
 * @throws GatherpanError NOT_MAKEABLE when neighbours do not meet any more, an arc vanishes, or the result
 *         crosses itself
 */
export function offsetEach(path: Path, distances: readonly number[]): Path {
  const count = path.vertices.length;
  const edges = path.vertices.map((vertex, i) => ({
    edge: planEdge(vertex, path.vertices[(i + 1) % count]!),
    left: -distances[i]!,
  }));
  const corners = path.vertices.map((vertex, i) => {
    const before = (i + count - 1) % count;
    const corner = cornerOf(vertex, edges[before]!, edges[i]!);
    if (corner === null) {
      throw trimTooLarge('piecesApart', Math.max(distances[before]!, distances[i]!));
    }
    return corner;
  });
  const vertices = corners.flatMap(({ end, begin }, i): Vertex[] => {
    const moved = edges[i]!;
    const { edge } = moved;
    const [x, y] = begin;
    const between = end === begin ? [] : [{ x: end[0], y: end[1], bulge: 0 }];
    if (edge.curvature === 0) return [...between, { x, y, bulge: 0 }];
    if (movedRadius(moved) <= 0) throw trimTooLarge('tightCurve', distances[i]!);
    const [endX, endY] = corners[(i + 1) % count]!.end;
    return [...between, { x, y, bulge: bulgeBetween(edge, { x, y }, { x: endX, y: endY }) }];
  });
  const moved: Path = { vertices, closed: true };
  if (selfIntersections(moved).length > 0) throw trimTooLarge('crosses', Math.max(...distances));
  return moved;
}

/** Where the piece before a corner ends and the piece after it begins; a straight piece joins them when they differ. */
interface MovedCorner {
  readonly end: readonly [number, number];
  readonly begin: readonly [number, number];
}

/** Null when the two do not meet any more. */
function cornerOf(vertex: Vertex, before: MovedEdge, after: MovedEdge): MovedCorner | null {
  const { x, y } = vertex;
  const [outOfBefore, outOfAfter] = [-before.left, -after.left];
  const [ax, ay] = directionAt(before.edge, x, y);
  const [bx, by] = directionAt(after.edge, x, y);
  const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  if (outOfBefore === outOfAfter && (Math.abs(turn) < SMOOTH || outOfAfter === 0)) {
    const at = [x + by * outOfAfter, y - bx * outOfAfter] as const;
    return { end: at, begin: at };
  }
  /** An edge goes on straight, moved as far as it is. */
  const straight = ({ left }: MovedEdge, tx: number, ty: number): MovedEdge => ({
    edge: planEdge({ x, y }, { x: x + tx, y: y + ty }),
    left,
  });
  if (before.edge.curvature !== 0 && outOfBefore < outOfAfter) {
    const end = [x + ay * outOfBefore, y - ax * outOfBefore] as const;
    const begin = crossingNear(straight(before, ax, ay), after, vertex);
    if (begin !== null && (begin[0] - end[0]) * ax + (begin[1] - end[1]) * ay > 0) return { end, begin };
  }
  if (after.edge.curvature !== 0 && outOfAfter < outOfBefore) {
    const begin = [x + by * outOfAfter, y - bx * outOfAfter] as const;
    const end = crossingNear(before, straight(after, bx, by), vertex);
    if (end !== null && (begin[0] - end[0]) * bx + (begin[1] - end[1]) * by > 0) return { end, begin };
  }
  const crossing = crossingNear(before, after, vertex);
  if (crossing === null && outOfBefore === outOfAfter && Math.abs(turn) < SLIGHT) {
    const middle = [x + (outOfAfter * (ay + by)) / 2, y - (outOfAfter * (ax + bx)) / 2] as const;
    return { end: middle, begin: middle };
  }
  return crossing === null ? null : { end: crossing, begin: crossing };
}

const trimTooLarge = (why: OffsetFault, distance: number): GatherpanError =>
  new GatherpanError('NOT_MAKEABLE', {
    path: 'forming.trim',
    message: words().messages.outline.trimTooLarge[why](String(distance)),
  });

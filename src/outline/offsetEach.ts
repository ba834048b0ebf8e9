/** Offset of a closed path by a distance of its own for every piece. */
import { GatherpanError } from '../errors.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import { selfIntersections } from './intersect.ts';
import type { Path, Vertex } from './path.ts';
import {
  bulgeBetween,
  crossingOfMoved,
  directionAt,
  movedRadius,
  type PlanEdge,
  planEdge,
} from './planEdges.ts';

/** Pieces that turn by less than this, in radians, at a vertex run on into each other. */
const SMOOTH = 1e-4;

/**
 * Moves every piece of a closed counter-clockwise path outwards by its own distance; neighbours are lengthened
 * or shortened to where they meet.
 *
 * @param distances one per piece (the piece that starts at the vertex of that number), mm, outwards positive
 * @throws GatherpanError NOT_MAKEABLE when neighbours do not meet any more, an arc vanishes, or the result
 *         crosses itself
 */
export function offsetEach(path: Path, distances: readonly number[]): Path {
  const count = path.vertices.length;
  const edges = path.vertices.map((vertex, i) => planEdge(vertex, path.vertices[(i + 1) % count]!));
  const points = path.vertices.map((vertex, i) => {
    const before = (i + count - 1) % count;
    return cornerOf(vertex, edges[before]!, distances[before]!, edges[i]!, distances[i]!);
  });
  const vertices: Vertex[] = points.map(([x, y], i) => {
    const edge = edges[i]!;
    if (edge.curvature === 0) return { x, y, bulge: 0 };
    if (movedRadius(edge, -distances[i]!) <= 0) throw doesNotFit(distances[i]!, 'tightCurve');
    const [endX, endY] = points[(i + 1) % count]!;
    return { x, y, bulge: bulgeBetween(edge, { x, y }, { x: endX, y: endY }) };
  });
  const moved: Path = { vertices, closed: true };
  if (selfIntersections(moved).length > 0) throw doesNotFit(Math.max(...distances), 'crosses');
  return moved;
}

function cornerOf(
  vertex: Vertex,
  before: PlanEdge,
  outOfBefore: number,
  after: PlanEdge,
  outOfAfter: number,
): readonly [number, number] {
  const [ax, ay] = directionAt(before, vertex.x, vertex.y);
  const [bx, by] = directionAt(after, vertex.x, vertex.y);
  const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  if (outOfBefore === outOfAfter && (Math.abs(turn) < SMOOTH || outOfAfter === 0)) {
    return [vertex.x + by * outOfAfter, vertex.y - bx * outOfAfter];
  }
  const crossing = crossingOfMoved(before, -outOfBefore, after, -outOfAfter, vertex.x, vertex.y);
  if (crossing === null) throw doesNotFit(Math.max(outOfBefore, outOfAfter), 'piecesApart');
  return crossing;
}

function doesNotFit(
  distance: number,
  why: keyof Words['messages']['outline']['trimTooLarge'],
): GatherpanError {
  return new GatherpanError('NOT_MAKEABLE', {
    path: 'forming.trim',
    message: words().messages.outline.trimTooLarge[why](String(distance)),
  });
}

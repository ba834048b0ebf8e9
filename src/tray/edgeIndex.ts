/**
 * Edges found by where they are, so that a check of many against many takes time near to linear in their number.
 *
 * Lengths in mm.
 */
import Flatbush from 'flatbush';
import { commonPoints, distanceBetween, distanceTo, edgeBounds } from '../geometry/edgeMeasures.ts';
import type { PlanEdge } from '../geometry/planEdges.ts';

export interface EdgeIndex {
  /**
   * Numbers, in rising order, of the edges that may be nearer to an edge than a distance; every one that is nearer
   * is among them.
   */
  near(edge: PlanEdge, distance: number): number[];
}

/**
 * @param reaches by how much each edge is thicker than a line, on both sides; 0 when left out. What `near` finds is
 *   then near to the thick edge.
 */
export function edgeIndex(edges: readonly PlanEdge[], reaches?: readonly number[]): EdgeIndex {
  if (edges.length === 0) return { near: () => [] };
  const index = new Flatbush(edges.length);
  edges.forEach((edge, i) => {
    const reach = reaches?.[i] ?? 0;
    const [[left, right], [low, high]] = edgeBounds([edge]);
    index.add(left - reach, low - reach, right + reach, high + reach);
  });
  index.finish();
  return {
    near(edge, distance) {
      const [[left, right], [low, high]] = edgeBounds([edge]);
      return index
        .search(left - distance, low - distance, right + distance, high + distance, (i) => {
          // Long slanting edges have large boxes: one that lies wholly to one side of another is told at once.
          const apart = distance + (reaches?.[i] ?? 0);
          return !isBeside(edge, edges[i]!, apart) && !isBeside(edges[i]!, edge, apart);
        })
        .sort((a, b) => a - b);
    },
  };
}

/** Whether both ends of a straight edge lie on one side of another straight one, further than `apart` from its line. */
function isBeside(line: PlanEdge, edge: PlanEdge, apart: number): boolean {
  if (line.curvature !== 0 || edge.curvature !== 0) return false;
  const dx = line.x1 - line.x0;
  const dy = line.y1 - line.y0;
  const start = dx * (edge.y0 - line.y0) - dy * (edge.x0 - line.x0);
  const end = dx * (edge.y1 - line.y0) - dy * (edge.x1 - line.x0);
  if (start > 0 !== end > 0) return false;
  return Math.min(Math.abs(start), Math.abs(end)) > apart * Math.hypot(dx, dy);
}

/**
 * Numbers of two edges of a closed chain that meet elsewhere than at an end they share, the lower first, or
 * undefined when no two do.
 *
 * @param smallest distance below which they meet
 */
export function meetingEdges(
  edges: readonly PlanEdge[],
  smallest: number,
): readonly [number, number] | undefined {
  const count = edges.length;
  const index = edgeIndex(edges);
  for (let i = 0; i < count; i++) {
    const edge = edges[i]!;
    const next = (i + 1) % count;
    if (comeRound(edge, edges[next]!, smallest)) return [i, next];
    for (const j of index.near(edge, smallest)) {
      if (j < i + 2 || (i === 0 && j === count - 1)) continue;
      if (distanceBetween(edge, edges[j]!) < smallest) return [i, j];
    }
  }
  return undefined;
}

/**
 * Whether an edge and the next one, which share one or both ends, meet elsewhere too: one touches the other with its
 * far end, lies on it, or comes round to it again.
 */
function comeRound(a: PlanEdge, b: PlanEdge, smallest: number): boolean {
  const closed = a.x0 === b.x1 && a.y0 === b.y1;
  if (!closed && (distanceTo(a, b.x1, b.y1) < smallest || distanceTo(b, a.x0, a.y0) < smallest)) return true;
  const ends = [
    [a.x0, a.y0],
    [a.x1, a.y1],
    [b.x0, b.y0],
    [b.x1, b.y1],
  ] as const;
  return commonPoints(a, b).some(([x, y]) => ends.every(([ex, ey]) => Math.hypot(ex - x, ey - y) > smallest));
}

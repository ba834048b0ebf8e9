/** Small breaks of a path in its direction, rounded within a tolerance. */
import { pieceCount, pieceEnd, pieceLength } from './arc.ts';
import { SMOOTH } from './intersect.ts';
import { tangentBreaks } from './measure.ts';
import type { Path, Vertex } from './path.ts';
import { bulgeBetween, filletOf, type PlanEdge, planEdge } from './planEdges.ts';

/**
 * The path with an arc at every break in direction that such an arc can take up: it leaves the corner by
 * `tolerance` at most, is at least `shortest` long, and leaves at least half of the pieces beside it. Other breaks
 * stay, and so do the ends of an open path.
 *
 * Between lines, a break by the angle t is taken up by an arc of the radius 8·tolerance/t², nearly, which is
 * 8·tolerance/t long: for 0.015 mm and 0.5 mm, a break of up to 14°.
 *
 * @param tolerance mm
 * @param shortest  mm
 */
export function eased(path: Path, tolerance: number, shortest: number): Path {
  const count = path.vertices.length;
  const breaks = tangentBreaks(path);
  const edges = Array.from({ length: pieceCount(path) }, (_, i) =>
    planEdge(path.vertices[i]!, pieceEnd(path, i)),
  );
  const lengths = edges.map((_, i) => pieceLength(path.vertices[i]!, pieceEnd(path, i)));
  const arcs = path.vertices.map((vertex, i): Vertex[] => {
    const turn = Math.abs(breaks[i] ?? 0);
    if (turn < SMOOTH || (!path.closed && (i === 0 || i === count - 1))) return [vertex];
    const before = (i + count - 1) % count;
    const [a, b] = [edges[before]!, edges[i]!];
    const room = Math.min(lengths[before]!, lengths[i]!) / 2;
    const straight = Math.min(tolerance / (1 / Math.cos(turn / 2) - 1), room / Math.tan(turn / 2));
    // Between pieces that bend the same way an arc of that radius would be longer, and leave the corner by more.
    const side = Math.sign(breaks[i]!);
    const radius = 1 / (1 / straight + Math.max(0, side * a.curvature, side * b.curvature));
    return arcAt(vertex, radius, shortest, a, b) ?? [vertex];
  });
  if (arcs.every((arc) => arc.length === 1)) return path;
  const vertices = arcs.flatMap((arc, i) => {
    const next = arcs[(i + 1) % count]!;
    const whole = arc.length === 1 && next.length === 1;
    if (i >= edges.length || whole) return arc;
    const last = arc[arc.length - 1]!;
    return [...arc.slice(0, -1), { ...last, bulge: bulgeBetween(edges[i]!, last, next[0]!) }];
  });
  return { vertices, closed: path.closed };
}

/** The two ends of the arc that joins two pieces at their common end, or null when there is none of that length. */
function arcAt(
  vertex: Vertex,
  radius: number,
  shortest: number,
  before: PlanEdge,
  after: PlanEdge,
): [Vertex, Vertex] | null {
  const fillet = filletOf(before, after, vertex, radius);
  if (fillet === null || radius * Math.abs(fillet.sweep) < shortest) return null;
  const { from, to, sweep } = fillet;
  return [
    { x: from[0], y: from[1], bulge: Math.tan(sweep / 4) },
    { x: to[0], y: to[1], bulge: 0 },
  ];
}

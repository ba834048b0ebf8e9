/** Lengths, positions and distances on straight edges and arcs; mm, radians. */
import { crossingsOf, directionAt, footOn, type PlanEdge } from './planEdges.ts';

const TURN = 2 * Math.PI;

/** Angle an edge turns through, positive to the left; 0 for a straight edge. */
export function edgeSweep(edge: PlanEdge): number {
  if (edge.curvature === 0) return 0;
  const sign = Math.sign(edge.curvature);
  const from = Math.atan2(edge.y0 - edge.centreY, edge.x0 - edge.centreX);
  const to = Math.atan2(edge.y1 - edge.centreY, edge.x1 - edge.centreX);
  const turned = (((sign * (to - from)) % TURN) + TURN) % TURN;
  return sign * turned;
}

/** Length of an edge. */
export const edgeLength = (edge: PlanEdge): number =>
  edge.curvature === 0 ? Math.hypot(edge.x1 - edge.x0, edge.y1 - edge.y0) : edgeSweep(edge) / edge.curvature;

/** Distance along an edge of a point of its line or circle; negative before the start, over the length after the end. */
export function alongEdge(edge: PlanEdge, x: number, y: number): number {
  if (edge.curvature === 0) {
    const [tx, ty] = directionAt(edge, x, y);
    return (x - edge.x0) * tx + (y - edge.y0) * ty;
  }
  const sign = Math.sign(edge.curvature);
  const from = Math.atan2(edge.y0 - edge.centreY, edge.x0 - edge.centreX);
  const at = Math.atan2(y - edge.centreY, x - edge.centreX);
  // Of all whole turns, the one nearest to the edge's middle.
  const middle = Math.abs(edgeSweep(edge)) / 2;
  const turned = sign * (at - from);
  return (turned - TURN * Math.round((turned - middle) / TURN)) / Math.abs(edge.curvature);
}

/** Shortest distance from a point to an edge. */
export function distanceTo(edge: PlanEdge, x: number, y: number): number {
  const atEnds = Math.min(Math.hypot(x - edge.x0, y - edge.y0), Math.hypot(x - edge.x1, y - edge.y1));
  const [fx, fy] = footOn(edge, x, y);
  return isOn(edge, fx, fy) ? Math.min(atEnds, Math.hypot(x - fx, y - fy)) : atEnds;
}

/** Whether a point of an edge's line or circle lies between the edge's ends. */
function isOn(edge: PlanEdge, x: number, y: number): boolean {
  const along = alongEdge(edge, x, y);
  return along >= 0 && along <= edgeLength(edge);
}

/** Points that two edges have in common, touching ends aside that miss each other by rounding. */
export const commonPoints = (a: PlanEdge, b: PlanEdge): readonly (readonly [number, number])[] =>
  crossingsOf({ edge: a, left: 0 }, { edge: b, left: 0 }).filter(([x, y]) => isOn(a, x, y) && isOn(b, x, y));

/** Shortest distance between two edges, 0 where they cross. */
export function distanceBetween(a: PlanEdge, b: PlanEdge): number {
  if (commonPoints(a, b).length > 0) return 0;
  return Math.min(
    distanceTo(b, a.x0, a.y0),
    distanceTo(b, a.x1, a.y1),
    distanceTo(a, b.x0, b.y0),
    distanceTo(a, b.x1, b.y1),
    ...innerPoints(a, b).map(([x, y]) => distanceTo(b, x, y)),
    ...innerPoints(b, a).map(([x, y]) => distanceTo(a, x, y)),
  );
}

/** Points of an edge, off its ends, that may be the nearest to an arc: those in line with the arc's centre. */
function innerPoints(edge: PlanEdge, other: PlanEdge): (readonly [number, number])[] {
  if (other.curvature === 0) return [];
  const { centreX, centreY } = other;
  if (edge.curvature === 0) return [footOn(edge, centreX, centreY)].filter(([x, y]) => isOn(edge, x, y));
  const away = Math.hypot(centreX - edge.centreX, centreY - edge.centreY);
  if (away === 0) return [];
  const [nx, ny] = footOn(edge, centreX, centreY);
  const opposite = [2 * edge.centreX - nx, 2 * edge.centreY - ny] as const;
  return [[nx, ny] as const, opposite].filter(([x, y]) => isOn(edge, x, y));
}

/** Lowest and highest coordinate of edges, arcs included. */
export function edgeBounds(
  edges: readonly PlanEdge[],
): readonly [x: readonly [number, number], y: readonly [number, number]] {
  const xs: number[] = [];
  const ys: number[] = [];
  const take = (x: number, y: number): void => {
    xs.push(x);
    ys.push(y);
  };
  for (const edge of edges) {
    take(edge.x0, edge.y0);
    take(edge.x1, edge.y1);
    if (edge.curvature === 0) continue;
    const radius = 1 / Math.abs(edge.curvature);
    for (const [x, y] of [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ] as const) {
      const at = [edge.centreX + radius * x, edge.centreY + radius * y] as const;
      if (isOn(edge, ...at)) take(...at);
    }
  }
  return [
    [Math.min(...xs), Math.max(...xs)],
    [Math.min(...ys), Math.max(...ys)],
  ];
}

/** Area inside a closed chain of edges, positive when it runs counter-clockwise. */
export function edgesArea(edges: readonly PlanEdge[]): number {
  return edges.reduce((sum, edge) => {
    const sweep = edgeSweep(edge);
    const cap = edge.curvature === 0 ? 0 : (sweep - Math.sin(sweep)) / (2 * edge.curvature * edge.curvature);
    return sum + (edge.x0 * edge.y1 - edge.y0 * edge.x1) / 2 + cap;
  }, 0);
}

/** Whether a point lies inside a closed chain of edges that does not cross itself; one on an edge may go either way. */
export function isInside(edges: readonly PlanEdge[], x: number, y: number): boolean {
  // How often a ray to the right meets the chain. Pieces hold their lower end but not their upper one.
  let inside = false;
  for (const edge of edges) {
    const ends = edge.curvature === 0 ? undefined : risesAndFalls(edge);
    const pieces = ends === undefined ? 1 : ends.length - 1;
    for (let k = 0; k < pieces; k++) {
      const [from, to] = ends === undefined ? [edge.y0, edge.y1] : [ends[k]!, ends[k + 1]!];
      if (from > y !== to > y && meetsAt(edge, from, to, y) > x) inside = !inside;
    }
  }
  return inside;
}

/** Heights of an arc's ends and, between them, of the highest and lowest points of its circle that it passes. */
function risesAndFalls(edge: PlanEdge): readonly number[] {
  const sign = Math.sign(edge.curvature);
  const radius = 1 / Math.abs(edge.curvature);
  const from = Math.atan2(edge.y0 - edge.centreY, edge.x0 - edge.centreX);
  const sweep = Math.abs(edgeSweep(edge));
  const heights = [edge.y0];
  // Top and bottom lie at odd quarter turns.
  for (let quarter = sign * nextOdd((sign * from) / (TURN / 4)); ; quarter += 2 * sign) {
    if (sign * (quarter * (TURN / 4) - from) >= sweep) break;
    heights.push(edge.centreY + radius * Math.sin(quarter * (TURN / 4)));
  }
  heights.push(edge.y1);
  return heights;
}

/** The least odd whole number above a number. */
const nextOdd = (value: number): number => 2 * Math.floor((value + 1) / 2) + 1;

/** Where the piece of an edge from one height to another crosses the height y. */
function meetsAt(edge: PlanEdge, from: number, to: number, y: number): number {
  if (edge.curvature === 0) return edge.x0 + ((y - from) / (to - from)) * (edge.x1 - edge.x0);
  const radius = 1 / Math.abs(edge.curvature);
  const across = Math.sqrt(Math.max(0, radius * radius - (y - edge.centreY) ** 2));
  // What rises counter-clockwise is on the right of the centre.
  return edge.centreX + Math.sign(edge.curvature) * Math.sign(to - from) * across;
}

/** Point at a fraction of an edge. */
export function pointAlong(edge: PlanEdge, fraction: number): readonly [number, number] {
  if (edge.curvature === 0) {
    return [edge.x0 + fraction * (edge.x1 - edge.x0), edge.y0 + fraction * (edge.y1 - edge.y0)];
  }
  const angle = fraction * edgeSweep(edge);
  const [rx, ry] = [edge.x0 - edge.centreX, edge.y0 - edge.centreY];
  return [
    edge.centreX + rx * Math.cos(angle) - ry * Math.sin(angle),
    edge.centreY + rx * Math.sin(angle) + ry * Math.cos(angle),
  ];
}

/**
 * Edges of a plan, straight or arcs, and what one needs to put a fillet between two of them or to move them
 * sideways. Counter-clockwise plans; mm, radians.
 */
import type { Point } from './path.ts';

/** A directed straight edge or arc. */
export interface PlanEdge {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  /** Signed curvature, 1/mm: positive turns left (bulges outwards), 0 straight. */
  readonly curvature: number;
  /** Centre of an arc; NaN for a straight edge. */
  readonly centreX: number;
  readonly centreY: number;
}

/** The edge from one vertex to the next. */
export function planEdge(
  from: { readonly x: number; readonly y: number; readonly bulge?: number },
  to: { readonly x: number; readonly y: number },
): PlanEdge {
  const bulge = from.bulge ?? 0;
  const ends = { x0: from.x, y0: from.y, x1: to.x, y1: to.y };
  if (bulge === 0) return { ...ends, curvature: 0, centreX: Number.NaN, centreY: Number.NaN };
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const chord = Math.hypot(dx, dy);
  // sin(sweep/2) = 2b/(1+b²), so 1/R = 4b/(chord·(1+b²)); the centre lies left of the chord's middle.
  const curvature = (4 * bulge) / (chord * (1 + bulge * bulge));
  const left = (1 - bulge * bulge) / (4 * bulge);
  return {
    ...ends,
    curvature,
    centreX: (from.x + to.x) / 2 - left * dy,
    centreY: (from.y + to.y) / 2 + left * dx,
  };
}

/** Unit direction of travel at a point of an edge. */
export function directionAt(edge: PlanEdge, x: number, y: number): readonly [number, number] {
  if (edge.curvature === 0) {
    const length = Math.hypot(edge.x1 - edge.x0, edge.y1 - edge.y0);
    return [(edge.x1 - edge.x0) / length, (edge.y1 - edge.y0) / length];
  }
  const sign = Math.sign(edge.curvature);
  const rx = x - edge.centreX;
  const ry = y - edge.centreY;
  const radius = Math.hypot(rx, ry);
  return [(-sign * ry) / radius, (sign * rx) / radius];
}

/** Foot of a point on the line or circle of an edge. */
export function footOn(edge: PlanEdge, x: number, y: number): readonly [number, number] {
  if (edge.curvature === 0) {
    const [tx, ty] = directionAt(edge, x, y);
    const along = (x - edge.x0) * tx + (y - edge.y0) * ty;
    return [edge.x0 + along * tx, edge.y0 + along * ty];
  }
  const rx = x - edge.centreX;
  const ry = y - edge.centreY;
  const scale = 1 / (Math.abs(edge.curvature) * Math.hypot(rx, ry));
  return [edge.centreX + rx * scale, edge.centreY + ry * scale];
}

/** An edge that is moved to its left, mm; to its right where that is negative. */
export interface MovedEdge {
  readonly edge: PlanEdge;
  readonly left: number;
}

/** All points in which the lines or circles of two moved edges meet. */
export function crossingsOf(a: MovedEdge, b: MovedEdge): readonly (readonly [number, number])[] {
  if (a.edge.curvature === 0) return b.edge.curvature === 0 ? lineLine(a, b) : lineCircle(a, b);
  return b.edge.curvature === 0 ? lineCircle(b, a) : circleCircle(a, b);
}

/** Where two moved edges meet: the crossing of their lines or circles that lies nearest to a point, or null. */
export function crossingNear(a: MovedEdge, b: MovedEdge, { x, y }: Point): readonly [number, number] | null {
  let best: readonly [number, number] | null = null;
  for (const point of crossingsOf(a, b)) {
    if (best === null || Math.hypot(point[0] - x, point[1] - y) < Math.hypot(best[0] - x, best[1] - y)) {
      best = point;
    }
  }
  return best;
}

/** The arc of a radius that touches two edges on the inside of the turn they make. */
export interface Fillet {
  readonly centre: readonly [number, number];
  /** Where it touches the edge before and the edge after. */
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  /** Angle it turns through, positive to the left. */
  readonly sweep: number;
}

/** The fillet of the corner at which two edges meet, or null when there is none of that radius. */
export function filletOf(before: PlanEdge, after: PlanEdge, corner: Point, radius: number): Fillet | null {
  // The centre lies at the radius from both edges.
  const left = Math.sign(turnBetween(before, [corner.x, corner.y], after, [corner.x, corner.y])) * radius;
  const centre = crossingNear({ edge: before, left }, { edge: after, left }, corner);
  if (centre === null) return null;
  const from = footOn(before, ...centre);
  const to = footOn(after, ...centre);
  return { centre, from, to, sweep: turnBetween(before, from, after, to) };
}

/** Angle from the direction at a point of one edge to that at a point of another, positive to the left. */
export function turnBetween(
  before: PlanEdge,
  from: readonly [number, number],
  after: PlanEdge,
  to: readonly [number, number],
): number {
  const [ax, ay] = directionAt(before, ...from);
  const [bx, by] = directionAt(after, ...to);
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

/** Radius of an arc moved to its left: smaller when it turns left. */
export const movedRadius = ({ edge: { curvature }, left }: MovedEdge): number =>
  1 / Math.abs(curvature) - Math.sign(curvature) * left;

type Points = readonly (readonly [number, number])[];

function movedLine({ edge, left }: MovedEdge): { px: number; py: number; tx: number; ty: number } {
  const [tx, ty] = directionAt(edge, 0, 0);
  return { px: edge.x0 - ty * left, py: edge.y0 + tx * left, tx, ty };
}

function lineLine(a: MovedEdge, b: MovedEdge): Points {
  const p = movedLine(a);
  const q = movedLine(b);
  const cross = p.tx * q.ty - p.ty * q.tx;
  if (Math.abs(cross) < 1e-12) return [];
  const along = ((q.px - p.px) * q.ty - (q.py - p.py) * q.tx) / cross;
  return [[p.px + along * p.tx, p.py + along * p.ty]];
}

function lineCircle(line: MovedEdge, arc: MovedEdge): Points {
  const p = movedLine(line);
  const radius = movedRadius(arc);
  const { centreX, centreY } = arc.edge;
  const along = (centreX - p.px) * p.tx + (centreY - p.py) * p.ty;
  const fx = p.px + along * p.tx;
  const fy = p.py + along * p.ty;
  const square = radius * radius - (fx - centreX) ** 2 - (fy - centreY) ** 2;
  if (square < -1e-9 * radius * radius) return [];
  const half = Math.sqrt(Math.max(0, square));
  return [
    [fx - half * p.tx, fy - half * p.ty],
    [fx + half * p.tx, fy + half * p.ty],
  ];
}

function circleCircle(a: MovedEdge, b: MovedEdge): Points {
  const ra = movedRadius(a);
  const rb = movedRadius(b);
  const { centreX, centreY } = a.edge;
  const dx = b.edge.centreX - centreX;
  const dy = b.edge.centreY - centreY;
  const d = Math.hypot(dx, dy);
  if (d < 1e-12) return [];
  const along = (d * d + ra * ra - rb * rb) / (2 * d);
  const square = ra * ra - along * along;
  if (square < -1e-9 * ra * ra) return [];
  const half = Math.sqrt(Math.max(0, square));
  const mx = centreX + (along * dx) / d;
  const my = centreY + (along * dy) / d;
  return [
    [mx - (half * dy) / d, my + (half * dx) / d],
    [mx + (half * dy) / d, my - (half * dx) / d],
  ];
}

/** Bulge of the stretch of a line, or of a circle about the edge's centre, from one point to another less than a turn ahead. */
export function bulgeBetween(
  edge: PlanEdge,
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
): number {
  if (edge.curvature === 0) return 0;
  const sign = Math.sign(edge.curvature);
  const start = Math.atan2(from.y - edge.centreY, from.x - edge.centreX);
  const end = Math.atan2(to.y - edge.centreY, to.x - edge.centreX);
  const sweep = sign * (end - start);
  return sign * Math.tan((sweep - 2 * Math.PI * Math.floor(sweep / (2 * Math.PI))) / 4);
}

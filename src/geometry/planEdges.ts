/**
 * Edges of a plan, straight or arcs, and what one needs to put a fillet between two of them or to move them
 * sideways. Counter-clockwise plans; mm, radians.
 */

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

/** All points in which the lines or circles of two edges, each moved to its left by a distance, meet. */
export function crossingsOfMoved(
  a: PlanEdge,
  leftOfA: number,
  b: PlanEdge,
  leftOfB: number,
): readonly (readonly [number, number])[] {
  if (a.curvature === 0)
    return b.curvature === 0 ? lineLine(a, leftOfA, b, leftOfB) : lineCircle(a, leftOfA, b, leftOfB);
  return b.curvature === 0 ? lineCircle(b, leftOfB, a, leftOfA) : circleCircle(a, leftOfA, b, leftOfB);
}

/**
 * Where two edges, each moved to its left by a distance, meet: the crossing of their lines or circles that
 * lies nearest to (x, y), or null.
 */
export function crossingOfMoved(
  a: PlanEdge,
  leftOfA: number,
  b: PlanEdge,
  leftOfB: number,
  x: number,
  y: number,
): readonly [number, number] | null {
  let best: readonly [number, number] | null = null;
  for (const point of crossingsOfMoved(a, leftOfA, b, leftOfB)) {
    if (best === null || Math.hypot(point[0] - x, point[1] - y) < Math.hypot(best[0] - x, best[1] - y)) {
      best = point;
    }
  }
  return best;
}

/** Radius of an arc moved to its left: smaller when it turns left. */
export const movedRadius = (edge: PlanEdge, left: number): number =>
  1 / Math.abs(edge.curvature) - Math.sign(edge.curvature) * left;

type Points = readonly (readonly [number, number])[];

function movedLine(edge: PlanEdge, left: number): { px: number; py: number; tx: number; ty: number } {
  const [tx, ty] = directionAt(edge, 0, 0);
  return { px: edge.x0 - ty * left, py: edge.y0 + tx * left, tx, ty };
}

function lineLine(a: PlanEdge, leftOfA: number, b: PlanEdge, leftOfB: number): Points {
  const p = movedLine(a, leftOfA);
  const q = movedLine(b, leftOfB);
  const cross = p.tx * q.ty - p.ty * q.tx;
  if (Math.abs(cross) < 1e-12) return [];
  const along = ((q.px - p.px) * q.ty - (q.py - p.py) * q.tx) / cross;
  return [[p.px + along * p.tx, p.py + along * p.ty]];
}

function lineCircle(line: PlanEdge, leftOfLine: number, arc: PlanEdge, leftOfArc: number): Points {
  const p = movedLine(line, leftOfLine);
  const radius = movedRadius(arc, leftOfArc);
  const along = (arc.centreX - p.px) * p.tx + (arc.centreY - p.py) * p.ty;
  const fx = p.px + along * p.tx;
  const fy = p.py + along * p.ty;
  const square = radius * radius - (fx - arc.centreX) ** 2 - (fy - arc.centreY) ** 2;
  if (square < -1e-9 * radius * radius) return [];
  const half = Math.sqrt(Math.max(0, square));
  return [
    [fx - half * p.tx, fy - half * p.ty],
    [fx + half * p.tx, fy + half * p.ty],
  ];
}

function circleCircle(a: PlanEdge, leftOfA: number, b: PlanEdge, leftOfB: number): Points {
  const ra = movedRadius(a, leftOfA);
  const rb = movedRadius(b, leftOfB);
  const dx = b.centreX - a.centreX;
  const dy = b.centreY - a.centreY;
  const d = Math.hypot(dx, dy);
  if (d < 1e-12) return [];
  const along = (d * d + ra * ra - rb * rb) / (2 * d);
  const square = ra * ra - along * along;
  if (square < -1e-9 * ra * ra) return [];
  const half = Math.sqrt(Math.max(0, square));
  const mx = a.centreX + (along * dx) / d;
  const my = a.centreY + (along * dy) / d;
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

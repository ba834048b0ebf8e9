/**
 * Convex polygons: what the layout reckons with in place of the outlines.
 *
 * Points x y in turn in flat arrays, counter-clockwise, mm. No two neighbours are the same, no three in line.
 */
import { arcOf, pieceCount, pieceEnd } from '../geometry/arc.ts';
import type { Path } from '../geometry/path.ts';

export type Polygon = Float64Array;

/** Points nearer than this are one, mm. */
const SAME = 1e-9;

/** A vertex the hull is given for an arc stands out from the arc by no more than this, mm. */
const ARC_EXCESS = 0.15;
/** Edges are left out of a hull as long as it grows by no more than this, mm. */
const GROWTH = 0.25;

/**
 * A convex polygon around a closed outline, larger than its convex hull by at most 0.4 mm anywhere.
 *
 * An arc that bulges out is replaced by tangents, so the polygon holds all of it.
 */
export function hullAround(outline: Path): Polygon {
  const points: number[] = [];
  for (let i = 0; i < pieceCount(outline); i++) {
    const from = outline.vertices[i]!;
    points.push(from.x, from.y);
    const arc = arcOf(from, pieceEnd(outline, i));
    if (arc === null || arc.sweep < 0) continue;
    // The tangents at the ends of a step meet R/cos(step/2) from the centre.
    const largest = 2 * Math.acos(arc.radius / (arc.radius + ARC_EXCESS));
    const steps = Math.max(1, Math.ceil(arc.sweep / Math.min(largest, Math.PI / 4)));
    const step = arc.sweep / steps;
    const reach = arc.radius / Math.cos(step / 2);
    for (let k = 0; k < steps; k++) {
      const angle = arc.startAngle + (k + 0.5) * step;
      points.push(arc.centre.x + reach * Math.cos(angle), arc.centre.y + reach * Math.sin(angle));
    }
  }
  return simplified(convexHull(Float64Array.from(points)));
}

/** Convex hull by Andrew's monotone chain (A. M. Andrew, Inf. Process. Lett. 9, 1979). */
export function convexHull(points: Polygon): Polygon {
  const order = Array.from({ length: points.length / 2 }, (_, i) => i).sort(
    (a, b) => points[2 * a]! - points[2 * b]! || points[2 * a + 1]! - points[2 * b + 1]!,
  );
  const half = (list: readonly number[]): number[] => {
    const chain: number[] = [];
    for (const point of list) {
      // Exactly: of two points that are almost one, a tolerance would drop the outer.
      while (chain.length >= 2 && turn(points, chain.at(-2)!, chain.at(-1)!, point) <= 0) chain.pop();
      chain.push(point);
    }
    chain.pop();
    return chain;
  };
  const hull = [...half(order), ...half(order.reverse())];
  return Float64Array.from(hull.flatMap((i) => [points[2 * i]!, points[2 * i + 1]!]));
}

const turn = (p: Polygon, a: number, b: number, c: number): number =>
  (p[2 * b]! - p[2 * a]!) * (p[2 * c + 1]! - p[2 * a + 1]!) -
  (p[2 * b + 1]! - p[2 * a + 1]!) * (p[2 * c]! - p[2 * a]!);

/** Leaves out edges, the neighbours' lines meeting outside, as long as nothing stands out by more than GROWTH. */
function simplified(hull: Polygon): Polygon {
  let points = Array.from({ length: hull.length / 2 }, (_, i) => ({
    x: hull[2 * i]!,
    y: hull[2 * i + 1]!,
    grown: 0,
  }));
  while (points.length > 4) {
    const count = points.length;
    let best = { at: -1, x: 0, y: 0, growth: GROWTH };
    for (let i = 0; i < count; i++) {
      const [a, b, c, d] = [
        points[(i + count - 1) % count]!,
        points[i]!,
        points[(i + 1) % count]!,
        points[(i + 2) % count]!,
      ];
      const cross = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
      if (cross <= 1e-12) continue; // the neighbours do not meet on this side
      const t = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / cross;
      const x = a.x + t * (b.x - a.x);
      const y = a.y + t * (b.y - a.y);
      const length = Math.hypot(c.x - b.x, c.y - b.y);
      const out = Math.abs((c.x - b.x) * (y - b.y) - (c.y - b.y) * (x - b.x)) / length;
      const growth = out + Math.max(b.grown, c.grown);
      if (growth < best.growth) best = { at: i, x, y, growth };
    }
    if (best.at < 0) break;
    const merged = { x: best.x, y: best.y, grown: best.growth };
    const next = (best.at + 1) % count;
    points = points.flatMap((point, i) => (i === best.at ? [merged] : i === next ? [] : [point]));
  }
  return Float64Array.from(points.flatMap(({ x, y }) => [x, y]));
}

/** Turned about the origin, radians counter-clockwise. */
export function turned(polygon: Polygon, angle: number): Polygon {
  const [c, s] = exactTurn(angle);
  const out = new Float64Array(polygon.length);
  for (let i = 0; i < polygon.length; i += 2) {
    out[i] = c * polygon[i]! - s * polygon[i + 1]!;
    out[i + 1] = s * polygon[i]! + c * polygon[i + 1]!;
  }
  return out;
}

/** Cosine and sine, exact at quarter turns so that rectangles stay upright to the last digit. */
export function exactTurn(angle: number): [number, number] {
  const quarter = angle / (Math.PI / 2);
  const whole = Math.round(quarter);
  if (Math.abs(quarter - whole) < 1e-12) {
    const k = ((whole % 4) + 4) % 4;
    return [[1, 0, -1, 0][k]!, [0, 1, 0, -1][k]!];
  }
  return [Math.cos(angle), Math.sin(angle)];
}

/** Mirrored in the origin. */
export const reflected = (polygon: Polygon): Polygon => polygon.map((value) => (value === 0 ? 0 : -value));

/** All sums of a point of `a` and a point of `b`: edges merged by direction (de Berg et al., Computational Geometry, 3rd ed., section 13.3). */
export function minkowskiSum(a: Polygon, b: Polygon): Polygon {
  const n = a.length / 2;
  const m = b.length / 2;
  const startA = lowest(a);
  const startB = lowest(b);
  const out: number[] = [];
  let i = 0;
  let j = 0;
  while (i < n || j < m) {
    const a0 = 2 * ((startA + i) % n);
    const b0 = 2 * ((startB + j) % m);
    pushPoint(out, a[a0]! + b[b0]!, a[a0 + 1]! + b[b0 + 1]!);
    const a1 = 2 * ((startA + i + 1) % n);
    const b1 = 2 * ((startB + j + 1) % m);
    const cross =
      (a[a1]! - a[a0]!) * (b[b1 + 1]! - b[b0 + 1]!) - (a[a1 + 1]! - a[a0 + 1]!) * (b[b1]! - b[b0]!);
    if (j >= m || (i < n && cross > 0)) i++;
    else if (i >= n || cross < 0) j++;
    else {
      i++;
      j++;
    }
  }
  return Float64Array.from(out);
}

/** Adds a point unless it is the one before. */
function pushPoint(out: number[], x: number, y: number): void {
  const count = out.length;
  if (count > 0 && Math.abs(x - out[count - 2]!) < SAME && Math.abs(y - out[count - 1]!) < SAME) return;
  out.push(x, y);
}

function lowest(polygon: Polygon): number {
  let best = 0;
  for (let i = 1; i < polygon.length / 2; i++) {
    const dy = polygon[2 * i + 1]! - polygon[2 * best + 1]!;
    if (dy < 0 || (dy === 0 && polygon[2 * i]! < polygon[2 * best]!)) best = i;
  }
  return best;
}

/** An octagon around the disc of that radius, sides upright and level among them; a point for 0. */
export function discAround(radius: number): Polygon {
  if (radius < SAME) return Float64Array.of(0, 0);
  const reach = radius / Math.cos(Math.PI / 8);
  return Float64Array.from(
    Array.from({ length: 8 }, (_, k) => (k + 0.5) * (Math.PI / 4)).flatMap((angle) => [
      reach * Math.cos(angle),
      reach * Math.sin(angle),
    ]),
  );
}

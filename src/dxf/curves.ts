/**
 * Ellipses and splines followed by arcs.
 *
 * A curve is a point and a direction for every parameter. It is followed by pairs of arcs that join its points in
 * its own directions, as few as stay near enough to it; ends and directions are exact, and what is drawn
 * symmetrically stays symmetrical.
 */
import { distanceToPiece } from '../geometry/arc.ts';
import { biarc, type Piece } from '../geometry/biarc.ts';
import type { Vertex } from '../geometry/path.ts';

export type XY = readonly [x: number, y: number];

export interface Curve {
  /** Point and derivative. */
  readonly at: (parameter: number) => { readonly point: XY; readonly along: XY };
  /** Parameters from the start to the end: the curve is smooth between neighbours, and may have a corner at them. */
  readonly stops: readonly number[];
  /** Pieces of formula it is made of, so that none is overlooked. */
  readonly spans: number;
}

/** How far arcs may lie from the ellipse or spline they stand for, mm; what is formed by hand shows none of it. */
export const CURVE_TOLERANCE = 0.05;

/** Points at which a piece of curve is compared with its arcs, at least. */
const LOOKED_AT = 16;

/** Most pairs of arcs along one smooth piece of curve. */
const MOST_PAIRS = 512;

/** Flatter than this over its chord, an arc is a line, mm. */
const FLAT = 1e-6;

/**
 * An open path along the curve; null where it cannot be followed: it stands still, or turns too often.
 *
 * @param scale mm per unit of the curve
 */
export function followed(curve: Curve, scale: number): Vertex[] | null {
  const tolerance = CURVE_TOLERANCE / scale;
  const out: Vertex[] = [];
  for (let i = 0; i + 1 < curve.stops.length; i++) {
    const piece = followedPiece(curve, curve.stops[i]!, curve.stops[i + 1]!, tolerance);
    if (piece === null) return null;
    out.push(...piece);
  }
  const [x, y] = curve.at(curve.stops.at(-1)!).point;
  return [...out, { x, y, bulge: 0 }];
}

/** The fewest pairs of arcs along a smooth piece of curve, without its end. */
function followedPiece(curve: Curve, from: number, to: number, tolerance: number): Vertex[] | null {
  const partAt = parts(curve, from, to);
  if (partAt === null) return null;
  const along = (count: number): Vertex[] | null => {
    const out: Vertex[] = [];
    for (let k = 0; k < count; k++) {
      const pair = pairOfArcs(curve, partAt(k / count), partAt((k + 1) / count), to - from, tolerance);
      if (pair === null) return null;
      out.push(...pair);
    }
    return out;
  };
  let [few, many] = [0, 1];
  let found = along(many);
  while (found === null) {
    [few, many] = [many, 2 * many];
    if (many > MOST_PAIRS) return null;
    found = along(many);
  }
  while (many - few > 1) {
    const middle = (few + many) >> 1;
    const fewer = along(middle);
    if (fewer === null) few = middle;
    else [many, found] = [middle, fewer];
  }
  return found;
}

/**
 * Where to divide a piece of curve so that arcs along all parts are equally good: an arc misses the curve by the
 * change of its curvature times its length to the third power. The same from both ends, so that what is symmetrical
 * stays so. Null where the curve stands still.
 */
function parts(curve: Curve, from: number, to: number): ((share: number) => number) | null {
  const count = Math.min(4096, 64 + 8 * Math.ceil((curve.spans * (to - from)) / lengthOf(curve)));
  const points = Array.from({ length: count + 1 }, (_, k) => {
    const t = from + ((to - from) * k) / count;
    return { t, ...curve.at(t) };
  });
  const pieces = points.slice(1).map(({ point, along }, k) => {
    const before = points[k]!;
    const [u, v] = before.along;
    return {
      length: Math.hypot(point[0] - before.point[0], point[1] - before.point[1]),
      turn: Math.atan2(u * along[1] - v * along[0], u * along[0] + v * along[1]),
    };
  });
  const whole = pieces.reduce((sum, { length }) => sum + length, 0);
  if (!(whole > 0 && Number.isFinite(whole))) return null;
  const curvature = pieces.map(({ length, turn }) => (length === 0 ? 0 : turn / length));
  const weights = pieces.map(({ length }, k) => {
    const [a, b] = [Math.max(k - 1, 0), Math.min(k + 1, count - 1)];
    const apart = (pieces[a]!.length + pieces[b]!.length) / 2 + (b - a > 1 ? length : 0);
    return apart === 0 ? 0 : Math.cbrt(Math.abs(curvature[b]! - curvature[a]!) / apart) * length;
  });
  const sum = weights.reduce((total, weight) => total + weight, 0);
  // A share by length as well, for lines and circles, where the curvature does not change.
  const shares = weights.map(
    (weight, k) => (sum === 0 ? 0 : (0.9 * weight) / sum) + (0.1 * pieces[k]!.length) / whole,
  );
  const total = shares.reduce((all, share) => all + share, 0);
  const reached = [0];
  for (const share of shares) reached.push(reached.at(-1)! + share / total);
  return (share) => {
    if (share <= 0 || share >= 1) return share <= 0 ? from : to;
    const k = Math.min(count - 1, Math.max(0, reached.findIndex((each) => each > share) - 1));
    const inside = (share - reached[k]!) / (reached[k + 1]! - reached[k]!);
    return points[k]!.t + inside * (points[k + 1]!.t - points[k]!.t);
  };
}

const lengthOf = ({ stops }: Curve): number => stops.at(-1)! - stops[0]!;

/** Two arcs from one parameter to another, if they are near enough to the curve. */
function pairOfArcs(
  curve: Curve,
  from: number,
  to: number,
  whole: number,
  tolerance: number,
): Vertex[] | null {
  // Just off the ends, so that each piece has its own direction at a corner.
  const inset = whole * 1e-9;
  const start = pose(curve, from, from + inset);
  const end = pose(curve, to, to - inset);
  const arcs = start === null || end === null ? null : biarc(start, end);
  if (arcs === null) return null;
  const [first, second] = arcs.map((arc) => vertexOf(arc, tolerance)) as [Vertex, Vertex];
  return near(curve, from, to, [first, second, { x: end!.x, y: end!.y, bulge: 0 }], tolerance)
    ? [first, second]
    : null;
}

function pose(curve: Curve, at: number, beside: number): { x: number; y: number; angle: number } | null {
  const [x, y] = curve.at(at).point;
  const [u, v] = curve.at(beside).along;
  if (!Number.isFinite(x + y + u + v) || (u === 0 && v === 0)) return null;
  return { x, y, angle: Math.atan2(v, u) };
}

function vertexOf({ x, y, curvature, length }: Piece, tolerance: number): Vertex {
  const bulge = Math.tan((curvature * length) / 4);
  return { x, y, bulge: (Math.abs(bulge) * length) / 2 < (FLAT / CURVE_TOLERANCE) * tolerance ? 0 : bulge };
}

function near(
  curve: Curve,
  from: number,
  to: number,
  vertices: readonly Vertex[],
  tolerance: number,
): boolean {
  const looks = LOOKED_AT + 4 * Math.ceil((curve.spans * (to - from)) / lengthOf(curve));
  for (let k = 1; k < looks; k++) {
    const [x, y] = curve.at(from + ((to - from) * k) / looks).point;
    const away = Math.min(
      distanceToPiece(x, y, vertices[0]!, vertices[1]!),
      distanceToPiece(x, y, vertices[1]!, vertices[2]!),
    );
    if (!(away <= tolerance)) return false;
  }
  return true;
}

/** centre + cos t · a + sin t · b: an ellipse, or a circle that was stretched. */
export function ellipse(centre: XY, a: XY, b: XY, from: number, to: number): Curve {
  // Quarters, so that a whole one is followed alike in all of them.
  const quarter = Math.PI / 2;
  const stops = [from];
  for (let k = Math.floor(from / quarter) + 1; k * quarter < to - 1e-9; k++) {
    if (k * quarter > from + 1e-9) stops.push(k * quarter);
  }
  stops.push(to);
  return {
    stops,
    spans: stops.length - 1,
    at(t) {
      const [c, s] = [Math.cos(t), Math.sin(t)];
      return {
        point: [centre[0] + c * a[0] + s * b[0], centre[1] + c * a[1] + s * b[1]],
        along: [c * b[0] - s * a[0], c * b[1] - s * a[1]],
      };
    },
  };
}

export interface Spline {
  readonly degree: number;
  /** Ascending; as many as there are control points, and degree + 1. */
  readonly knots: readonly number[];
  readonly points: readonly XY[];
  /** One for every control point, positive. */
  readonly weights: readonly number[];
}

/** A rational B-spline, by de Boor's algorithm (C. de Boor, "A Practical Guide to Splines", 1978, chapter X). */
export function spline({ degree, knots, points, weights }: Spline): Curve {
  const first = knots[degree]!;
  const last = knots[points.length]!;
  const stops = [first];
  for (let i = degree + 1; i < points.length; i++) {
    // As many equal knots as the degree: a corner may be there.
    const knot = knots[i]!;
    if (knot === knots[i + degree - 1] && knot > stops.at(-1)! && knot < last) stops.push(knot);
  }
  stops.push(last);
  return {
    stops,
    spans: points.length - degree,
    at(parameter) {
      const u = Math.min(Math.max(parameter, first), last);
      // The last span that begins at or before the parameter and has a length.
      let [span, end] = [degree, points.length];
      while (end - span > 1) {
        const middle = (span + end) >> 1;
        if (knots[middle]! <= u) span = middle;
        else end = middle;
      }
      while (span > degree && knots[span]! >= last) span--;
      // In homogeneous coordinates, about the span's first point so that far places lose nothing.
      const origin = points[span - degree]!;
      const row = Array.from({ length: degree + 1 }, (_, j): [number, number, number] => {
        const i = span - degree + j;
        const w = weights[i]!;
        return [w * (points[i]![0] - origin[0]), w * (points[i]![1] - origin[1]), w];
      });
      let slope: readonly [number, number, number] = [0, 0, 0];
      for (let level = 1; level <= degree; level++) {
        if (level === degree) {
          const [a, b] = [row[degree - 1]!, row[degree]!];
          const width = knots[span + 1]! - knots[span]!;
          slope = [0, 1, 2].map((k) => (degree * (b[k]! - a[k]!)) / width) as [number, number, number];
        }
        for (let j = degree; j >= level; j--) {
          const i = span - degree + j;
          const width = knots[i + degree - level + 1]! - knots[i]!;
          const share = width === 0 ? 0 : (u - knots[i]!) / width;
          row[j] = [0, 1, 2].map((k) => (1 - share) * row[j - 1]![k]! + share * row[j]![k]!) as [
            number,
            number,
            number,
          ];
        }
      }
      const [x, y, w] = row[degree]!;
      return {
        point: [origin[0] + x / w, origin[1] + y / w],
        along: [(slope[0] - (slope[2] * x) / w) / w, (slope[1] - (slope[2] * y) / w) / w],
      };
    },
  };
}

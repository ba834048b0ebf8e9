/**
 * The smooth curve through the samples of a rim, as many closely spaced points.
 *
 * Between two samples the curve is a cubic (Hermite form). Its directions at the samples come from the
 * chords on either side, weighted by their lengths and by how much the rim bends beyond them, so that a
 * straight stretch stays straight right up to the sample where the bend begins instead of swinging. The idea
 * of such weights: H. Akima, "A new method of interpolation and smooth curve fitting based on local
 * procedures", Journal of the ACM 17 (1970) (from memory); the lengths make them right on circles.
 *
 * Samples that are the nodes of quadratic element edges (corner, middle, corner, …) can be taken as just
 * that: then the curve between them is the element's own parabola, small breaks at its ends included.
 *
 * mm, radians, counter-clockwise positive.
 */

/** Closely spaced points of a rim, in order. Arrays of one length. */
export interface RimCurve {
  /** mm */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Distance along the rim from its first point, mm. */
  readonly s: Float64Array;
  /** Direction of travel, radians, without jumps of 2π. */
  readonly angle: Float64Array;
  readonly slack: Float64Array;
}

/** Which curve runs between the samples. */
export type Between = 'smooth' | 'quadratic';

/** Dense points, x y each, and at which of them the samples are. */
interface Dense {
  readonly points: number[];
  readonly sample: number[];
  readonly slack: number[];
}

/**
 * The dense points of an open rim.
 *
 * @param points mm, x y per sample, length 2·n, n ≥ 2, no two neighbours equal; not changed
 * @param sag how far the rim may lie from the chord between two dense points, about, mm
 * @param startTangent direction of travel at the first sample where it is known, radians
 * @param endTangent the same at the last sample
 */
export function openRim(
  points: Float64Array,
  between: Between,
  sag: number,
  startTangent?: number,
  endTangent?: number,
): RimCurve {
  const dense =
    cubics(points, sag, startTangent, endTangent, between === 'quadratic');
  return toRim(dense.points, dense.slack, startTangent, endTangent);
}

/**
 * The dense points of a closed rim: the first one is repeated as the last. `points` does not repeat its
 * first sample. Otherwise as `openRim`.
 */
export function closedRim(points: Float64Array, between: Between, sag: number): RimCurve {
  const n = points.length / 2;
  // Go on round for a few samples at either end, and cut that off again.
  const over = Math.min(2, n);
  const around = new Float64Array(2 * (n + 1 + 2 * over));
  for (let i = 0; i < around.length / 2; i++) {
    const from = (i - over + n) % n;
    around[2 * i] = points[2 * from]!;
    around[2 * i + 1] = points[2 * from + 1]!;
  }
  const dense = cubics(around, sag, undefined, undefined, between === 'quadratic');
  const first = dense.sample[over]!;
  const last = dense.sample[over + n]!;
  return toRim(dense.points.slice(2 * first, 2 * last + 2), dense.slack.slice(first, last + 1));
}

/** A closed rim (first point repeated) begun at another of its points, where the direction is given. */
export function begunAt(rim: RimCurve, index: number, x: number, y: number, tangent: number): RimCurve {
  const n = rim.s.length - 1;
  const points: number[] = [x, y];
  const slack = [rim.slack[index]!];
  for (let k = 1; k < n; k++) {
    const i = (index + k) % n;
    points.push(rim.x[i]!, rim.y[i]!);
    slack.push(rim.slack[i]!);
  }
  points.push(x, y);
  slack.push(rim.slack[index]!);
  return toRim(points, slack, tangent, tangent);
}

/** How many parts a span needs that bends by `turn` radians over `length` mm. */
function partsOf(length: number, turn: number, sag: number): number {
  return Math.min(64, Math.max(2, Math.ceil(Math.sqrt((length * turn) / (8 * sag)))));
}

function cubics(points: Float64Array, sag: number, startTangent?: number, endTangent?: number, quadratic = false): Dense {
  const n = points.length / 2;
  const chord = new Float64Array(n - 1);
  const slope = new Float64Array(n - 1); // directions of the chords
  for (let i = 0; i < n - 1; i++) {
    const dx = points[2 * i + 2]! - points[2 * i]!;
    const dy = points[2 * i + 3]! - points[2 * i + 1]!;
    chord[i] = Math.hypot(dx, dy);
    const direction = Math.atan2(dy, dx);
    slope[i] = i === 0 ? direction : near(direction, slope[i - 1]!);
  }
  const bend = new Float64Array(n); // curvature at the samples, 1/mm
  for (let i = 1; i < n - 1; i++) bend[i] = (2 * (slope[i]! - slope[i - 1]!)) / (chord[i]! + chord[i - 1]!);
  bend[0] =
    startTangent === undefined
      ? (bend[1] ?? 0)
      : (2 * (slope[0]! - near(startTangent, slope[0]!))) / chord[0]!;
  bend[n - 1] =
    endTangent === undefined
      ? (bend[n - 2] ?? 0)
      : (2 * (near(endTangent, slope[n - 2]!) - slope[n - 2]!)) / chord[n - 2]!;
  if (n === 2 && startTangent === undefined) bend[0] = bend[1]!;
  if (n === 2 && endTangent === undefined) bend[1] = bend[0]!;

  const angle = new Float64Array(n);
  angle[0] =
    startTangent === undefined ? slope[0]! - (bend[0]! * chord[0]!) / 2 : near(startTangent, slope[0]!);
  angle[n - 1] =
    endTangent === undefined
      ? slope[n - 2]! + (bend[n - 1]! * chord[n - 2]!) / 2
      : near(endTangent, slope[n - 2]!);
  for (let i = 1; i < n - 1; i++) {
    const before = Math.abs(bend[i - 1]!);
    const after = Math.abs(bend[i + 1]!);
    const floor = 1e-6 * (before + Math.abs(bend[i]!) + after) + 1e-12; // where all is straight: plain lengths
    const left = chord[i]! * (after + floor);
    const right = chord[i - 1]! * (before + floor);
    angle[i] = (left * slope[i - 1]! + right * slope[i]!) / (left + right);
  }

  const dense: number[] = [points[0]!, points[1]!];
  const sample = [0];
  const slack = [0];
  for (let i = 0; i < n - 1; i++) {
    const h = chord[i]!;
    const parts = partsOf(h, Math.max(Math.abs(bend[i]!), Math.abs(bend[i + 1]!)) * h, sag);
    const ax = points[2 * i]!;
    const ay = points[2 * i + 1]!;
    const dx = points[2 * i + 2]! - ax;
    const dy = points[2 * i + 3]! - ay;
    // End derivatives as long as those of the cubic that follows a circle arc of the same turn.
    const quarter = (angle[i + 1]! - angle[i]!) / 4;
    const size = quarter === 0 ? h : (2 * h * Math.tan(quarter)) / Math.sin(2 * quarter);
    const ux = size * Math.cos(angle[i]!);
    const uy = size * Math.sin(angle[i]!);
    const vx = size * Math.cos(angle[i + 1]!);
    const vy = size * Math.sin(angle[i + 1]!);
    for (let k = 1; k < parts; k++) {
      const t = k / parts;
      const q = t * t * (3 - 2 * t);
      const p = t * (1 - t) * (1 - t);
      const r = -t * t * (1 - t);
      let x = ax + q * dx + p * ux + r * vx;
      let y = ay + q * dy + p * uy + r * vy;
      let gap = 0;
      if (quadratic) {
        const m = i % 2 === 0 ? i + 1 : i; // the middle node of the edge
        const xi = i % 2 === 0 ? t - 1 : t;
        const a = points.subarray(2 * m - 2, 2 * m + 4) as Float64Array;
        const px = a[2]! + (xi * (a[4]! - a[0]!)) / 2 + (xi * xi * (a[0]! - 2 * a[2]! + a[4]!)) / 2;
        const py = a[3]! + (xi * (a[5]! - a[1]!)) / 2 + (xi * xi * (a[1]! - 2 * a[3]! + a[5]!)) / 2;
        gap = Math.abs((dx * (py - y) - dy * (px - x)) / h) / 2;
        x = (x + px) / 2;
        y = (y + py) / 2;
      }
      dense.push(x, y);
      slack.push(gap);
    }
    dense.push(points[2 * i + 2]!, points[2 * i + 3]!);
    slack.push(0);
    sample.push(dense.length / 2 - 1);
  }
  return { points: dense, sample, slack };
}

function toRim(points: readonly number[], slack: readonly number[], startTangent?: number, endTangent?: number): RimCurve {
  const n = points.length / 2;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  const s = new Float64Array(n);
  const angle = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    x[i] = points[2 * i]!;
    y[i] = points[2 * i + 1]!;
    if (i > 0) s[i] = s[i - 1]! + Math.hypot(x[i]! - x[i - 1]!, y[i]! - y[i - 1]!);
  }
  for (let i = 0; i < n; i++) {
    const a = Math.max(0, i - 1);
    const b = Math.min(n - 1, i + 1);
    const direction = Math.atan2(y[b]! - y[a]!, x[b]! - x[a]!);
    angle[i] = i === 0 ? direction : near(direction, angle[i - 1]!);
  }
  if (startTangent !== undefined) angle[0] = near(startTangent, angle[0]!);
  if (endTangent !== undefined) angle[n - 1] = near(endTangent, angle[n - 1]!);
  return { x, y, s, angle, slack: Float64Array.from(slack) };
}

/** The angle, give or take whole turns, that is nearest to `to`. */
export function near(angle: number, to: number): number {
  return angle - Math.round((angle - to) / (2 * Math.PI)) * 2 * Math.PI;
}

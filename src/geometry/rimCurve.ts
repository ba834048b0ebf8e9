/**
 * The smooth curve through the samples of a rim, as many closely spaced points.
 *
 * Between two samples the curve is a cubic (Hermite form). Its direction at a sample is that of the circle
 * through the sample and its two neighbours, as long as the spans beside it bend themselves: where a long
 * straight span meets a short bent one it stays with the chord of the straight one, which would swing
 * otherwise.
 *
 * Samples that are the nodes of quadratic element edges (corner, middle, corner, …) can be taken as just
 * that: then the curve between them is the element's own parabola, small breaks at its ends included.
 *
 * mm, radians, counter-clockwise positive.
 */
import { hypotenuse } from './hypotenuse.ts';

/** Closely spaced points of a rim, in order. Arrays of one length. */
export interface RimCurve {
  /** mm */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Distance along the rim from its first point, mm. */
  readonly s: Float64Array;
  /** Direction of travel, radians, without jumps of 2π. */
  readonly angle: Float64Array;
}

/** Which curve runs between the samples. */
export type Between = 'smooth' | 'quadratic';

/** Dense points, x y each, and at which of them the samples are. */
interface Dense {
  readonly points: number[];
  readonly sample: number[];
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
    between === 'quadratic' ? parabolas(points, sag) : cubics(points, sag, startTangent, endTangent);
  return toRim(dense.points, startTangent, endTangent);
}

/**
 * The dense points of a closed rim: the first one is repeated as the last. `points` does not repeat its
 * first sample. Otherwise as `openRim`.
 */
export function closedRim(points: Float64Array, between: Between, sag: number): RimCurve {
  const n = points.length / 2;
  // Go on round for a few samples at either end, and cut that off again.
  const over = between === 'quadratic' ? 0 : Math.min(3, n);
  const around = new Float64Array(2 * (n + 1 + 2 * over));
  for (let i = 0; i < around.length / 2; i++) {
    const from = (i - over + n) % n;
    around[2 * i] = points[2 * from]!;
    around[2 * i + 1] = points[2 * from + 1]!;
  }
  const dense = between === 'quadratic' ? parabolas(around, sag) : cubics(around, sag);
  const first = dense.sample[over]!;
  const last = dense.sample[over + n]!;
  return toRim(dense.points.slice(2 * first, 2 * last + 2));
}

/** A closed rim (first point repeated) begun at another of its points, where the direction is given. */
export function begunAt(rim: RimCurve, index: number, x: number, y: number, tangent: number): RimCurve {
  const n = rim.s.length - 1;
  const points: number[] = [x, y];
  for (let k = 1; k < n; k++) {
    const i = (index + k) % n;
    points.push(rim.x[i]!, rim.y[i]!);
  }
  points.push(x, y);
  return toRim(points, tangent, tangent);
}

/**
 * How far, in radians, the direction at a sample may be off the chord of a span beside it: what the bend at both
 * ends of the span calls for; or so much that the span swings no more than the shorter span beside it bends.
 */
function mostOff(span: number, other: number, bendHere: number, bendThere: number): number {
  const called = 0.6 * Math.min(Math.abs(bendHere), Math.abs(bendThere)) * span;
  return Math.max(called, (0.5 * Math.abs(bendHere) * Math.min(span, other) ** 2) / span);
}

/** A span is cut up so that there are at least this many dense points along the rim. */
const LEAST_POINTS = 40;

/** How many parts a span needs that bends by `turn` radians over `length` mm, and is this share of the rim. */
function partsOf(length: number, turn: number, share: number, sag: number): number {
  return Math.min(
    64,
    Math.max(1, Math.ceil(LEAST_POINTS * share), Math.ceil(Math.sqrt((length * turn) / (8 * sag)))),
  );
}

function cubics(points: Float64Array, sag: number, startTangent?: number, endTangent?: number): Dense {
  const n = points.length / 2;
  const chord = new Float64Array(n - 1);
  const slope = new Float64Array(n - 1); // directions of the chords
  for (let i = 0; i < n - 1; i++) {
    const dx = points[2 * i + 2]! - points[2 * i]!;
    const dy = points[2 * i + 3]! - points[2 * i + 1]!;
    chord[i] = hypotenuse(dx, dy);
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
    const [before, after] = [chord[i - 1]!, chord[i]!];
    const turn = slope[i]! - slope[i - 1]!;
    // How far the direction is off the two chords: as on the circle through the three samples, at first.
    let off = (Math.abs(turn) * before) / (before + after);
    const most = mostOff(before, after, bend[i]!, bend[i - 1]!);
    const mostAfter = mostOff(after, before, bend[i]!, bend[i + 1]!);
    if (off > most) off = most;
    else if (Math.abs(turn) - off > mostAfter) off = Math.abs(turn) - mostAfter;
    angle[i] = slope[i - 1]! + Math.sign(turn) * off;
  }

  const total = chord.reduce((sum, h) => sum + h, 0);
  const dense: number[] = [points[0]!, points[1]!];
  const sample = [0];
  for (let i = 0; i < n - 1; i++) {
    const h = chord[i]!;
    const parts = partsOf(h, Math.max(Math.abs(bend[i]!), Math.abs(bend[i + 1]!)) * h, h / total, sag);
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
      dense.push(ax + q * dx + p * ux + r * vx, ay + q * dy + p * uy + r * vy);
    }
    dense.push(points[2 * i + 2]!, points[2 * i + 3]!);
    sample.push(dense.length / 2 - 1);
  }
  return { points: dense, sample };
}

function parabolas(points: Float64Array, sag: number): Dense {
  const n = points.length / 2;
  const dense: number[] = [points[0]!, points[1]!];
  const sample = [0];
  for (let i = 0; i + 2 < n; i += 2) {
    const ax = points[2 * i]!;
    const ay = points[2 * i + 1]!;
    const mx = points[2 * i + 2]!;
    const my = points[2 * i + 3]!;
    const dx = (points[2 * i + 4]! - ax) / 2;
    const dy = (points[2 * i + 5]! - ay) / 2;
    // x(ξ) = m + ξ d + ξ² c with ξ from -1 to 1: the quadratic shape functions of a line element
    const cx = ax + dx - mx;
    const cy = ay + dy - my;
    // An arc that takes up a break at an end may swing by an eighth of it between two dense points.
    const swing = Math.max(breakAt(points, i), breakAt(points, i + 2)) * hypotenuse(dx, dy);
    const parts = Math.max(Math.sqrt(hypotenuse(cx, cy) / (4 * sag)), swing / (8 * sag));
    const half = Math.min(32, Math.max(1, Math.ceil(parts)));
    for (let k = 1 - half; k <= half; k++) {
      const t = k / half;
      if (k === half) dense.push(points[2 * i + 4]!, points[2 * i + 5]!);
      else dense.push(mx + t * dx + t * t * cx, my + t * dy + t * t * cy);
      if (k === 0 || k === half) sample.push(dense.length / 2 - 1);
    }
  }
  return { points: dense, sample };
}

/** Angle between the parabolas that meet at a sample, radians; 0 at the ends of a row that is not a loop. */
function breakAt(points: Float64Array, sample: number): number {
  const last = points.length / 2 - 1;
  const atEnd = sample === 0 || sample === last;
  if (atEnd && (points[0] !== points[2 * last] || points[1] !== points[2 * last + 1])) return 0;
  const before = tangentOf(points, sample === 0 ? last : sample, -1);
  const after = tangentOf(points, sample === last ? 0 : sample, 1);
  return Math.abs(near(after - before, 0));
}

/** Direction of travel at a sample of the parabola before (−1) or after (1) it, radians; the row goes on round. */
export function tangentOf(points: Float64Array, sample: number, side: 1 | -1): number {
  const count = points.length / 2;
  const along = (axis: number): number => {
    const at = (offset: number): number => points[2 * ((sample + offset + count) % count) + axis]!;
    return side * (4 * at(side) - 3 * at(0) - at(2 * side));
  };
  return Math.atan2(along(1), along(0));
}

function toRim(points: readonly number[], startTangent?: number, endTangent?: number): RimCurve {
  const n = points.length / 2;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  const s = new Float64Array(n);
  const angle = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    x[i] = points[2 * i]!;
    y[i] = points[2 * i + 1]!;
    if (i > 0) s[i] = s[i - 1]! + hypotenuse(x[i]! - x[i - 1]!, y[i]! - y[i - 1]!);
  }
  for (let i = 0; i < n; i++) {
    const a = Math.max(0, i - 1);
    const b = Math.min(n - 1, i + 1);
    const direction = Math.atan2(y[b]! - y[a]!, x[b]! - x[a]!);
    angle[i] = i === 0 ? direction : near(direction, angle[i - 1]!);
  }
  if (startTangent !== undefined) angle[0] = near(startTangent, angle[0]!);
  if (endTangent !== undefined) angle[n - 1] = near(endTangent, angle[n - 1]!);
  return { x, y, s, angle };
}

/** The angle, give or take whole turns, that is nearest to `to`. */
export function near(angle: number, to: number): number {
  return angle - Math.round((angle - to) / (2 * Math.PI)) * 2 * Math.PI;
}

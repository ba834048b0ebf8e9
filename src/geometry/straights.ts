/** The stretches of a rim that are straight: they become true lines. */
import { leftOf, type Pose } from './biarc.ts';
import { follow, footOn, poseAt, reach, throughThree } from './pencil.ts';
import { near, type RimCurve } from './rimCurve.ts';

/** A straight stretch: the line follows the rim from point `from` to point `to` within the tolerance. */
export interface Straight {
  readonly from: number;
  readonly to: number;
  /** Foot of rim point `from` on the line, and the line's direction. */
  readonly start: Pose;
}

/**
 * Every curve is straight for a little while. A stretch counts as straight when no arc in its place would
 * follow the rim more than this many times as far.
 */
const ARC_GAIN = 1.6;

/** The same at an end with a known direction, on a mirror line: there the rim can only bend like an even power. */
const ARC_GAIN_AT_END = 2;

/** At a point of inflection no arc does better than the line; there it must be this much longer than the arcs beside it. */
const BESIDE = 2;

/** Points used for the direction of a line. */
const LOOKS = 17;

/** What is known of an end of the rim: nothing; the point and the direction; or the direction only. */
export type KnownEnd = 'free' | 'fixed' | 'slides';

export interface StraightLimits {
  /** mm */
  readonly tolerance: number;
  /** Shortest stretch to be taken, mm. */
  readonly shortest: number;
  /**
   * A stretch that begins at the first point takes the direction there, if it is known, and goes through the
   * point, unless that may slide square to it.
   */
  readonly start: KnownEnd;
  /** The same at the last point. */
  readonly end: KnownEnd;
}

/** Finds them, in order, none overlapping. */
export function straights(rim: RimCurve, limits: StraightLimits): Straight[] {
  const { tolerance, shortest, start, end } = limits;
  const last = rim.s.length - 1;
  const found: Straight[] = [];
  let begin = 0;
  let stop = last;
  if (start !== 'free') {
    const { line, index } = fromEnd(rim, 0, 1, start, tolerance);
    const through = index < last ? line : throughOther(rim, line, last, limits);
    const byArc = reach(rim, poseAt(rim, 0), 0, 1, tolerance);
    if (through && rim.s[index]! >= shortest && rim.s[byArc]! <= ARC_GAIN_AT_END * rim.s[index]!) {
      found.push({ from: 0, to: index, start: footOn(through, rim, 0) });
      begin = index;
    }
  }
  let closing: Straight | null = null;
  if (end !== 'free' && begin < last) {
    const { line, index } = fromEnd(rim, last, -1, end, tolerance);
    const from = Math.max(begin, index);
    const through = from > 0 ? line : throughOther(rim, line, 0, limits);
    const length = rim.s[last]! - rim.s[from]!;
    const byArc = rim.s[last]! - rim.s[reach(rim, poseAt(rim, last), last, -1, tolerance)]!;
    if (through && length >= shortest && byArc <= ARC_GAIN_AT_END * length) {
      closing = { from, to: last, start: footOn(through, rim, from) };
      stop = from;
    }
  }
  let least = begin; // the first point that makes the stretch from i long enough
  for (let i = begin; i < stop; i++) {
    while (least <= stop && rim.s[least]! - rim.s[i]! < shortest) least++;
    if (least > stop) break;
    const run = longest(rim, i, least, stop, tolerance);
    if (run < least) continue;
    const line = settle(rim, i, run, tolerance);
    if (!line) continue;
    const { from, to, pose } = throughEnds(rim, line, begin, stop, limits);
    if (rim.s[to]! - rim.s[from]! < shortest) continue;
    found.push({ from, to, start: footOn(pose, rim, from) });
    begin = to;
    i = to - 1;
  }
  if (closing) found.push(closing);
  return found;
}

/**
 * A line from one end that has reached the other end of the rim, made to fit there: it must have the direction
 * there, if that is known, and go through the point, unless that may slide. Null when it cannot.
 */
function throughOther(
  rim: RimCurve,
  line: Pose,
  other: number,
  { tolerance, start, end }: StraightLimits,
): Pose | null {
  const [here, there] = other === 0 ? [end, start] : [start, end];
  if (there !== 'free' && Math.abs(near(rim.angle[other]!, line.angle) - line.angle) > 1e-9) return null;
  if (there === 'slides') return line;
  const off = leftOf({ ...line, curvature: 0 }, rim.x[other]!, rim.y[other]!);
  if (here === 'fixed') return Math.abs(off) < 1e-9 ? line : null;
  return Math.abs(off) <= tolerance ? { ...poseAt(rim, other), angle: line.angle } : null;
}

/**
 * A line cut to the part of the rim that is left; one that comes near an end of the rim is made to go through
 * the end point. It is given up, as a stretch of no length, where that end has a direction of its own.
 */
function throughEnds(
  rim: RimCurve,
  line: Run,
  begin: number,
  stop: number,
  { tolerance, shortest, start, end }: StraightLimits,
): Run {
  const last = rim.s.length - 1;
  const from = Math.max(line.from, begin);
  const to = Math.min(line.to, stop);
  // Nearer than this there is no room for an arc.
  const atStart = rim.s[from]! < shortest / 8;
  const atEnd = rim.s[last]! - rim.s[to]! < shortest / 8;
  if ((atStart && start !== 'free') || (atEnd && end !== 'free')) return { ...line, from, to: from };
  if (atStart) {
    const { line: pose, index } = fromEnd(rim, 0, 1, 'free', tolerance);
    if (atEnd && index === last) {
      const angle = near(Math.atan2(rim.y[last]! - rim.y[0]!, rim.x[last]! - rim.x[0]!), pose.angle);
      return { from: 0, to: last, pose: { ...pose, angle } };
    }
    return { from: 0, to: Math.min(index, stop), pose };
  }
  if (atEnd) {
    const { line: pose, index } = fromEnd(rim, last, -1, 'free', tolerance);
    return { from: Math.max(index, begin), to: last, pose };
  }
  return { from, to, pose: line.pose };
}

/** The part of a straight stretch from an end of the rim that settles its line. */
const SETTLING = 0.6;

/**
 * The line from an end of the rim, and how far the rim follows it. What is free of the line, its direction or
 * how far beside the end point it runs, has an interval allowed by every rim point on the way: where the
 * intervals have nothing in common any more the stretch is over. The line is the middle of what its greater
 * part allows, not of what is left at the last: that would lean to where the rim bends away.
 */
function fromEnd(
  rim: RimCurve,
  from: number,
  step: 1 | -1,
  known: KnownEnd,
  tolerance: number,
): { line: Pose; index: number } {
  const { x, y, angle } = poseAt(rim, from);
  if (known === 'fixed') {
    const line = { x, y, angle };
    return { line, index: follow(rim, { ...line, curvature: 0 }, from, step, tolerance) };
  }
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const allowed = (reach: number): { middle: number; index: number } => {
    let low = known === 'slides' ? -tolerance : Number.NEGATIVE_INFINITY;
    let high = -low;
    let index = from;
    for (let i = from + step; i >= 0 && i < rim.s.length; i += step) {
      if (Math.abs(rim.s[i]! - rim.s[from]!) > reach) break;
      const dx = rim.x[i]! - x;
      const dy = rim.y[i]! - y;
      const v = c * dy - s * dx;
      // Offsets of lines beside the end point, or slopes of lines through it.
      const scale = known === 'slides' ? 1 : Math.abs(1 / (c * dx + s * dy));
      const nextLow = Math.max(low, (v - tolerance) * scale);
      const nextHigh = Math.min(high, (v + tolerance) * scale);
      if (nextLow > nextHigh) break;
      low = nextLow;
      high = nextHigh;
      index = i;
    }
    return { middle: (low + high) / 2, index };
  };
  const furthest = Math.abs(rim.s[allowed(Number.POSITIVE_INFINITY).index]! - rim.s[from]!);
  const { middle, index } = allowed(SETTLING * furthest);
  if (index === from) return { line: { x, y, angle }, index };
  const line =
    known === 'slides'
      ? { x: x - middle * s, y: y + middle * c, angle }
      : { x, y, angle: angle + step * Math.atan(middle) };
  return { line, index: follow(rim, { ...line, curvature: 0 }, from, step, tolerance) };
}

/** A line and the rim points between which it follows the rim. */
interface Run {
  readonly from: number;
  readonly to: number;
  readonly pose: Pose;
}

/** The line through the middle half of a stretch, and how far the rim follows it; null when it is a curve. */
function settle(rim: RimCurve, first: number, second: number, tolerance: number): Run | null {
  let from = first;
  let to = second;
  let middle = first;
  let pose: Pose = { x: 0, y: 0, angle: 0 };
  for (let round = 0; round < 2; round++) {
    const quarter = (rim.s[to]! - rim.s[from]!) / 4;
    middle = from;
    while (rim.s[middle + 1]! < rim.s[from]! + 2 * quarter) middle++;
    pose = fitLine(rim, rim.s[from]! + quarter, rim.s[to]! - quarter, rim.angle[middle]!);
    const line = { ...pose, curvature: 0 };
    if (Math.abs(leftOf(line, rim.x[middle]!, rim.y[middle]!)) > tolerance) return null;
    from = follow(rim, line, middle, -1, tolerance);
    to = follow(rim, line, middle, 1, tolerance);
    if (to - from < 3) return null;
  }
  const length = rim.s[to]! - rim.s[from]!;
  const arc = throughThree(rim, from, middle, to);
  const arcFrom = follow(rim, arc, middle, -1, tolerance);
  const arcTo = follow(rim, arc, middle, 1, tolerance);
  if (rim.s[arcTo]! - rim.s[arcFrom]! > ARC_GAIN * length) return null;
  // Which way the rim leaves the line at its two ends.
  const line = { ...pose, curvature: 0 };
  const before = Math.max(0, from - 1);
  const after = Math.min(rim.s.length - 1, to + 1);
  const inflection =
    leftOf(line, rim.x[before]!, rim.y[before]!) * leftOf(line, rim.x[after]!, rim.y[after]!) < 0;
  if (inflection) {
    const ahead = rim.s[reach(rim, poseAt(rim, to), to, 1, 2 * tolerance)]! - rim.s[to]!;
    const behind = rim.s[from]! - rim.s[reach(rim, poseAt(rim, from), from, -1, 2 * tolerance)]!;
    if (length < BESIDE * Math.min(ahead, behind)) return null;
  }
  return { from, to, pose };
}

/** Furthest point from `least` on whose chord from point i has all between them within the tolerance, about. */
function longest(rim: RimCurve, i: number, least: number, end: number, tolerance: number): number {
  const holds = (j: number): boolean => {
    const angle = Math.atan2(rim.y[j]! - rim.y[i]!, rim.x[j]! - rim.x[i]!);
    const line = { x: rim.x[i]!, y: rim.y[i]!, angle, curvature: 0 };
    for (let k = j - 1; k > i; k--)
      if (Math.abs(leftOf(line, rim.x[k]!, rim.y[k]!)) > tolerance) return false;
    return true;
  };
  if (!holds(least)) return i;
  let good = least;
  let step = 1;
  while (good + step <= end && holds(good + step)) {
    good += step;
    step *= 2;
  }
  for (; step >= 1; step = Math.floor(step / 2)) if (good + step <= end && holds(good + step)) good += step;
  return good;
}

/** Least-squares line (main axis) through the rim between two distances along it, in about this direction. */
function fitLine(rim: RimCurve, low: number, high: number, direction: number): Pose {
  const xs: number[] = [];
  const ys: number[] = [];
  let i = 0;
  for (let k = 0; k < LOOKS; k++) {
    const s = low + ((high - low) * k) / (LOOKS - 1);
    while (i < rim.s.length - 2 && rim.s[i + 1]! < s) i++;
    const t = Math.min(1, (s - rim.s[i]!) / (rim.s[i + 1]! - rim.s[i]!));
    xs.push(rim.x[i]! + t * (rim.x[i + 1]! - rim.x[i]!));
    ys.push(rim.y[i]! + t * (rim.y[i + 1]! - rim.y[i]!));
  }
  const mx = xs.reduce((sum, x) => sum + x, 0) / LOOKS;
  const my = ys.reduce((sum, y) => sum + y, 0) / LOOKS;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let k = 0; k < LOOKS; k++) {
    xx += (xs[k]! - mx) ** 2;
    xy += (xs[k]! - mx) * (ys[k]! - my);
    yy += (ys[k]! - my) ** 2;
  }
  const axis = Math.atan2(2 * xy, xx - yy) / 2;
  return { x: mx, y: my, angle: axis - Math.round((axis - direction) / Math.PI) * Math.PI };
}

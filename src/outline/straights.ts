/** The stretches of a rim that are straight: they become true lines. */
import { leftOf, type Pose } from './biarc.ts';
import { follow, footOn, poseAt, reach, throughThree } from './pencil.ts';
import type { RimCurve } from './rimCurve.ts';

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

/** At a point of inflection no arc does better than the line; there it must be this much longer than the arcs beside it. */
const BESIDE = 2;

/** Points used for the direction of a line. */
const LOOKS = 17;

/**
 * Finds them, in order, none overlapping.
 *
 * @param tolerance  mm
 * @param shortest   shortest stretch to be taken, mm
 * @param startKnown the first point and its direction are exact: a stretch that begins there takes both
 * @param endKnown   the same at the last point
 */
export function straights(
  rim: RimCurve,
  tolerance: number,
  shortest: number,
  startKnown: boolean,
  endKnown: boolean,
): Straight[] {
  const last = rim.s.length - 1;
  const found: Straight[] = [];
  let begin = 0;
  let end = last;
  if (startKnown) {
    const pose = poseAt(rim, 0);
    const to = follow(rim, { ...pose, curvature: 0 }, 0, 1, tolerance);
    const byArc = reach(rim, pose, 0, 1, tolerance);
    if (rim.s[to]! >= shortest && rim.s[byArc]! <= ARC_GAIN * rim.s[to]!) {
      found.push({ from: 0, to, start: pose });
      begin = to;
    }
  }
  let closing: Straight | null = null;
  if (endKnown && begin < last) {
    const pose = poseAt(rim, last);
    const from = Math.max(begin, follow(rim, { ...pose, curvature: 0 }, last, -1, tolerance));
    const length = rim.s[last]! - rim.s[from]!;
    const byArc = rim.s[last]! - rim.s[reach(rim, pose, last, -1, tolerance)]!;
    if (length >= shortest && byArc <= ARC_GAIN * length) {
      closing = { from, to: last, start: footOn(pose, rim, from) };
      end = from;
    }
  }
  let least = begin; // the first point that makes the stretch from i long enough
  for (let i = begin; i < end; i++) {
    while (least <= end && rim.s[least]! - rim.s[i]! < shortest) least++;
    if (least > end) break;
    const run = longest(rim, i, least, end, tolerance);
    if (run < least) continue;
    const line = settle(rim, i, run, tolerance);
    if (!line) continue;
    const from = Math.max(line.from, begin);
    const to = Math.min(line.to, end);
    if (rim.s[to]! - rim.s[from]! < shortest) continue;
    if ((startKnown && from === 0) || (endKnown && to === last)) continue; // its direction would not be exact
    found.push({ from, to, start: footOn(line.pose, rim, from) });
    begin = to;
    i = to - 1;
  }
  if (closing) found.push(closing);
  return found;
}

/** The line through the middle half of a stretch, and how far the rim follows it; null when it is a curve. */
function settle(
  rim: RimCurve,
  first: number,
  second: number,
  tolerance: number,
): { from: number; to: number; pose: Pose } | null {
  let from = first;
  let to = second;
  let middle = first;
  let pose: Pose = { x: 0, y: 0, angle: 0 };
  for (let round = 0; round < 2; round++) {
    const quarter = (rim.s[to]! - rim.s[from]!) / 4;
    pose = fitLine(rim, rim.s[from]! + quarter, rim.s[to]! - quarter);
    middle = from;
    while (rim.s[middle + 1]! < rim.s[from]! + 2 * quarter) middle++;
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
      if (Math.abs(leftOf(line, rim.x[k]!, rim.y[k]!)) > tolerance + rim.slack[k]!) return false;
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

/** Least-squares line (main axis) through the rim between two distances along it. */
function fitLine(rim: RimCurve, low: number, high: number): Pose {
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
  const forward = Math.cos(axis) * (xs[LOOKS - 1]! - xs[0]!) + Math.sin(axis) * (ys[LOOKS - 1]! - ys[0]!);
  return { x: mx, y: my, angle: forward < 0 ? axis + Math.PI : axis };
}

/**
 * All the arcs that leave one point in one direction, and how far along a rim they hold.
 *
 * Such an arc has one free number, its curvature. In the frame of the point (u ahead, v to the left) the arc
 * that passes left of (u, v) by the distance o has the curvature 2 (v + o) / (u² + v² - o²): put the circle's
 * radius ± o as its distance from the point. So every rim point that is passed within the tolerance allows
 * an interval of curvatures, and the arcs that hold up to here are those in all intervals so far.
 *
 * mm, radians, curvature 1/mm positive to the left.
 */

import { leftOf, type Pose } from './biarc.ts';
import { hypotenuse } from './hypotenuse.ts';
import type { RimCurve } from './rimCurve.ts';

/** An arc of a pencil may turn until its chord is at 78° to its start, cos 78° = 0.2. */
const STEEPEST = 0.2;

/** For each rim point that a pencil was walked along; `u` is NaN for points too near to tell anything. */
export interface PencilWalk {
  /** Place in the frame of the pose, mm: ahead. */
  readonly u: Float64Array;
  /** To the left. */
  readonly v: Float64Array;
  /** Curvatures that hold up to the point, 1/mm. */
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** Room for a walk along a rim of so many points. */
export function pencilWalk(points: number): PencilWalk {
  return {
    u: new Float64Array(points),
    v: new Float64Array(points),
    low: new Float64Array(points),
    high: new Float64Array(points),
  };
}

/**
 * Goes forward (step 1) or backward (step -1) from rim point `from`, at most to `to`, as far as some arc of the
 * pencil holds.
 *
 * @param walk filled for the points passed, when given. Arrays, not a callback: this is the innermost loop of all
 *             fitting, and numbers passed to a callback are garbage afterwards
 * @returns the last rim point that an arc reaches
 */
export function walkPencil(
  rim: RimCurve,
  pose: Pose,
  from: number,
  to: number,
  tolerance: number,
  walk: PencilWalk | null,
): number {
  const step = to >= from ? 1 : -1;
  const c = Math.cos(pose.angle);
  const s = Math.sin(pose.angle);
  const t2 = tolerance * tolerance;
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  for (let i = from; i !== to; ) {
    i += step;
    const dx = rim.x[i]! - pose.x;
    const dy = rim.y[i]! - pose.y;
    const u = c * dx + s * dy;
    const v = c * dy - s * dx;
    const q = u * u + v * v;
    if (q <= 4 * t2) {
      if (walk !== null) walk.u[i] = Number.NaN;
      continue;
    }
    if (step * u < STEEPEST * Math.sqrt(q)) return i - step;
    const lowest = (2 * (v - tolerance)) / (q - t2);
    const highest = (2 * (v + tolerance)) / (q - t2);
    if (lowest > low) low = lowest;
    if (highest < high) high = highest;
    if (low > high) return i - step;
    if (walk === null) continue;
    walk.u[i] = u;
    walk.v[i] = v;
    walk.low[i] = low;
    walk.high[i] = high;
  }
  return to;
}

/** Last rim point, forward or backward, up to which some arc that is tangent at the pose follows the rim. */
export function reach(rim: RimCurve, pose: Pose, from: number, step: 1 | -1, tolerance: number): number {
  return walkPencil(rim, pose, from, step > 0 ? rim.s.length - 1 : 0, tolerance, null);
}

/** Last rim point, forward or backward from one of them, that one given line or circle still follows. */
export function follow(
  rim: RimCurve,
  circle: Pose & { readonly curvature: number },
  from: number,
  step: 1 | -1,
  tolerance: number,
): number {
  let i = from + step;
  while (i >= 0 && i < rim.s.length && Math.abs(leftOf(circle, rim.x[i]!, rim.y[i]!)) <= tolerance) i += step;
  return i - step;
}

/** A rim point with the rim's direction there. */
export function poseAt(rim: RimCurve, index: number): Pose {
  return { x: rim.x[index]!, y: rim.y[index]!, angle: rim.angle[index]! };
}

/** The nearest point of a line to a rim point, with the line's direction. */
export function footOn(line: Pose, rim: RimCurve, index: number): Pose {
  const c = Math.cos(line.angle);
  const s = Math.sin(line.angle);
  const along = c * (rim.x[index]! - line.x) + s * (rim.y[index]! - line.y);
  return { x: line.x + along * c, y: line.y + along * s, angle: line.angle };
}

/** The circle through three rim points, as a pose at the middle one. */
export function throughThree(
  rim: RimCurve,
  a: number,
  b: number,
  c: number,
): Pose & { readonly curvature: number } {
  const abx = rim.x[b]! - rim.x[a]!;
  const aby = rim.y[b]! - rim.y[a]!;
  const bcx = rim.x[c]! - rim.x[b]!;
  const bcy = rim.y[c]! - rim.y[b]!;
  const ab = hypotenuse(abx, aby);
  const bc = hypotenuse(bcx, bcy);
  // At b the tangent is off the chord ab by half the arc ab, and the chords are at half of both arcs.
  const turn = Math.atan2(abx * bcy - aby * bcx, abx * bcx + aby * bcy);
  const curvature = (2 * Math.sin(turn)) / hypotenuse(abx + bcx, aby + bcy);
  const halfArc = Math.asin(Math.max(-1, Math.min(1, (curvature * ab) / 2)));
  const other = Math.asin(Math.max(-1, Math.min(1, (curvature * bc) / 2)));
  // For arcs of more than a half circle the smaller of the two is still right.
  const angle = Math.atan2(aby, abx) + (ab <= bc ? halfArc : turn - other);
  return { x: rim.x[b]!, y: rim.y[b]!, angle, curvature };
}

/**
 * Two arcs that join two points with given directions, and each other, without a break.
 *
 * Such a pair has one number free. Two ways of choosing it are of use here: equal tangent lengths, the
 * usual biarc (K. M. Bolton, "Biarc curves", Computer-Aided Design 7 (1975) 89-92), and a given curvature
 * of the first arc, which lets a line or an arc that is already there run on into one more arc.
 *
 * mm, radians, curvature 1/mm positive to the left; a line is an arc of curvature 0.
 */
import { hypotenuse } from './hypotenuse.ts';

/** A point and a direction of travel (radians). */
export interface Pose {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
}

/** A line or an arc that starts at a pose. */
export interface Piece extends Pose {
  readonly curvature: number;
  readonly length: number;
}

/** An arc of a smaller curvature (a radius of 10 million km) is a line, 1/mm. */
const STRAIGHT = 1e-13;

/** Arcs that turn by more are not made: nearly half a circle, radians. */
const LARGEST_TURN = 3;

/** Where the piece ends. */
export function endOf(piece: Piece): Pose {
  const half = (piece.curvature * piece.length) / 2;
  const chord = Math.abs(half) < 1e-9 ? piece.length : (piece.length * Math.sin(half)) / half;
  return {
    x: piece.x + chord * Math.cos(piece.angle + half),
    y: piece.y + chord * Math.sin(piece.angle + half),
    angle: piece.angle + 2 * half,
  };
}

/** How far left of the piece's circle (or line) a point lies, mm. */
export function leftOf(piece: Pose & { readonly curvature: number }, px: number, py: number): number {
  const c = Math.cos(piece.angle);
  const s = Math.sin(piece.angle);
  const dx = px - piece.x;
  const dy = py - piece.y;
  return leftOfArc(piece.curvature, c * dx + s * dy, c * dy - s * dx);
}

/**
 * The same in the frame of the pose: u ahead, v to the left. r - d = (r² - d²) / (r + d), written with the
 * curvature so that it holds for a line as well.
 */
export function leftOfArc(curvature: number, u: number, v: number): number {
  const f = 2 * v - curvature * (u * u + v * v);
  return f / (1 + Math.sqrt(Math.max(0, 1 - curvature * f)));
}

/** Length of the arc from the origin to (u, v) that turns by `turn`. */
function arcLength(u: number, v: number, turn: number): number {
  const half = turn / 2;
  const chord = hypotenuse(u, v);
  return Math.abs(half) < 1e-9 ? chord : (chord * half) / Math.sin(half);
}

/**
 * The biarc with equal tangent lengths.
 *
 * @returns null when the directions differ by nearly a whole turn or an arc would turn by nearly 180°
 */
export function biarc(from: Pose, to: Pose): readonly [Piece, Piece] | null {
  const c = Math.cos(from.angle);
  const s = Math.sin(from.angle);
  const u = c * (to.x - from.x) + s * (to.y - from.y);
  const v = c * (to.y - from.y) - s * (to.x - from.x);
  const cosB = Math.cos(to.angle - from.angle);
  const sinB = Math.sin(to.angle - from.angle);
  // |(u, v) - d (t0 + t1)| = 2 d, with t0 = (1, 0) and t1 = (cosB, sinB)
  const a = 2 * (1 - cosB);
  const b = u * (1 + cosB) + v * sinB;
  const q = u * u + v * v;
  const d = q / (b + Math.sqrt(b * b + a * q));
  if (!(d > 0) || !Number.isFinite(d)) return null;
  const ju = (d + u - d * cosB) / 2;
  const jv = (v - d * sinB) / 2;
  const j2 = ju * ju + jv * jv;
  const turn1 = 2 * Math.atan2(jv, ju);
  const wu = u - ju;
  const wv = v - jv;
  const turn2 = 2 * (Math.atan2(wv, wu) - turn1);
  const sweep2 = turn2 - Math.round(turn2 / (4 * Math.PI)) * 4 * Math.PI;
  if (Math.abs(turn1) > LARGEST_TURN || Math.abs(sweep2) > LARGEST_TURN) return null;
  const first = {
    x: from.x,
    y: from.y,
    angle: from.angle,
    curvature: (2 * jv) / j2,
    length: arcLength(ju, jv, turn1),
  };
  const length2 = arcLength(wu, wv, sweep2);
  if (!(length2 > 0)) return null;
  const second = {
    x: from.x + c * ju - s * jv,
    y: from.y + s * ju + c * jv,
    angle: from.angle + turn1,
    curvature: sweep2 / length2,
    length: length2,
  };
  return [first, second];
}

/**
 * The given piece's circle or line, and the one arc that leaves it tangentially and arrives at `to`.
 *
 * @returns null when there is none that runs forward on both, or one of them would turn by nearly 180°
 */
export function tangentArc(
  from: Pose & { readonly curvature: number },
  to: Pose,
): readonly [Piece, Piece] | null {
  const k = Math.abs(from.curvature) < STRAIGHT ? 0 : from.curvature;
  const c = Math.cos(from.angle);
  const s = Math.sin(from.angle);
  const u = c * (to.x - from.x) + s * (to.y - from.y);
  const v = c * (to.y - from.y) - s * (to.x - from.x);
  const cosB = Math.cos(to.angle - from.angle);
  const sinB = Math.sin(to.angle - from.angle);
  // Circles that touch with the same direction of travel: the distance of the centres is the difference of
  // the (signed) radii. Solved for the second curvature.
  const k2 = (2 * (k * (u * sinB - v * cosB) - (1 - cosB))) / (k * (u * u + v * v) - 2 * v);
  if (!Number.isFinite(k2) || k2 === k) return null;
  // The normal at the joint lies along the line of centres.
  const sign = k2 > k ? 1 : -1;
  const turn1 = Math.atan2(sign * k2 * (k * u) - sign * k * sinB, sign * (k2 - k * k2 * v - k * cosB));
  let length1: number;
  let ju: number;
  let jv: number;
  if (k === 0) {
    ju = u - sinB / k2;
    jv = 0;
    length1 = ju;
  } else {
    length1 = turn1 / k;
    ju = Math.sin(turn1) / k;
    jv = (2 * Math.sin(turn1 / 2) ** 2) / k;
  }
  if (!(length1 > 0)) return null;
  const wu = u - ju;
  const wv = v - jv;
  const turn2 = 2 * (Math.atan2(wv, wu) - turn1);
  const sweep2 = turn2 - Math.round(turn2 / (4 * Math.PI)) * 4 * Math.PI;
  if (Math.abs(turn1) > LARGEST_TURN || Math.abs(sweep2) > LARGEST_TURN) return null;
  if (sweep2 * k2 * hypotenuse(wu, wv) < -1e-9) return null; // it would run backward
  // Where `to` is on the first circle already, the formula is nought over nought.
  if (!(Math.abs(Math.sin(turn1 + sweep2 - (to.angle - from.angle))) < 1e-9)) return null;
  const length2 = arcLength(wu, wv, sweep2);
  if (!(length2 > 0)) return null;
  const second = {
    x: from.x + c * ju - s * jv,
    y: from.y + s * ju + c * jv,
    angle: from.angle + turn1,
    curvature: sweep2 / length2,
    length: length2,
  };
  return [{ x: from.x, y: from.y, angle: from.angle, curvature: k, length: length1 }, second];
}

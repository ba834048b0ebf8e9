/**
 * Lengths on the neutral surface of a bent sheet against those on its middle.
 *
 * The part's points are taken in the middle of the sheet. Where a bend is tighter than five thicknesses the fibre
 * that keeps its length lies nearer to the inside (`material/neutralFactor.ts`, DIN 6935): there the middle is
 * longer across the bend than the blank may be, in the ratio of the two radii. Both principal directions of a
 * surface are treated alike, as the tray path treats the bottom bend and its corner; planes are left as they are.
 */
import { cross, dot, moved, norm, scaled, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import { neutralFactor } from '../../material/neutralFactor.ts';

/** Tightest bend the rule is asked for: a tenth of the thickness. */
const LEAST_RATIO = 0.1;

/**
 * Radius of the neutral fibre of a bend, mm.
 *
 * @param middle    radius of the sheet's middle, mm, positive
 * @param thickness mm
 */
export function neutralRadiusOf(middle: number, thickness: number): number {
  const inside = middle - thickness / 2;
  if (inside >= 5 * thickness) return middle;
  const k = neutralFactor(Math.max(inside, LEAST_RATIO * thickness), thickness);
  return middle - ((1 - k) * thickness) / 2;
}

/** The curvatures of a surface at a point. */
export interface Curvatures {
  /** 1/mm; positive where the centre lies on the normal's side. */
  readonly values: readonly [number, number];
  /** Unit vectors of the two directions. */
  readonly directions: readonly [Vector3, Vector3];
}

/**
 * Principal curvatures from a point's derivatives as `LivePart.differentiate` gives them.
 *
 * Source: textbook differential geometry, dn = −S dx (from memory).
 *
 * @param rates point, unit normal, point by u and v, normal by u and v: 18 numbers; not changed
 * @param sign  −1 when the normal is to be taken the other way round
 */
export function curvaturesOf(rates: Float64Array, sign: number): Curvatures {
  const at = (i: number): Vector3 => vectorAt(rates, i);
  const [n, xu, xv, nu, nv] = [at(3), at(6), at(9), at(12), at(15)];
  const length = norm(xu);
  const e1 = scaled(1 / length, xu);
  const e2 = cross(n, e1);
  const along = dot(xv, e1);
  const across = dot(xv, e2);
  const d1 = scaled(-sign / length, nu);
  const d2 = scaled(1 / across, moved(scaled(-sign, nv), -along, d1));
  const [s11, s22, s12] = [dot(d1, e1), dot(d2, e2), (dot(d1, e2) + dot(d2, e1)) / 2];
  const mean = (s11 + s22) / 2;
  const half = Math.hypot((s11 - s22) / 2, s12);
  const angle = Math.atan2(2 * s12, s11 - s22) / 2;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const turned = (p: number, q: number): Vector3 => moved(scaled(p, e1), q, e2);
  return { values: [mean + half, mean - half], directions: [turned(c, s), turned(-s, c)] };
}

/**
 * Neutral length over the middle's length along a direction of curvature.
 *
 * @param curvature of the skin, 1/mm, positive where the skin is the inside of the bend
 * @param depth     of the middle below the skin, mm
 */
export function neutralShare(curvature: number, depth: number, thickness: number): number {
  const size = Math.abs(curvature);
  if (!(size * thickness > 0.1)) return 1; // the inside radius is far above five thicknesses
  const middle = 1 / size + Math.sign(curvature) * depth;
  if (!(middle > 0)) return 1;
  return neutralRadiusOf(middle, thickness) / middle;
}

/**
 * Length on the neutral surface between two points of the sheet's middle near one another, exact on planes and
 * cylinders: with θ the angle between the normals, the part of the chord across the bend is 2 r sin(θ/2), and the
 * neutral fibre over it an arc of its own radius times θ.
 *
 * @param position x y z per point
 * @param normals  unit normals, x y z per point
 */
export function neutralLength(
  position: ArrayLike<number>,
  normals: ArrayLike<number>,
  i: number,
  j: number,
  thickness: number,
): number {
  let [square, turn, across] = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const step = position[3 * j + k]! - position[3 * i + k]!;
    const change = normals[3 * j + k]! - normals[3 * i + k]!;
    square += step * step;
    turn += change * change;
    across += step * change;
  }
  const sine = Math.sqrt(turn) / 2;
  if (!(sine > 1e-9) || sine > 0.9) return Math.sqrt(square);
  const angle = 2 * Math.asin(sine);
  const radius = Math.abs(across) / (4 * sine * sine);
  const neutral = radius > 0 ? neutralRadiusOf(radius, thickness) : 0;
  const longer = square + neutral * neutral * angle * angle - radius * radius * 4 * sine * sine;
  return Math.sqrt(Math.max(longer, square / 4));
}

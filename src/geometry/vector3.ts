/** Vectors in space. They may come as anything indexed; what is given back is new. */
export type Vector3 = readonly [x: number, y: number, z: number];

/** The vector that begins at a place of a list of coordinates: three times its number. */
export const vectorAt = (values: ArrayLike<number>, from = 0): Vector3 => [
  values[from]!,
  values[from + 1]!,
  values[from + 2]!,
];

export const minus = (a: ArrayLike<number>, b: ArrayLike<number>): Vector3 => [
  a[0]! - b[0]!,
  a[1]! - b[1]!,
  a[2]! - b[2]!,
];

/** a + factor · d */
export const moved = (a: ArrayLike<number>, factor: number, d: ArrayLike<number>): Vector3 => [
  a[0]! + factor * d[0]!,
  a[1]! + factor * d[1]!,
  a[2]! + factor * d[2]!,
];

export const scaled = (factor: number, a: ArrayLike<number>): Vector3 => [
  factor * a[0]!,
  factor * a[1]!,
  factor * a[2]!,
];

export const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;

/** a × b, by the right hand. */
export const cross = (a: ArrayLike<number>, b: ArrayLike<number>): Vector3 => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];

export const norm = (a: ArrayLike<number>): number => Math.hypot(a[0]!, a[1]!, a[2]!);

/** Of length 1; the vector must have a length. */
export function unit(a: ArrayLike<number>): Vector3 {
  const length = norm(a);
  return [a[0]! / length, a[1]! / length, a[2]! / length];
}

export const distance = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!);

/** Angle between two vectors of any length, radians from 0 to π. */
export const angleBetween = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Math.acos(Math.max(-1, Math.min(1, dot(a, b) / norm(a) / norm(b))));

/** Unit vectors square to a unit vector and to each other: the first as near as can be to x (to y where it is near x). */
export function squareTo(z: ArrayLike<number>): readonly [Vector3, Vector3] {
  const start: Vector3 = Math.abs(z[0]!) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  const x = unit(moved(start, -dot(start, z), z));
  return [x, cross(z, x)];
}

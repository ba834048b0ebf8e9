/**
 * How far a flat shape distorts its triangles, and less of it: the symmetric Dirichlet energy |J|² + |J⁻¹|², which grows
 * without bound before a triangle turns over (J. Smith, S. Schaefer, "Bijective parameterization with free boundaries",
 * 2015; title from memory), lessened by L-BFGS steps that start from the Laplacian.
 *
 * `shapes` has four numbers a triangle: the inverse of its own edges (b11, b12, b22; b21 = 0) and its area.
 */
import { dot } from '../../solve/corrections.ts';
import type { Factored } from './skyline.ts';

const MEMORY = 6;
const MAXIMUM_STEPS = 400;
/** Relative fall of the energy over ten steps at which the shape is good enough to start from. */
const ENOUGH = 3e-4;

/** Lessens the energy from a shape; where that has a triangle turned over, the energy is Infinity. */
export function leastDistorted(
  triangles: readonly number[],
  shapes: Float64Array,
  laplacian: Factored,
  start: Float64Array,
): { flat: Float64Array; energy: number } {
  let flat = start;
  const count = flat.length / 2;
  const gradient = new Float64Array(2 * count);
  let energy = energyAndGradient(triangles, shapes, flat, gradient);
  if (energy === Infinity) return { flat, energy };
  const pairs: { s: Float64Array; y: Float64Array; rho: number }[] = [];
  const history: number[] = [];
  for (let step = 0; step < MAXIMUM_STEPS; step++) {
    const direction = descent(gradient, pairs, laplacian, count);
    let slope = dot(direction, gradient);
    if (!(slope < 0)) {
      pairs.length = 0;
      for (let i = 0; i < direction.length; i++) direction[i] = -gradient[i]!;
      slope = dot(direction, gradient);
      if (!(slope < 0)) break;
    }
    let size = Math.min(1, 0.9 * largestStep(triangles, flat, direction));
    const next = new Float64Array(2 * count);
    const nextGradient = new Float64Array(2 * count);
    let nextEnergy = Infinity;
    for (let halving = 0; halving < 40; halving++, size /= 2) {
      for (let i = 0; i < next.length; i++) next[i] = flat[i]! + size * direction[i]!;
      nextEnergy = energyAndGradient(triangles, shapes, next, nextGradient);
      if (nextEnergy < energy + 1e-4 * size * slope) break;
    }
    if (!(nextEnergy < energy)) {
      if (pairs.length === 0) break;
      pairs.length = 0;
      continue;
    }
    const s = next.map((value, i) => value - flat[i]!);
    const y = nextGradient.map((value, i) => value - gradient[i]!);
    const sy = dot(s, y);
    if (sy > 1e-12) {
      pairs.push({ s, y, rho: 1 / sy });
      if (pairs.length > MEMORY) pairs.shift();
    }
    flat = next;
    gradient.set(nextGradient);
    energy = nextEnergy;
    history.push(energy);
    if (history.length > 10 && history[history.length - 11]! - energy < ENOUGH * energy) break;
  }
  return { flat, energy };
}

/** L-BFGS two-loop recursion with the inverse Laplacian in the middle. */
function descent(
  gradient: Float64Array,
  pairs: readonly { s: Float64Array; y: Float64Array; rho: number }[],
  laplacian: Factored,
  count: number,
): Float64Array {
  const q = gradient.map((value) => -value);
  const alpha: number[] = [];
  for (let k = pairs.length - 1; k >= 0; k--) {
    const { s, y, rho } = pairs[k]!;
    const a = rho * dot(s, q);
    alpha[k] = a;
    for (let i = 0; i < q.length; i++) q[i] = q[i]! - a * y[i]!;
  }
  const column = new Float64Array(count);
  for (let axis = 0; axis < 2; axis++) {
    for (let i = 0; i < count; i++) column[i] = q[2 * i + axis]!;
    laplacian.solve(column);
    // The energy's own stiffness at rest is four times the Laplacian's.
    for (let i = 0; i < count; i++) q[2 * i + axis] = column[i]! / 4;
  }
  for (const [k, { s, y, rho }] of pairs.entries()) {
    const b = rho * dot(y, q);
    for (let i = 0; i < q.length; i++) q[i] = q[i]! + (alpha[k]! - b) * s[i]!;
  }
  return q;
}

/** Σ area·(|J|² + |J|²/det²) and its gradient; Infinity when a triangle is turned over. */
function energyAndGradient(
  triangles: readonly number[],
  shapes: Float64Array,
  flat: Float64Array,
  gradient: Float64Array,
): number {
  gradient.fill(0);
  let energy = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const o = (4 * t) / 3;
    const [b11, b12, b22, area] = [shapes[o]!, shapes[o + 1]!, shapes[o + 2]!, shapes[o + 3]!];
    const [i, j, k] = [2 * triangles[t]!, 2 * triangles[t + 1]!, 2 * triangles[t + 2]!];
    const [e1x, e1y] = [flat[j]! - flat[i]!, flat[j + 1]! - flat[i + 1]!];
    const [e2x, e2y] = [flat[k]! - flat[i]!, flat[k + 1]! - flat[i + 1]!];
    const j11 = e1x * b11;
    const j21 = e1y * b11;
    const j12 = e1x * b12 + e2x * b22;
    const j22 = e1y * b12 + e2y * b22;
    const det = j11 * j22 - j12 * j21;
    if (!(det > 0)) return Infinity;
    const square = j11 * j11 + j12 * j12 + j21 * j21 + j22 * j22;
    const inverse = 1 / (det * det);
    energy += area * square * (1 + inverse);
    const f = 2 * area * (1 + inverse);
    const g = (-2 * area * square * inverse) / det;
    const d11 = f * j11 + g * j22;
    const d12 = f * j12 - g * j21;
    const d21 = f * j21 - g * j12;
    const d22 = f * j22 + g * j11;
    const gx1 = d11 * b11 + d12 * b12;
    const gy1 = d21 * b11 + d22 * b12;
    const gx2 = d12 * b22;
    const gy2 = d22 * b22;
    gradient[j] = gradient[j]! + gx1;
    gradient[j + 1] = gradient[j + 1]! + gy1;
    gradient[k] = gradient[k]! + gx2;
    gradient[k + 1] = gradient[k + 1]! + gy2;
    gradient[i] = gradient[i]! - gx1 - gx2;
    gradient[i + 1] = gradient[i + 1]! - gy1 - gy2;
  }
  return energy;
}

/** The largest energy of a triangle, over that of an unstrained one; Infinity when one is turned over. */
export function worstEnergy(triangles: readonly number[], shapes: Float64Array, flat: Float64Array): number {
  const [corners, gradient] = [new Float64Array(6), new Float64Array(6)];
  let worst = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 6; k++) corners[k] = flat[2 * triangles[t + (k >> 1)]! + (k & 1)]!;
    const own = shapes.subarray((4 * t) / 3, (4 * t) / 3 + 4);
    worst = Math.max(worst, energyAndGradient([0, 1, 2], own, corners, gradient) / (4 * own[3]!));
  }
  return worst;
}

/** The step at which the first triangle would lose all its area. */
function largestStep(triangles: readonly number[], flat: Float64Array, direction: Float64Array): number {
  let least = Infinity;
  for (let t = 0; t < triangles.length; t += 3) {
    const [i, j, k] = [2 * triangles[t]!, 2 * triangles[t + 1]!, 2 * triangles[t + 2]!];
    const [ax, ay, bx, by] = [
      flat[j]! - flat[i]!,
      flat[j + 1]! - flat[i + 1]!,
      flat[k]! - flat[i]!,
      flat[k + 1]! - flat[i + 1]!,
    ];
    const [px, py, qx, qy] = [
      direction[j]! - direction[i]!,
      direction[j + 1]! - direction[i + 1]!,
      direction[k]! - direction[i]!,
      direction[k + 1]! - direction[i + 1]!,
    ];
    const c = ax * by - ay * bx;
    const b = ax * qy - ay * qx + px * by - py * bx;
    const a = px * qy - py * qx;
    // Smallest positive root of a s² + b s + c, c > 0.
    let root = Infinity;
    if (Math.abs(a) < 1e-14 * (Math.abs(b) + c)) {
      if (b < 0) root = -c / b;
    } else {
      const inside = b * b - 4 * a * c;
      if (inside >= 0) {
        const q = -0.5 * (b + (b >= 0 ? 1 : -1) * Math.sqrt(inside));
        for (const r of [q / a, c / q]) if (r > 0 && r < root) root = r;
      }
    }
    if (root < least) least = root;
  }
  return least;
}

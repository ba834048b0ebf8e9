/**
 * A first flat shape of a skin with every triangle the right way round.
 *
 * Begins with the map of W. T. Tutte ("How to draw a graph", 1963; with positive weights M. S. Floater,
 * "Parametrization and smooth approximation of surface triangulations", 1997), rim on a circle, which cannot turn a
 * triangle over, and lessens the symmetric Dirichlet energy |J|² + |J⁻¹|², which grows without bound before one
 * does (J. Smith, S. Schaefer, "Bijective parameterization with free boundaries", 2015), by L-BFGS steps that start
 * from the Laplacian. Titles from memory.
 */
import { distance, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import { neutralLength } from './neutralFibre.ts';
import { factorSkyline } from './skyline.ts';

const MEMORY = 6;
const MAXIMUM_STEPS = 400;
/** Relative fall of the energy over ten steps at which the shape is good enough to start from. */
const ENOUGH = 3e-4;
/**
 * A triangle with so many times the energy of an unstrained one is strained by 1.5, as no sheet is: triangles that the first
 * map has made narrow, as at deep notches, let the steps get nowhere.
 */
const STUCK = Math.cosh(3);
/** Rounds of turning and fitting: a box with all its corners notched needs some hundred. */
const RIGID_ROUNDS = 300;

/**
 * @param position  x y z per vertex
 * @param triangles three vertices each, one sheet with a rim
 * @param loops     its boundaries, the rim first
 * @param normals   unit normals, x y z per vertex
 * @param thickness of the sheet, mm
 * @returns x y per vertex; all triangles counter-clockwise, lengths about those of the sheet
 */
export function flatten(
  position: readonly number[],
  triangles: readonly number[],
  loops: readonly (readonly number[])[],
  normals: Float64Array,
  thickness: number,
): Float64Array {
  const count = position.length / 3;
  const shapes = restShapes(position, triangles, normals, thickness);
  const laplacian = laplacianOf(edgeWeights(position, triangles, count), count);
  const start = scaledToArea(position, triangles, tutte(position, triangles, loops, count));
  const found = minimised(triangles, shapes, laplacian, start);
  if (worstEnergy(triangles, shapes, found.flat) < STUCK) return found.flat;
  const rigid = asRigidAsPossible(position, triangles, shapes, count, found.flat);
  const other = minimised(triangles, shapes, laplacian, rigid);
  return other.energy < found.energy ? other.flat : found.flat;
}

interface Laplacian {
  /** Solves in place. */
  solve(b: Float64Array): void;
}

/** The weighted Laplacian of a net, a trifle stiffer at every vertex so that it has an inverse. */
function laplacianOf(weights: ReadonlyMap<number, number>, count: number): Laplacian {
  const diagonal = new Float64Array(count).fill(1e-6);
  const entries: [number, number, number][] = [];
  for (const [key, weight] of weights) {
    const [i, j] = [Math.floor(key / count), key % count];
    entries.push([i, j, -weight]);
    diagonal[i] = diagonal[i]! + weight;
    diagonal[j] = diagonal[j]! + weight;
  }
  return factorSkyline(count, entries, diagonal);
}

/** Lessens the energy from a shape; where that has a triangle turned over, the energy is Infinity. */
function minimised(
  triangles: readonly number[],
  shapes: Float64Array,
  laplacian: Laplacian,
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

/**
 * The shape whose triangles are turned, and changed as little as can be: by turns each triangle is turned to fit the shape
 * and the shape fitted to the triangles (L. Liu et al., "A local/global approach to mesh parameterization", 2008; title
 * from memory). It may turn triangles over.
 */
function asRigidAsPossible(
  position: readonly number[],
  triangles: readonly number[],
  shapes: Float64Array,
  count: number,
  start: Float64Array,
): Float64Array {
  const weights = edgeWeights(position, triangles, count);
  const laplacian = laplacianOf(weights, count);
  const uses = new Map<number, number>();
  const keyOf = (i: number, j: number): number => (i < j ? i * count + j : j * count + i);
  const each = (use: (t: number, k: number, i: number, j: number, key: number) => void): void => {
    for (let t = 0; t < triangles.length; t += 3)
      for (let k = 0; k < 3; k++) {
        const [i, j] = [triangles[t + k]!, triangles[t + ((k + 1) % 3)]!];
        use(t, k, i, j, keyOf(i, j));
      }
  };
  each((_t, _k, _i, _j, key) => uses.set(key, (uses.get(key) ?? 0) + 1));
  const [flat, next] = [start.slice(), [new Float64Array(count), new Float64Array(count)] as const];
  for (let round = 0; round < RIGID_ROUNDS; round++) {
    for (let axis = 0; axis < 2; axis++) {
      // What makes the Laplacian a trifle stiffer holds the shape where it is.
      for (let i = 0; i < count; i++) next[axis]![i] = 1e-6 * flat[2 * i + axis]!;
    }
    each((t, k, i, j, key) => {
      const o = (4 * t) / 3;
      // Edges at rest, in the triangle's own frame: its first one along x.
      const length = 1 / shapes[o]!;
      const height = 1 / shapes[o + 2]!;
      const foot = -shapes[o + 1]! * length * height;
      const rest = [
        [length, 0],
        [foot - length, height],
        [-foot, -height],
      ] as const;
      let [c, s] = [0, 0];
      for (let m = 0; m < 3; m++) {
        const [p, q] = [triangles[t + m]!, triangles[t + ((m + 1) % 3)]!];
        const [x, y] = [flat[2 * q]! - flat[2 * p]!, flat[2 * q + 1]! - flat[2 * p + 1]!];
        const weight = weights.get(keyOf(p, q))! / uses.get(keyOf(p, q))!;
        c += weight * (rest[m]![0] * x + rest[m]![1] * y);
        s += weight * (rest[m]![0] * y - rest[m]![1] * x);
      }
      const size = Math.hypot(c, s);
      const weight = weights.get(key)! / uses.get(key)! / (size > 0 ? size : 1);
      const [x, y] = rest[k]!;
      const [dx, dy] = [weight * (c * x - s * y), weight * (s * x + c * y)];
      next[0][j] = next[0][j]! + dx;
      next[1][j] = next[1][j]! + dy;
      next[0][i] = next[0][i]! - dx;
      next[1][i] = next[1][i]! - dy;
    });
    for (let axis = 0; axis < 2; axis++) {
      laplacian.solve(next[axis]!);
      for (let i = 0; i < count; i++) flat[2 * i + axis] = next[axis]![i]!;
    }
  }
  return flat;
}

const dot = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};

/** L-BFGS two-loop recursion with the inverse Laplacian in the middle. */
function descent(
  gradient: Float64Array,
  pairs: readonly { s: Float64Array; y: Float64Array; rho: number }[],
  laplacian: { solve(b: Float64Array): void },
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

function corners3(position: readonly number[], triangles: readonly number[], t: number): Vector3[] {
  return [0, 1, 2].map((k) => vectorAt(position, 3 * triangles[t + k]!));
}

/** Half the cotangents opposite each edge, kept above a small share so that all are positive. */
function edgeWeights(
  position: readonly number[],
  triangles: readonly number[],
  count: number,
): Map<number, number> {
  const weights = new Map<number, number>();
  for (let t = 0; t < triangles.length; t += 3) {
    const p = corners3(position, triangles, t);
    for (let k = 0; k < 3; k++) {
      const [a, b, c] = [p[k]!, p[(k + 1) % 3]!, p[(k + 2) % 3]!];
      const [x, y, z] = [distance(c, a), distance(c, b), distance(a, b)];
      const cosine = (x * x + y * y - z * z) / (2 * x * y);
      const weight = cosine / Math.sqrt(Math.max(1e-12, 1 - cosine * cosine)) / 2;
      const [i, j] = [triangles[t + k]!, triangles[t + ((k + 1) % 3)]!];
      const key = i < j ? i * count + j : j * count + i;
      weights.set(key, (weights.get(key) ?? 0) + weight);
    }
  }
  for (const [key, weight] of weights) weights.set(key, Math.min(50, Math.max(0.02, weight)));
  return weights;
}

/** Every inner vertex in the weighted middle of its neighbours, the rim on a circle; holes are spanned by a hub. */
function tutte(
  position: readonly number[],
  triangles: readonly number[],
  loops: readonly (readonly number[])[],
  count: number,
): Float64Array {
  const [rim, ...holes] = loops;
  const total = count + holes.length;
  const wide = new Map<number, number>();
  for (const [key, weight] of edgeWeights(position, triangles, count)) {
    wide.set(Math.floor(key / count) * total + (key % count), weight);
  }
  for (const [h, hole] of holes.entries())
    for (const vertex of hole) wide.set(vertex * total + count + h, 0.5);
  const fixed = new Float64Array(2 * total).fill(Number.NaN);
  const lengths = rim!.map((vertex, i) =>
    distance(
      position.slice(3 * vertex, 3 * vertex + 3),
      position.slice(3 * rim![(i + 1) % rim!.length]!, 3 * rim![(i + 1) % rim!.length]! + 3),
    ),
  );
  const around = lengths.reduce((sum, value) => sum + value, 0);
  let along = 0;
  for (const [i, vertex] of rim!.entries()) {
    const angle = (2 * Math.PI * along) / around;
    fixed[2 * vertex] = Math.cos(angle);
    fixed[2 * vertex + 1] = Math.sin(angle);
    along += lengths[i]!;
  }
  const free: number[] = [];
  const unknown = new Int32Array(total).fill(-1);
  for (let vertex = 0; vertex < total; vertex++) {
    if (Number.isNaN(fixed[2 * vertex]!)) unknown[vertex] = free.push(vertex) - 1;
  }
  const diagonal = new Float64Array(free.length);
  const entries: [number, number, number][] = [];
  const right = [new Float64Array(free.length), new Float64Array(free.length)];
  for (const [key, weight] of wide) {
    const [i, j] = [Math.floor(key / total), key % total];
    for (const [a, b] of [
      [i, j],
      [j, i],
    ] as const) {
      const row = unknown[a]!;
      if (row < 0) continue;
      diagonal[row] = diagonal[row]! + weight;
      if (unknown[b]! < 0) {
        for (let axis = 0; axis < 2; axis++)
          right[axis]![row] = right[axis]![row]! + weight * fixed[2 * b + axis]!;
      } else if (a === i) entries.push([row, unknown[b]!, -weight]);
    }
  }
  const factored = factorSkyline(free.length, entries, diagonal);
  for (let axis = 0; axis < 2; axis++) {
    factored.solve(right[axis]!);
    for (const [row, vertex] of free.entries()) fixed[2 * vertex + axis] = right[axis]![row]!;
  }
  return fixed.slice(0, 2 * count);
}

function scaledToArea(
  position: readonly number[],
  triangles: readonly number[],
  flat: Float64Array,
): Float64Array {
  let formed = 0;
  let drawn = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = corners3(position, triangles, t);
    const [x, y, z] = [distance(a!, b!), distance(b!, c!), distance(c!, a!)];
    const s = (x + y + z) / 2;
    formed += Math.sqrt(Math.max(0, s * (s - x) * (s - y) * (s - z)));
    drawn += signedArea(triangles, flat, t) / 2;
  }
  const scale = Math.sqrt(formed / drawn);
  return flat.map((value) => value * scale);
}

const signedArea = (triangles: readonly number[], flat: Float64Array, t: number): number => {
  const [i, j, k] = [2 * triangles[t]!, 2 * triangles[t + 1]!, 2 * triangles[t + 2]!];
  return (
    (flat[j]! - flat[i]!) * (flat[k + 1]! - flat[i + 1]!) -
    (flat[j + 1]! - flat[i + 1]!) * (flat[k]! - flat[i]!)
  );
};

/** Per triangle: inverse of its own edges (b11, b12, b22; b21 = 0) and its area. */
function restShapes(
  position: readonly number[],
  triangles: readonly number[],
  normals: Float64Array,
  thickness: number,
): Float64Array {
  const out = new Float64Array((4 * triangles.length) / 3);
  for (let t = 0; t < triangles.length; t += 3) {
    const [i, j, k] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    const [x, y, z] = [
      neutralLength(position, normals, i, j, thickness),
      neutralLength(position, normals, j, k, thickness),
      neutralLength(position, normals, k, i, thickness),
    ];
    const cx = (x * x + z * z - y * y) / (2 * x);
    const cy = Math.sqrt(Math.max(1e-12 * x * x, z * z - cx * cx));
    const o = (4 * t) / 3;
    out[o] = 1 / x;
    out[o + 1] = -cx / (x * cy);
    out[o + 2] = 1 / cy;
    out[o + 3] = (x * cy) / 2;
  }
  return out;
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
function worstEnergy(triangles: readonly number[], shapes: Float64Array, flat: Float64Array): number {
  const none = new Float64Array(flat.length);
  let worst = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const own = shapes.subarray((4 * t) / 3, (4 * t) / 3 + 4);
    const energy = energyAndGradient(triangles.slice(t, t + 3), own, flat, none);
    worst = Math.max(worst, energy / (4 * own[3]!));
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

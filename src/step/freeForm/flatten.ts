/**
 * A first flat shape of a skin with every triangle the right way round.
 *
 * Begins with the map of W. T. Tutte ("How to draw a graph", 1963; with positive weights M. S. Floater,
 * "Parametrization and smooth approximation of surface triangulations", 1997), rim on a circle, which cannot turn a
 * triangle over, and lessens the energy of its distortion (`distortion.ts`). Titles from memory.
 */
import { distance, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import { leastDistorted, worstEnergy } from './distortion.ts';
import { neutralLength } from './neutralFibre.ts';
import { type Factored, factorSkyline } from './skyline.ts';

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
  const found = leastDistorted(triangles, shapes, laplacian, start);
  if (worstEnergy(triangles, shapes, found.flat) < STUCK) return found.flat;
  const rigid = asRigidAsPossible(position, triangles, shapes, count, found.flat);
  const other = leastDistorted(triangles, shapes, laplacian, rigid);
  return other.energy < found.energy ? other.flat : found.flat;
}

/** The weighted Laplacian of a net, a trifle stiffer at every vertex so that it has an inverse. */
function laplacianOf(weights: ReadonlyMap<number, number>, count: number): Factored {
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

/** The solved surface as flat facets: for shading, for what hides what, and for its outline as it is seen. */
import type { FormedShape } from '../pattern/formedShape.ts';
import { radians } from '../units.ts';

/** Each six-node triangle as four flat ones, the one in the middle last. Three nodes each. */
export function quarters({ triangles }: FormedShape): Uint32Array {
  const out = new Uint32Array(2 * triangles.length);
  for (let t = 0; t < triangles.length; t += 6) {
    const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    const [ab, bc, ca] = [triangles[t + 3]!, triangles[t + 4]!, triangles[t + 5]!];
    out.set([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], 2 * t);
  }
  return out;
}

/** Cosine of the angle by which a quarter may be turned against the whole before it shows. */
export const SAME_SHADE = Math.cos(radians(3));
export const COARSE_SHADE = Math.cos(radians(12));

/** The quarters where the surface is curved, whole triangles where it is as good as flat. */
export function shadedTriangles(
  { formed, triangles }: FormedShape,
  fine: Uint32Array,
  fineNormals: Float64Array,
  least: number,
): Uint32Array {
  const whole = new Uint32Array(triangles.length / 2);
  for (let t = 0; t < triangles.length; t += 6) whole.set(triangles.subarray(t, t + 3), t / 2);
  const wholeNormals = normals(formed, whole);
  const out: number[] = [];
  for (let t = 0; t < whole.length; t += 3) {
    const n = wholeNormals.subarray(t, t + 3);
    let flat = true;
    for (let k = 4 * t; k < 4 * t + 12; k += 3)
      flat &&= n[0]! * fineNormals[k]! + n[1]! * fineNormals[k + 1]! + n[2]! * fineNormals[k + 2]! > least;
    if (flat) out.push(whole[t]!, whole[t + 1]!, whole[t + 2]!);
    else for (let k = 4 * t; k < 4 * t + 12; k++) out.push(fine[k]!);
  }
  return Uint32Array.from(out);
}

/** Unit normals of triangles, up out of the base; x y z each. */
export function normals(formed: Float64Array, triangles: Uint32Array): Float64Array {
  const out = new Float64Array(triangles.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!];
    const ux = formed[b]! - formed[a]!;
    const uy = formed[b + 1]! - formed[a + 1]!;
    const uz = formed[b + 2]! - formed[a + 2]!;
    const vx = formed[c]! - formed[a]!;
    const vy = formed[c + 1]! - formed[a + 1]!;
    const vz = formed[c + 2]! - formed[a + 2]!;
    const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const length = Math.sqrt(x * x + y * y + z * z) || 1;
    out[t] = x / length;
    out[t + 1] = y / length;
    out[t + 2] = z / length;
  }
  return out;
}

/**
 * Edges between a face seen from inside and one seen from outside.
 *
 * @param all  normals of the triangles; not changed
 * @param back unit vector to the eye
 */
export function silhouette(
  nodes: number,
  triangles: Uint32Array,
  all: Float64Array,
  back: readonly [number, number, number],
): [number, number][] {
  const seen = new Map<number, boolean>();
  const lines: [number, number][] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const facing = back[0] * all[t]! + back[1] * all[t + 1]! + back[2] * all[t + 2]! > 0;
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[t + k]!, triangles[t + ((k + 1) % 3)]!];
      const key = a < b ? a * nodes + b : b * nodes + a;
      const other = seen.get(key);
      if (other === undefined) seen.set(key, facing);
      else if (other !== facing) lines.push([a, b]);
    }
  }
  return lines;
}

/** Pieces joined end to end, so that a line is one line and not a row of them. */
export function chains(pieces: readonly (readonly [number, number])[]): number[][] {
  const ends = new Map<number, number[]>();
  pieces.forEach((piece, i) => {
    for (const node of piece) ends.set(node, [...(ends.get(node) ?? []), i]);
  });
  const used = new Uint8Array(pieces.length);
  const follow = (from: number): number[] => {
    const out: number[] = [];
    for (let at = from; ; ) {
      const i = ends.get(at)!.find((each) => used[each] === 0);
      if (i === undefined) return out;
      used[i] = 1;
      at = pieces[i]![0] === at ? pieces[i]![1] : pieces[i]![0];
      out.push(at);
    }
  };
  return pieces.flatMap(([from, to], i) => {
    if (used[i] === 1) return [];
    used[i] = 1;
    return [[...follow(from).reverse(), from, to, ...follow(to)]];
  });
}

/**
 * Residual and tangent of all triangles in AssemblyScript: the same sums as `assembleByScript` in ../assembly.ts,
 * which is the reference and says what they mean; two numbers at a time.
 *
 * A job is described by 32-bit words: [0] triangles, then byte offsets of [1] their nodes (6 each), [2] their
 * equations (12 each; -1 where held, those of pinned unknowns after all others), [3] their fronts (offset of the
 * matrix and its size), [4] their places in the front (12 each, -1 where held), [5] integration points, [6] node
 * directions, [7] flat positions, [8] growth per point (0 for none), [9] the law, [10] residual, [11] magnitude,
 * [12] rows of pinned equations; [13] unknowns, [14] pinned equations, [15] offset and [16] bytes of the fronts.
 */
import { membraneForce, NONE } from './forceKernel.as';

const POINTS = 3;
const POINT_BYTES: usize = 37 * 8;

const force = memory.data(15 * 8, 16);
/** Change of T11, of T22 and of T12 with the twelve unknowns of a triangle. */
const columns = memory.data(36 * 8, 16);
const matrix = memory.data(144 * 8, 16);
const forces = memory.data(12 * 8, 16);

export function assemble(job: usize, derivatives: i32): bool {
  const count = load<i32>(job);
  let nodes = <usize>load<i32>(job, 4);
  let equations = <usize>load<i32>(job, 8);
  let fronts = <usize>load<i32>(job, 12);
  let places = <usize>load<i32>(job, 16);
  let point = <usize>load<i32>(job, 20);
  const direction = <usize>load<i32>(job, 24);
  const flat = <usize>load<i32>(job, 28);
  let growth = <usize>load<i32>(job, 32);
  const law = <usize>load<i32>(job, 36);
  const residual = <usize>load<i32>(job, 40);
  const magnitude = <usize>load<i32>(job, 44);
  const pinnedRows = <usize>load<i32>(job, 48);
  const unknownCount = load<i32>(job, 52);
  const pinnedCount = load<i32>(job, 56);
  const tangent = derivatives != NONE;
  memory.fill(residual, 0, <usize>(unknownCount + pinnedCount) << 3);
  memory.fill(magnitude, 0, <usize>(unknownCount + pinnedCount) << 3);
  if (tangent) {
    memory.fill(<usize>load<i32>(job, 60), 0, <usize>load<i32>(job, 64));
    memory.fill(pinnedRows, 0, <usize>(pinnedCount * unknownCount) << 3);
  }
  for (let t = 0; t < count; t++) {
    memory.fill(forces, 0, 96);
    if (tangent) memory.fill(matrix, 0, 1152);
    for (let g = 0; g < POINTS; g++) {
      let gg1 = f64x2.splat(0);
      let gg2 = f64x2.splat(0);
      for (let i: usize = 0; i < 6; i++) {
        const at = flat + (<usize>load<i32>(nodes + (i << 2)) << 4);
        const gradient = v128.load(point + 8 + (i << 4));
        gg1 = f64x2.add(gg1, f64x2.mul(v128.load64_splat(at), gradient));
        gg2 = f64x2.add(gg2, f64x2.mul(v128.load64_splat(at + 8), gradient));
      }
      const g11 = f64x2.extract_lane(gg1, 0);
      const g12 = f64x2.extract_lane(gg1, 1);
      const g21 = f64x2.extract_lane(gg2, 0);
      const g22 = f64x2.extract_lane(gg2, 1);
      if (!(g11 * g22 - g12 * g21 > 1e-9)) return false;
      let grown: f64 = 0;
      if (growth != 0) {
        grown = load<f64>(growth);
        growth += 8;
      }
      membraneForce(law, g11, g12, g21, g22, grown, derivatives, force);
      const area = load<f64>(point);
      const t11 = area * load<f64>(force);
      const t22 = area * load<f64>(force, 8);
      const t12 = area * load<f64>(force, 16);
      for (let i: usize = 0; i < 6; i++) {
        const d1 = load<f64>(point + 8 + (i << 4));
        const d2 = load<f64>(point + 16 + (i << 4));
        const q1 = t11 * d1 + t12 * d2;
        const q2 = t12 * d1 + t22 * d2;
        const a = point + 104 + (i << 5);
        const f = forces + (i << 4);
        store<f64>(f, load<f64>(f) + q1 * load<f64>(a) + q2 * load<f64>(a, 8));
        store<f64>(f, load<f64>(f, 8) + q1 * load<f64>(a, 16) + q2 * load<f64>(a, 24), 8);
      }
      if (tangent) addStiffness(nodes, point, direction, area);
      point += POINT_BYTES;
    }
    addTriangle(equations, residual, magnitude, pinnedRows, unknownCount, tangent);
    if (tangent) addToFront(<usize>load<i32>(fronts), load<i32>(fronts, 4), places);
    nodes += 24;
    equations += 48;
    fronts += 8;
    places += 48;
  }
  return true;
}

/** Adds what one integration point gives to the matrix of its triangle. */
// @ts-ignore: decorator
@inline function addStiffness(nodes: usize, point: usize, direction: usize, area: f64): void {
  const a11 = load<f64>(force, 24), a22 = load<f64>(force, 32), a12 = load<f64>(force, 40);
  const b11 = load<f64>(force, 48), b22 = load<f64>(force, 56), b12 = load<f64>(force, 64);
  const c11 = load<f64>(force, 72), c22 = load<f64>(force, 80), c12 = load<f64>(force, 88);
  const e11 = load<f64>(force, 96), e22 = load<f64>(force, 104), e12 = load<f64>(force, 112);
  for (let j: usize = 0; j < 6; j++) {
    const d1 = area * load<f64>(point + 8 + (j << 4));
    const d2 = area * load<f64>(point + 16 + (j << 4));
    const x11 = d1 * a11 + d2 * b11;
    const x22 = d1 * a22 + d2 * b22;
    const x12 = d1 * a12 + d2 * b12;
    const y11 = d1 * c11 + d2 * e11;
    const y22 = d1 * c22 + d2 * e22;
    const y12 = d1 * c12 + d2 * e12;
    const at = direction + (<usize>load<i32>(nodes + (j << 2)) << 4);
    const c = load<f64>(at);
    const s = load<f64>(at, 8);
    const column = columns + (j << 4);
    store<f64>(column, c * x11 + s * y11);
    store<f64>(column, c * y11 - s * x11, 8);
    store<f64>(column, c * x22 + s * y22, 96);
    store<f64>(column, c * y22 - s * x22, 104);
    store<f64>(column, c * x12 + s * y12, 192);
    store<f64>(column, c * y12 - s * x12, 200);
  }
  for (let i: usize = 0; i < 6; i++) {
    const d1 = load<f64>(point + 8 + (i << 4));
    const d2 = load<f64>(point + 16 + (i << 4));
    const a = point + 104 + (i << 5);
    const u1 = load<f64>(a);
    const u2 = load<f64>(a, 8);
    const v1 = load<f64>(a, 16);
    const v2 = load<f64>(a, 24);
    const p11 = f64x2.splat(d1 * u1);
    const p22 = f64x2.splat(d2 * u2);
    const p12 = f64x2.splat(d2 * u1 + d1 * u2);
    const r11 = f64x2.splat(d1 * v1);
    const r22 = f64x2.splat(d2 * v2);
    const r12 = f64x2.splat(d2 * v1 + d1 * v2);
    const row = matrix + i * 192;
    for (let j: usize = 0; j < 96; j += 16) {
      const k11 = v128.load(columns + j);
      const k22 = v128.load(columns + j, 96);
      const k12 = v128.load(columns + j, 192);
      v128.store(row + j, f64x2.add(f64x2.add(v128.load(row + j), f64x2.mul(p11, k11)), f64x2.add(f64x2.mul(p22, k22), f64x2.mul(p12, k12))));
      v128.store(row + j, f64x2.add(f64x2.add(v128.load(row + j, 96), f64x2.mul(r11, k11)), f64x2.add(f64x2.mul(r22, k22), f64x2.mul(r12, k12))), 96);
    }
  }
}

/** Adds a triangle's forces to the residual, and the rows of pinned equations. */
// @ts-ignore: decorator
@inline function addTriangle(equations: usize, residual: usize, magnitude: usize, pinnedRows: usize, unknownCount: i32, tangent: bool): void {
  for (let k: usize = 0; k < 12; k++) {
    const equation = load<i32>(equations + (k << 2));
    if (equation < 0) continue;
    const value = load<f64>(forces + (k << 3));
    const r = residual + (<usize>equation << 3);
    const m = magnitude + (<usize>equation << 3);
    store<f64>(r, load<f64>(r) + value);
    store<f64>(m, load<f64>(m) + Math.abs(value));
    if (equation < unknownCount || !tangent) continue;
    const row = pinnedRows + ((<usize>(equation - unknownCount) * <usize>unknownCount) << 3);
    for (let j: usize = 0; j < 12; j++) {
      const column = load<i32>(equations + (j << 2));
      if (column < 0 || column >= unknownCount) continue;
      const at = row + (<usize>column << 3);
      store<f64>(at, load<f64>(at) + load<f64>(matrix + k * 96 + (j << 3)));
    }
  }
}

/** Adds a triangle's matrix to its front. */
// @ts-ignore: decorator
@inline function addToFront(front: usize, size: i32, places: usize): void {
  for (let i: usize = 0; i < 12; i++) {
    const row = load<i32>(places + (i << 2));
    if (row < 0) continue;
    const to = front + (<usize>(row * size) << 3);
    const from = matrix + i * 96;
    for (let j: usize = 0; j < 12; j++) {
      const column = load<i32>(places + (j << 2));
      if (column < 0) continue;
      const at = to + (<usize>column << 3);
      store<f64>(at, load<f64>(at) + load<f64>(from + (j << 3)));
    }
  }
}

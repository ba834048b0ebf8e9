/**
 * The inner loops of the multifrontal factorisation in AssemblyScript: the same algorithm as ../frontalFactor.ts
 * (which is the reference, and serves where WebAssembly with SIMD is not to be had), two numbers at a time.
 *
 * A front is described by seven 32-bit words: byte offset of its dense matrix, size, pivots, byte offset and
 * size of the parent's matrix (size 0 at the root), byte offset of the 32-bit places in the parent, byte offset
 * of the 32-bit numbers of its unknowns.
 */
const FRONT_BYTES: usize = 28;

/** Partial LU of one dense front, in place; false when a pivot vanishes or is not a number. */
function eliminate(a: usize, size: i32, pivots: i32): bool {
  const stride: usize = <usize>size << 3;
  let k = 0;
  for (; k + 1 < pivots; k += 2) {
    const rowK = a + <usize>k * stride;
    const rowL = rowK + stride;
    const kk: usize = <usize>k << 3;
    const pivotK = load<f64>(rowK + kk);
    if (!(Math.abs(pivotK) > f64.MIN_VALUE)) return false;
    const inverseK = 1.0 / pivotK;
    const factor = load<f64>(rowL + kk) * inverseK;
    store<f64>(rowL + kk, factor);
    const end: usize = stride;
    for (let j: usize = kk + 8; j < end; j += 8) store<f64>(rowL + j, load<f64>(rowL + j) - factor * load<f64>(rowK + j));
    const pivotL = load<f64>(rowL + kk + 8);
    if (!(Math.abs(pivotL) > f64.MIN_VALUE)) return false;
    const inverseL = 1.0 / pivotL;
    const upper = load<f64>(rowK + kk + 8);
    const from: usize = kk + 16;
    const simdEnd: usize = from + ((end - from) & ~(<usize>15));
    let i = k + 2;
    for (; i + 3 < size; i += 4) {
      const r0 = a + <usize>i * stride;
      const r1 = r0 + stride;
      const r2 = r1 + stride;
      const r3 = r2 + stride;
      const a0 = load<f64>(r0 + kk) * inverseK;
      const b0 = (load<f64>(r0 + kk + 8) - a0 * upper) * inverseL;
      const a1 = load<f64>(r1 + kk) * inverseK;
      const b1 = (load<f64>(r1 + kk + 8) - a1 * upper) * inverseL;
      const a2 = load<f64>(r2 + kk) * inverseK;
      const b2 = (load<f64>(r2 + kk + 8) - a2 * upper) * inverseL;
      const a3 = load<f64>(r3 + kk) * inverseK;
      const b3 = (load<f64>(r3 + kk + 8) - a3 * upper) * inverseL;
      store<f64>(r0 + kk, a0); store<f64>(r0 + kk + 8, b0);
      store<f64>(r1 + kk, a1); store<f64>(r1 + kk + 8, b1);
      store<f64>(r2 + kk, a2); store<f64>(r2 + kk + 8, b2);
      store<f64>(r3 + kk, a3); store<f64>(r3 + kk + 8, b3);
      const va0 = f64x2.splat(a0), vb0 = f64x2.splat(b0), va1 = f64x2.splat(a1), vb1 = f64x2.splat(b1);
      const va2 = f64x2.splat(a2), vb2 = f64x2.splat(b2), va3 = f64x2.splat(a3), vb3 = f64x2.splat(b3);
      let j = from;
      for (; j < simdEnd; j += 16) {
        const p = v128.load(rowK + j);
        const q = v128.load(rowL + j);
        v128.store(r0 + j, f64x2.sub(f64x2.sub(v128.load(r0 + j), f64x2.mul(va0, p)), f64x2.mul(vb0, q)));
        v128.store(r1 + j, f64x2.sub(f64x2.sub(v128.load(r1 + j), f64x2.mul(va1, p)), f64x2.mul(vb1, q)));
        v128.store(r2 + j, f64x2.sub(f64x2.sub(v128.load(r2 + j), f64x2.mul(va2, p)), f64x2.mul(vb2, q)));
        v128.store(r3 + j, f64x2.sub(f64x2.sub(v128.load(r3 + j), f64x2.mul(va3, p)), f64x2.mul(vb3, q)));
      }
      for (; j < end; j += 8) {
        const p = load<f64>(rowK + j);
        const q = load<f64>(rowL + j);
        store<f64>(r0 + j, load<f64>(r0 + j) - a0 * p - b0 * q);
        store<f64>(r1 + j, load<f64>(r1 + j) - a1 * p - b1 * q);
        store<f64>(r2 + j, load<f64>(r2 + j) - a2 * p - b2 * q);
        store<f64>(r3 + j, load<f64>(r3 + j) - a3 * p - b3 * q);
      }
    }
    for (; i < size; i++) {
      const r0 = a + <usize>i * stride;
      const a0 = load<f64>(r0 + kk) * inverseK;
      const b0 = (load<f64>(r0 + kk + 8) - a0 * upper) * inverseL;
      store<f64>(r0 + kk, a0); store<f64>(r0 + kk + 8, b0);
      const va0 = f64x2.splat(a0), vb0 = f64x2.splat(b0);
      let j = from;
      for (; j < simdEnd; j += 16) v128.store(r0 + j, f64x2.sub(f64x2.sub(v128.load(r0 + j), f64x2.mul(va0, v128.load(rowK + j))), f64x2.mul(vb0, v128.load(rowL + j))));
      for (; j < end; j += 8) store<f64>(r0 + j, load<f64>(r0 + j) - a0 * load<f64>(rowK + j) - b0 * load<f64>(rowL + j));
    }
  }
  for (; k < pivots; k++) {
    const rowK = a + <usize>k * stride;
    const kk: usize = <usize>k << 3;
    const pivot = load<f64>(rowK + kk);
    if (!(Math.abs(pivot) > f64.MIN_VALUE)) return false;
    const inverse = 1.0 / pivot;
    for (let i = k + 1; i < size; i++) {
      const row = a + <usize>i * stride;
      const factor = load<f64>(row + kk) * inverse;
      store<f64>(row + kk, factor);
      const v = f64x2.splat(factor);
      let j: usize = kk + 8;
      for (; j + 8 < stride; j += 16) v128.store(row + j, f64x2.sub(v128.load(row + j), f64x2.mul(v, v128.load(rowK + j))));
      for (; j < stride; j += 8) store<f64>(row + j, load<f64>(row + j) - factor * load<f64>(rowK + j));
    }
  }
  return true;
}

/** Factorises all fronts in order, adding what remains of each to its parent. */
export function factorise(fronts: usize, count: i32): bool {
  for (let n = 0; n < count; n++) {
    const d = fronts + <usize>n * FRONT_BYTES;
    const a = <usize>load<i32>(d);
    const size = load<i32>(d, 4);
    const pivots = load<i32>(d, 8);
    if (!eliminate(a, size, pivots)) return false;
    const parentSize = load<i32>(d, 16);
    if (parentSize == 0) continue;
    const parent = <usize>load<i32>(d, 12);
    const into = <usize>load<i32>(d, 20);
    for (let i = pivots; i < size; i++) {
      const row = parent + ((<usize>(load<i32>(into + (<usize>(i - pivots) << 2)) * parentSize)) << 3);
      const from = a + ((<usize>(i * size)) << 3);
      for (let j = pivots; j < size; j++) {
        const at = row + (<usize>load<i32>(into + (<usize>(j - pivots) << 2)) << 3);
        store<f64>(at, load<f64>(at) + load<f64>(from + (<usize>j << 3)));
      }
    }
  }
  return true;
}

// @ts-ignore: decorator
@inline function dot(row: usize, local: usize, count: i32): f64 {
  let sum = f64x2.splat(0);
  let k = 0;
  for (; k + 1 < count; k += 2) sum = f64x2.add(sum, f64x2.mul(v128.load(row + (<usize>k << 3)), v128.load(local + (<usize>k << 3))));
  let total = f64x2.extract_lane(sum, 0) + f64x2.extract_lane(sum, 1);
  if (k < count) total += load<f64>(row + (<usize>k << 3)) * load<f64>(local + (<usize>k << 3));
  return total;
}

/** Solves with the factors, in place. `local` is work space for the unknowns of the largest front. */
export function solve(fronts: usize, count: i32, vector: usize, local: usize): void {
  for (let n = 0; n < count; n++) {
    const d = fronts + <usize>n * FRONT_BYTES;
    const a = <usize>load<i32>(d);
    const size = load<i32>(d, 4);
    const pivots = load<i32>(d, 8);
    const unknowns = <usize>load<i32>(d, 24);
    for (let i = 0; i < size; i++) {
      const at = vector + (<usize>load<i32>(unknowns + (<usize>i << 2)) << 3);
      const value = load<f64>(at) - dot(a + ((<usize>(i * size)) << 3), local, i < pivots ? i : pivots);
      store<f64>(at, value);
      if (i < pivots) store<f64>(local + (<usize>i << 3), value);
    }
  }
  for (let n = count - 1; n >= 0; n--) {
    const d = fronts + <usize>n * FRONT_BYTES;
    const a = <usize>load<i32>(d);
    const size = load<i32>(d, 4);
    const pivots = load<i32>(d, 8);
    const unknowns = <usize>load<i32>(d, 24);
    for (let j = pivots; j < size; j++) store<f64>(local + (<usize>j << 3), load<f64>(vector + (<usize>load<i32>(unknowns + (<usize>j << 2)) << 3)));
    for (let k = pivots - 1; k >= 0; k--) {
      const row = a + ((<usize>(k * size)) << 3);
      const at = vector + (<usize>load<i32>(unknowns + (<usize>k << 2)) << 3);
      const rest = (<usize>(k + 1)) << 3;
      const value = (load<f64>(at) - dot(row + rest, local + rest, size - k - 1)) / load<f64>(row + (<usize>k << 3));
      store<f64>(local + (<usize>k << 3), value);
      store<f64>(at, value);
    }
  }
}

/**
 * Multifrontal LU factorisation over a tree of dense fronts, and solution with it.
 *
 * The system of a membrane in equilibrium is close to a symmetric positive definite one, so pivots are taken
 * on the diagonal in the given order; a vanishing pivot is reported, not hidden.
 */
import type { FrontTree } from './fronts.ts';

/**
 * Factorises in place.
 *
 * @param tree  the fronts
 * @param store input: the assembled leaf fronts, zero elsewhere; output: the factors
 * @returns false when a pivot is zero or not a number: the matrix is singular to working precision
 */
export function factorise(tree: FrontTree, store: Float64Array): boolean {
  for (const front of tree.fronts) {
    const { pivots, offset, parent, intoParent } = front;
    const size = front.unknowns.length;
    if (!eliminate(store, offset, size, pivots)) return false;
    if (parent < 0) continue;
    const into = tree.fronts[parent]!;
    const parentSize = into.unknowns.length;
    for (let i = pivots; i < size; i++) {
      const row = into.offset + intoParent[i - pivots]! * parentSize;
      const from = offset + i * size;
      for (let j = pivots; j < size; j++) {
        const at = row + intoParent[j - pivots]!;
        store[at] = store[at]! + store[from + j]!;
      }
    }
  }
  return true;
}

/** Partial LU of one dense front, two pivots and two rows at a time so that numbers are loaded half as often. */
function eliminate(a: Float64Array, offset: number, size: number, pivots: number): boolean {
  let k = 0;
  for (; k + 1 < pivots; k += 2) {
    const rowK = offset + k * size;
    const rowL = rowK + size;
    const pivotK = a[rowK + k]!;
    if (!(Math.abs(pivotK) > Number.MIN_VALUE)) return false;
    // Row k + 1 first.
    const factor = a[rowL + k]! / pivotK;
    a[rowL + k] = factor;
    for (let j = k + 1; j < size; j++) a[rowL + j] = a[rowL + j]! - factor * a[rowK + j]!;
    const pivotL = a[rowL + k + 1]!;
    if (!(Math.abs(pivotL) > Number.MIN_VALUE)) return false;
    const inverseK = 1 / pivotK;
    const inverseL = 1 / pivotL;
    const upper = a[rowK + k + 1]!;
    let i = k + 2;
    for (; i + 1 < size; i += 2) {
      const row = offset + i * size;
      const next = row + size;
      const first = a[row + k]! * inverseK;
      const second = (a[row + k + 1]! - first * upper) * inverseL;
      const third = a[next + k]! * inverseK;
      const fourth = (a[next + k + 1]! - third * upper) * inverseL;
      a[row + k] = first;
      a[row + k + 1] = second;
      a[next + k] = third;
      a[next + k + 1] = fourth;
      for (let j = k + 2; j < size; j++) {
        const one = a[rowK + j]!;
        const two = a[rowL + j]!;
        a[row + j] = a[row + j]! - first * one - second * two;
        a[next + j] = a[next + j]! - third * one - fourth * two;
      }
    }
    if (i < size) {
      const row = offset + i * size;
      const first = a[row + k]! * inverseK;
      const second = (a[row + k + 1]! - first * upper) * inverseL;
      a[row + k] = first;
      a[row + k + 1] = second;
      for (let j = k + 2; j < size; j++) {
        a[row + j] = a[row + j]! - first * a[rowK + j]! - second * a[rowL + j]!;
      }
    }
  }
  for (; k < pivots; k++) {
    const rowK = offset + k * size;
    const pivot = a[rowK + k]!;
    if (!(Math.abs(pivot) > Number.MIN_VALUE)) return false;
    for (let i = k + 1; i < size; i++) {
      const row = offset + i * size;
      const factor = a[row + k]! / pivot;
      a[row + k] = factor;
      for (let j = k + 1; j < size; j++) a[row + j] = a[row + j]! - factor * a[rowK + j]!;
    }
  }
  return true;
}

/**
 * Solves with the factors, in place.
 *
 * @param tree   the fronts
 * @param store  factors, not changed
 * @param vector input: right-hand side per unknown; output: the solution
 */
export function solveFactored(tree: FrontTree, store: Float64Array, vector: Float64Array): void {
  const { fronts } = tree;
  const local = new Float64Array(fronts.reduce((most, front) => Math.max(most, front.unknowns.length), 0));
  for (const { unknowns, pivots, offset } of fronts) {
    const size = unknowns.length;
    for (let i = 0; i < pivots; i++) {
      const row = offset + i * size;
      let sum = vector[unknowns[i]!]!;
      for (let k = 0; k < i; k++) sum -= store[row + k]! * local[k]!;
      local[i] = sum;
      vector[unknowns[i]!] = sum;
    }
    for (let i = pivots; i < size; i++) {
      const row = offset + i * size;
      let sum = 0;
      for (let k = 0; k < pivots; k++) sum += store[row + k]! * local[k]!;
      const at = unknowns[i]!;
      vector[at] = vector[at]! - sum;
    }
  }
  for (let f = fronts.length - 1; f >= 0; f--) {
    const { unknowns, pivots, offset } = fronts[f]!;
    const size = unknowns.length;
    for (let j = pivots; j < size; j++) local[j] = vector[unknowns[j]!]!;
    for (let k = pivots - 1; k >= 0; k--) {
      const row = offset + k * size;
      let sum = vector[unknowns[k]!]!;
      for (let j = k + 1; j < size; j++) sum -= store[row + j]! * local[j]!;
      const value = sum / store[row + k]!;
      local[k] = value;
      vector[unknowns[k]!] = value;
    }
  }
}

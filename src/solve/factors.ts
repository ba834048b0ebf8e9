/** Factor once, solve many: room for the matrix of one tree of fronts, and its factors. */
import type { FrontTree } from './dissection.ts';
import { factorise, solveFactored } from './frontalFactor.ts';
import { kernelFactors } from './kernel/frontalKernel.ts';

export interface Factors {
  /** Input: the assembled fronts; after `factorise` the factors. */
  readonly store: Float64Array;
  /** Factorises `store` in place; false when the matrix is singular to working precision. */
  factorise(): boolean;
  /** Replaces a right-hand side, one number per unknown, by the solution. */
  solve(vector: Float64Array): void;
}

/** By WebAssembly where it is to be had, otherwise by the same algorithm in TypeScript. */
export function createFactors(tree: FrontTree): Factors {
  return kernelFactors(tree) ?? plainFactors(tree);
}

/** In TypeScript alone. */
export function plainFactors(tree: FrontTree): Factors {
  const store = new Float64Array(tree.storeSize);
  return {
    store,
    factorise: () => factorise(tree, store),
    solve: (vector) => solveFactored(tree, store, vector),
  };
}

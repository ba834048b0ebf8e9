/** Factor once, solve many: room for the matrix of one tree of fronts, and its factors. */

import { factorise, solveFactored } from './frontalFactor.ts';
import type { FrontTree } from './fronts.ts';

export interface Factors {
  /** Input: the assembled fronts; after `factorise` the factors. */
  readonly store: Float64Array;
  /** Factorises `store` in place; false when the matrix is singular to working precision. */
  factorise(): boolean;
  /** Replaces a right-hand side, one number per unknown, by the solution. */
  solve(vector: Float64Array): void;
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

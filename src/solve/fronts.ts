/** The tree of dense fronts that an order of elimination gives. */

/** One dense front: the unknowns eliminated in it, then the unknowns that remain for its ancestors. */
export interface Front {
  /** Unknowns of the front: the first `pivots` are eliminated here. */
  readonly unknowns: Int32Array;
  readonly pivots: number;
  /** Number of the parent front, or -1 at the root. Children come before parents. */
  readonly parent: number;
  /** For each remaining unknown, its place among the parent's unknowns. */
  readonly intoParent: Int32Array;
  /** Where the front's dense matrix (row by row, unknowns.length squared) starts in the common store. */
  readonly offset: number;
}

export interface FrontTree {
  readonly fronts: readonly Front[];
  /** Size of the common store. */
  readonly storeSize: number;
  /** Front into which each triangle is assembled. */
  readonly frontOfTriangle: Int32Array;
  /** For each triangle, 12 places of its unknowns in that front (two per node), -1 where held. */
  readonly placeInFront: Int32Array;
  /** How the triangles were halved, for the order of a refined mesh. */
  readonly halving: Halving;
}

/** Triangles halved again and again: each set is a stretch of one order. */
export interface Halving {
  readonly order: Int32Array;
  /** For each stretch that was halved, by `from · (triangles + 1) + to`, where its second half begins. */
  readonly middles: ReadonlyMap<number, number>;
}

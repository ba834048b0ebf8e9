/**
 * Order of elimination by nested dissection of the triangles, and the tree of dense fronts it gives.
 *
 * The triangles are halved again and again by the straight cut in the flat that fewest nodes lie on; the nodes
 * that both halves share are eliminated after both. Source: A. George, "Nested dissection of a regular finite
 * element mesh", SIAM J. Numerical Analysis 10 (1973) 345–363; fronts as in I. S. Duff and J. K. Reid, "The
 * multifrontal solution of unsymmetric sets of linear equations", SIAM J. Sci. Stat. Comput. 5 (1984) 633–641.
 */

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
}

const TRIANGLES_PER_LEAF = 6;

/**
 * @param triangles six node numbers a triangle
 * @param start     x y per node, positions that tell neighbours from strangers (the arc-length flat)
 * @param unknownOf two unknown numbers per node, -1 where held
 */
export function dissect(triangles: Uint32Array, start: Float64Array, unknownOf: Int32Array): FrontTree {
  const triangleCount = triangles.length / 6;
  const nodeCount = unknownOf.length / 2;
  const fronts: Front[] = [];
  const frontOfTriangle = new Int32Array(triangleCount);
  const centre = (t: number, axis: number): number =>
    start[2 * triangles[6 * t]! + axis]! +
    start[2 * triangles[6 * t + 1]! + axis]! +
    start[2 * triangles[6 * t + 2]! + axis]!;

  // A node is eliminated in the deepest subset that holds all its triangles.
  const eliminated = new Uint8Array(nodeCount);
  const mark = new Int32Array(nodeCount).fill(-1);
  let stamp = 0;
  let storeSize = 0;
  const parents: number[] = [];
  const nodesOfFront: { pivots: number[]; border: number[] }[] = [];

  /** Nodes of a set of triangles, in order of first appearance. */
  const nodesOf = (set: readonly number[]): number[] => {
    const own = ++stamp;
    const nodes: number[] = [];
    for (const t of set) {
      for (let k = 0; k < 6; k++) {
        const node = triangles[6 * t + k]!;
        if (mark[node] === own) continue;
        mark[node] = own;
        nodes.push(node);
      }
    }
    return nodes;
  };

  /** Returns the number of the front made for the set; `outer` marks nodes eliminated in ancestors. */
  const build = (set: readonly number[], outer: Uint8Array): number => {
    const nodes = nodesOf(set);
    const children: number[] = [];
    if (set.length > TRIANGLES_PER_LEAF) {
      const [left, right] = halves(set, centre, (one, other) => {
        nodesOf(one);
        const own = stamp;
        let shared = 0;
        const seen = ++stamp;
        for (const t of other) {
          for (let k = 0; k < 6; k++) {
            const node = triangles[6 * t + k]!;
            if (mark[node] !== own) continue;
            mark[node] = seen;
            if (outer[node] === 0) shared++;
          }
        }
        return shared;
      });
      const leftNodes = new Set(nodesOf(left));
      const separator = nodesOf(right).filter((node) => leftNodes.has(node) && outer[node] === 0);
      for (const node of separator) outer[node] = 1;
      children.push(build(left, outer), build(right, outer));
      for (const node of separator) outer[node] = 0;
    }
    const pivots = nodes.filter((node) => eliminated[node] === 0 && outer[node] === 0);
    for (const node of pivots) eliminated[node] = 1;
    const border = nodes.filter((node) => outer[node] === 1);
    const number = nodesOfFront.length;
    nodesOfFront.push({ pivots, border });
    parents.push(-1);
    for (const child of children) parents[child] = number;
    if (children.length === 0) for (const t of set) frontOfTriangle[t] = number;
    return number;
  };
  build(
    Array.from({ length: triangleCount }, (_, t) => t),
    new Uint8Array(nodeCount),
  );

  const place = new Int32Array(2 * nodeCount).fill(-1);
  const unknownsOfFront = nodesOfFront.map(({ pivots, border }) => {
    const list: number[] = [];
    const add = (nodes: readonly number[]): void => {
      for (const node of nodes) {
        for (let k = 0; k < 2; k++) if (unknownOf[2 * node + k]! >= 0) list.push(unknownOf[2 * node + k]!);
      }
    };
    add(pivots);
    const pivotCount = list.length;
    add(border);
    return { list, pivotCount };
  });
  const placeInFront = new Int32Array(12 * triangleCount).fill(-1);
  const trianglesOfFront: number[][] = nodesOfFront.map(() => []);
  for (let t = 0; t < triangleCount; t++) trianglesOfFront[frontOfTriangle[t]!]!.push(t);
  for (let f = 0; f < nodesOfFront.length; f++) {
    const { list, pivotCount } = unknownsOfFront[f]!;
    const parent = parents[f]!;
    const intoParent = new Int32Array(list.length - pivotCount);
    if (parent >= 0) {
      const parentList = unknownsOfFront[parent]!.list;
      for (let i = 0; i < parentList.length; i++) place[parentList[i]!] = i;
      for (let i = pivotCount; i < list.length; i++) intoParent[i - pivotCount] = place[list[i]!]!;
    }
    for (let i = 0; i < list.length; i++) place[list[i]!] = i;
    for (const t of trianglesOfFront[f]!) {
      for (let k = 0; k < 12; k++) {
        const unknown = unknownOf[2 * triangles[6 * t + (k >> 1)]! + (k & 1)]!;
        placeInFront[12 * t + k] = unknown < 0 ? -1 : place[unknown]!;
      }
    }
    fronts.push({
      unknowns: Int32Array.from(list),
      pivots: pivotCount,
      parent,
      intoParent,
      offset: storeSize,
    });
    storeSize += list.length * list.length;
  }
  return { fronts, storeSize, frontOfTriangle, placeInFront };
}

// Directions of the cuts tried, and where along the sorted triangles they may fall.
const DIRECTIONS: readonly (readonly [number, number])[] = [
  [1, 0],
  [0, 1],
  [1, 1],
  [1, -1],
  [2, 1],
  [1, 2],
  [2, -1],
  [1, -2],
];
const CUTS = [0.4, 0.45, 0.5, 0.55, 0.6];

/**
 * Halves a set of triangles, roughly, along a straight cut in the flat that few nodes lie on.
 *
 * @param sharedNodes number of nodes that lie in both of two sets and are not eliminated later anyway
 */
function halves(
  set: readonly number[],
  centre: (t: number, axis: number) => number,
  sharedNodes: (left: readonly number[], right: readonly number[]) => number,
): [readonly number[], readonly number[]] {
  let best: [readonly number[], readonly number[]] | null = null;
  let fewest = Infinity;
  for (const [dx, dy] of DIRECTIONS) {
    const at = new Map(set.map((t) => [t, dx * centre(t, 0) + dy * centre(t, 1)]));
    const sorted = [...set].sort((s, t) => at.get(s)! - at.get(t)! || s - t);
    for (const cut of CUTS) {
      const half = Math.round(sorted.length * cut);
      const left = sorted.slice(0, half);
      const right = sorted.slice(half);
      // An uneven cut must save nodes to be worth it.
      const price = sharedNodes(left, right) * (1 + 2 * Math.abs(cut - 0.5));
      if (price < fewest) {
        fewest = price;
        best = [left, right];
      }
    }
  }
  return best!;
}

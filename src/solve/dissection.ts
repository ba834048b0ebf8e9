/**
 * Order of elimination by nested dissection of the triangles, and the tree of dense fronts it gives.
 *
 * The triangles are halved again and again by the straight cut in the flat that fewest nodes lie on; the nodes
 * that both halves share are eliminated after both. Source: A. George, "Nested dissection of a regular finite
 * element mesh", SIAM J. Numerical Analysis 10 (1973) 345–363; fronts as in I. S. Duff and J. K. Reid, "The
 * multifrontal solution of unsymmetric sets of linear equations", SIAM J. Sci. Stat. Comput. 5 (1984) 633–641.
 */
import type { Front, FrontTree, Halving } from './fronts.ts';

const TRIANGLES_PER_LEAF = 6;

/**
 * @param triangles six node numbers a triangle
 * @param start     x y per node, positions that tell neighbours from strangers (the arc-length flat)
 * @param unknownOf two unknown numbers per node, -1 where held
 * @param coarser   how the triangles of the mesh were halved of which this one is the refinement, four triangles each: its
 *   cuts are taken over, for they are as short here and need not be sought
 */
export function dissect(
  triangles: Uint32Array,
  start: Float64Array,
  unknownOf: Int32Array,
  coarser: Halving | null = null,
): FrontTree {
  const triangleCount = triangles.length / 6;
  const nodeCount = unknownOf.length / 2;
  const fronts: Front[] = [];
  const frontOfTriangle = new Int32Array(triangleCount);
  const cuts =
    coarser === null ? new Cuts(triangles, start, nodeCount) : new TakenCuts(triangles, nodeCount, coarser);
  const middles = new Map<number, number>();

  // A node is eliminated in the deepest subset that holds all its triangles.
  const eliminated = new Uint8Array(nodeCount);
  const { outer } = cuts;
  let storeSize = 0;
  const parents: number[] = [];
  const nodesOfFront: { pivots: number[]; border: number[] }[] = [];

  /** Returns the number of the front made for the triangles from one place in the order to another. */
  const build = (from: number, to: number): number => {
    const nodes = cuts.nodesOf(from, to);
    const children: number[] = [];
    if (to - from > TRIANGLES_PER_LEAF) {
      const { middle, separator } = cuts.halve(from, to, nodes);
      middles.set(from * (triangleCount + 1) + to, middle);
      for (const node of separator) outer[node] = 1;
      children.push(build(from, middle), build(middle, to));
      for (const node of separator) outer[node] = 0;
    }
    const pivots = nodes.filter((node) => eliminated[node] === 0 && outer[node] === 0);
    for (const node of pivots) eliminated[node] = 1;
    const border = nodes.filter((node) => outer[node] === 1);
    const number = nodesOfFront.length;
    nodesOfFront.push({ pivots, border });
    parents.push(-1);
    for (const child of children) parents[child] = number;
    if (children.length === 0) {
      for (let i = from; i < to; i++) frontOfTriangle[cuts.order[i]!] = number;
    }
    return number;
  };
  build(0, triangleCount);

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
  return {
    fronts,
    storeSize,
    frontOfTriangle,
    placeInFront,
    halving: { order: cuts.order.slice(), middles },
  };
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

/** Sets of triangles as stretches of one order. */
abstract class Stretches {
  /** Marks nodes that are eliminated later anyway, and so do not count. */
  readonly outer: Uint8Array;
  protected readonly triangles: Uint32Array;
  protected readonly mark: Int32Array;
  protected stamp = 0;

  constructor(triangles: Uint32Array, nodeCount: number) {
    this.triangles = triangles;
    this.outer = new Uint8Array(nodeCount);
    this.mark = new Int32Array(nodeCount).fill(-1);
  }

  /** The triangles, so that each set is one stretch. */
  abstract get order(): Int32Array;

  /** Splits a stretch with these nodes: where its second half begins, and the nodes on the cut. */
  abstract halve(from: number, to: number, nodes: readonly number[]): { middle: number; separator: number[] };

  /** Nodes of a stretch of triangles, in order of first appearance. */
  nodesOf(from: number, to: number): number[] {
    const { triangles, mark, order } = this;
    const own = ++this.stamp;
    const nodes: number[] = [];
    for (let i = from; i < to; i++) {
      const at = 6 * order[i]!;
      for (let k = 0; k < 6; k++) {
        const node = triangles[at + k]!;
        if (mark[node] === own) continue;
        mark[node] = own;
        nodes.push(node);
      }
    }
    return nodes;
  }
}

/** The cuts of a coarser mesh, and below them the middle of what its order gives. */
class TakenCuts extends Stretches {
  readonly order: Int32Array;
  private readonly coarser: Halving;

  constructor(triangles: Uint32Array, nodeCount: number, coarser: Halving) {
    super(triangles, nodeCount);
    this.coarser = coarser;
    this.order = Int32Array.from(
      { length: triangles.length / 6 },
      (_, i) => 4 * coarser.order[i >> 2]! + (i & 3),
    );
  }

  halve(from: number, to: number, nodes: readonly number[]): { middle: number; separator: number[] } {
    const { triangles, order, mark, outer } = this;
    const key = (from / 4) * (order.length / 4 + 1) + to / 4;
    const taken = from % 4 === 0 && to % 4 === 0 ? this.coarser.middles.get(key) : undefined;
    const middle = taken === undefined ? 4 * Math.round((from + to) / 8) : 4 * taken;
    const left = ++this.stamp;
    for (let i = from; i < middle; i++)
      for (let k = 0; k < 6; k++) mark[triangles[6 * order[i]! + k]!] = left;
    const both = ++this.stamp;
    for (let i = middle; i < to; i++) {
      for (let k = 0; k < 6; k++) {
        const node = triangles[6 * order[i]! + k]!;
        if (mark[node] === left) mark[node] = both;
      }
    }
    return { middle, separator: nodes.filter((node) => outer[node] === 0 && mark[node] === both) };
  }
}

/**
 * Halves sets of triangles, roughly, along the straight cut in the flat that fewest nodes lie on.
 *
 * The triangles are sorted once for every direction; a set is a stretch of every one of these orders, and each
 * halving splits the stretches without disturbing their order. One walk along a stretch then counts the nodes
 * on all its cuts.
 */
class Cuts extends Stretches {
  private readonly orders: readonly Int32Array[];
  /** Triangles of the set at hand at each node, and those of them already passed. */
  private readonly total: Uint8Array;
  private readonly passed: Uint8Array;
  private readonly inLeft: Uint8Array;
  private readonly rest: Int32Array;

  constructor(triangles: Uint32Array, start: Float64Array, nodeCount: number) {
    super(triangles, nodeCount);
    const count = triangles.length / 6;
    this.total = new Uint8Array(nodeCount);
    this.passed = new Uint8Array(nodeCount);
    this.inLeft = new Uint8Array(count);
    this.rest = new Int32Array(count);
    const centres = new Float64Array(2 * count);
    for (let t = 0; t < count; t++) {
      for (let k = 0; k < 3; k++) {
        const node = triangles[6 * t + k]!;
        centres[2 * t] = centres[2 * t]! + start[2 * node]!;
        centres[2 * t + 1] = centres[2 * t + 1]! + start[2 * node + 1]!;
      }
    }
    const at = new Float64Array(count);
    this.orders = DIRECTIONS.map(([dx, dy]) => {
      for (let t = 0; t < count; t++) at[t] = dx * centres[2 * t]! + dy * centres[2 * t + 1]!;
      return Int32Array.from({ length: count }, (_, t) => t).sort((s, t) => at[s]! - at[t]! || s - t);
    });
  }

  get order(): Int32Array {
    return this.orders[0]!;
  }

  /**
   * Splits a stretch.
   *
   * @param nodes those of the stretch
   * @returns where its second half begins, and the nodes on the cut
   */
  halve(from: number, to: number, nodes: readonly number[]): { middle: number; separator: number[] } {
    const { triangles, total, passed, inLeft, orders, rest } = this;
    for (const node of nodes) total[node] = 0;
    for (let i = from; i < to; i++) {
      const at = 6 * this.order[i]!;
      for (let k = 0; k < 6; k++) total[triangles[at + k]!]!++;
    }
    let best = orders[0]!;
    let middle = from;
    let fewest = Infinity;
    for (const order of orders) {
      for (const node of nodes) passed[node] = 0;
      let at = from;
      let shared = 0;
      for (const cut of CUTS) {
        const end = from + Math.round((to - from) * cut);
        for (; at < end; at++) shared += this.pass(order[at]!);
        // An uneven cut must save nodes to be worth it.
        const price = shared * (1 + 2 * Math.abs(cut - 0.5));
        if (price < fewest) {
          fewest = price;
          best = order;
          middle = end;
        }
      }
    }
    for (const node of nodes) passed[node] = 0;
    for (let i = from; i < to; i++) {
      const t = best[i]!;
      inLeft[t] = i < middle ? 1 : 0;
      if (i < middle) this.pass(t);
    }
    const separator = nodes.filter(
      (node) => this.outer[node] === 0 && passed[node]! > 0 && passed[node]! < total[node]!,
    );
    for (const order of orders) {
      if (order === best) continue;
      let left = from;
      let right = 0;
      for (let i = from; i < to; i++) {
        const t = order[i]!;
        if (inLeft[t] === 1) order[left++] = t;
        else rest[right++] = t;
      }
      for (let i = 0; i < right; i++) order[left + i] = rest[i]!;
    }
    return { middle, separator };
  }

  /** Moves the cut past a triangle. Returns by how many the nodes on the cut grow. */
  private pass(t: number): number {
    const { triangles, total, passed, outer } = this;
    let change = 0;
    for (let k = 0; k < 6; k++) {
      const node = triangles[6 * t + k]!;
      const now = passed[node]! + 1;
      passed[node] = now;
      if (outer[node] === 1 || total[node] === 1) continue;
      if (now === 1) change++;
      else if (now === total[node]) change--;
    }
    return change;
  }
}

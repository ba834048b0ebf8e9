/** The six-node triangles the solver works on. */
import { chainsOf } from '../geometry/chain.ts';
import { shapeFunctions } from '../geometry/shapeFunctions.ts';
import { FLAT, PLACED_SIZE } from '../tray/neutralSurface.ts';
import type { Midpoints, Skeleton } from './skeleton.ts';

/** Where the mirror lines of a mesh lie: centre and directions, radians. */
export interface MirrorLines {
  readonly centreX: number;
  readonly centreY: number;
  readonly firstAngle: number;
  readonly lastAngle: number;
}

export interface QuadraticMesh {
  readonly nodeCount: number;
  /** `PLACED_SIZE` numbers a node, see `neutralSurface.ts`. */
  readonly placed: Float64Array;
  /** Six node numbers a triangle: corners counter-clockwise, then the middles of 01, 12, 20. */
  readonly triangles: Uint32Array;
  /** Bits `ON_FIRST`, `ON_LAST` per node. */
  readonly mirror: Uint8Array;
  readonly mirrorLines: MirrorLines | null;
  /** Per triangle, 1 where it lies in the flat of the base. */
  readonly base: Uint8Array;
  /**
   * Nodes along the free edge, counter-clockwise, corners and middles in turn: from mirror line to mirror
   * line, or closed (first node not repeated).
   */
  readonly rim: Uint32Array;
  /** Lines on which a bend begins or ends: where pieces of the section meet, 0 the edge of the base. */
  readonly sectionLines: readonly SectionLine[];
}

/** Nodes on a line around the wall, counter-clockwise, corners and middles in turn. */
export interface SectionLine {
  /** Number of section pieces below the line. */
  readonly row: number;
  readonly nodes: Uint32Array;
  /** Closed without repeating the first node. */
  readonly closed: boolean;
}

/** Joins a skeleton and its midpoints into six-node triangles. */
export function quadraticMesh(
  skeleton: Skeleton,
  middles: Midpoints,
  mirrorLines: MirrorLines | null,
): QuadraticMesh {
  const count = skeleton.triangles.length / 3;
  const triangles = new Uint32Array(6 * count);
  const base = new Uint8Array(count);
  for (let t = 0; t < count; t++) {
    triangles.set(skeleton.triangles.subarray(3 * t, 3 * t + 3), 6 * t);
    triangles.set(middles.middle.subarray(3 * t, 3 * t + 3), 6 * t + 3);
    base[t] = skeleton.charts[skeleton.chart[t]!]!.planar ? 1 : 0;
  }
  return {
    nodeCount: middles.placed.length / PLACED_SIZE,
    placed: middles.placed,
    triangles,
    mirror: middles.mirror,
    mirrorLines,
    base,
    rim: freeEdge(triangles, middles.mirror),
    sectionLines: sectionLines(skeleton, triangles),
  };
}

/** Chains the edges on which the section coordinate is a whole number, row by row. */
function sectionLines(skeleton: Skeleton, triangles: Uint32Array): SectionLine[] {
  const rows = new Map<number, Map<number, [middle: number, to: number]>>();
  for (let t = 0; t < triangles.length / 6; t++) {
    if (skeleton.charts[skeleton.chart[t]!]!.planar) continue;
    for (let e = 0; e < 3; e++) {
      const f = (e + 1) % 3;
      const row = skeleton.coordinates[6 * t + 2 * e + 1]!;
      if (!Number.isInteger(row) || skeleton.coordinates[6 * t + 2 * f + 1] !== row) continue;
      // A triangle above the line runs along it backwards, one below it forwards.
      const above = skeleton.coordinates[6 * t + 2 * ((e + 2) % 3) + 1]! > row;
      const from = triangles[6 * t + (above ? f : e)]!;
      const to = triangles[6 * t + (above ? e : f)]!;
      let line = rows.get(row);
      if (line === undefined) {
        line = new Map();
        rows.set(row, line);
      }
      line.set(from, [triangles[6 * t + 3 + e]!, to]);
    }
  }
  return [...rows.entries()]
    .sort(([a], [b]) => a - b)
    .flatMap(([row, next]) => chains(next).map((chain) => ({ row, ...chain })));
}

/** Chains of edges, each edge from a node over its middle to another. Open chains first, in node order. */
export const chains = (
  next: ReadonlyMap<number, readonly [middle: number, to: number]>,
): { nodes: Uint32Array; closed: boolean }[] =>
  chainsOf(new Map([...next].map(([from, [, to]]) => [from, to] as const).sort(([a], [b]) => a - b))).map(
    ({ keys, closed }) => ({
      // An open chain may end where another one goes on: no edge of its own starts there.
      nodes: Uint32Array.from(
        keys.flatMap((key, i) => (closed || i < keys.length - 1 ? [key, next.get(key)![0]] : [key])),
      ),
      closed,
    }),
  );

/** Chains the edges that belong to one triangle only and do not lie on a mirror line. */
function freeEdge(triangles: Uint32Array, mirror: Uint8Array): Uint32Array {
  const owner = new Map<number, number>();
  const count = triangles.length / 6;
  for (let t = 0; t < count; t++) {
    for (let e = 0; e < 3; e++) {
      const middle = triangles[6 * t + 3 + e]!;
      owner.set(middle, owner.has(middle) ? -1 : 3 * t + e);
    }
  }
  const next = new Map<number, [middle: number, to: number]>();
  for (const [middle, at] of owner) {
    if (at < 0 || mirror[middle] !== 0) continue;
    const t = Math.floor(at / 3);
    const e = at % 3;
    const from = triangles[6 * t + e]!;
    const to = triangles[6 * t + ((e + 1) % 3)]!;
    next.set(from, [middle, to]);
  }
  // The longest chain is the rim; a tray in one piece has only one.
  const found = chains(next).sort((a, b) => b.nodes.length - a.nodes.length);
  return found[0]!.nodes;
}

// Middles of the edges 01, 12, 20 of the four children (in the order of `refine`), in the parent's (u, v).
const CHILD_MIDDLES: readonly (readonly [number, number])[] = [
  [0.25, 0],
  [0.25, 0.25],
  [0, 0.25],
  [0.75, 0],
  [0.75, 0.25],
  [0.5, 0.25],
  [0.25, 0.5],
  [0.25, 0.75],
  [0, 0.75],
  [0.5, 0.25],
  [0.25, 0.5],
  [0.25, 0.25],
];

/** Flat positions of the strain-free roll-up (arc lengths laid out flat), x y per node. */
export function arcLengthFlat({ placed }: Pick<QuadraticMesh, 'placed'>): Float64Array {
  const nodeCount = placed.length / PLACED_SIZE;
  const flat = new Float64Array(2 * nodeCount);
  for (let node = 0; node < nodeCount; node++) {
    flat[2 * node] = placed[PLACED_SIZE * node + FLAT]!;
    flat[2 * node + 1] = placed[PLACED_SIZE * node + FLAT + 1]!;
  }
  return flat;
}

/**
 * Carries flat positions from a mesh to the mesh of its refined skeleton. Nodes of the coarse mesh are the
 * first nodes of the fine one; at the others the difference from the arc-length flat is interpolated, so that
 * parts without strain stay without strain.
 *
 * @param flat x y per coarse node
 * @returns x y per fine node
 */
export function prolongFlat(coarse: QuadraticMesh, fine: QuadraticMesh, flat: Float64Array): Float64Array {
  const out = arcLengthFlat(fine);
  const coarseStart = arcLengthFlat(coarse);
  out.set(flat);
  const shape = new Float64Array(6);
  const parents = coarse.triangles.length / 6;
  const done = new Uint8Array(fine.nodeCount);
  for (let t = 0; t < parents; t++) {
    for (let m = 0; m < 12; m++) {
      const node = fine.triangles[6 * (4 * t + Math.floor(m / 3)) + 3 + (m % 3)]!;
      if (done[node] !== 0) continue;
      done[node] = 1;
      const [u, v] = CHILD_MIDDLES[m]!;
      shapeFunctions(u, v, shape);
      for (let k = 0; k < 6; k++) {
        const from = 2 * coarse.triangles[6 * t + k]!;
        out[2 * node] = out[2 * node]! + shape[k]! * (flat[from]! - coarseStart[from]!);
        out[2 * node + 1] = out[2 * node + 1]! + shape[k]! * (flat[from + 1]! - coarseStart[from + 1]!);
      }
    }
  }
  return out;
}

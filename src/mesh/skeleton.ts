/**
 * A mesh of straight-sided triangles in the coordinates of charts, with its vertices on the exact surface.
 *
 * A chart is a piece of surface with two coordinates of its own: the base plane, or the wall above one
 * segment of the plan loop. Halving a triangle in its chart puts the new vertex on the exact surface, which
 * is how a mesh is refined and how it gets its mid-side nodes.
 */
import { QUARTERS } from '../geometry/shapeFunctions.ts';
import { PLACED_SIZE, type Placed } from '../tray/neutralSurface.ts';

/** Puts a chart point on the surface. */
export interface Chart {
  /** Planar charts follow the others: their vertices on a shared edge are placed by the neighbour. */
  readonly planar: boolean;
  place(a: number, b: number, out: Placed): void;
  /** How wide the chart is there, along a, in any unit; 0 at a pole. Left out where it is as wide everywhere. */
  width?(a: number, b: number): number;
}

/** Which mirror line a vertex lies on: bits, 1 the first line, 2 the last. */
export const ON_FIRST = 1;
export const ON_LAST = 2;

export interface Skeleton {
  readonly charts: readonly Chart[];
  /** `PLACED_SIZE` numbers a vertex. */
  readonly placed: Float64Array;
  /** Bits `ON_FIRST`, `ON_LAST` per vertex. */
  readonly mirror: Uint8Array;
  /** Three vertex numbers a triangle, counter-clockwise in the flat. */
  readonly triangles: Uint32Array;
  /** Chart number per triangle. */
  readonly chart: Uint16Array;
  /** Chart coordinates, a b per corner, 6 per triangle. */
  readonly coordinates: Float64Array;
}

/** The edges of a skeleton and the vertex that sits in the middle of each. */
export interface Midpoints {
  /** `PLACED_SIZE` numbers: the skeleton's vertices, then one per edge. */
  readonly placed: Float64Array;
  readonly mirror: Uint8Array;
  /** Number of the vertex in the middle of edges 01, 12, 20 of each triangle. */
  readonly middle: Uint32Array;
  /** Chart coordinates of these, 6 per triangle. */
  readonly coordinates: Float64Array;
}

/** Puts a vertex into the middle of every edge, on the exact surface. */
export function midpoints(skeleton: Skeleton): Midpoints {
  const { charts, triangles, chart, coordinates } = skeleton;
  const triangleCount = triangles.length / 3;
  const vertexCount = skeleton.mirror.length;
  const middle = new Uint32Array(3 * triangleCount);
  const middleCoordinates = new Float64Array(6 * triangleCount);
  const edges = new Map<number, number>();
  const placed: number[] = [];
  const mirror: number[] = [];
  const point = new Float64Array(PLACED_SIZE);
  // Curved charts first, so that a planar neighbour takes over the exact point of a curved edge.
  for (const planar of [false, true]) {
    for (let t = 0; t < triangleCount; t++) {
      const own = charts[chart[t]!]!;
      if (own.planar !== planar) continue;
      for (let e = 0; e < 3; e++) {
        const f = (e + 1) % 3;
        const from = triangles[3 * t + e]!;
        const to = triangles[3 * t + f]!;
        const fromB = coordinates[6 * t + 2 * e + 1]!;
        const toB = coordinates[6 * t + 2 * f + 1]!;
        let a = middleAcross(own, coordinates[6 * t + 2 * e]!, fromB, coordinates[6 * t + 2 * f]!, toB);
        let b = (fromB + toB) / 2;
        const key = from < to ? from * vertexCount + to : to * vertexCount + from;
        let vertex = edges.get(key);
        if (vertex === undefined) {
          vertex = mirror.length;
          edges.set(key, vertex);
          own.place(a, b, point);
          for (let k = 0; k < PLACED_SIZE; k++) placed.push(point[k]!);
          mirror.push(skeleton.mirror[from]! & skeleton.mirror[to]!);
        } else if (planar) {
          a = placed[PLACED_SIZE * vertex]!;
          b = placed[PLACED_SIZE * vertex + 1]!;
        }
        middle[3 * t + e] = vertexCount + vertex;
        middleCoordinates[6 * t + 2 * e] = a;
        middleCoordinates[6 * t + 2 * e + 1] = b;
      }
    }
  }
  const allPlaced = new Float64Array(skeleton.placed.length + placed.length);
  allPlaced.set(skeleton.placed);
  allPlaced.set(placed, skeleton.placed.length);
  const allMirror = new Uint8Array(vertexCount + mirror.length);
  allMirror.set(skeleton.mirror);
  allMirror.set(mirror, vertexCount);
  return { placed: allPlaced, mirror: allMirror, middle, coordinates: middleCoordinates };
}

/**
 * Where the middle of an edge lies across its chart. An edge that runs straight on the sheet from a narrow place
 * to a wide one (from hardly an arc at the base up to the rim) leaves the narrow place nearly along the wide
 * one's a; half-way between the two, the triangle would be bent so much that it has no area beside the narrow
 * corner, and no strains.
 */
export function middleAcross(chart: Chart, fromA: number, fromB: number, toA: number, toB: number): number {
  if (chart.width === undefined || fromB === toB || fromA === toA) return (fromA + toA) / 2;
  const [from, to] = [chart.width(fromA, fromB), chart.width(toA, toB)];
  return (from * fromA + to * toA) / (from + to);
}

/** Splits every triangle into four. Vertex numbers of the skeleton and its midpoints are kept. */
export function refine(skeleton: Skeleton, middles: Midpoints): Skeleton {
  const count = skeleton.triangles.length / 3;
  const triangles = new Uint32Array(12 * count);
  const chart = new Uint16Array(4 * count);
  const coordinates = new Float64Array(24 * count);
  for (let t = 0; t < count; t++) {
    for (let child = 0; child < 4; child++) {
      const into = 4 * t + child;
      chart[into] = skeleton.chart[t]!;
      for (let k = 0; k < 3; k++) {
        const local = QUARTERS[child]![k]!;
        const corner = local < 3;
        const from = corner ? 3 * t + local : 3 * t + local - 3;
        triangles[3 * into + k] = corner ? skeleton.triangles[from]! : middles.middle[from]!;
        const source = corner ? skeleton.coordinates : middles.coordinates;
        coordinates[6 * into + 2 * k] = source[2 * from]!;
        coordinates[6 * into + 2 * k + 1] = source[2 * from + 1]!;
      }
    }
  }
  return {
    charts: skeleton.charts,
    placed: middles.placed,
    mirror: middles.mirror,
    triangles,
    chart,
    coordinates,
  };
}

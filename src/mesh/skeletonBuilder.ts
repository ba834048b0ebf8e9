import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import type { Chart, Skeleton } from './skeleton.ts';

/** Vertices of the base's edge nearer than this, in mm, are one. */
const SAME = 2e-4;

/** Vertices up the wall, from the base's edge to the rim; of an open side the first alone. */
export type Column = readonly number[];

/** A corner of a triangle: its vertex, and where that is in the triangle's chart. */
export type Corner = readonly [vertex: number, a: number, b: number];

/** Collects vertices and triangles. */
export class SkeletonBuilder {
  readonly charts: Chart[] = [];
  private readonly placed: number[] = [];
  private readonly mirror: number[] = [];
  private readonly triangles: number[] = [];
  private readonly chart: number[] = [];
  private readonly coordinates: number[] = [];
  private readonly point = new Float64Array(PLACED_SIZE);
  private readonly edgeVertices: number[] = [];

  addVertex(chart: Chart, a: number, b: number): number {
    chart.place(a, b, this.point);
    for (let k = 0; k < PLACED_SIZE; k++) this.placed.push(this.point[k]!);
    return this.mirror.push(0) - 1;
  }

  /**
   * A vertex on the base's edge; one that already stands there is taken again, so that corners without a
   * base arc, and trays without a flat base, stay in one piece.
   */
  addEdgeVertex(chart: Chart, a: number, b: number): number {
    chart.place(a, b, this.point);
    const x = this.point[0]!;
    const y = this.point[1]!;
    for (const vertex of this.edgeVertices) {
      if (Math.abs(this.x(vertex) - x) < SAME && Math.abs(this.y(vertex) - y) < SAME) return vertex;
    }
    const vertex = this.addVertex(chart, a, b);
    this.edgeVertices.push(vertex);
    return vertex;
  }

  mark(vertices: readonly number[], bit: number): void {
    for (const vertex of vertices) this.mirror[vertex] = this.mirror[vertex]! | bit;
  }

  x(vertex: number): number {
    return this.placed[PLACED_SIZE * vertex]!;
  }

  y(vertex: number): number {
    return this.placed[PLACED_SIZE * vertex + 1]!;
  }

  z(vertex: number): number {
    return this.placed[PLACED_SIZE * vertex + 2]!;
  }

  addTriangle(chart: number, corners: readonly Corner[]): void {
    this.chart.push(chart);
    for (const [vertex, a, b] of corners) {
      this.triangles.push(vertex);
      this.coordinates.push(a, b);
    }
  }

  skeleton(): Skeleton {
    return {
      charts: this.charts,
      placed: Float64Array.from(this.placed),
      mirror: Uint8Array.from(this.mirror),
      triangles: Uint32Array.from(this.triangles),
      chart: Uint16Array.from(this.chart),
      coordinates: Float64Array.from(this.coordinates),
    };
  }
}

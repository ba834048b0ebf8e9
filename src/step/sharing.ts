/** Vertices and edges by where they lie, so that faces that meet share them. */
import { distance, type Vector3 } from '../geometry/vector3.ts';
import { type BrepWriter, type EdgeUse, reversed } from './brep.ts';

/** Places nearer than this are one, mm and mm². */
export const NEAR = 1e-7;

/** Vertices and edges that lie in the same place are one, so that corners without a base arc close. */
export class Sharing {
  private readonly vertices: { at: Vector3; reference: string }[] = [];
  private readonly edges: { from: string; to: string; middle: Vector3; use: EdgeUse }[] = [];
  /** What they are written with. */
  readonly brep: BrepWriter;

  constructor(brep: BrepWriter) {
    this.brep = brep;
  }

  vertex(at: Vector3): string {
    const known = this.vertices.find((vertex) => distance(vertex.at, at) < NEAR);
    if (known !== undefined) return known.reference;
    const reference = this.brep.vertex(at);
    this.vertices.push({ at, reference });
    return reference;
  }

  /**
   * The edge between two places, walked from `from` to `to`.
   *
   * @param middle a point by which edges with the same ends are told apart
   * @param curve  adds the curve, when the edge is new
   */
  edge(from: Vector3, to: Vector3, middle: Vector3, curve: () => string): EdgeUse {
    const [start, end] = [this.vertex(from), this.vertex(to)];
    for (const edge of this.edges) {
      if (distance(edge.middle, middle) > NEAR) continue;
      if (edge.from === start && edge.to === end) return edge.use;
      if (edge.from === end && edge.to === start) return reversed(edge.use);
    }
    const use = this.brep.edge(start, end, curve());
    this.edges.push({ from: start, to: end, middle, use });
    return use;
  }

  line(from: Vector3, to: Vector3): EdgeUse {
    const middle: Vector3 = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2];
    return this.edge(from, to, middle, () => this.brep.line(from, to));
  }
}

import type { Part } from '../part.ts';

/** A part with the kernel's surfaces still at hand; valid inside the callback of `withPart` only. */
export interface LivePart {
  readonly part: Part;
  /** Point and unit normal out of the material at parameters of a face: x y z nx ny nz into `out`. */
  evaluate(face: number, u: number, v: number, out: Float64Array): void;
  /**
   * The same with derivatives: point, unit normal, then by u and by v those of the point and those of the normal:
   * 18 numbers into `out`.
   */
  differentiate(face: number, u: number, v: number, out: Float64Array): void;
  /** Moves a point (x y z, in place) to the nearest point of an edge. */
  snapToEdge(edge: number, point: Float64Array): void;
}

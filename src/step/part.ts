/**
 * A part as the kernel describes it: plain data that can cross from the kernel's thread.
 *
 * Lengths mm. Every point lies on its exact surface or curve, to the kernel's rounding.
 */

/** A face with points on it. */
export interface PartFace {
  /** x y z per point. */
  readonly points: Float64Array;
  /** Unit normals out of the material, x y z per point. */
  readonly normals: Float64Array;
  /** The surface's own two parameters per point. */
  readonly parameters: Float64Array;
  /** Three point numbers a triangle, counter-clockwise seen from outside. */
  readonly triangles: Uint32Array;
  /** mm² */
  readonly area: number;
  /** Edge numbers of each closed boundary. */
  readonly wires: readonly (readonly number[])[];
}

/** Points at even steps of an edge's parameter, from its start to its end, x y z each. */
export interface PartEdge {
  readonly samples: Float64Array;
}

/** Number of samples on an edge. */
export const EDGE_SAMPLES = 9;

export interface Part {
  readonly kind: 'solid' | 'surface';
  readonly faces: readonly PartFace[];
  readonly edges: readonly PartEdge[];
  /** mm³, of a solid */
  readonly volume: number;
  /** mm² */
  readonly area: number;
}

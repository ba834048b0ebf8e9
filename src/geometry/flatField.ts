/** The solved field of a whole blank as plain data: for reports, contours and pictures. */

/** The solved field on the blank: six-node triangles over the whole blank (mirrored where symmetry was used). */
export interface FlatField {
  /** mm, x y per node, length 2·nodes. */
  readonly flat: Float64Array;
  /** mm, x y z per node on the neutral surface, length 3·nodes. */
  readonly formed: Float64Array;
  /** Six node numbers a triangle: three corners counter-clockwise, then the middles of 01, 12, 20. */
  readonly triangles: Uint32Array;
  /** Logarithmic strains per node, length nodes: larger and smaller in the plane, and through the thickness. */
  readonly majorStrain: Float64Array;
  readonly minorStrain: Float64Array;
  readonly thicknessStrain: Float64Array;
  /** Hill's equivalent strain per node. */
  readonly equivalentStrain: Float64Array;
  /** Node numbers along the rim, counter-clockwise, corners and middles; closed without repeating the first. */
  readonly rimNodes: Uint32Array;
  /** For each entry of `rimNodes`, the plan corner above whose arc it stands, or -1 above a side. */
  readonly rimCorner: Int32Array;
}

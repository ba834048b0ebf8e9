/** The system of equations of one mesh: what its parts hand to each other. */
import type { PlasticLaw } from '../material/law.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import type { Derivatives } from './constitutive.ts';
import type { ElementGeometry } from './elements.ts';
import type { Factors } from './factors.ts';
import type { SolverStructure } from './structure.ts';

/** Work arrays and results of one mesh; overwritten by every call of `assembler`. */
export interface Equilibrium {
  readonly mesh: QuadraticMesh;
  readonly structure: SolverStructure;
  readonly geometry: ElementGeometry;
  /** Out-of-balance force per unknown. */
  readonly residual: Float64Array;
  /** Out-of-balance force at the pinned unknowns. */
  readonly pinnedResidual: Float64Array;
  /** Sum of the magnitudes of the element forces per unknown: what the residual is measured against. */
  readonly magnitude: Float64Array;
  /** Norm of the element forces' magnitudes if the membrane force were 1 N/mm² everywhere. */
  readonly unitMagnitude: number;
  /** Norm of the element forces that rounding of the flat positions makes, for a stiffness of 1 N/mm². */
  readonly unitRounding: number;
  /** Fills the residuals, and when asked the tangent; see there. */
  readonly assembler: Assembler;
  /** Takes the tangent, and solves with it. */
  readonly factors: Factors;
  /** Derivatives of the pinned residuals, one row of unknownCount each. */
  readonly pinnedRows: readonly Float64Array[];
  /** Force of a unit hold per unknown and at the pinned unknowns, one per hold. */
  readonly holds: readonly { readonly free: Float64Array; readonly pinned: Float64Array }[];
}

/**
 * Residual, and when asked the tangent, at the flat positions.
 *
 * @param system  output: residuals and magnitudes; with derivatives `factors` and `pinnedRows` too
 * @param law     the material
 * @param flat    x y per node, mm; not changed
 * @param growth  logarithmic growth of the stress-free state per integration point, or null
 * @param derivatives NONE: residual only
 * @returns false when a triangle is turned over (det G ≤ 0 or not a number): the outputs are then worthless
 */
export type Assembler = (
  system: Equilibrium,
  law: PlasticLaw,
  flat: Float64Array,
  growth: Float64Array | null,
  derivatives: Derivatives,
) => boolean;

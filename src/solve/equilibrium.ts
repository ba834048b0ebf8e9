/**
 * The system of equations of the equilibrium of the formed membrane.
 *
 * For every node and tangent direction τ: Σ A·(T ∇N)·τ = hold, with T the membrane force over flat thickness
 * (see constitutive.ts), the rim free and the normal component carried by the tool or the dolly.
 */
import { hypotenuse } from '../hypotenuse.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { shapeFunctions } from '../mesh/quadraticMesh.ts';
import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import { type Assembler, assembleByScript } from './assembly.ts';
import { type ElementGeometry, INTEGRATION_POINTS, POINT_SIZE, POINTS_PER_TRIANGLE } from './elements.ts';
import { type Factors, plainFactors } from './factors.ts';
import { kernelSystem } from './kernel/kernelSystem.ts';
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
 * By WebAssembly where it is to be had, otherwise by the same algorithms in TypeScript. In WebAssembly one system
 * of a thread at a time: the factors of one are lost when another is assembled.
 */
export function equilibrium(
  mesh: QuadraticMesh,
  structure: SolverStructure,
  geometry: ElementGeometry,
  way: { factors: Factors; assembler: Assembler } = kernelSystem(structure, geometry) ??
    plainSystem(structure),
): Equilibrium {
  const { unknownCount, pinned } = structure;
  const system: Equilibrium = {
    mesh,
    structure,
    geometry,
    residual: new Float64Array(unknownCount),
    pinnedResidual: new Float64Array(pinned.length),
    magnitude: new Float64Array(unknownCount + pinned.length),
    unitMagnitude: unitMagnitude(mesh, geometry),
    ...way,
    pinnedRows: pinned.map(() => new Float64Array(unknownCount)),
    holds: pinned.map(() => ({
      free: new Float64Array(unknownCount),
      pinned: new Float64Array(pinned.length),
    })),
  };
  if (pinned.length > 0) assembleHolds(system);
  return system;
}

/** In TypeScript alone. */
export const plainSystem = (structure: SolverStructure): { factors: Factors; assembler: Assembler } => ({
  factors: plainFactors(structure.tree),
  assembler: assembleByScript,
});

function unitMagnitude(mesh: QuadraticMesh, geometry: ElementGeometry): number {
  const sums = new Float64Array(mesh.nodeCount);
  for (let point = 0; point < (mesh.triangles.length / 6) * POINTS_PER_TRIANGLE; point++) {
    const o = point * POINT_SIZE;
    for (let i = 0; i < 6; i++) {
      const node = mesh.triangles[6 * Math.floor(point / POINTS_PER_TRIANGLE) + i]!;
      const gradient = hypotenuse(geometry.points[o + 1 + 2 * i]!, geometry.points[o + 2 + 2 * i]!);
      sums[node] = sums[node]! + geometry.points[o]! * gradient;
    }
  }
  return Math.sqrt(sums.reduce((sum, value) => sum + value * value, 0));
}

/** Number of a held equation among the pinned ones, or -1. */
function pinnedNumber(structure: SolverStructure, node: number, component: number): number {
  return structure.pinned.findIndex((pin) => pin.node === node && pin.component === component);
}

/** Even tangential hold over the base: along x, along y, and turning; or along the one mirror line. */
function assembleHolds(system: Equilibrium): void {
  const { mesh, structure, geometry, holds } = system;
  const half = mesh.mirrorLines !== null;
  const c = half ? Math.cos(mesh.mirrorLines!.firstAngle) : 1;
  const s = half ? Math.sin(mesh.mirrorLines!.firstAngle) : 0;
  const pin = PLACED_SIZE * structure.pinned[0]!.node;
  const originX = mesh.placed[pin]!;
  const originY = mesh.placed[pin + 1]!;
  const hasBase = mesh.base.includes(1);
  const shape = new Float64Array(6);
  const add = (hold: number, node: number, component: number, value: number): void => {
    const unknown = structure.unknownOf[2 * node + component]!;
    if (unknown >= 0) {
      holds[hold]!.free[unknown] = holds[hold]!.free[unknown]! + value;
      return;
    }
    const number = pinnedNumber(structure, node, component);
    if (number >= 0) holds[hold]!.pinned[number] = holds[hold]!.pinned[number]! + value;
  };
  for (let t = 0; t < mesh.base.length; t++) {
    if (hasBase && mesh.base[t] === 0) continue;
    for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
      const area = geometry.points[(t * POINTS_PER_TRIANGLE + g) * POINT_SIZE]!;
      shapeFunctions(INTEGRATION_POINTS[g]![0], INTEGRATION_POINTS[g]![1], shape);
      for (let i = 0; i < 6; i++) {
        const node = mesh.triangles[6 * t + i]!;
        const x = mesh.placed[PLACED_SIZE * node]! - originX;
        const y = mesh.placed[PLACED_SIZE * node + 1]! - originY;
        const d1 = geometry.direction[2 * node]!;
        const d2 = geometry.direction[2 * node + 1]!;
        const w = area * shape[i]!;
        // Components of the hold's direction along the node's two test directions in the flat.
        add(0, node, 0, w * (c * d1 + s * d2));
        add(0, node, 1, w * (-c * d2 + s * d1));
        if (half) continue;
        add(1, node, 0, w * d2);
        add(1, node, 1, w * d1);
        add(2, node, 0, w * (-y * d1 + x * d2));
        add(2, node, 1, w * (y * d2 + x * d1));
      }
    }
  }
}

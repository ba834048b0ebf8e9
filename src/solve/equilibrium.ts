/**
 * Residual and tangent of the equilibrium of the formed membrane.
 *
 * For every node and tangent direction τ: Σ A·(T ∇N)·τ = hold, with T the membrane force over flat thickness
 * (see constitutive.ts), the rim free and the normal component carried by the tool or the dolly.
 */
import type { PlasticLaw } from '../material/law.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { shapeFunctions } from '../mesh/quadraticMesh.ts';
import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import { type Derivatives, FORCE_SIZE, membraneForce, NONE } from './constitutive.ts';
import { type ElementGeometry, INTEGRATION_POINTS, POINT_SIZE, POINTS_PER_TRIANGLE } from './elements.ts';
import { createFactors, type Factors } from './factors.ts';
import type { SolverStructure } from './structure.ts';

/** Work arrays and results of one mesh; overwritten by every call of `assemble`. */
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
  /** Takes the tangent, and solves with it. */
  readonly factors: Factors;
  /** Derivatives of the pinned residuals, one row of unknownCount each. */
  readonly pinnedRows: readonly Float64Array[];
  /** Force of a unit hold per unknown and at the pinned unknowns, one per hold. */
  readonly holds: readonly { readonly free: Float64Array; readonly pinned: Float64Array }[];
}

export function equilibrium(
  mesh: QuadraticMesh,
  structure: SolverStructure,
  geometry: ElementGeometry,
  factors: Factors = createFactors(structure.tree),
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
    factors,
    pinnedRows: pinned.map(() => new Float64Array(unknownCount)),
    holds: pinned.map(() => ({
      free: new Float64Array(unknownCount),
      pinned: new Float64Array(pinned.length),
    })),
  };
  if (pinned.length > 0) assembleHolds(system);
  return system;
}

function unitMagnitude(mesh: QuadraticMesh, geometry: ElementGeometry): number {
  const sums = new Float64Array(mesh.nodeCount);
  for (let point = 0; point < (mesh.triangles.length / 6) * POINTS_PER_TRIANGLE; point++) {
    const o = point * POINT_SIZE;
    for (let i = 0; i < 6; i++) {
      const node = mesh.triangles[6 * Math.floor(point / POINTS_PER_TRIANGLE) + i]!;
      const gradient = Math.hypot(geometry.points[o + 1 + 2 * i]!, geometry.points[o + 2 + 2 * i]!);
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

const force = new Float64Array(FORCE_SIZE);
const columns = new Float64Array(36);
const elementMatrix = new Float64Array(144);
const elementForce = new Float64Array(12);

/**
 * Residual, and when asked the tangent, at the flat positions.
 *
 * @param system  output
 * @param law     the material
 * @param flat    x y per node, mm; not changed
 * @param growth  logarithmic growth of the stress-free state per integration point, or null
 * @param derivatives NONE: residual only; else fills the store of `factors` and `pinnedRows` too
 * @returns false when a triangle is turned over (det G ≤ 0 or not a number): the outputs are then worthless
 */
export function assemble(
  system: Equilibrium,
  law: PlasticLaw,
  flat: Float64Array,
  growth: Float64Array | null,
  derivatives: Derivatives,
): boolean {
  const tangent = derivatives !== NONE;
  const { mesh, structure, geometry, residual, pinnedResidual, magnitude, pinnedRows } = system;
  const { store } = system.factors;
  const { triangles } = mesh;
  const { points, direction } = geometry;
  const { unknownOf, tree, unknownCount } = structure;
  const { fronts, frontOfTriangle, placeInFront } = tree;
  const count = triangles.length / 6;
  const pinnedCount = structure.pinned.length;
  residual.fill(0);
  pinnedResidual.fill(0);
  magnitude.fill(0);
  if (tangent) {
    store.fill(0);
    for (const row of pinnedRows) row.fill(0);
  }
  for (let t = 0; t < count; t++) {
    elementForce.fill(0);
    if (tangent) elementMatrix.fill(0);
    const n6 = 6 * t;
    for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
      const point = t * POINTS_PER_TRIANGLE + g;
      const o = point * POINT_SIZE;
      let g11 = 0;
      let g12 = 0;
      let g21 = 0;
      let g22 = 0;
      for (let i = 0; i < 6; i++) {
        const node = triangles[n6 + i]!;
        const x = flat[2 * node]!;
        const y = flat[2 * node + 1]!;
        const d1 = points[o + 1 + 2 * i]!;
        const d2 = points[o + 2 + 2 * i]!;
        g11 += x * d1;
        g12 += x * d2;
        g21 += y * d1;
        g22 += y * d2;
      }
      if (!(g11 * g22 - g12 * g21 > 1e-9)) return false;
      membraneForce(law, g11, g12, g21, g22, growth === null ? 0 : growth[point]!, derivatives, force);
      const area = points[o]!;
      const t11 = area * force[0]!;
      const t22 = area * force[1]!;
      const t12 = area * force[2]!;
      for (let i = 0; i < 6; i++) {
        const d1 = points[o + 1 + 2 * i]!;
        const d2 = points[o + 2 + 2 * i]!;
        const q1 = t11 * d1 + t12 * d2;
        const q2 = t12 * d1 + t22 * d2;
        const a = o + 13 + 4 * i;
        elementForce[2 * i] = elementForce[2 * i]! + q1 * points[a]! + q2 * points[a + 1]!;
        elementForce[2 * i + 1] = elementForce[2 * i + 1]! + q1 * points[a + 2]! + q2 * points[a + 3]!;
      }
      if (!tangent) continue;
      // Columns: change of T with the two unknowns of each node.
      for (let j = 0; j < 6; j++) {
        const d1 = area * points[o + 1 + 2 * j]!;
        const d2 = area * points[o + 2 + 2 * j]!;
        const x11 = d1 * force[3]! + d2 * force[6]!;
        const x22 = d1 * force[4]! + d2 * force[7]!;
        const x12 = d1 * force[5]! + d2 * force[8]!;
        const y11 = d1 * force[9]! + d2 * force[12]!;
        const y22 = d1 * force[10]! + d2 * force[13]!;
        const y12 = d1 * force[11]! + d2 * force[14]!;
        const node = triangles[n6 + j]!;
        const c = direction[2 * node]!;
        const s = direction[2 * node + 1]!;
        columns[6 * j] = c * x11 + s * y11;
        columns[6 * j + 1] = c * x22 + s * y22;
        columns[6 * j + 2] = c * x12 + s * y12;
        columns[6 * j + 3] = -s * x11 + c * y11;
        columns[6 * j + 4] = -s * x22 + c * y22;
        columns[6 * j + 5] = -s * x12 + c * y12;
      }
      for (let i = 0; i < 6; i++) {
        const d1 = points[o + 1 + 2 * i]!;
        const d2 = points[o + 2 + 2 * i]!;
        const a = o + 13 + 4 * i;
        // (T ∇N)·τ is linear in T: coefficients of T11, T22, T12.
        const p11 = d1 * points[a]!;
        const p22 = d2 * points[a + 1]!;
        const p12 = d2 * points[a]! + d1 * points[a + 1]!;
        const r11 = d1 * points[a + 2]!;
        const r22 = d2 * points[a + 3]!;
        const r12 = d2 * points[a + 2]! + d1 * points[a + 3]!;
        const row = 24 * i;
        for (let j = 0; j < 12; j++) {
          const c11 = columns[3 * j]!;
          const c22 = columns[3 * j + 1]!;
          const c12 = columns[3 * j + 2]!;
          elementMatrix[row + j] = elementMatrix[row + j]! + p11 * c11 + p22 * c22 + p12 * c12;
          elementMatrix[row + 12 + j] = elementMatrix[row + 12 + j]! + r11 * c11 + r22 * c22 + r12 * c12;
        }
      }
    }
    for (let k = 0; k < 12; k++) {
      const unknown = unknownOf[2 * triangles[n6 + (k >> 1)]! + (k & 1)]!;
      const value = elementForce[k]!;
      if (unknown >= 0) {
        residual[unknown] = residual[unknown]! + value;
        magnitude[unknown] = magnitude[unknown]! + Math.abs(value);
      } else if (pinnedCount > 0) {
        const number = pinnedNumber(structure, triangles[n6 + (k >> 1)]!, k & 1);
        if (number < 0) continue;
        pinnedResidual[number] = pinnedResidual[number]! + value;
        magnitude[unknownCount + number] = magnitude[unknownCount + number]! + Math.abs(value);
        if (!tangent) continue;
        const row = pinnedRows[number]!;
        for (let j = 0; j < 12; j++) {
          const column = unknownOf[2 * triangles[n6 + (j >> 1)]! + (j & 1)]!;
          if (column >= 0) row[column] = row[column]! + elementMatrix[12 * k + j]!;
        }
      }
    }
    if (!tangent) continue;
    const front = fronts[frontOfTriangle[t]!]!;
    const size = front.unknowns.length;
    const place = 12 * t;
    for (let i = 0; i < 12; i++) {
      const row = placeInFront[place + i]!;
      if (row < 0) continue;
      const at = front.offset + row * size;
      for (let j = 0; j < 12; j++) {
        const column = placeInFront[place + j]!;
        if (column >= 0) store[at + column] = store[at + column]! + elementMatrix[12 * i + j]!;
      }
    }
  }
  return true;
}

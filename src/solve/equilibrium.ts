/**
 * The system of equations of the equilibrium of the formed membrane.
 *
 * For every node and tangent direction τ: Σ A·(T ∇N)·τ = hold, with T the membrane force over flat thickness
 * (see constitutive.ts), the rim free and the normal component carried by the tool or the dolly.
 */
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { shapeFunctions } from '../geometry/shapeFunctions.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { FLAT, PLACED_SIZE } from '../tray/neutralSurface.ts';
import { assembleByScript } from './assembly.ts';
import { type ElementGeometry, INTEGRATION_POINTS, POINT_SIZE, POINTS_PER_TRIANGLE } from './elements.ts';
import { type Factors, plainFactors } from './factors.ts';
import { kernelSystem } from './kernel/kernelSystem.ts';
import type { SolverStructure } from './structure.ts';
import type { Assembler, Equilibrium } from './system.ts';

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
    ...unitForces(mesh, geometry),
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

function unitForces(
  mesh: QuadraticMesh,
  geometry: ElementGeometry,
): Pick<Equilibrium, 'unitMagnitude' | 'unitRounding'> {
  const magnitudes = new Float64Array(mesh.nodeCount);
  const roundings = new Float64Array(mesh.nodeCount);
  const gradients = new Float64Array(6);
  for (let point = 0; point < (mesh.triangles.length / 6) * POINTS_PER_TRIANGLE; point++) {
    const o = point * POINT_SIZE;
    const first = 6 * Math.floor(point / POINTS_PER_TRIANGLE);
    // A strain is a sum of positions times gradients, each position known to half a unit in its last place.
    let strain = 0;
    for (let i = 0; i < 6; i++) {
      const at = PLACED_SIZE * mesh.triangles[first + i]!;
      gradients[i] = hypotenuse(geometry.points[o + 1 + 2 * i]!, geometry.points[o + 2 + 2 * i]!);
      strain +=
        (Number.EPSILON / 2) *
        hypotenuse(mesh.placed[at + FLAT]!, mesh.placed[at + FLAT + 1]!) *
        gradients[i]!;
    }
    for (let i = 0; i < 6; i++) {
      const node = mesh.triangles[first + i]!;
      const unit = geometry.points[o]! * gradients[i]!;
      magnitudes[node] = magnitudes[node]! + unit;
      roundings[node] = roundings[node]! + unit * strain;
    }
  }
  const norm = (values: Float64Array): number =>
    Math.sqrt(values.reduce((sum, value) => sum + value * value, 0));
  return { unitMagnitude: norm(magnitudes), unitRounding: norm(roundings) };
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
  const { equationOf, unknownCount } = structure;
  /** @param place of a node's component among the triangles' equations */
  const add = (hold: number, place: number, value: number): void => {
    const equation = equationOf[place]!;
    if (equation < 0) return;
    const { free, pinned } = holds[hold]!;
    if (equation < unknownCount) free[equation] = free[equation]! + value;
    else pinned[equation - unknownCount] = pinned[equation - unknownCount]! + value;
  };
  for (let t = 0; t < mesh.base.length; t++) {
    if (hasBase && mesh.base[t] === 0) continue;
    for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
      const area = geometry.points[(t * POINTS_PER_TRIANGLE + g) * POINT_SIZE]!;
      shapeFunctions(INTEGRATION_POINTS[g]![0], INTEGRATION_POINTS[g]![1], shape);
      for (let i = 0; i < 6; i++) {
        const node = mesh.triangles[6 * t + i]!;
        const place = 2 * (6 * t + i);
        const x = mesh.placed[PLACED_SIZE * node]! - originX;
        const y = mesh.placed[PLACED_SIZE * node + 1]! - originY;
        const d1 = geometry.direction[2 * node]!;
        const d2 = geometry.direction[2 * node + 1]!;
        const w = area * shape[i]!;
        // Components of the hold's direction along the node's two test directions in the flat.
        add(0, place, w * (c * d1 + s * d2));
        add(0, place + 1, w * (-c * d2 + s * d1));
        if (half) continue;
        add(1, place, w * d2);
        add(1, place + 1, w * d1);
        add(2, place, w * (-y * d1 + x * d2));
        add(2, place + 1, w * (y * d2 + x * d1));
      }
    }
  }
}

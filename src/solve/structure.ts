/** Which unknowns a mesh has, how the base is held, and in which order the unknowns are eliminated. */

import { hypotenuse } from '../geometry/hypotenuse.ts';
import { arcLengthFlat, type QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { ON_FIRST, ON_LAST } from '../mesh/skeleton.ts';
import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import { dissect } from './dissection.ts';
import type { FrontTree } from './fronts.ts';

/**
 * What depends on the topology of a mesh alone, so that it serves all sizes of a family.
 *
 * A frictionless tray whose corners differ would creep sideways until its walls balance: the flat may be
 * shifted (and, when r does not depend on direction, turned) without changing any strain, and in exchange the
 * net pull of the walls must vanish. A person holds the base on the bench, and so do we: the flat position
 * of one node of the base is pinned, and a tangential hold spread evenly over the base carries the net pull.
 * By symmetry it is zero for all trays with two mirror lines.
 */
export interface SolverStructure {
  /** Two unknown numbers per node, -1 where held by symmetry or pinned. */
  readonly unknownOf: Int32Array;
  readonly unknownCount: number;
  /** Pinned unknowns: node and component (0, 1); as many as there are holds. */
  readonly pinned: readonly { readonly node: number; readonly component: 0 | 1 }[];
  readonly tree: FrontTree;
  /** Six node numbers a triangle. */
  readonly nodesOf: Uint32Array;
  /** Twelve equation numbers a triangle: of unknowns, then those of pinned ones behind them; -1 where held. */
  readonly equationOf: Int32Array;
}

/** @param coarser of the mesh of which this one is the refinement, where there is one */
export function solverStructure(
  mesh: QuadraticMesh,
  coarser: SolverStructure | null = null,
): SolverStructure {
  const pinned = pinnedUnknowns(mesh);
  const unknownOf = new Int32Array(2 * mesh.nodeCount);
  const twoLines = mesh.mirrorLines !== null && !sameLine(mesh);
  let unknownCount = 0;
  for (let node = 0; node < mesh.nodeCount; node++) {
    const bits = mesh.mirror[node]!;
    const free = bits === 0 ? 2 : twoLines && (bits & ON_FIRST) !== 0 && (bits & ON_LAST) !== 0 ? 0 : 1;
    for (let k = 0; k < 2; k++) {
      const held = k >= free || pinned.some((pin) => pin.node === node && pin.component === k);
      unknownOf[2 * node + k] = held ? -1 : unknownCount++;
    }
  }
  const start = arcLengthFlat(mesh);
  return {
    unknownOf,
    unknownCount,
    pinned,
    tree: dissect(mesh.triangles, start, unknownOf, coarser?.tree.halving),
    nodesOf: mesh.triangles,
    equationOf: equations(mesh.triangles, unknownOf, unknownCount, pinned),
  };
}

function equations(
  triangles: Uint32Array,
  unknownOf: Int32Array,
  unknownCount: number,
  pinned: SolverStructure['pinned'],
): Int32Array {
  const equationOfPlace = unknownOf.slice();
  for (const [p, { node, component }] of pinned.entries()) {
    equationOfPlace[2 * node + component] = unknownCount + p;
  }
  const out = new Int32Array(2 * triangles.length);
  for (let i = 0; i < triangles.length; i++) {
    out[2 * i] = equationOfPlace[2 * triangles[i]!]!;
    out[2 * i + 1] = equationOfPlace[2 * triangles[i]! + 1]!;
  }
  return out;
}

/** True when both mirror lines are one and the same (a mesh of half the tray). */
export function sameLine(mesh: QuadraticMesh): boolean {
  const lines = mesh.mirrorLines;
  return lines !== null && Math.abs(Math.sin(lines.lastAngle - lines.firstAngle)) < 1e-9;
}

/** Two unknowns for a whole tray's place and one for its turn; one along the line of a half; none else. */
function pinnedUnknowns(mesh: QuadraticMesh): { node: number; component: 0 | 1 }[] {
  if (mesh.mirrorLines !== null && !sameLine(mesh)) return [];
  const half = mesh.mirrorLines !== null;
  const candidates = new Set<number>();
  const hasBase = mesh.base.includes(1);
  for (let t = 0; t < mesh.base.length; t++) {
    if (hasBase && mesh.base[t] === 0) continue;
    for (let k = 0; k < 3; k++) {
      const node = mesh.triangles[6 * t + k]!;
      if ((mesh.mirror[node] !== 0) === half) candidates.add(node);
    }
  }
  const nodes = [...candidates].sort((a, b) => a - b);
  const x = (node: number): number => mesh.placed[PLACED_SIZE * node]!;
  const y = (node: number): number => mesh.placed[PLACED_SIZE * node + 1]!;
  const meanX = nodes.reduce((sum, node) => sum + x(node), 0) / nodes.length;
  const meanY = nodes.reduce((sum, node) => sum + y(node), 0) / nodes.length;
  const nearest = nodes.reduce((best, node) =>
    hypotenuse(x(node) - meanX, y(node) - meanY) < hypotenuse(x(best) - meanX, y(best) - meanY) ? node : best,
  );
  if (half) return [{ node: nearest, component: 0 }];
  const farthest = nodes.reduce((best, node) =>
    Math.abs(x(node) - x(nearest)) > Math.abs(x(best) - x(nearest)) ? node : best,
  );
  return [
    { node: nearest, component: 0 },
    { node: nearest, component: 1 },
    { node: farthest, component: 1 },
  ];
}

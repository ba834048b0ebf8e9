/** What a solved rim is worth: its error, from how far it moved when the mesh became finer. */
import { pow } from '../elementary.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { rimDistances } from './rimDistances.ts';

/**
 * Error that the finer of two meshes still has, over the change between them: after the first refinement and after later
 * ones; where the rim runs from one height to another changes fall more slowly. Of 184 random trays, against meshes refined
 * twice more, seven had more, six of them by up to 7 %. Where the changes fall more slowly still, they show the share
 * themselves.
 */
const SHARES = [0.38, 0.33] as const;
const UNEVEN_SHARES = [0.85, 0.58] as const;
/** What is said of an error, over what goes by the shares: so that one tray in a hundred has more. */
export const SAID = 1.08;

/**
 * @param before change from the mesh before to the coarser of the two, mm; Infinity where there was none
 * @param uneven whether the rim runs from one height to another
 */
export function errorShare(change: number, before: number, uneven: boolean): number {
  const [first, later] = uneven ? UNEVEN_SHARES : SHARES;
  if (before === Infinity) return first;
  const ratio = Math.min(0.7, change / before);
  return Math.max(later, ratio / (1 - ratio));
}

/** Power of the spacing with which errors go, where the rim is even and where it runs from one height to another. */
const ORDER = 2.3;
const UNEVEN_ORDER = 1.1;
/** Share of the accuracy that a finer mesh aims at, so that it seldom misses. */
const AIM = 0.85;
/** Spacing, over that of now, below which two new meshes would cost more than one refinement. */
const WORTH_MESHING = 0.65;

/**
 * Spacing, over that of the first mesh, with which an error that is a little too large would do; null where a refinement,
 * which halves it, is the better way.
 *
 * @param accuracy that is wanted, mm
 */
export function slightlyFiner(error: number, accuracy: number, uneven: boolean): number | null {
  const spacing = pow((AIM * accuracy) / error, 1 / (uneven ? UNEVEN_ORDER : ORDER));
  return spacing < WORTH_MESHING ? null : spacing;
}

/**
 * Largest move of the rim from one mesh to the next, mm: of each rim node across the rim, since a move along it
 * does not change the outline. A shift of the whole flat does not count.
 */
export function largestRimChange(mesh: QuadraticMesh, before: Float64Array, after: Float64Array): number {
  const { rim } = mesh;
  let x = 0;
  let y = 0;
  if (mesh.mirrorLines === null) {
    for (const node of rim) {
      x += (after[2 * node]! - before[2 * node]!) / rim.length;
      y += (after[2 * node + 1]! - before[2 * node + 1]!) / rim.length;
    }
  }
  return rimDistances(mesh, after, before, { x, y }).reduce(
    (most, each) => Math.max(most, Math.abs(each)),
    0,
  );
}

/** The solved field over the whole blank, mirrored where symmetry was used. */

import type { FlatField } from '../geometry/flatField.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { mapPoint, type Unfolding, unfolding } from '../mesh/unfold.ts';
import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import type { TraySolution } from './solveTray.ts';
import type { NodalStrains } from './strains.ts';

/**
 * @param solution solved mesh
 * @param strains  its nodal strains
 */
export function wholeField(solution: TraySolution, strains: NodalStrains): Omit<FlatField, 'rimCorner'> {
  const { mesh, flat } = solution;
  const copies = copiesOf(mesh);
  const spread = (values: Float64Array): Float64Array => {
    if (copies === null) return values;
    const out = new Float64Array(copies.vertexCount);
    for (const own of copies.numbers)
      for (let node = 0; node < values.length; node++) out[own[node]!] = values[node]!;
    return out;
  };
  return {
    flat: copies === null ? flat : mapped(flat, 2, copies),
    ...wholeFormed(mesh, copies),
    majorStrain: spread(strains.major),
    minorStrain: spread(strains.minor),
    thicknessStrain: spread(strains.thickness),
    equivalentStrain: spread(strains.equivalent),
  };
}

/** How the pieces of a mesh lie around the whole tray; null where it is the whole already. */
function copiesOf({ mirror, mirrorLines: lines }: QuadraticMesh): Unfolding | null {
  if (lines === null) return null;
  return unfolding(mirror, lines, Math.round((2 * Math.PI) / (lines.lastAngle - lines.firstAngle)));
}

/** The formed surface of a mesh over the whole tray. */
export function wholeFormed(
  mesh: QuadraticMesh,
  copies: Unfolding | null = copiesOf(mesh),
): Pick<FlatField, 'formed' | 'triangles' | 'rimNodes'> {
  const formed = new Float64Array(3 * mesh.nodeCount);
  for (let node = 0; node < mesh.nodeCount; node++) {
    for (let k = 0; k < 3; k++) formed[3 * node + k] = mesh.placed[PLACED_SIZE * node + k]!;
  }
  if (copies === null) return { formed, triangles: mesh.triangles, rimNodes: mesh.rim };
  const { maps, numbers } = copies;
  const triangles = new Uint32Array(mesh.triangles.length * maps.length);
  const rim: number[] = [];
  for (const [copy, map] of maps.entries()) {
    const own = numbers[copy]!;
    const swap = map.mirrored ? [0, 2, 1, 5, 4, 3] : [0, 1, 2, 3, 4, 5];
    for (let t = 0; t < mesh.triangles.length; t += 6) {
      for (let k = 0; k < 6; k++) {
        triangles[copy * mesh.triangles.length + t + k] = own[mesh.triangles[t + swap[k]!]!]!;
      }
    }
    const piece = Array.from(mesh.rim, (node) => own[node]!);
    if (map.mirrored) piece.reverse();
    // The last node of a piece is the first of the next.
    rim.push(...piece.slice(0, -1));
  }
  return { formed: mapped(formed, 3, copies), triangles, rimNodes: Uint32Array.from(rim) };
}

/** Points of one piece, `size` numbers each and x y first, in all pieces. */
function mapped(points: Float64Array, size: number, { maps, numbers, vertexCount }: Unfolding): Float64Array {
  const out = new Float64Array(size * vertexCount);
  for (const [copy, map] of maps.entries()) {
    const own = numbers[copy]!;
    for (let node = 0; node < points.length / size; node++) {
      const into = size * own[node]!;
      for (let k = 0; k < size; k++) out[into + k] = points[size * node + k]!;
      mapPoint(map, out, into);
    }
  }
  return out;
}

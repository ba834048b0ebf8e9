/** The solved field over the whole blank, mirrored where symmetry was used. */

import type { FlatField } from '../geometry/flatField.ts';
import { mapPoint, unfolding } from '../mesh/unfold.ts';
import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import type { TraySolution } from './solveTray.ts';
import type { NodalStrains } from './strains.ts';

/**
 * @param solution solved mesh
 * @param strains  its nodal strains
 */
export function wholeField(solution: TraySolution, strains: NodalStrains): Omit<FlatField, 'rimCorner'> {
  const { mesh, flat } = solution;
  const lines = mesh.mirrorLines;
  const formed = new Float64Array(3 * mesh.nodeCount);
  for (let node = 0; node < mesh.nodeCount; node++) {
    for (let k = 0; k < 3; k++) formed[3 * node + k] = mesh.placed[PLACED_SIZE * node + k]!;
  }
  if (lines === null) {
    return {
      flat,
      formed,
      triangles: mesh.triangles,
      majorStrain: strains.major,
      minorStrain: strains.minor,
      thicknessStrain: strains.thickness,
      equivalentStrain: strains.equivalent,
      rimNodes: mesh.rim,
    };
  }
  const copies = Math.round((2 * Math.PI) / (lines.lastAngle - lines.firstAngle));
  const { maps, numbers, vertexCount } = unfolding(mesh.mirror, lines, copies);
  const wholeFlat = new Float64Array(2 * vertexCount);
  const wholeFormed = new Float64Array(3 * vertexCount);
  const triangles = new Uint32Array(mesh.triangles.length * copies);
  const spread = (values: Float64Array): Float64Array => {
    const out = new Float64Array(vertexCount);
    for (const own of numbers)
      for (let node = 0; node < values.length; node++) out[own[node]!] = values[node]!;
    return out;
  };
  const rim: number[] = [];
  for (const [copy, map] of maps.entries()) {
    const own = numbers[copy]!;
    for (let node = 0; node < mesh.nodeCount; node++) {
      const into = own[node]!;
      wholeFlat[2 * into] = flat[2 * node]!;
      wholeFlat[2 * into + 1] = flat[2 * node + 1]!;
      mapPoint(map, wholeFlat, 2 * into);
      wholeFormed[3 * into] = formed[3 * node]!;
      wholeFormed[3 * into + 1] = formed[3 * node + 1]!;
      wholeFormed[3 * into + 2] = formed[3 * node + 2]!;
      mapPoint(map, wholeFormed, 3 * into);
    }
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
  return {
    flat: wholeFlat,
    formed: wholeFormed,
    triangles,
    majorStrain: spread(strains.major),
    minorStrain: spread(strains.minor),
    thicknessStrain: spread(strains.thickness),
    equivalentStrain: spread(strains.equivalent),
    rimNodes: Uint32Array.from(rim),
  };
}

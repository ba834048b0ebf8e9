/** A solved tray over its whole blank: flat and formed places and the strain tensor of every node. */
import { unfolding } from '../mesh/unfold.ts';
import { wholeField } from '../solve/wholeField.ts';
import type { SolvedTray } from './solvedTray.ts';

export interface WholeStrain {
  /** mm, x y per node; six node numbers per triangle; mm, x y z per node. */
  readonly flat: Float64Array;
  readonly triangles: Uint32Array;
  readonly formed: Float64Array;
  /** Logarithmic strain E11, E22, E12 in the flat axes, 3 per node. */
  readonly tensor: Float64Array;
}

export function wholeStrain({ solution, strains }: SolvedTray): WholeStrain {
  const { flat, triangles, formed } = wholeField(solution, strains);
  const { mesh } = solution;
  const lines = mesh.mirrorLines;
  if (lines === null) return { flat, triangles, formed, tensor: strains.tensor };
  const copies = Math.round((2 * Math.PI) / (lines.lastAngle - lines.firstAngle));
  const { maps, numbers } = unfolding(mesh.mirror, lines, copies);
  const tensor = new Float64Array((3 * flat.length) / 2);
  for (const [copy, { q11, q12, q21, q22 }] of maps.entries()) {
    for (let node = 0; node < mesh.nodeCount; node++) {
      const [a, b, c] = strains.tensor.subarray(3 * node, 3 * node + 3) as unknown as [
        number,
        number,
        number,
      ];
      const into = 3 * numbers[copy]![node]!;
      // Q E Qᵀ
      tensor[into] = q11 * q11 * a + q12 * q12 * b + 2 * q11 * q12 * c;
      tensor[into + 1] = q21 * q21 * a + q22 * q22 * b + 2 * q21 * q22 * c;
      tensor[into + 2] = q11 * q21 * a + q12 * q22 * b + (q11 * q22 + q12 * q21) * c;
    }
  }
  return { flat, triangles, formed, tensor };
}

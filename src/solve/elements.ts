/**
 * Geometry of the six-node membrane triangles on the formed surface, worked out once per mesh.
 *
 * Three integration points a triangle: exact for the stiffness of straight-sided triangles, of full rank, and
 * light enough not to lock when thickness is kept (large Lankford coefficients).
 */
import { shapeDerivatives } from '../geometry/shapeFunctions.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { IMAGE_OF_X, IMAGE_OF_Y, PLACED_SIZE } from '../tray/neutralSurface.ts';

export const POINTS_PER_TRIANGLE = 3;
/** Area coordinates (u, v) of the integration points; each has a third of the weight. */
export const INTEGRATION_POINTS: readonly (readonly [number, number])[] = [
  [1 / 6, 1 / 6],
  [2 / 3, 1 / 6],
  [1 / 6, 2 / 3],
];

/** Numbers per integration point: area, 6 × gradient (2), 6 × two test directions (2 each). */
export const POINT_SIZE = 37;

export interface ElementGeometry {
  /**
   * `POINT_SIZE` numbers per integration point: [0] formed area that belongs to the point, mm²;
   * [1 + 2i, 2 + 2i] gradient of shape function i in the point's own orthonormal frame, 1/mm;
   * [13 + 4i …] test directions of node i in that frame: (τ1)₁ (τ1)₂ (τ2)₁ (τ2)₂.
   */
  readonly points: Float64Array;
  /** Direction of a node's first unknown in the flat: cos and sin per node; (1, 0) except on mirror lines. */
  readonly direction: Float64Array;
}

/** Directions in which the nodes' first unknowns move: along the mirror line for nodes on one. */
function nodeDirections(mesh: QuadraticMesh): Float64Array {
  const direction = new Float64Array(2 * mesh.nodeCount);
  for (let i = 0; i < mesh.nodeCount; i++) {
    direction[2 * i] = 1;
    const bits = mesh.mirror[i]!;
    if (bits === 0 || mesh.mirrorLines === null) continue;
    const angle = (bits & 1) !== 0 ? mesh.mirrorLines.firstAngle : mesh.mirrorLines.lastAngle;
    direction[2 * i] = Math.cos(angle);
    direction[2 * i + 1] = Math.sin(angle);
  }
  return direction;
}

export function elementGeometry(mesh: QuadraticMesh): ElementGeometry {
  const { placed, triangles } = mesh;
  const count = triangles.length / 6;
  const points = new Float64Array(count * POINTS_PER_TRIANGLE * POINT_SIZE);
  const direction = nodeDirections(mesh);
  const du = new Float64Array(6);
  const dv = new Float64Array(6);
  for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
    const [u, v] = INTEGRATION_POINTS[g]!;
    shapeDerivatives(u, v, du, dv);
    for (let t = 0; t < count; t++) {
      const o = (t * POINTS_PER_TRIANGLE + g) * POINT_SIZE;
      let ax = 0;
      let ay = 0;
      let az = 0;
      let bx = 0;
      let by = 0;
      let bz = 0;
      for (let i = 0; i < 6; i++) {
        const at = PLACED_SIZE * triangles[6 * t + i]!;
        ax += du[i]! * placed[at]!;
        ay += du[i]! * placed[at + 1]!;
        az += du[i]! * placed[at + 2]!;
        bx += dv[i]! * placed[at]!;
        by += dv[i]! * placed[at + 1]!;
        bz += dv[i]! * placed[at + 2]!;
      }
      const length = Math.sqrt(ax * ax + ay * ay + az * az);
      const e1x = ax / length;
      const e1y = ay / length;
      const e1z = az / length;
      const shear = bx * e1x + by * e1y + bz * e1z;
      const px = bx - shear * e1x;
      const py = by - shear * e1y;
      const pz = bz - shear * e1z;
      const width = Math.sqrt(px * px + py * py + pz * pz);
      const e2x = px / width;
      const e2y = py / width;
      const e2z = pz / width;
      points[o] = (length * width) / 6; // half the parallelogram, a third each
      for (let i = 0; i < 6; i++) {
        const g1 = du[i]! / length;
        points[o + 1 + 2 * i] = g1;
        points[o + 2 + 2 * i] = (dv[i]! - shear * g1) / width;
        const node = triangles[6 * t + i]!;
        const x = PLACED_SIZE * node + IMAGE_OF_X;
        const y = PLACED_SIZE * node + IMAGE_OF_Y;
        const c = direction[2 * node]!;
        const s = direction[2 * node + 1]!;
        const x1 = placed[x]! * e1x + placed[x + 1]! * e1y + placed[x + 2]! * e1z;
        const x2 = placed[x]! * e2x + placed[x + 1]! * e2y + placed[x + 2]! * e2z;
        const y1 = placed[y]! * e1x + placed[y + 1]! * e1y + placed[y + 2]! * e1z;
        const y2 = placed[y]! * e2x + placed[y + 1]! * e2y + placed[y + 2]! * e2z;
        points[o + 13 + 4 * i] = c * x1 + s * y1;
        points[o + 14 + 4 * i] = c * x2 + s * y2;
        points[o + 15 + 4 * i] = -s * x1 + c * y1;
        points[o + 16 + 4 * i] = -s * x2 + c * y2;
      }
    }
  }
  return { points, direction };
}

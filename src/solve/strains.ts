/** Strains of a solved mesh at its nodes. */
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { equivalentStrain, type PlasticLaw } from '../material/law.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { type ElementGeometry, POINT_SIZE, POINTS_PER_TRIANGLE } from './elements.ts';

/** Logarithmic strains per node; tension positive. */
export interface NodalStrains {
  /** E11, E22, E12 in the flat axes, 3 per node. */
  readonly tensor: Float64Array;
  readonly major: Float64Array;
  readonly minor: Float64Array;
  /** Through the thickness: −(major + minor), volume being kept; growth of the sheet included. */
  readonly thickness: Float64Array;
  readonly equivalent: Float64Array;
}

/** Logarithmic strain −½ ln(G·Gᵀ) of one point, into out[0..2] = E11, E22, E12. */
export function logStrain(g11: number, g12: number, g21: number, g22: number, out: Float64Array): void {
  const m11 = g11 * g11 + g12 * g12;
  const m22 = g21 * g21 + g22 * g22;
  const s = g11 * g21 + g12 * g22;
  const m = (m11 + m22) / 2;
  const c = (m11 - m22) / 2;
  const d = hypotenuse(c, s);
  const a = Math.log(Math.abs(g11 * g22 - g12 * g21));
  const z = (d / m) ** 2;
  const b = z < 1e-4 ? (1 + z / 3 + (z * z) / 5) / m : Math.atanh(d / m) / d;
  out[0] = -0.5 * (a + b * c);
  out[1] = -0.5 * (a - b * c);
  out[2] = -0.5 * b * s;
}

/** Gradient of the flat positions at an integration point, as g11, g12, g21, g22. */
export function flatGradient(
  mesh: QuadraticMesh,
  geometry: ElementGeometry,
  flat: Float64Array,
  triangle: number,
  point: number,
): [number, number, number, number] {
  const o = (triangle * POINTS_PER_TRIANGLE + point) * POINT_SIZE;
  let g11 = 0;
  let g12 = 0;
  let g21 = 0;
  let g22 = 0;
  for (let i = 0; i < 6; i++) {
    const node = mesh.triangles[6 * triangle + i]!;
    const d1 = geometry.points[o + 1 + 2 * i]!;
    const d2 = geometry.points[o + 2 + 2 * i]!;
    g11 += flat[2 * node]! * d1;
    g12 += flat[2 * node]! * d2;
    g21 += flat[2 * node + 1]! * d1;
    g22 += flat[2 * node + 1]! * d2;
  }
  return [g11, g12, g21, g22];
}

/** The largest equivalent strain at any integration point. */
export function largestStrain(
  mesh: QuadraticMesh,
  geometry: ElementGeometry,
  law: PlasticLaw,
  flat: Float64Array,
): number {
  const strain = new Float64Array(3);
  let largest = 0;
  for (let t = 0; t < mesh.triangles.length / 6; t++) {
    for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
      logStrain(...flatGradient(mesh, geometry, flat, t, g), strain);
      largest = Math.max(largest, equivalentStrain(law, strain[0]!, strain[1]!, 2 * strain[2]!));
    }
  }
  return largest;
}

// Line k: weights of the three integration points in the linear extrapolation to corner k.
const TO_CORNER = [
  [5 / 3, -1 / 3, -1 / 3],
  [-1 / 3, 5 / 3, -1 / 3],
  [-1 / 3, -1 / 3, 5 / 3],
];

/**
 * Strains at the nodes: extrapolated from the integration points of each triangle, then the area-weighted
 * mean of the triangles that meet there.
 *
 * @param flat x y per node
 */
export function nodalStrains(
  mesh: QuadraticMesh,
  geometry: ElementGeometry,
  law: PlasticLaw,
  flat: Float64Array,
): NodalStrains {
  const { triangles, nodeCount } = mesh;
  const tensor = new Float64Array(3 * nodeCount);
  const weight = new Float64Array(nodeCount);
  const atPoint = [new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  const corner = [new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  for (let t = 0; t < triangles.length / 6; t++) {
    let area = 0;
    for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
      const [g11, g12, g21, g22] = flatGradient(mesh, geometry, flat, t, g);
      logStrain(g11, g12, g21, g22, atPoint[g]!);
      area += geometry.points[(t * POINTS_PER_TRIANGLE + g) * POINT_SIZE]!;
    }
    for (let k = 0; k < 3; k++) {
      for (let j = 0; j < 3; j++) {
        corner[k]![j] =
          TO_CORNER[k]![0]! * atPoint[0]![j]! +
          TO_CORNER[k]![1]! * atPoint[1]![j]! +
          TO_CORNER[k]![2]! * atPoint[2]![j]!;
      }
    }
    for (let i = 0; i < 6; i++) {
      const node = triangles[6 * t + i]!;
      weight[node] = weight[node]! + area;
      for (let j = 0; j < 3; j++) {
        const value = i < 3 ? corner[i]![j]! : (corner[i - 3]![j]! + corner[(i - 2) % 3]![j]!) / 2;
        tensor[3 * node + j] = tensor[3 * node + j]! + area * value;
      }
    }
  }
  const major = new Float64Array(nodeCount);
  const minor = new Float64Array(nodeCount);
  const thickness = new Float64Array(nodeCount);
  const equivalent = new Float64Array(nodeCount);
  for (let node = 0; node < nodeCount; node++) {
    for (let j = 0; j < 3; j++) tensor[3 * node + j] = tensor[3 * node + j]! / weight[node]!;
    const e11 = tensor[3 * node]!;
    const e22 = tensor[3 * node + 1]!;
    const e12 = tensor[3 * node + 2]!;
    const mean = (e11 + e22) / 2;
    const radius = hypotenuse((e11 - e22) / 2, e12);
    major[node] = mean + radius;
    minor[node] = mean - radius;
    thickness[node] = -(e11 + e22);
    equivalent[node] = equivalentStrain(law, e11, e22, 2 * e12);
  }
  return { tensor, major, minor, thickness, equivalent };
}

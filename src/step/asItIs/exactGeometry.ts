/**
 * Geometry of the triangles of a part, from the exact surface where the sheet is only bent, and on the neutral
 * surface where it is bent so tightly that this is not the middle.
 *
 * Over a bend a large six-node triangle on the surface is not quite as long as the surface. Where the first flat
 * shape is without strain, lengths are taken from the surface itself at the integration points, so that the flat
 * solution is met exactly by triangles of any size; where the metal is strained, triangles are small and their own.
 */
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import { shapeFunctions } from '../../mesh/quadraticMesh.ts';
import {
  type ElementGeometry,
  elementGeometry,
  INTEGRATION_POINTS,
  POINT_SIZE,
  POINTS_PER_TRIANGLE,
  shapeDerivatives,
} from '../../solve/elements.ts';
import { PLACED_SIZE } from '../../tray/neutralSurface.ts';
import { type FlatAtlas, times } from './flatAtlas.ts';

/** Strain of the first flat shape below which a place counts as bent only. */
const UNSTRAINED = 0.001;

/** @param start x y per node: the first flat shape */
export function exactGeometry(mesh: QuadraticMesh, start: Float64Array, atlas: FlatAtlas): ElementGeometry {
  const geometry = elementGeometry(mesh);
  const { points } = geometry;
  const { placed, triangles } = mesh;
  const [du, dv, shape, metric] = [6, 6, 6, 15].map((size) => new Float64Array(size)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const own = new Float64Array(POINTS_PER_TRIANGLE * 6);
  const matrices = new Float64Array(POINTS_PER_TRIANGLE * 9);
  for (let t = 0; t < triangles.length / 6; t++) {
    let [strain, tight] = [0, 0];
    for (const [g, [u, v]] of INTEGRATION_POINTS.entries()) {
      shapeFunctions(u, v, shape);
      shapeDerivatives(u, v, du, dv);
      let [x, y, xu, yu, xv, yv] = [0, 0, 0, 0, 0, 0];
      for (let i = 0; i < 6; i++) {
        const node = triangles[6 * t + i]!;
        x += shape[i]! * start[2 * node]!;
        y += shape[i]! * start[2 * node + 1]!;
        xu += du[i]! * start[2 * node]!;
        yu += du[i]! * start[2 * node + 1]!;
        xv += dv[i]! * start[2 * node]!;
        yv += dv[i]! * start[2 * node + 1]!;
      }
      strain = Math.max(strain, atlas.metric(x, y, metric));
      for (let i = 0; i < 3; i++) {
        own[6 * g + i] = xu * metric[i]! + yu * metric[3 + i]!;
        own[6 * g + 3 + i] = xv * metric[i]! + yv * metric[3 + i]!;
      }
      matrices.set(metric.subarray(6), 9 * g);
      for (let i = 0; i < 9; i++) tight = Math.max(tight, Math.abs(metric[6 + i]! - (i % 4 === 0 ? 1 : 0)));
    }
    if (!(strain < UNSTRAINED)) {
      if (tight < 1e-9) continue;
      ownTangents(mesh, t, matrices, own);
    }
    for (const [g, [u, v]] of INTEGRATION_POINTS.entries()) {
      shapeDerivatives(u, v, du, dv);
      const o = (t * POINTS_PER_TRIANGLE + g) * POINT_SIZE;
      const [a, b] = [own.subarray(6 * g, 6 * g + 3), own.subarray(6 * g + 3, 6 * g + 6)];
      const length = Math.hypot(a[0]!, a[1]!, a[2]!);
      const e1 = [a[0]! / length, a[1]! / length, a[2]! / length] as const;
      const shear = b[0]! * e1[0] + b[1]! * e1[1] + b[2]! * e1[2];
      const off = [b[0]! - shear * e1[0], b[1]! - shear * e1[1], b[2]! - shear * e1[2]] as const;
      const width = Math.hypot(off[0], off[1], off[2]);
      const e2 = [off[0] / width, off[1] / width, off[2] / width] as const;
      points[o] = (length * width) / 6;
      for (let i = 0; i < 6; i++) {
        const g1 = du[i]! / length;
        points[o + 1 + 2 * i] = g1;
        points[o + 2 + 2 * i] = (dv[i]! - shear * g1) / width;
        const at = PLACED_SIZE * triangles[6 * t + i]!;
        for (const [k, from] of [at + 3, at + 6].entries()) {
          const [x, y, z] = [placed[from]!, placed[from + 1]!, placed[from + 2]!];
          points[o + 13 + 4 * i + 2 * k] = x * e1[0] + y * e1[1] + z * e1[2];
          points[o + 14 + 4 * i + 2 * k] = x * e2[0] + y * e2[1] + z * e2[2];
        }
      }
    }
  }
  return geometry;
}

/** The triangle's own tangents at its integration points, u and v in turn, taken to the neutral surface. */
function ownTangents(mesh: QuadraticMesh, t: number, matrices: Float64Array, out: Float64Array): void {
  const [du, dv] = [new Float64Array(6), new Float64Array(6)];
  for (const [g, [u, v]] of INTEGRATION_POINTS.entries()) {
    shapeDerivatives(u, v, du, dv);
    const [a, b] = [
      [0, 0, 0],
      [0, 0, 0],
    ];
    for (let i = 0; i < 6; i++) {
      const at = PLACED_SIZE * mesh.triangles[6 * t + i]!;
      for (let k = 0; k < 3; k++) {
        a[k] = a[k]! + du[i]! * mesh.placed[at + k]!;
        b[k] = b[k]! + dv[i]! * mesh.placed[at + k]!;
      }
    }
    const matrix = matrices.subarray(9 * g, 9 * g + 9);
    out.set(times(matrix, a), 6 * g);
    out.set(times(matrix, b), 6 * g + 3);
  }
}

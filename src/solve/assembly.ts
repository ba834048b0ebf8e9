/**
 * Residual and tangent of all triangles, summed up: the reference, and the way where there is no WebAssembly. The
 * same in AssemblyScript is kernel/assemblyKernel.as.ts.
 */
import { FORCE_SIZE, membraneForce, NONE } from './constitutive.ts';
import { POINT_SIZE, POINTS_PER_TRIANGLE } from './elements.ts';
import type { Assembler } from './system.ts';

const force = new Float64Array(FORCE_SIZE);
const columns = new Float64Array(36);
const elementMatrix = new Float64Array(144);
const elementForce = new Float64Array(12);

export const assembleByScript: Assembler = (system, law, flat, growth, derivatives) => {
  const tangent = derivatives !== NONE;
  const { mesh, structure, geometry, residual, pinnedResidual, magnitude, pinnedRows } = system;
  const { triangles } = mesh;
  const { points, direction } = geometry;
  const { equationOf, tree, unknownCount } = structure;
  const { fronts, frontOfTriangle, placeInFront } = tree;
  const count = triangles.length / 6;
  const store = tangent ? system.factors.store : null;
  residual.fill(0);
  pinnedResidual.fill(0);
  magnitude.fill(0);
  if (tangent) {
    store?.fill(0);
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
      const equation = equationOf[2 * n6 + k]!;
      if (equation < 0) continue;
      const value = elementForce[k]!;
      magnitude[equation] = magnitude[equation]! + Math.abs(value);
      if (equation < unknownCount) {
        residual[equation] = residual[equation]! + value;
        continue;
      }
      const number = equation - unknownCount;
      pinnedResidual[number] = pinnedResidual[number]! + value;
      if (!tangent) continue;
      const row = pinnedRows[number]!;
      for (let j = 0; j < 12; j++) {
        const column = equationOf[2 * n6 + j]!;
        if (column >= 0 && column < unknownCount) row[column] = row[column]! + elementMatrix[12 * k + j]!;
      }
    }
    if (store === null) continue;
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
};

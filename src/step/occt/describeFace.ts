/** A face of the kernel's as plain data: its net of triangles with points on the exact surface. */

import { GatherpanError } from '../../errors.ts';
import { cross, minus, norm, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import { words } from '../../words/language.ts';
import type { PartFace } from '../part.ts';
import type { EdgeList } from './edgeList.ts';
import { type BoundSurface, evaluator } from './evaluators.ts';
import type { Bound } from './instance.ts';
import { areaOf } from './measures.ts';
import { each } from './members.ts';
import { scoped } from './scope.ts';

/** Difference of a face's net from its true area, as a share of it, that chords over curves do not explain. */
const NET_AREA = 0.15;

const refuse = (): never => {
  throw new GatherpanError('BAD_INPUT', words().messages.step.part.noTriangles);
};

/**
 * @param surface of the face, with its place in space
 * @param edges   takes the face's edges in
 * @throws GatherpanError BAD_INPUT when the kernel has no triangles of the face, or wrong ones
 */
export function describeFace(occt: Bound, face: Bound, surface: BoundSurface, edges: EdgeList): PartFace {
  return scoped((keep) => {
    const { reversed } = surface;
    const wires = each(occt, face, 'WIRE', keep).map((wire) => {
      const numbers: number[] = [];
      for (const edge of each(occt, wire, 'EDGE', keep)) {
        const bound = keep(occt.TopoDS.Edge_1(edge));
        if (!occt.BRep_Tool.Degenerated(bound)) numbers.push(edges.numberOf(bound));
      }
      return numbers;
    });
    const location = keep(new occt.TopLoc_Location_1());
    const handle = keep(occt.BRep_Tool.Triangulation(face, location));
    if (handle.IsNull()) refuse();
    const net = handle.get();
    const count: number = net.NbNodes();
    const parameters = new Float64Array(2 * count);
    const values = keep(net.UVNodes());
    for (let i = 0; i < count; i++) {
      const value = values.Value(i + 1);
      parameters[2 * i] = value.X();
      parameters[2 * i + 1] = value.Y();
      value.delete();
    }
    const triangleCount: number = net.NbTriangles();
    const triangles = new Uint32Array(3 * triangleCount);
    const list = keep(net.Triangles());
    for (let t = 0; t < triangleCount; t++) {
      const triangle = list.Value(t + 1);
      const corners = [triangle.Value(1), triangle.Value(2), triangle.Value(3)] as const;
      triangle.delete();
      triangles[3 * t] = corners[0] - 1;
      triangles[3 * t + 1] = corners[reversed ? 2 : 1] - 1;
      triangles[3 * t + 2] = corners[reversed ? 1 : 2] - 1;
    }
    const points = new Float64Array(3 * count);
    const normals = new Float64Array(3 * count);
    const evaluate = evaluator(occt, [surface], keep);
    const out = new Float64Array(6);
    for (let i = 0; i < count; i++) {
      evaluate(0, parameters[2 * i]!, parameters[2 * i + 1]!, out);
      points.set(out.subarray(0, 3), 3 * i);
      normals.set(out.subarray(3), 3 * i);
    }
    const area = areaOf(occt, face);
    // The kernel's triangles of a face that it has misread do not cover it, or cover more.
    if (!(Math.abs(netArea(points, triangles) / area - 1) < NET_AREA)) refuse();
    return { points, normals, parameters, triangles, area, wires };
  });
}

/** mm² */
function netArea(points: Float64Array, triangles: Uint32Array): number {
  let sum = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const corner = (k: number): Vector3 => vectorAt(points, 3 * triangles[t + k]!);
    sum += norm(cross(minus(corner(1), corner(0)), minus(corner(2), corner(0)))) / 2;
  }
  return sum;
}

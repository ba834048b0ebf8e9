/** Points, normals and derivatives on a part's surfaces. */
import { cross, dot, moved, norm, scaled, type Vector3 } from '../../geometry/vector3.ts';
import type { Bound } from './instance.ts';
import type { LivePart } from './livePart.ts';
import type { Keep } from './scope.ts';

/** A face's surface, and whether the material lies on the other side of it. */
export interface BoundSurface {
  readonly adaptor: Bound;
  readonly reversed: boolean;
}

/** @param keep frees what the function returned works with */
export function evaluator(occt: Bound, surfaces: readonly BoundSurface[], keep: Keep): LivePart['evaluate'] {
  const point = keep(new occt.gp_Pnt_1());
  const alongU = keep(new occt.gp_Vec_1());
  const alongV = keep(new occt.gp_Vec_1());
  return (face, u, v, out) => {
    const { adaptor, reversed } = surfaces[face]!;
    adaptor.D1(u, v, point, alongU, alongV);
    out[0] = point.X();
    out[1] = point.Y();
    out[2] = point.Z();
    let length = crossInto(alongU, alongV, out);
    if (!(length > 1e-9)) {
      // At a pole one direction shrinks to nothing: a little inside the normal is as good as the same.
      const middleV = (adaptor.FirstVParameter() + adaptor.LastVParameter()) / 2;
      const middleU = (adaptor.FirstUParameter() + adaptor.LastUParameter()) / 2;
      adaptor.D1(u + 1e-6 * (middleU - u), v + 1e-6 * (middleV - v), point, alongU, alongV);
      length = crossInto(alongU, alongV, out);
    }
    const scale = (reversed ? -1 : 1) / length;
    for (let k = 3; k < 6; k++) out[k] = out[k]! * scale;
  };
}

/** @param keep frees what the function returned works with */
export function differentiator(
  occt: Bound,
  surfaces: readonly BoundSurface[],
  keep: Keep,
): LivePart['differentiate'] {
  const point = keep(new occt.gp_Pnt_1());
  const [du, dv, duu, dvv, duv] = [0, 1, 2, 3, 4].map(() => keep(new occt.gp_Vec_1()));
  const values = (vector: Bound): Vector3 => [vector.X(), vector.Y(), vector.Z()];
  return (face, u, v, out) => {
    const { adaptor, reversed } = surfaces[face]!;
    adaptor.D2(u, v, point, du, dv, duu, dvv, duv);
    const [pu, pv, puu, pvv, puv] = [du, dv, duu, dvv, duv].map(values) as [
      Vector3,
      Vector3,
      Vector3,
      Vector3,
      Vector3,
    ];
    const raw = cross(pu, pv);
    const length = norm(raw);
    const sign = reversed ? -1 : 1;
    const n = scaled(1 / length, raw);
    const change = (a: Vector3, b: Vector3): Vector3 => {
      const d = moved(a, 1, b);
      return scaled(sign / length, moved(d, -dot(d, n), n));
    };
    out.set([point.X(), point.Y(), point.Z()]);
    out.set(scaled(sign, n), 3);
    out.set(pu, 6);
    out.set(pv, 9);
    out.set(change(cross(puu, pv), cross(pu, puv)), 12);
    out.set(change(cross(puv, pv), cross(pu, pvv)), 15);
  };
}

/** The vector product of two of the kernel's vectors, into the last three of `out`. @returns its length */
function crossInto(a: Bound, b: Bound, out: Float64Array): number {
  const ax: number = a.X();
  const ay: number = a.Y();
  const az: number = a.Z();
  const bx: number = b.X();
  const by: number = b.Y();
  const bz: number = b.Z();
  out[3] = ay * bz - az * by;
  out[4] = az * bx - ax * bz;
  out[5] = ax * by - ay * bx;
  return Math.hypot(out[3], out[4], out[5]);
}

/** Points, normals and derivatives on a part's surfaces. */
import type { Bound } from './instance.ts';
import type { LivePart } from './readShape.ts';
import type { Keep } from './scope.ts';

/** A face's surface, and whether the material lies on the other side of it. */
export interface BoundSurface {
  readonly adaptor: Bound;
  readonly reversed: boolean;
}

/** @param keep frees what the function returned works with */
export function evaluator(
  kernel: Bound,
  surfaces: readonly BoundSurface[],
  keep: Keep,
): LivePart['evaluate'] {
  const point = keep(new kernel.gp_Pnt_1());
  const alongU = keep(new kernel.gp_Vec_1());
  const alongV = keep(new kernel.gp_Vec_1());
  return (face, u, v, out) => {
    const { adaptor, reversed } = surfaces[face]!;
    adaptor.D1(u, v, point, alongU, alongV);
    out[0] = point.X();
    out[1] = point.Y();
    out[2] = point.Z();
    let length = cross(alongU, alongV, out);
    if (!(length > 1e-9)) {
      // At a pole one direction shrinks to nothing: a little inside the normal is as good as the same.
      const middleV = (adaptor.FirstVParameter() + adaptor.LastVParameter()) / 2;
      const middleU = (adaptor.FirstUParameter() + adaptor.LastUParameter()) / 2;
      adaptor.D1(u + 1e-6 * (middleU - u), v + 1e-6 * (middleV - v), point, alongU, alongV);
      length = cross(alongU, alongV, out);
    }
    const scale = (reversed ? -1 : 1) / length;
    for (let k = 3; k < 6; k++) out[k] = out[k]! * scale;
  };
}

/** @param keep frees what the function returned works with */
export function differentiator(
  kernel: Bound,
  surfaces: readonly BoundSurface[],
  keep: Keep,
): LivePart['differentiate'] {
  const point = keep(new kernel.gp_Pnt_1());
  const [du, dv, duu, dvv, duv] = [0, 1, 2, 3, 4].map(() => keep(new kernel.gp_Vec_1()));
  const values = (vector: Bound): number[] => [vector.X(), vector.Y(), vector.Z()];
  return (face, u, v, out) => {
    const { adaptor, reversed } = surfaces[face]!;
    adaptor.D2(u, v, point, du, dv, duu, dvv, duv);
    const [pu, pv, puu, pvv, puv] = [du, dv, duu, dvv, duv].map(values) as [
      number[],
      number[],
      number[],
      number[],
      number[],
    ];
    const raw = crossed(pu, pv);
    const length = Math.hypot(raw[0]!, raw[1]!, raw[2]!);
    const sign = reversed ? -1 : 1;
    const n = raw.map((value) => value / length);
    const change = (a: number[], b: number[]): number[] => {
      const d = a.map((value, i) => value + b[i]!);
      const along = d[0]! * n[0]! + d[1]! * n[1]! + d[2]! * n[2]!;
      return d.map((value, i) => (sign * (value - along * n[i]!)) / length);
    };
    out.set([point.X(), point.Y(), point.Z()]);
    out.set(
      n.map((value) => sign * value),
      3,
    );
    out.set(pu, 6);
    out.set(pv, 9);
    out.set(change(crossed(puu, pv), crossed(pu, puv)), 12);
    out.set(change(crossed(puv, pv), crossed(pu, pvv)), 15);
  };
}

/** The vector product. */
export const crossed = (a: readonly number[], b: readonly number[]): number[] => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];

/** The vector product of two of the kernel's vectors, into the last three of `out`. @returns its length */
function cross(a: Bound, b: Bound, out: Float64Array): number {
  const [ax, ay, az, bx, by, bz] = [a.X(), a.Y(), a.Z(), b.X(), b.Y(), b.Z()] as number[];
  out[3] = ay! * bz! - az! * by!;
  out[4] = az! * bx! - ax! * bz!;
  out[5] = ax! * by! - ay! * bx!;
  return Math.hypot(out[3], out[4], out[5]);
}

/** The edges of a part, numbered, with points on them. */
import { EDGE_SAMPLES, type PartEdge } from '../part.ts';
import type { Bound } from './instance.ts';
import { type Keep, scoped } from './scope.ts';

/** Numbers the edges, shared ones once. */
export class EdgeList {
  readonly list: PartEdge[] = [];
  private readonly buckets = new Map<number, { shape: Bound; number: number }[]>();
  private readonly shapes: Bound[] = [];
  private readonly adaptors = new Map<number, Bound>();
  private readonly occt: Bound;
  private readonly keep: Keep;

  constructor(occt: Bound, keep: Keep) {
    this.occt = occt;
    this.keep = keep;
  }

  /** @param edge stays the caller's to free */
  numberOf(edge: Bound): number {
    const hash: number = edge.HashCode(0x7fffffff);
    const bucket = this.buckets.get(hash) ?? [];
    const known = bucket.find(({ shape }) => shape.IsSame(edge));
    if (known !== undefined) return known.number;
    const number = this.list.push({ samples: this.samples(edge) }) - 1;
    const own = this.keep(this.occt.TopoDS.Edge_1(edge));
    bucket.push({ shape: own, number });
    this.shapes.push(own);
    this.buckets.set(hash, bucket);
    return number;
  }

  /** Gauss–Newton steps on the curve's parameter, from the nearest sample. */
  snap(edge: number, target: Float64Array): void {
    let adaptor = this.adaptors.get(edge);
    if (adaptor === undefined) {
      const bound = this.keep(this.occt.TopoDS.Edge_1(this.shapes[edge]));
      adaptor = this.keep(new this.occt.BRepAdaptor_Curve_2(bound));
      this.adaptors.set(edge, adaptor);
    }
    const from: number = adaptor.FirstParameter();
    const to: number = adaptor.LastParameter();
    const { samples } = this.list[edge]!;
    let nearest = 0;
    let best = Infinity;
    for (let i = 0; i < EDGE_SAMPLES; i++) {
      const d = Math.hypot(
        samples[3 * i]! - target[0]!,
        samples[3 * i + 1]! - target[1]!,
        samples[3 * i + 2]! - target[2]!,
      );
      if (d < best) {
        best = d;
        nearest = i;
      }
    }
    scoped((keep) => {
      const point = keep(new this.occt.gp_Pnt_1());
      const tangent = keep(new this.occt.gp_Vec_1());
      const footFrom = (start: number): number => {
        let t = start;
        for (let step = 0; step < 12; step++) {
          adaptor.D1(t, point, tangent);
          const [x, y, z] = [tangent.X(), tangent.Y(), tangent.Z()] as [number, number, number];
          const along =
            (target[0]! - point.X()) * x + (target[1]! - point.Y()) * y + (target[2]! - point.Z()) * z;
          const next = Math.min(to, Math.max(from, t + along / (x * x + y * y + z * z)));
          const moved = Math.abs(next - t);
          t = next;
          if (moved < 1e-12 * (to - from)) break;
        }
        return t;
      };
      const placeAt = (t: number): [number, number, number] => {
        adaptor.D0(t, point);
        return [point.X(), point.Y(), point.Z()];
      };
      const away = (place: readonly number[]): number =>
        Math.hypot(...place.map((value, i) => value - target[i]!));
      let t = footFrom(from + ((to - from) * nearest) / (EDGE_SAMPLES - 1));
      // On a closed curve the foot may lie on the other side of its seam.
      if (t === from || t === to) {
        const other = footFrom(t === from ? to : from);
        if (away(placeAt(other)) < away(placeAt(t))) t = other;
      }
      target.set(placeAt(t));
    });
  }

  private samples(edge: Bound): Float64Array {
    return scoped((keep) => {
      const adaptor = keep(new this.occt.BRepAdaptor_Curve_2(keep(this.occt.TopoDS.Edge_1(edge))));
      const from: number = adaptor.FirstParameter();
      const to: number = adaptor.LastParameter();
      const out = new Float64Array(3 * EDGE_SAMPLES);
      for (let i = 0; i < EDGE_SAMPLES; i++) {
        const point = keep(adaptor.Value(from + ((to - from) * i) / (EDGE_SAMPLES - 1)));
        out.set([point.X(), point.Y(), point.Z()], 3 * i);
      }
      return out;
    });
  }
}

/** Reads an exchange file with the kernel and describes the one part in it. */
import { GatherpanError } from '../../errors.ts';
import { EDGE_SAMPLES, type Part, type PartEdge, type PartFace } from '../part.ts';
import type { Bound } from './instance.ts';
import { scoped } from './scope.ts';

/** Largest and smallest extent of a part, mm; the trays we solve are well within. */
const LARGEST_PART = 20_000;
const SMALLEST_PART = 1;
const MAXIMUM_POINTS = 400_000;
/** Difference of a face's net from its true area, as a share of it, that chords over curves do not explain. */
const NET_AREA = 0.15;

export interface ReadOptions {
  /** Largest turn of the normal across a triangle, radians. */
  readonly angle: number;
}

/** A part with the kernel's surfaces still at hand; valid inside the callback of `withPart` only. */
export interface LivePart {
  readonly part: Part;
  /** Point and unit normal out of the material at parameters of a face: x y z nx ny nz into `out`. */
  evaluate(face: number, u: number, v: number, out: Float64Array): void;
  /**
   * The same with derivatives: point, unit normal, then by u and by v those of the point and those of the normal:
   * 18 numbers into `out`.
   */
  differentiate(face: number, u: number, v: number, out: Float64Array): void;
  /** Moves a point (x y z, in place) to the nearest point of an edge. */
  snapToEdge(edge: number, point: Float64Array): void;
}

const refuse = (what: string): never => {
  throw new GatherpanError('BAD_INPUT', what);
};

/**
 * Reads the file and hands its part to `use`.
 *
 * @throws GatherpanError BAD_INPUT when the file holds no part, or more than one
 */
export function withPart<T>(
  kernel: Bound,
  bytes: Uint8Array,
  options: ReadOptions,
  use: (live: LivePart) => T,
): T {
  return scoped((keep) => {
    const whole = transfer(kernel, bytes, keep);
    const { shape, kind } = pick(kernel, whole, keep);
    checkExtent(kernel, shape, keep);
    const mesher = keep(
      new kernel.BRepMesh_IncrementalMesh_2(
        shape,
        deflection(kernel, shape, keep),
        false,
        options.angle,
        false,
      ),
    );
    void mesher;
    const edges = new EdgeList(kernel, keep);
    const faces: PartFace[] = [];
    const surfaces: { adaptor: Bound; reversed: boolean }[] = [];
    let points = 0;
    for (const face of each(kernel, shape, 'FACE', keep)) {
      const bound = keep(kernel.TopoDS.Face_1(face));
      const adaptor = keep(new kernel.BRepAdaptor_Surface_2(bound, true));
      const reversed = isReversed(kernel, bound);
      const described = describeFace(kernel, bound, adaptor, reversed, edges);
      points += described.points.length / 3;
      if (points > MAXIMUM_POINTS) refuse('The part in the STEP file has too many details for a tray.');
      faces.push(described);
      surfaces.push({ adaptor, reversed });
    }
    const evaluate = evaluator(kernel, surfaces, keep);
    const properties = keep(new kernel.GProp_GProps_1());
    kernel.BRepGProp.SurfaceProperties_1(shape, properties, false, false);
    const area: number = properties.Mass();
    let volume = 0;
    if (kind === 'solid') {
      const inside = keep(new kernel.GProp_GProps_1());
      kernel.BRepGProp.VolumeProperties_1(shape, inside, false, false, false);
      volume = Math.abs(inside.Mass());
    }
    const sane = Number.isFinite(area) && Number.isFinite(volume) && area < 1e9 && volume < 1e12 && area > 0;
    if (!sane)
      refuse('The part in the STEP file has no sensible area or volume; check it in the CAD program.');
    return use({
      part: { kind, faces, edges: edges.list, volume, area },
      evaluate,
      differentiate: differentiator(kernel, surfaces, keep),
      snapToEdge: (edge, point) => edges.snap(edge, point),
    });
  });
}

type Keep = <O extends Bound>(object: O) => O;

function transfer(kernel: Bound, bytes: Uint8Array, keep: Keep): Bound {
  const reader = keep(new kernel.STEPControl_Reader_1());
  kernel.FS.writeFile('/i.stp', bytes);
  let done: boolean;
  try {
    // Names of more than some ten characters arrive spoilt in this build.
    done = reader.ReadFile('i.stp') === kernel.IFSelect_ReturnStatus.IFSelect_RetDone;
  } finally {
    kernel.FS.unlink('/i.stp');
  }
  if (!done) refuse('The STEP file cannot be read; save it again as AP214 or AP242.');
  if (reader.TransferRoots() === 0) refuse('The STEP file holds no shape; save the tray as a solid.');
  const shape = keep(reader.OneShape());
  if (shape.IsNull()) refuse('The STEP file holds no shape; save the tray as a solid.');
  return shape;
}

/** All parts of one kind in a shape. */
function each(
  kernel: Bound,
  shape: Bound,
  kind: 'SOLID' | 'SHELL' | 'FACE' | 'WIRE' | 'EDGE',
  keep: Keep,
): Bound[] {
  const out: Bound[] = [];
  const { TopAbs_ShapeEnum: kinds } = kernel;
  const explorer = keep(new kernel.TopExp_Explorer_2(shape, kinds[`TopAbs_${kind}`], kinds.TopAbs_SHAPE));
  for (; explorer.More(); explorer.Next()) out.push(keep(explorer.Current()));
  return out;
}

/** The one solid, or all faces when there is none. */
function pick(kernel: Bound, whole: Bound, keep: Keep): { shape: Bound; kind: Part['kind'] } {
  const solids = each(kernel, whole, 'SOLID', keep);
  if (solids.length > 1) {
    refuse(`The STEP file holds ${solids.length} solids; save the tray alone, as one solid.`);
  }
  if (solids.length === 1) {
    const shells = each(kernel, solids[0], 'SHELL', keep);
    if (shells.length > 1) {
      throw new GatherpanError(
        'NOT_MAKEABLE',
        'The solid in the STEP file has a hollow inside it: that cannot be made from one sheet.',
      );
    }
    return { shape: solids[0], kind: 'solid' };
  }
  const shells = each(kernel, whole, 'SHELL', keep);
  if (shells.length > 1) {
    refuse(`The STEP file holds ${shells.length} separate surfaces; join them into one, or save a solid.`);
  }
  if (each(kernel, whole, 'FACE', keep).length === 0) {
    refuse('The STEP file holds no faces; save the tray as a solid, or as a surface.');
  }
  return { shape: shells[0] ?? whole, kind: 'surface' };
}

function box(kernel: Bound, shape: Bound, keep: Keep): number[] {
  const bounds = keep(new kernel.Bnd_Box_1());
  kernel.BRepBndLib.Add(shape, bounds, false);
  if (bounds.IsVoid()) return [0, 0, 0];
  const low = keep(bounds.CornerMin());
  const high = keep(bounds.CornerMax());
  return [high.X() - low.X(), high.Y() - low.Y(), high.Z() - low.Z()];
}

function checkExtent(kernel: Bound, shape: Bound, keep: Keep): void {
  const size = Math.max(...box(kernel, shape, keep));
  if (!(size >= SMALLEST_PART && size <= LARGEST_PART)) {
    refuse(
      `The part in the STEP file measures ${Number.isFinite(size) ? size.toPrecision(3) : 'endless'} mm; ${SMALLEST_PART} to ${LARGEST_PART} mm is accepted: look at the units it was saved in.`,
    );
  }
}

const deflection = (kernel: Bound, shape: Bound, keep: Keep): number =>
  Math.max(...box(kernel, shape, keep)) / 400;

const isReversed = (kernel: Bound, shape: Bound): boolean =>
  shape.Orientation_1() === kernel.TopAbs_Orientation.TopAbs_REVERSED;

/** Numbers the edges, shared ones once. */
class EdgeList {
  readonly list: PartEdge[] = [];
  private readonly buckets = new Map<number, { shape: Bound; number: number }[]>();
  private readonly shapes: Bound[] = [];
  private readonly adaptors = new Map<number, Bound>();
  private readonly kernel: Bound;
  private readonly keep: Keep;

  constructor(kernel: Bound, keep: Keep) {
    this.kernel = kernel;
    this.keep = keep;
  }

  numberOf(edge: Bound): number {
    const hash: number = edge.HashCode(0x7fffffff);
    const bucket = this.buckets.get(hash) ?? [];
    const known = bucket.find(({ shape }) => shape.IsSame(edge));
    if (known !== undefined) return known.number;
    const number = this.list.push({ samples: this.samples(edge) }) - 1;
    bucket.push({ shape: this.keep(edge), number });
    this.shapes.push(edge);
    this.buckets.set(hash, bucket);
    return number;
  }

  /** Gauss–Newton steps on the curve's parameter, from the nearest sample. */
  snap(edge: number, target: Float64Array): void {
    let adaptor = this.adaptors.get(edge);
    if (adaptor === undefined) {
      const bound = this.keep(this.kernel.TopoDS.Edge_1(this.shapes[edge]));
      adaptor = this.keep(new this.kernel.BRepAdaptor_Curve_2(bound));
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
    let t = from + ((to - from) * nearest) / (EDGE_SAMPLES - 1);
    scoped((keep) => {
      const point = keep(new this.kernel.gp_Pnt_1());
      const tangent = keep(new this.kernel.gp_Vec_1());
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
      adaptor.D0(t, point);
      target.set([point.X(), point.Y(), point.Z()]);
    });
  }

  private samples(edge: Bound): Float64Array {
    return scoped((keep) => {
      const adaptor = keep(new this.kernel.BRepAdaptor_Curve_2(keep(this.kernel.TopoDS.Edge_1(edge))));
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

function describeFace(
  kernel: Bound,
  face: Bound,
  adaptor: Bound,
  reversed: boolean,
  edges: EdgeList,
): PartFace {
  return scoped((keep) => {
    const wires = each(kernel, face, 'WIRE', keep).map((wire) => {
      const numbers: number[] = [];
      for (const edge of each(kernel, wire, 'EDGE', keep)) {
        const bound = keep(kernel.TopoDS.Edge_1(edge));
        if (kernel.BRep_Tool.Degenerated(bound)) continue;
        numbers.push(edges.numberOf(kernel.TopoDS.Edge_1(edge)));
      }
      return numbers;
    });
    const location = keep(new kernel.TopLoc_Location_1());
    const handle = keep(kernel.BRep_Tool.Triangulation(face, location));
    if (handle.IsNull()) {
      refuse(
        'A face of the part in the STEP file cannot be divided into triangles; check it in the CAD program.',
      );
    }
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
    const evaluate = evaluator(kernel, [{ adaptor, reversed }], keep);
    const out = new Float64Array(6);
    for (let i = 0; i < count; i++) {
      evaluate(0, parameters[2 * i]!, parameters[2 * i + 1]!, out);
      points.set(out.subarray(0, 3), 3 * i);
      normals.set(out.subarray(3), 3 * i);
    }
    const properties = keep(new kernel.GProp_GProps_1());
    kernel.BRepGProp.SurfaceProperties_1(face, properties, false, false);
    const area = Math.abs(properties.Mass());
    // The kernel's triangles of a face that it has misread do not cover it, or cover more.
    if (!(Math.abs(netArea(points, triangles) / area - 1) < NET_AREA)) {
      refuse(
        'A face of the part in the STEP file cannot be divided into triangles; check it in the CAD program.',
      );
    }
    return { points, normals, parameters, triangles, area, wires };
  });
}

function netArea(points: Float64Array, triangles: Uint32Array): number {
  let sum = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!];
    const edge = (from: number, to: number): number[] =>
      [0, 1, 2].map((i) => points[to + i]! - points[from + i]!);
    const normal = crossed(edge(a, b), edge(a, c));
    sum += Math.hypot(normal[0]!, normal[1]!, normal[2]!) / 2;
  }
  return sum;
}

function evaluator(
  kernel: Bound,
  surfaces: readonly { adaptor: Bound; reversed: boolean }[],
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

function differentiator(
  kernel: Bound,
  surfaces: readonly { adaptor: Bound; reversed: boolean }[],
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

const crossed = (a: readonly number[], b: readonly number[]): number[] => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];

function cross(a: Bound, b: Bound, out: Float64Array): number {
  const [ax, ay, az, bx, by, bz] = [a.X(), a.Y(), a.Z(), b.X(), b.Y(), b.Z()] as number[];
  out[3] = ay! * bz! - az! * by!;
  out[4] = az! * bx! - ax! * bz!;
  out[5] = ax! * by! - ay! * bx!;
  return Math.hypot(out[3], out[4], out[5]);
}

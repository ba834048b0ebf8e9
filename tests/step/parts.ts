/**
 * Parts that no tray file says, built from the kernel's own primitives: edges of a section, swept along the sides
 * of a rectangle and turned about its corners (or once round an axis), and sewn.
 */
import type { Bound } from '../../src/step/occt/instance.ts';
import { occt } from './occt.ts';

/** A piece of the section's middle line. Arcs turn upwards with a positive angle and downwards with a negative one. */
export type Piece =
  | { readonly kind: 'line'; readonly length: number }
  | { readonly kind: 'arc'; readonly radius: number; readonly angle: number }
  /** A quarter of an ellipse, from level to upright. */
  | { readonly kind: 'ellipse'; readonly run: number; readonly height: number };

export const degrees = (value: number): number => (value * Math.PI) / 180;

/** Length of the middle line, mm; for lines and arcs. */
export const developed = (section: readonly Piece[]): number =>
  section.reduce((sum, piece) => {
    if (piece.kind === 'ellipse') throw new Error('not in closed form');
    return sum + (piece.kind === 'line' ? piece.length : piece.radius * Math.abs(piece.angle));
  }, 0);

interface End {
  x: number;
  z: number;
  /** Direction from level, radians. */
  angle: number;
}

/** Where each piece of the middle line ends; the first entry is the start. */
export function ends(section: readonly Piece[], start: number): End[] {
  const out: End[] = [{ x: start, z: 0, angle: 0 }];
  for (const piece of section) {
    const { x, z, angle } = out[out.length - 1]!;
    if (piece.kind === 'line') {
      out.push({ x: x + piece.length * Math.cos(angle), z: z + piece.length * Math.sin(angle), angle });
    } else if (piece.kind === 'arc') {
      const turned = angle + piece.angle;
      const r = Math.sign(piece.angle) * piece.radius;
      out.push({
        x: x + r * (Math.sin(turned) - Math.sin(angle)),
        z: z - r * (Math.cos(turned) - Math.cos(angle)),
        angle: turned,
      });
    } else out.push({ x: x + piece.run, z: z + piece.height, angle: Math.PI / 2 });
  }
  return out;
}

/** Edges of the section moved to the inside of the tray by `inwards` (mm), in the plane y = 0. */
function edgesOf(k: Bound, section: readonly Piece[], start: number, inwards: number): Bound[] {
  const at = ends(section, start);
  const point = ({ x, z, angle }: End): Bound =>
    new k.gp_Pnt_3(x - inwards * Math.sin(angle), 0, z + inwards * Math.cos(angle));
  return section.map((piece, i) => {
    const [from, to] = [at[i]!, at[i + 1]!];
    if (piece.kind === 'line') return new k.BRepBuilderAPI_MakeEdge_3(point(from), point(to)).Edge();
    if (piece.kind === 'ellipse') {
      if (inwards !== 0) throw new Error('the curve beside an ellipse is none');
      const [run, height] = [piece.run, piece.height];
      const centre = new k.gp_Pnt_3(from.x, 0, from.z + height);
      const long = Math.max(run, height);
      const axes = new k.gp_Ax2_2(
        centre,
        new k.gp_Dir_4(0, -1, 0),
        run >= height ? new k.gp_Dir_4(1, 0, 0) : new k.gp_Dir_4(0, 0, 1),
      );
      const ellipse = new k.gp_Elips_2(axes, long, Math.min(run, height));
      // Parameters from the long axis towards z × x of the axes: found by the points they have to give.
      const parameter = (p: End): number => {
        const [u, w] = [(p.x - from.x) / run, (p.z - from.z - height) / height];
        return run >= height ? Math.atan2(w, u) : Math.atan2(-u, w);
      };
      const [p, q] = [parameter(from), parameter(to)];
      return new k.BRepBuilderAPI_MakeEdge_13(ellipse, Math.min(p, q), Math.max(p, q)).Edge();
    }
    const middle = ends([{ ...piece, angle: piece.angle / 2 }], 0)[1]!;
    const [c, s] = [Math.cos(from.angle), Math.sin(from.angle)];
    const half: End = {
      x: from.x + middle.x * c - middle.z * s,
      z: from.z + middle.x * s + middle.z * c,
      angle: from.angle + middle.angle,
    };
    const arc = new k.GC_MakeArcOfCircle_4(point(from), point(half), point(to)).Value();
    return new k.BRepBuilderAPI_MakeEdge_24(new k.Handle_Geom_Curve_2(arc.get())).Edge();
  });
}

/** What the section is moved along. */
export type Plan =
  | { readonly kind: 'round' }
  /** Half-sides of the base's rectangle; its corners are points. */
  | { readonly kind: 'rectangle'; readonly a: number; readonly b: number };

/** A small dish of two bottom radii, for tests that ask what is done with a part and not how well. */
export const SMALL_SECTION: readonly Piece[] = [
  { kind: 'arc', radius: 14, angle: degrees(50) },
  { kind: 'arc', radius: 25, angle: degrees(30) },
];
export const SMALL_PLAN: Plan = { kind: 'rectangle', a: 30, b: 22 };

function moved(k: Bound, shape: Bound, turn: number, x: number, y: number): Bound {
  const upright = new k.gp_Ax1_2(new k.gp_Pnt_3(0, 0, 0), new k.gp_Dir_4(0, 0, 1));
  const rotation = new k.gp_Trsf_1();
  rotation.SetRotation_1(upright, turn);
  const turned = new k.BRepBuilderAPI_Transform_2(shape, rotation, true).Shape();
  const shift = new k.gp_Trsf_1();
  shift.SetTranslation_1(new k.gp_Vec_4(x, y, 0));
  return new k.BRepBuilderAPI_Transform_2(turned, shift, true).Shape();
}

/** Faces that an edge of the section leaves on its way. */
function swept(k: Bound, edge: Bound, plan: Plan): Bound[] {
  const axis = (x: number, y: number): Bound =>
    new k.gp_Ax1_2(new k.gp_Pnt_3(x, y, 0), new k.gp_Dir_4(0, 0, 1));
  if (plan.kind === 'round')
    return [new k.BRepPrimAPI_MakeRevol_1(edge, axis(0, 0), 2 * Math.PI, true).Shape()];
  const { a, b } = plan;
  return [0, 1, 2, 3].flatMap((i) => {
    const turn = (i * Math.PI) / 2;
    const [cx, cy] = [
      [a, -b],
      [a, b],
      [-a, b],
      [-a, -b],
    ][i] as [number, number];
    const here = moved(k, edge, turn, cx, cy);
    const length = i % 2 === 0 ? 2 * b : 2 * a;
    const along = new k.gp_Vec_4(-length * Math.sin(turn), length * Math.cos(turn), 0);
    const side = new k.BRepPrimAPI_MakePrism_1(here, along, true, true).Shape();
    const [ex, ey] = [cx - length * Math.sin(turn), cy + length * Math.cos(turn)];
    const corner = new k.BRepPrimAPI_MakeRevol_1(
      moved(k, edge, turn, ex, ey),
      axis(ex, ey),
      Math.PI / 2,
      true,
    ).Shape();
    return [side, corner];
  });
}

function base(k: Bound, plan: Plan, height: number): Bound[] {
  if (plan.kind === 'round') return [];
  const plane = new k.gp_Pln_3(new k.gp_Pnt_3(0, 0, height), new k.gp_Dir_4(0, 0, 1));
  return [new k.BRepBuilderAPI_MakeFace_9(plane, -plan.a, plan.a, -plan.b, plan.b).Shape()];
}

function sewn(k: Bound, faces: readonly Bound[]): Bound {
  const sewing = new k.BRepBuilderAPI_Sewing(1e-5, true, true, true, false);
  for (const face of faces) sewing.Add(face);
  sewing.Perform(new k.Handle_Message_ProgressIndicator_1());
  return sewing.SewedShape();
}

/** The middle of the sheet as a surface. A round section begins with the base's own line. */
export async function surfacePart(section: readonly Piece[], plan: Plan): Promise<Uint8Array> {
  const k = await occt();
  const faces = [...edgesOf(k, section, 0, 0).flatMap((edge) => swept(k, edge, plan)), ...base(k, plan, 0)];
  return written(k, sewn(k, faces));
}

export async function solidPart(
  section: readonly Piece[],
  plan: Plan,
  thickness: number,
): Promise<Uint8Array> {
  const k = await occt();
  return written(k, solidAbout(k, section, plan, thickness));
}

/** A thin solid about the section. */
export function solidAbout(k: Bound, section: readonly Piece[], plan: Plan, thickness: number): Bound {
  const half = thickness / 2;
  const rim = ends(section, 0)[section.length]!;
  const across = (inwards: number): Bound =>
    new k.gp_Pnt_3(rim.x - inwards * Math.sin(rim.angle), 0, rim.z + inwards * Math.cos(rim.angle));
  const edges = [
    ...edgesOf(k, section, 0, half),
    ...edgesOf(k, section, 0, -half),
    new k.BRepBuilderAPI_MakeEdge_3(across(half), across(-half)).Edge(),
  ];
  const faces = [
    ...edges.flatMap((edge) => swept(k, edge, plan)),
    ...base(k, plan, half),
    ...base(k, plan, -half),
  ];
  const shell = sewn(k, faces);
  const solid = new k.BRepBuilderAPI_MakeSolid_3(k.TopoDS.Shell_1(shell)).Solid();
  k.BRepLib.OrientClosedSolid(solid);
  return solid;
}

const made = new WeakMap<(k: Bound) => Bound, Uint8Array>();

/** Written once for each `make`; nobody changes the bytes. */
export async function writtenPart(make: (k: Bound) => Bound): Promise<Uint8Array> {
  const k = await occt();
  const bytes = made.get(make) ?? written(k, make(k));
  made.set(make, bytes);
  return bytes;
}

function written(k: Bound, shape: Bound): Uint8Array {
  const writer = new k.STEPControl_Writer_1();
  writer.Transfer(shape, k.STEPControl_StepModelType.STEPControl_AsIs, true);
  writer.Write('o.stp');
  const bytes: Uint8Array = k.FS.readFile('/o.stp');
  k.FS.unlink('/o.stp');
  return bytes;
}

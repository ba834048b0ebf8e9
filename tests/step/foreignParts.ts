/**
 * Trays as other programs make them: solid primitives, roundings, shells and booleans of the kernel, with nothing of
 * our own writer in them; and what happens to a part on its way through other programs' files.
 */
import type { Bound } from '../../src/step/occt/instance.ts';

/** All edges, or faces, of a shape, each once. */
export function members(k: Bound, shape: Bound, kind: 'EDGE' | 'FACE' | 'SOLID'): Bound[] {
  const { TopAbs_ShapeEnum: kinds } = k;
  const out: Bound[] = [];
  const e = new k.TopExp_Explorer_2(shape, kinds[`TopAbs_${kind}`], kinds.TopAbs_SHAPE);
  const bind = { EDGE: 'Edge_1', FACE: 'Face_1', SOLID: 'Solid_1' }[kind];
  for (; e.More(); e.Next()) {
    const one = k.TopoDS[bind](e.Current());
    if (!out.some((known) => known.IsSame(one))) out.push(one);
  }
  return out;
}

/** Points at the ends and in the middle of an edge. */
export function pointsOf(k: Bound, edge: Bound): [number, number, number][] {
  const curve = new k.BRepAdaptor_Curve_2(edge);
  const [from, to] = [curve.FirstParameter(), curve.LastParameter()];
  return [from, (from + to) / 2, to].map((t) => {
    const p = curve.Value(t);
    return [p.X(), p.Y(), p.Z()];
  });
}

export const box = (k: Bound, [x, y, z]: readonly number[], [a, b, h]: readonly number[]): Bound =>
  new k.BRepPrimAPI_MakeBox_2(new k.gp_Pnt_3(x, y, z), a, b, h).Shape();

export const cut = (k: Bound, shape: Bound, knife: Bound): Bound =>
  new k.BRepAlgoAPI_Cut_3(shape, knife).Shape();
export const common = (k: Bound, a: Bound, b: Bound): Bound => new k.BRepAlgoAPI_Common_3(a, b).Shape();
export const fused = (k: Bound, a: Bound, b: Bound): Bound => new k.BRepAlgoAPI_Fuse_3(a, b).Shape();

/** Hollows a solid out inwards from its level faces at height `h`. */
export function shelled(k: Bound, solid: Bound, h: number, thickness: number): Bound {
  const top = new k.TopTools_ListOfShape_1();
  for (const face of members(k, solid, 'FACE')) {
    const surface = new k.BRepAdaptor_Surface_2(face, true);
    if (surface.GetType().value === 0 && Math.abs(surface.Plane().Location().Z() - h) < 1e-6)
      top.Append_1(face);
  }
  const thick = new k.BRepOffsetAPI_MakeThickSolid_1();
  thick.MakeThickSolidByJoin(
    solid,
    top,
    -thickness,
    1e-6,
    k.BRepOffset_Mode.BRepOffset_Skin,
    false,
    false,
    k.GeomAbs_JoinType.GeomAbs_Arc,
    false,
  );
  return thick.Shape();
}

/** Rounds the edges of a shape that a test of their end and middle points picks. */
export function rounded(
  k: Bound,
  shape: Bound,
  radius: number,
  pick: (points: [number, number, number][]) => boolean,
  most = Infinity,
): Bound {
  const fillet = new k.BRepFilletAPI_MakeFillet(shape, k.ChFi3d_FilletShape.ChFi3d_Rational);
  let count = 0;
  for (const edge of members(k, shape, 'EDGE')) {
    if (count < most && pick(pointsOf(k, edge))) {
      fillet.Add_2(radius, edge);
      count++;
    }
  }
  return fillet.Shape();
}

type Box = readonly [
  k: Bound,
  size: readonly [number, number, number],
  plan: number,
  bottom: number,
  thickness: number,
];

const boxes = new Map<string, Bound>();

/**
 * A box with upright edges rounded by `plan` and lower edges by `bottom`, shelled inwards from the top. Made once for
 * each size: no tool of the kernel changes what it is given.
 */
export function shelledBox(...[k, ...sizes]: Box): Bound {
  const key = JSON.stringify(sizes);
  const shape = boxes.get(key) ?? newBox(k, ...sizes);
  boxes.set(key, shape);
  return shape;
}

function newBox(...[k, [a, b, h], plan, bottom, thickness]: Box): Bound {
  const upright = rounded(
    k,
    box(k, [0, 0, 0], [a, b, h]),
    plan,
    ([from, , to]) => Math.abs(from?.[2] - to?.[2]) > 1,
  );
  // One edge of the bottom is enough: the rounding goes on round smooth corners.
  const solid = rounded(k, upright, bottom, (points) => points.every(([, , z]) => Math.abs(z) < 1e-6), 1);
  return shelled(k, solid, h, thickness);
}

/** A round tub about the z axis, turned from its section. */
export function roundTub(k: Bound, radius: number, h: number, bottom: number, thickness: number): Bound {
  const cylinder = new k.BRepPrimAPI_MakeCylinder_1(radius, h).Shape();
  const solid = rounded(k, cylinder, bottom, (points) => points.every(([, , z]) => Math.abs(z) < 1e-6));
  return shelled(k, solid, h, thickness);
}

/** The same solid with every face cut along a plane: what one boolean leaves behind when faces are not joined again. */
export function cutAndGlued(k: Bound, shape: Bound, axis: 0 | 1 | 2, at: number): Bound {
  const far = 5000;
  const half = (from: number): Bound => {
    const corner = [-far / 2, -far / 2, -far / 2];
    const size = [far, far, far];
    corner[axis] = from;
    return box(k, corner, size);
  };
  return fused(k, common(k, shape, half(at)), common(k, shape, half(at - far)));
}

export function transformed(k: Bound, shape: Bound, set: (transformation: Bound) => void): Bound {
  const transformation = new k.gp_Trsf_1();
  set(transformation);
  return new k.BRepBuilderAPI_Transform_2(shape, transformation, true).Shape();
}

/** A turn about an axis that is none of the coordinates', and a shift. */
export const turnedAway = (k: Bound, shape: Bound): Bound =>
  transformed(k, shape, (t) =>
    t.SetRotation_1(new k.gp_Ax1_2(new k.gp_Pnt_3(510, -320, 230), new k.gp_Dir_4(1, 2, 2)), 0.7),
  );

export const mirrored = (k: Bound, shape: Bound): Bound =>
  transformed(k, shape, (t) =>
    t.SetMirror_3(new k.gp_Ax2_3(new k.gp_Pnt_3(10, 0, 0), new k.gp_Dir_4(1, 0.5, 0))),
  );

/** Every face a B-spline surface, every edge a B-spline curve. */
export const asSplines = (k: Bound, shape: Bound): Bound =>
  new k.BRepBuilderAPI_NurbsConvert_2(shape, true).Shape();

/** The same with polynomials alone, which come no nearer to a circle than `tolerance` (mm). */
export const asPolynomials = (k: Bound, shape: Bound, tolerance: number): Bound =>
  k.ShapeCustom.BSplineRestriction(
    asSplines(k, shape),
    tolerance,
    tolerance,
    6,
    200,
    k.GeomAbs_Shape.GeomAbs_C1,
    k.GeomAbs_Shape.GeomAbs_C1,
    true,
    true,
    new k.Handle_ShapeCustom_RestrictionParameters_2(new k.ShapeCustom_RestrictionParameters()),
  );

export function compound(k: Bound, shapes: readonly Bound[]): Bound {
  const builder = new k.BRep_Builder();
  const whole = new k.TopoDS_Compound();
  builder.MakeCompound(whole);
  for (const shape of shapes) builder.Add(whole, shape);
  return whole;
}

/** Every face that is not plane a surface of revolution. */
export const asRevolutions = (k: Bound, shape: Bound): Bound => k.ShapeCustom.ConvertToRevolution(shape);

export const resized = (k: Bound, shape: Bound, by: number): Bound =>
  transformed(k, shape, (t) => t.SetScale(new k.gp_Pnt_3(0, 0, 0), by));

/** Whether an edge is level at a height. */
export const isLevel =
  (height: number) =>
  (points: [number, number, number][]): boolean =>
    points.every(([, , z]) => Math.abs(z - height) < 1e-6);

/** A cylinder from a point along a direction. */
export const cylinder = (
  k: Bound,
  [x, y, z]: readonly number[],
  [dx, dy, dz]: readonly number[],
  radius: number,
  length: number,
): Bound =>
  new k.BRepPrimAPI_MakeCylinder_3(
    new k.gp_Ax2_3(new k.gp_Pnt_3(x, y, z), new k.gp_Dir_4(dx, dy, dz)),
    radius,
    length,
  ).Shape();

/** Chamfers the edges of a shape that a test of their end and middle points picks. */
export function chamfered(
  k: Bound,
  shape: Bound,
  width: number,
  pick: (points: [number, number, number][]) => boolean,
): Bound {
  const chamfer = new k.BRepFilletAPI_MakeChamfer(shape);
  for (const edge of members(k, shape, 'EDGE')) if (pick(pointsOf(k, edge))) chamfer.Add_2(width, edge);
  return chamfer.Shape();
}

/**
 * A channel 60 wide, 120 long and 30 high of 2 mm sheet, bent over 3 mm; with `splines`, its end face made of
 * B-splines and then pushed along.
 */
export function channel(k: Bound, splines: boolean): Bound {
  const [w, length, h, t, r] = [60, 120, 30, 2, 3];
  const along = (at: number, height: number) => (points: [number, number, number][]) =>
    points.every(([x, , z]) => Math.abs(z - height) < 1e-6 && Math.abs(Math.abs(x - w / 2) - at) < 1e-6);
  const sharp = cut(k, box(k, [0, 0, 0], [w, length, h]), box(k, [t, -1, t], [w - 2 * t, length + 2, h]));
  const inside = rounded(k, sharp, r, along(w / 2 - t, t));
  const solid = rounded(k, inside, r + t, along(w / 2, 0));
  if (!splines) return solid;
  const end = members(k, solid, 'FACE').find((face) =>
    members(k, face, 'EDGE').every((edge) => pointsOf(k, edge).every(([, y]) => Math.abs(y) < 1e-6)),
  );
  return new k.BRepPrimAPI_MakePrism_1(asSplines(k, end), new k.gp_Vec_4(0, length, 0), true, true).Shape();
}

/**
 * A base of a by b mm with four walls bent up over `inside` (mm) to a height, outside; each wall is as long as its
 * side, and at the corners there is nothing.
 */
export function foldedTray(
  k: Bound,
  [a, b, height]: readonly [number, number, number],
  thickness: number,
  inside: number,
): Bound {
  const outside = inside + thickness;
  /** From the side y = 0 of the base outwards, along x. */
  const wall = (length: number): Bound => {
    const pipe = (radius: number): Bound => cylinder(k, [0, 0, outside], [1, 0, 0], radius, length);
    const quarter = box(k, [0, -outside, 0], [length, outside, outside]);
    const bend = common(k, cut(k, pipe(outside), pipe(inside)), quarter);
    return fused(k, bend, box(k, [0, -outside, outside], [length, thickness, height - outside]));
  };
  const placed = (shape: Bound, turn: number, x: number, y: number): Bound => {
    const upright = new k.gp_Ax1_2(new k.gp_Pnt_3(0, 0, 0), new k.gp_Dir_4(0, 0, 1));
    const turned = transformed(k, shape, (t) => t.SetRotation_1(upright, turn));
    return transformed(k, turned, (t) => t.SetTranslation_1(new k.gp_Vec_4(x, y, 0)));
  };
  return [
    placed(wall(a), 0, 0, 0),
    placed(wall(b), Math.PI / 2, a, 0),
    placed(wall(a), Math.PI, a, b),
    placed(wall(b), -Math.PI / 2, 0, b),
  ].reduce((whole, one) => fused(k, whole, one), box(k, [0, 0, 0], [a, b, thickness]));
}

/** A tub whose plan is an ellipse about the origin of semi-axes `a` and `b`, extruded; hollowed out by `thickness`. */
export function ellipticTub(
  k: Bound,
  [a, b, h]: readonly [number, number, number],
  bottom: number,
  thickness: number,
): Bound {
  return shelled(k, rounded(k, ellipticBlock(k, [a, b, h]), bottom, isLevel(0)), h, thickness);
}

export function ellipticBlock(k: Bound, [a, b, h]: readonly [number, number, number]): Bound {
  const axes = new k.gp_Ax2_3(new k.gp_Pnt_3(0, 0, 0), new k.gp_Dir_4(0, 0, 1));
  const edge = new k.BRepBuilderAPI_MakeEdge_12(new k.gp_Elips_2(axes, a, b)).Edge();
  const wire = new k.BRepBuilderAPI_MakeWire_2(edge).Wire();
  const face = new k.BRepBuilderAPI_MakeFace_15(wire, true).Face();
  return new k.BRepPrimAPI_MakePrism_1(face, new k.gp_Vec_4(0, 0, h), false, true).Shape();
}

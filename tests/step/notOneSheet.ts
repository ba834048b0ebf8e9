/** Trays with something on them or in them that no sheet has, built from the kernel's own primitives. */
import type { Bound } from '../../src/step/occt/instance.ts';
import {
  asPolynomials,
  box,
  chamfered,
  common,
  cut,
  cutAndGlued,
  cylinder,
  ellipticTub,
  fused,
  rounded,
  roundTub,
  shelledBox,
} from './foreignParts.ts';
import { degrees, type Piece, solidAbout } from './parts.ts';

export interface OddPart {
  readonly name: string;
  readonly make: (k: Bound) => Bound;
  /** What it has to be called. */
  readonly called: RegExp;
  /** Where it is, and how far from there the place told may be, mm. */
  readonly at: readonly [x: number, y: number, z: number, within: number];
}

/** Thickness of the sheet; the inside of the base is as high, and the inside of the walls as far from their outside. */
const T = 1.5;
const [A, B, H] = [160, 110, 40];
const tubs = new WeakMap<object, Bound>();
/** Built once for a kernel. */
function tub(k: Bound): Bound {
  const own = tubs.get(k) ?? shelledBox(k, [A, B, H], 30, 12, T);
  tubs.set(k, own);
  return own;
}
const on =
  (add: (k: Bound) => Bound) =>
  (k: Bound): Bound =>
    fused(k, tub(k), add(k));
const less =
  (knife: (k: Bound) => Bound) =>
  (k: Bound): Bound =>
    cut(k, tub(k), knife(k));

const UP = [0, 0, 1];
const ring = (
  k: Bound,
  at: readonly number[],
  along: readonly number[],
  outer: number,
  inner: number,
  h: number,
): Bound => cut(k, cylinder(k, at, along, outer, h), cylinder(k, at, along, inner, h));

/** Rounds the edges of a tub with something on it that lie level at a height and within a distance of a point. */
const filleted =
  (make: (k: Bound) => Bound, radius: number, z: number, x: number, y: number, reach: number) =>
  (k: Bound): Bound =>
    rounded(k, make(k), radius, (points) =>
      points.every((p) => Math.abs(p[2] - z) < 1e-6 && Math.hypot(p[0] - x, p[1] - y) < reach),
    );

const lipped = (k: Bound): Bound => {
  const section: Piece[] = [
    { kind: 'line', length: 40 },
    { kind: 'arc', radius: 8, angle: degrees(85) },
    { kind: 'line', length: 15 },
    { kind: 'arc', radius: 4, angle: degrees(-85) },
    { kind: 'line', length: 16 },
  ];
  return solidAbout(k, section, { kind: 'round' }, T);
};
/** Radius of the middle of the lip and height of its upper side. */
const LIP = (() => {
  const lean = degrees(85);
  return {
    r: 40 + 12 * Math.sin(lean) + 15 * Math.cos(lean) + 8,
    z: 12 * (1 - Math.cos(lean)) + 15 * Math.sin(lean) + T / 2,
  };
})();
const onLip =
  (add: (k: Bound) => Bound) =>
  (k: Bound): Bound =>
    fused(k, lipped(k), add(k));

const revolved =
  (rim: readonly Piece[]) =>
  (k: Bound): Bound =>
    solidAbout(
      k,
      [
        { kind: 'line', length: 40 },
        { kind: 'arc', radius: 8, angle: degrees(90) },
        { kind: 'line', length: 20 },
        ...rim,
      ],
      { kind: 'round' },
      T,
    );

const boss = /a solid boss of about/;
const rib = /a rib or divider of about/;
const tube = /a tube or ring of about/;
const handle = /a handle or a stay meets it/;
const pocket = /a pocket of about/;
const collar = /a nut, a collar or a chamfer/;
const edge = /its edge is wider than the sheet is thick/;
const uneven = /1\.50 mm thick in the main and/;
const hem = /folded back on itself/;

export const oddParts: readonly OddPart[] = [
  // On the base, inside.
  {
    name: 'a boss on the base',
    make: on((k) => cylinder(k, [60, 50, T], UP, 10, 5)),
    called: boss,
    at: [60, 50, T, 1],
  },
  {
    name: 'a stud thinner than the sheet',
    make: on((k) => cylinder(k, [60, 50, T], UP, 0.6, 9)),
    called: boss,
    at: [60, 50, T, 1],
  },
  {
    name: 'a block on the base',
    make: on((k) => box(k, [90, 40, T], [15, 15, 10])),
    called: boss,
    at: [97.5, 47.5, T, 1],
  },
  {
    name: 'a long block sunk into the base',
    make: on((k) => box(k, [50, 40, 1], [50, 9, 12])),
    called: rib,
    at: [75, 44.5, T, 1],
  },
  {
    name: 'a boss with a fillet at its foot',
    make: filleted(
      on((k) => cylinder(k, [60, 50, T], UP, 10, 8)),
      3,
      T,
      60,
      50,
      12,
    ),
    called: boss,
    at: [60, 50, T, 2],
  },
  {
    name: 'a boss with fillets at foot and top',
    make: filleted(
      filleted(
        on((k) => cylinder(k, [60, 50, T], UP, 10, 8)),
        3,
        T,
        60,
        50,
        12,
      ),
      2,
      T + 8,
      60,
      50,
      12,
    ),
    called: boss,
    at: [60, 50, T, 2],
  },
  { name: 'a knob', make: on((k) => ball(k, [80, 55, 6], 7)), called: boss, at: [80, 55, T, 1] },
  {
    name: 'a cone',
    make: on((k) =>
      new k.BRepPrimAPI_MakeCone_3(
        new k.gp_Ax2_3(new k.gp_Pnt_3(80, 55, T), new k.gp_Dir_4(0, 0, 1)),
        12,
        4,
        10,
      ).Shape(),
    ),
    called: boss,
    at: [80, 55, T, 1],
  },
  {
    name: 'a pad half as thick',
    make: on((k) => box(k, [60, 40, T], [30, 20, 0.7])),
    called: uneven,
    at: [75, 50, T, 20],
  },
  {
    name: 'a doubler of the same sheet',
    make: on((k) => box(k, [60, 40, T], [30, 20, T])),
    called: uneven,
    at: [75, 50, T, 20],
  },
  {
    name: 'a rib as thick as the sheet',
    make: on((k) => box(k, [50, 50, T], [60, T, 15])),
    called: rib,
    at: [80, 50.75, T, 1],
  },
  {
    name: 'a rib twice as thick',
    make: on((k) => box(k, [50, 50, T], [60, 3, 12])),
    called: rib,
    at: [80, 51.5, T, 1],
  },
  {
    name: 'a rib as thick as the sheet, filleted',
    make: filleted(
      on((k) => box(k, [50, 50, T], [60, T, 15])),
      2,
      T,
      80,
      50,
      40,
    ),
    called: rib,
    at: [80, 50.75, T, 1],
  },
  {
    name: 'a divider as thick as the sheet',
    make: on((k) => box(k, [80, 0.7, 0.7], [T, B - 1.4, 25])),
    called: rib,
    at: [80.75, 55, 12, 15],
  },
  {
    name: 'a divider up to the rim',
    make: on((k) => box(k, [80, 0.7, 0.7], [T, B - 1.4, H - 0.7])),
    called: rib,
    at: [80.75, 55, 20, 60],
  },
  {
    name: 'a thick divider',
    make: on((k) => box(k, [80, 0.7, 0.7], [4, B - 1.4, 25])),
    called: rib,
    at: [82, 55, 12, 15],
  },
  {
    name: 'a tube as thick as the sheet',
    make: on((k) => ring(k, [70, 55, T], UP, 12, 12 - T, 20)),
    called: tube,
    at: [70, 55, T, 1],
  },
  {
    name: 'a thick ring',
    make: on((k) => ring(k, [70, 55, T], UP, 12, 7, 6)),
    called: tube,
    at: [70, 55, T, 1],
  },
  {
    name: 'half a ring of round wire lying on it',
    make: on((k) => torus(k, [80, 55, T], 20, 3)),
    called: tube,
    at: [80, 55, T, 1],
  },
  {
    name: 'a pipe about a hole',
    make: (k) =>
      cut(k, on((j) => cylinder(j, [70, 55, T], UP, 12, 20))(k), cylinder(k, [70, 55, -5], UP, 8, 50)),
    called: collar,
    at: [70, 55, T, 2],
  },
  {
    name: 'a block in a corner of the base',
    make: on((k) => box(k, [1, 50, 1], [10, 12, 10])),
    called: boss,
    at: [6, 56, 6, 8],
  },
  {
    name: 'a gusset as thick as the sheet across the bend',
    make: on((k) => box(k, [1, 50, 1], [20, T, 20])),
    called: /rib or divider|solid boss/,
    at: [10, 50.75, 10, 14],
  },
  {
    name: 'a handle on the base',
    make: on((k) => arch(k, [50, 50, 1], [60, 6, 20], 6)),
    called: handle,
    at: [80, 53, T, 3],
  },
  {
    name: 'a stay from wall to wall',
    make: on((k) => cylinder(k, [0.7, 55, 25], [1, 0, 0], 3, A - 1.4)),
    called: handle,
    at: [80, 55, 25, 3],
  },
  {
    name: 'a boss beside a hole',
    make: (k) =>
      cut(k, on((j) => cylinder(j, [60, 50, T], UP, 8, 6))(k), cylinder(k, [90, 50, -5], UP, 8, 20)),
    called: boss,
    at: [60, 50, T, 1],
  },
  // Under the base.
  {
    name: 'a boss under the base',
    make: on((k) => cylinder(k, [60, 50, -5], UP, 10, 5)),
    called: boss,
    at: [60, 50, 0, 1],
  },
  {
    name: 'a nut under a hole',
    make: (k) =>
      cut(k, on((j) => cylinder(j, [60, 50, -5], UP, 8, 5))(k), cylinder(k, [60, 50, -9], UP, 4, 20)),
    called: collar,
    at: [60, 50, 0, 2],
  },
  {
    name: 'a blind nut under the base',
    make: on((k) => cut(k, cylinder(k, [60, 50, -8], UP, 8, 8), cylinder(k, [60, 50, -8], UP, 4, 6))),
    called: boss,
    at: [60, 50, 0, 1],
  },
  {
    name: 'a lug as thick as the sheet under the base',
    make: on((k) => box(k, [60, 50, -15], [25, T, 15])),
    called: rib,
    at: [72.5, 50.75, 0, 1],
  },
  {
    name: 'a plate under the base',
    make: on((k) => box(k, [40, 30, -2], [80, 50, 2])),
    called: boss,
    at: [80, 55, 0, 1],
  },
  // On the walls.
  {
    name: 'a boss inside a wall',
    make: on((k) => cylinder(k, [T, 55, 25], [1, 0, 0], 5, 4)),
    called: boss,
    at: [T, 55, 25, 1],
  },
  {
    name: 'a boss outside a wall',
    make: on((k) => cylinder(k, [-6, 55, 25], [1, 0, 0], 5, 6)),
    called: boss,
    at: [0, 55, 25, 1],
  },
  {
    name: 'a boss outside a wall, filleted',
    make: (k) =>
      rounded(k, on((j) => cylinder(j, [-6, 55, 25], [1, 0, 0], 5, 6))(k), 2, (points) =>
        points.every((p) => Math.abs(p[0]) < 1e-6 && Math.hypot(p[1] - 55, p[2] - 25) < 6),
      ),
    called: boss,
    at: [0, 55, 25, 2],
  },
  {
    name: 'a doubler inside a wall',
    make: on((k) => box(k, [T, 45, 18], [T, 20, 12])),
    called: uneven,
    at: [T, 55, 24, 15],
  },
  {
    name: 'an upright rib outside a wall',
    make: on((k) => box(k, [-12, 55, 16], [12, T, 20])),
    called: rib,
    at: [0, 55.75, 26, 1],
  },
  { name: 'a handle outside a wall', make: on((k) => box2(k)), called: handle, at: [0, 55, 28, 4] },
  {
    name: 'a boss on the wall of a corner',
    make: on((k) => cylinder(k, [3, 3, 25], [1, 1, 0], 5, 9)),
    called: boss,
    at: [8, 8, 25, 4],
  },
  // On the bends.
  {
    name: 'a boss inside a bend',
    make: on((k) => cylinder(k, [80, 3.4, 3.4], [0, 1, 1], 3, 8)),
    called: boss,
    at: [80, 4.5, 4.5, 3],
  },
  {
    name: 'a boss outside a bend',
    make: on((k) => cylinder(k, [80, 3.9, 3.9], [0, -1, -1], 3, 8)),
    called: boss,
    at: [80, 3.5, 3.5, 3],
  },
  // On the rim and on a lip.
  {
    name: 'a lug at the rim, as thick as the sheet',
    make: on((k) => box(k, [-20, 45, H - T], [21, 20, T])),
    called: edge,
    at: [-10, 55, H - 1, 16],
  },
  {
    name: 'a thick lug at the rim',
    make: on((k) => box(k, [-20, 45, H - 6], [21, 20, 6])),
    called: edge,
    at: [-10, 55, H - 3, 14],
  },
  {
    name: 'a bar along the rim',
    make: on((k) => box(k, [-3, 31, H - 5], [4, 48, 5])),
    called: /edge is wider|thick in the main/,
    at: [-2, 55, H - 2, 30],
  },
  {
    name: 'a boss on a lip',
    make: onLip((k) => cylinder(k, [LIP.r, 0, LIP.z], UP, 4, 6)),
    called: boss,
    at: [LIP.r, 0, LIP.z, 1],
  },
  {
    name: 'a nut under a lip',
    make: onLip((k) => cylinder(k, [LIP.r, 0, LIP.z - T - 5], UP, 4, 5)),
    called: boss,
    at: [LIP.r, 0, LIP.z - T, 1],
  },
  {
    name: 'a tube on a lip',
    make: onLip((k) => ring(k, [LIP.r, 0, LIP.z], UP, 4.5, 3, 8)),
    called: tube,
    at: [LIP.r, 0, LIP.z, 1],
  },
  // What is one sheet, but not one that is supported.
  {
    name: 'a closed hem',
    make: (k) => fused(k, roundTub(k, 60, 40, 10, T), ring(k, [0, 0, 30], UP, 60 + T, 60, 10)),
    called: /doubled at its edge/,
    at: [0, 0, 34, 70],
  },
  {
    name: 'an open hem',
    make: revolved([
      { kind: 'arc', radius: 2, angle: degrees(-180) },
      { kind: 'line', length: 8 },
    ]),
    called: hem,
    at: [0, 0, 28, 70],
  },
  {
    name: 'a rolled edge',
    make: revolved([{ kind: 'arc', radius: 3, angle: degrees(-270) }]),
    called: hem,
    at: [0, 0, 30, 70],
  },
  // Cut into the sheet, not through it.
  {
    name: 'a blind hole',
    make: less((k) => cylinder(k, [60, 50, 0.8], UP, 10, 5)),
    called: uneven,
    at: [60, 50, 0.8, 12],
  },
  {
    name: 'a blind hole from below',
    make: less((k) => cylinder(k, [60, 50, -4], UP, 10, 4.5)),
    called: uneven,
    at: [60, 50, 0.5, 12],
  },
  {
    name: 'a groove across the base',
    make: less((k) => box(k, [30, 50, 1], [100, 3, 3])),
    called: uneven,
    at: [80, 51.5, 1, 55],
  },
  {
    name: 'a pointed pit',
    make: less((k) =>
      new k.BRepPrimAPI_MakeCone_3(
        new k.gp_Ax2_3(new k.gp_Pnt_3(80, 55, 0.5), new k.gp_Dir_4(0, 0, 1)),
        0,
        4,
        4,
      ).Shape(),
    ),
    called: pocket,
    at: [80, 55, T, 1],
  },
  {
    name: 'a rebate along the rim',
    make: less((k) => box(k, [-1, -1, H - 6], [1.7, 200, 10])),
    called: /thick in the main|edge is wider/,
    at: [0.7, 55, H - 3, 60],
  },
  {
    name: 'a wide countersink',
    make: less((k) =>
      fused(
        k,
        cylinder(k, [60, 50, -4], UP, 3, 10),
        new k.BRepPrimAPI_MakeCone_3(
          new k.gp_Ax2_3(new k.gp_Pnt_3(60, 50, 0.3), new k.gp_Dir_4(0, 0, 1)),
          3,
          11,
          1.2,
        ).Shape(),
      ),
    ),
    called: /thick in the main|a nut, a collar or a chamfer/,
    at: [60, 50, T, 12],
  },
  {
    name: 'plates that meet in a T',
    make: (k) => fused(k, box(k, [0, 0, 0], [100, 80, T]), box(k, [50, 10, 0], [T, 60, 40])),
    called: rib,
    at: [50.75, 40, T, 1],
  },
  {
    name: 'plates that meet in an L over no radius',
    make: (k) => fused(k, box(k, [0, 0, 0], [100, 80, T]), box(k, [0, 0, 0], [T, 80, 40])),
    called: /sharp edges|edge is wider/,
    at: [0, 40, 20, 60],
  },
  {
    name: 'a hole with its edge turned up over no radius, so that the tray is a ring',
    make: (k) =>
      cut(
        k,
        fused(k, tub(k), cylinder(k, [80, 55, 0], UP, 20, 22)),
        cylinder(k, [80, 55, -5], UP, 20 - T, 40),
      ),
    called: /turned up or down round the hole of about 40 mm .* over a sharp edge/,
    at: [80, 55, T, 2],
  },
  {
    // Its longest edge is at the foot of the long sides.
    name: 'a box whose walls stand on the base over no radius',
    make: (k) => cut(k, box(k, [0, 0, 0], [A, B, H]), box(k, [T, T, T], [A - 2 * T, B - 2 * T, H])),
    called: /sharp edges/,
    at: [80, 0, 0, 1],
  },
];

/** Sheets with all that a sheet may have, for what must not be refused. */
export const goodParts: readonly {
  readonly name: string;
  readonly make: (k: Bound) => Bound;
  readonly thickness: number;
}[] = [
  { name: 'a tub', make: tub, thickness: T },
  { name: 'a plate', make: (k) => box(k, [0, 0, 0], [100, 80, T]), thickness: T },
  { name: 'a tray with a lip', make: lipped, thickness: T },
  {
    name: 'a large hole in the base',
    make: less((k) => cylinder(k, [90, 50, -5], UP, 18, 20)),
    thickness: T,
  },
  {
    name: 'small holes in the base',
    make: less((k) => fused(k, cylinder(k, [90, 50, -5], UP, 0.5, 20), cylinder(k, [50, 50, -5], UP, 4, 20))),
    thickness: T,
  },
  { name: 'a square hole in the base', make: less((k) => box(k, [60, 40, -5], [30, 20, 20])), thickness: T },
  { name: 'a hole in a wall', make: less((k) => cylinder(k, [-5, 55, 25], [1, 0, 0], 6, 20)), thickness: T },
  { name: 'a hole over a bend', make: less((k) => cylinder(k, [80, 8, -5], UP, 5, 30)), thickness: T },
  {
    name: 'a hole drilled level through the wall of a corner',
    make: less((k) => cylinder(k, [-5, 9, 25], [1, 0, 0], 3, 40)),
    thickness: T,
  },
  { name: 'a chamfered hole', make: (k) => chamferedHole(k), thickness: T },
  {
    name: 'a rim with rounded edges',
    make: (k) => rounded(k, tub(k), 0.4, (points) => points.every((p) => Math.abs(p[2] - H) < 1e-6)),
    thickness: T,
  },
  {
    name: 'an ear on a wall, in its plane',
    make: on((k) => box(k, [0, 45, H - 2], [T, 20, 12])),
    thickness: T,
  },
  { name: 'a notch in the rim', make: less((k) => box(k, [-5, 45, 30], [20, 20, 40])), thickness: T },
  { name: 'faces cut in two', make: (k) => cutAndGlued(k, tub(k), 0, 80), thickness: T },
  { name: 'an elliptic plan', make: (k) => ellipticTub(k, [80, 52, 30], 10, T), thickness: T },
  { name: 'B-splines near it', make: (k) => asPolynomials(k, tub(k), 1e-3), thickness: T },
];

function chamferedHole(k: Bound): Bound {
  const drilled = cut(k, tub(k), cylinder(k, [60, 50, -5], UP, 8, 20));
  return chamfered(k, drilled, 0.4, (points) =>
    points.every((p) => Math.abs(p[2] - T) < 1e-6 && Math.hypot(p[0] - 60, p[1] - 50) < 9),
  );
}

function ball(k: Bound, [x, y, z]: readonly number[], radius: number): Bound {
  return new k.BRepPrimAPI_MakeSphere_5(new k.gp_Pnt_3(x, y, z), radius).Shape();
}

function torus(k: Bound, [x, y, z]: readonly number[], large: number, small: number): Bound {
  const axes = new k.gp_Ax2_3(new k.gp_Pnt_3(x, y, z), new k.gp_Dir_4(0, 0, 1));
  const whole = new k.BRepPrimAPI_MakeTorus_5(axes, large, small).Shape();
  return common(k, whole, box(k, [x! - 50, y! - 50, z!], [100, 100, 50]));
}

/** A bar on two posts, all `post` thick. */
function arch(k: Bound, [x, y, z]: readonly number[], [a, b, h]: readonly number[], post: number): Bound {
  return cut(
    k,
    box(k, [x!, y!, z!], [a!, b!, h!]),
    box(k, [x! + post, y! - 1, z! - 1], [a! - 2 * post, b! + 2, h! - post + 1]),
  );
}

/** The same outside the wall at x = 0. */
function box2(k: Bound): Bound {
  return cut(k, box(k, [-15, 35, 25], [16, 40, 6]), box(k, [-9, 41, 20], [30, 28, 20]));
}

/**
 * Small live parts whose faces are functions in closed form: planes, and sections of lines and arcs moved straight or turned
 * about z. Each face is a rectangle of its two parameters, with a net of even cells; no geometry kernel.
 */
import fc from 'fast-check';
import {
  cross,
  distance,
  minus,
  moved,
  norm,
  unit,
  type Vector3,
  vectorAt,
} from '../../../src/geometry/vector3.ts';
import type { Skin, TrayFrame } from '../../../src/step/freeForm/skin.ts';
import { type SkinMesh, stitch, submesh } from '../../../src/step/freeForm/skinMesh.ts';
import type { LivePart } from '../../../src/step/occt/livePart.ts';
import { EDGE_SAMPLES, type Part, type PartFace } from '../../../src/step/part.ts';

/** Point, unit normal along ∂u × ∂v, then by u and by v the change of the point and that of the normal. */
export type Surface = (
  u: number,
  v: number,
) => readonly [at: Vector3, normal: Vector3, pu: Vector3, pv: Vector3, nu: Vector3, nv: Vector3];

const NONE: Vector3 = [0, 0, 0];

/** u along `along`, v along `across` (any two directions, each times its parameter). */
export function plane(origin: Vector3, along: Vector3, across: Vector3): Surface {
  const normal = unit(cross(along, across));
  return (u, v) => [
    [0, 1, 2].map((i) => origin[i]! + u * along[i]! + v * across[i]!) as unknown as Vector3,
    normal,
    along,
    across,
    NONE,
    NONE,
  ];
}

/** A piece of a section in the plane of x and z: where it begins, its direction there from level, 1/radius (0: a line). */
export interface Piece {
  readonly x: number;
  readonly z: number;
  readonly angle: number;
  readonly curvature: number;
}

interface OnPiece {
  readonly x: number;
  readonly z: number;
  readonly c: number;
  readonly s: number;
}

/** Where a piece is after a length: (x, z) and the direction (c, s). */
export function along({ x, z, angle, curvature }: Piece, length: number): OnPiece {
  const end = angle + curvature * length;
  const [c, s] = [Math.cos(end), Math.sin(end)];
  if (curvature === 0) return { x: x + length * c, z: z + length * s, c, s };
  return {
    x: x + (s - Math.sin(angle)) / curvature,
    z: z - (c - Math.cos(angle)) / curvature,
    c,
    s,
  };
}

/** The section moved along y: u the length along it, v = y; normals to its left, so up where it runs level. */
export const extruded =
  (piece: Piece): Surface =>
  (u, v) => {
    const { x, z, c, s } = along(piece, u);
    const k = piece.curvature;
    return [[x, v, z], [-s, 0, c], [c, 0, s], [0, 1, 0], [-k * c, 0, -k * s], NONE];
  };

/** The section turned about z: u the length along it, v the angle; normals as `extruded`. */
export const revolved =
  (piece: Piece): Surface =>
  (u, v) => {
    const { x: r, z, c, s } = along(piece, u);
    const [cv, sv] = [Math.cos(v), Math.sin(v)];
    const k = piece.curvature;
    return [
      [r * cv, r * sv, z],
      [-s * cv, -s * sv, c],
      [c * cv, c * sv, s],
      [-r * sv, r * cv, 0],
      [-k * c * cv, -k * c * sv, -k * s],
      [s * sv, -s * cv, 0],
    ];
  };

/** The same surface seen from its other side: u and v change places. */
export const turnedOver =
  (surface: Surface): Surface =>
  (u, v) => {
    const [at, normal, pu, pv, nu, nv] = surface(v, u);
    const [n, mu, mv] = [normal, nu, nv].map((vector) => minus(NONE, vector)) as [Vector3, Vector3, Vector3];
    return [at, n, pv, pu, mv, mu];
  };

/** A face of a part to be. */
export interface Patch {
  readonly surface: Surface;
  readonly u: readonly [from: number, to: number];
  readonly v: readonly [from: number, to: number];
  /** Cells of its net along u and v. */
  readonly cells: readonly [number, number];
  /** Cells that are left out, from and to, by u and by v: a hole with four edges. */
  readonly hole?: { readonly u: readonly [number, number]; readonly v: readonly [number, number] };
}

type Curve = (share: number) => Vector3;

/** The four sides of a rectangle of parameters, counter-clockwise. */
function sidesOf(surface: Surface, [u0, u1]: readonly number[], [v0, v1]: readonly number[]): Curve[] {
  const line =
    (a: number, b: number, c: number, d: number): Curve =>
    (share) =>
      surface(a + share * (c - a), b + share * (d - b))[0];
  return [
    line(u0!, v0!, u1!, v0!),
    line(u1!, v0!, u1!, v1!),
    line(u1!, v1!, u0!, v1!),
    line(u0!, v1!, u0!, v0!),
  ];
}

const share = ([from, to]: readonly [number, number], i: number, cells: number): number =>
  from + ((to - from) * i) / cells;

function faceOf({ surface, u, v, cells: [columns, rows], hole }: Patch, wires: number[][]): PartFace {
  const [points, normals, parameters, triangles]: [number[], number[], number[], number[]] = [[], [], [], []];
  for (let i = 0; i <= columns; i++)
    for (let j = 0; j <= rows; j++) {
      const at = [share(u, i, columns), share(v, j, rows)] as const;
      const [point, normal] = surface(...at);
      points.push(...point);
      normals.push(...normal);
      parameters.push(...at);
    }
  let area = 0;
  for (let i = 0; i < columns; i++)
    for (let j = 0; j < rows; j++) {
      if (hole && i >= hole.u[0] && i < hole.u[1] && j >= hole.v[0] && j < hole.v[1]) continue;
      // Exact of planes and of cylinders.
      const [, , pu, pv] = surface(share(u, i + 0.5, columns), share(v, j + 0.5, rows));
      area += (norm(cross(pu, pv)) * (u[1] - u[0]) * (v[1] - v[0])) / columns / rows;
      const [p, q] = [i * (rows + 1) + j, (i + 1) * (rows + 1) + j];
      for (const [a, b, c] of [
        [p, q, q + 1],
        [p, q + 1, p + 1],
      ] as const) {
        triangles.push(a, b, c);
      }
    }
  return {
    points: Float64Array.from(points),
    normals: Float64Array.from(normals),
    parameters: Float64Array.from(parameters),
    triangles: Uint32Array.from(triangles),
    area,
    wires,
  };
}

/** Nearer than this two points of a part are one, mm. */
const SAME = 1e-7;

/** A part of some faces; sides of faces that are the same curve, either way, are one edge. */
export function livePart(patches: readonly Patch[], kind: Part['kind'] = 'surface', volume = 0): LivePart {
  const curves: Curve[] = [];
  const same = (a: Curve, b: Curve): boolean =>
    [0, 0.25, 0.5, 0.75, 1].every((s) => distance(a(s), b(s)) < SAME);
  const edgeOf = (curve: Curve): number => {
    const known = curves.findIndex((other) => same(curve, other) || same(curve, (s) => other(1 - s)));
    return known >= 0 ? known : curves.push(curve) - 1;
  };
  // A side at a pole is a point, and no edge.
  const wire = (surface: Surface, u: readonly number[], v: readonly number[]): number[] =>
    sidesOf(surface, u, v)
      .filter((side) => distance(side(0), side(0.5)) > SAME || distance(side(0), side(0.25)) > SAME)
      .map(edgeOf);
  const faces = patches.map((patch) => {
    const { surface, u, v, cells, hole } = patch;
    const wires = [wire(surface, u, v)];
    if (hole !== undefined) {
      const inner = (range: readonly [number, number], own: readonly number[], count: number): number[] =>
        own.map((i) => share(range, i, count));
      wires.push(wire(surface, inner(u, hole.u, cells[0]), inner(v, hole.v, cells[1])));
    }
    return faceOf(patch, wires);
  });
  const edges = curves.map((curve) => ({
    samples: Float64Array.from(
      Array.from({ length: EDGE_SAMPLES }, (_, i) => [...curve(i / (EDGE_SAMPLES - 1))]).flat(),
    ),
  }));
  return {
    part: { kind, faces, edges, volume, area: faces.reduce((sum, { area }) => sum + area, 0) },
    evaluate: (face, u, v, out) => {
      for (const [i, vector] of patches[face]!.surface(u, v).slice(0, 2).entries()) out.set(vector, 3 * i);
    },
    differentiate: (face, u, v, out) => {
      for (const [i, vector] of patches[face]!.surface(u, v).entries()) out.set(vector, 3 * i);
    },
    snapToEdge: (edge, point) => point.set(nearestOn(curves[edge]!, vectorAt(point))),
  };
}

/** The point of a curve nearest to another: the nearest of many, and thirds about it. */
function nearestOn(curve: Curve, point: Vector3): Vector3 {
  const many = 64;
  const away = (s: number): number => distance(curve(s), point);
  let best = 0;
  for (let i = 1; i <= many; i++) if (away(i / many) < away(best)) best = i / many;
  let [low, high] = [Math.max(0, best - 1 / many), Math.min(1, best + 1 / many)];
  for (let round = 0; round < 80; round++) {
    const third = (high - low) / 3;
    if (away(low + third) < away(high - third)) high -= third;
    else low += third;
  }
  return curve((low + high) / 2);
}

/** Numbers spread evenly: those of `fc.double` are most of them tiny. */
export const between = (from: number, to: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000_000 }).map((share) => from + ((to - from) * share) / 1_000_000);

/** All or some faces of a part joined to a skin, seen from where its normals point; `turned` sees it from behind. */
export function skinOf(
  { part }: LivePart,
  own: Partial<Skin> = {},
  faces: ReadonlySet<number> = new Set(part.faces.keys()),
): Skin {
  return {
    mesh: submesh(stitch(part, SAME).mesh, faces, own.turned ?? false),
    turned: false,
    thickness: 1,
    depth: 0,
    rimBroken: false,
    edgeFaces: new Map(),
    bridges: [],
    ...own,
  };
}

/** A tray that stands in the part's space as it does in its own, with the first face for its base. */
export const AS_DRAWN: TrayFrame = {
  axes: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  origin: [0, 0, 0],
  base: 0,
};

/** The vertex of a net at a point; fails where there is none. */
export function vertexAt({ position }: SkinMesh, point: Vector3): number {
  for (let vertex = 0; vertex < position.length / 3; vertex++)
    if (distance(vectorAt(position, 3 * vertex), point) < SAME) return vertex;
  throw new Error(`no vertex at ${point.join(' ')}`);
}

/** A sheet bent about y only, as one skin from above: its faces by length along the section and 1/radius, upwards positive. */
export function folded(
  pieces: readonly (readonly [length: number, curvature: number])[],
  width: number,
  cells = 4,
): Patch[] {
  let piece: Piece = { x: 0, z: 0, angle: 0, curvature: 0 };
  return pieces.map(([length, curvature]) => {
    const own = { ...piece, curvature };
    const { x, z } = along(own, length);
    piece = { x, z, angle: own.angle + curvature * length, curvature: 0 };
    return { surface: extruded(own), u: [0, length], v: [0, width], cells: [cells, cells] };
  });
}

/** A right-angled bend about y between two straight legs. */
export const bend = (legs: readonly [number, number], radius: number, width: number, cells = 4): Patch[] =>
  folded(
    [
      [legs[0], 0],
      [(Math.PI / 2) * radius, 1 / radius],
      [legs[1], 0],
    ],
    width,
    cells,
  );

/**
 * A folded skin laid out flat by its lengths, x y per vertex of its net.
 *
 * @param patches as they are numbered in the part
 * @param section the same in the order of the section
 */
export function laidOut({ mesh }: Skin, patches: readonly Patch[], section = patches): Float64Array {
  const flat = new Float64Array((2 * mesh.position.length) / 3);
  const starts = patches.map((patch) =>
    section.slice(0, section.indexOf(patch)).reduce((sum, { u }) => sum + u[1], 0),
  );
  for (const [corner, vertex] of mesh.triangles.entries()) {
    const start = starts[mesh.face[Math.floor(corner / 3)]!]!;
    flat.set([start + mesh.parameters[2 * corner]!, mesh.parameters[2 * corner + 1]!], 2 * vertex);
  }
  return flat;
}

/** The same faces elsewhere: what was x, y and z lies along three axes, from another origin. */
export function movedTo(patches: readonly Patch[], axes: readonly Vector3[], origin: Vector3): Patch[] {
  const turned = (vector: Vector3, from: Vector3 = NONE): Vector3 =>
    axes.reduce((sum, axis, k) => moved(sum, vector[k]!, axis), from);
  return patches.map((patch) => ({
    ...patch,
    surface: (u, v) => {
      const [at, normal, pu, pv, nu, nv] = patch.surface(u, v);
      return [turned(at, origin), turned(normal), turned(pu), turned(pv), turned(nu), turned(nv)];
    },
  }));
}

/** The five faces of an open box, its base's middle at the origin, seen from inside. */
export function openBox(a: number, b: number, height: number, cells = 2): Patch[] {
  const up: Vector3 = [0, 0, 1];
  const wall = (x: number, y: number, direction: Vector3, length: number): Patch => ({
    surface: plane([x, y, 0], direction, up),
    u: [0, length],
    v: [0, height],
    cells: [cells, cells],
  });
  return [
    {
      surface: plane([-a / 2, -b / 2, 0], [1, 0, 0], [0, 1, 0]),
      u: [0, a],
      v: [0, b],
      cells: [cells, cells],
    },
    // Each runs clockwise round the base, so that its normal points inwards.
    wall(a / 2, -b / 2, [-1, 0, 0], a),
    wall(a / 2, b / 2, [0, -1, 0], b),
    wall(-a / 2, b / 2, [1, 0, 0], a),
    wall(-a / 2, -b / 2, [0, 1, 0], b),
  ];
}

/** A round dish without a pole: the base's ring from `hole`, a bend, and an upright wall. */
export function roundDish(hole: number, base: number, radius: number, wall: number, cells = 12): Patch[] {
  const lengths = [base - hole, (Math.PI / 2) * radius, wall];
  let piece: Piece = { x: hole, z: 0, angle: 0, curvature: 0 };
  return lengths.map((length, i) => {
    const own = { ...piece, curvature: i === 1 ? 1 / radius : 0 };
    const { x, z } = along(own, length);
    piece = { x, z, angle: own.angle + own.curvature * length, curvature: 0 };
    return { surface: revolved(own), u: [0, length], v: [0, 2 * Math.PI], cells: [4, cells] };
  });
}

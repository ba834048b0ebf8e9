/**
 * Geometry of the triangles of a part on its own surfaces, and on the neutral surface where the sheet is bent so
 * tightly that this is not the middle.
 *
 * A six-node triangle in space only touches a curved surface at its nodes. A triangle that lies on one face of the
 * part is taken as a six-node triangle in that face's parameters instead, and its lengths from the surface itself:
 * over a cylinder, whose parameters are lengths, a blank that is only bent is then met exactly by triangles of any
 * size. Where a triangle reaches over several faces, or stands at the pole of one, it is the one in space.
 *
 * Test directions are carried from the nodes to the integration points along the surface, so that a pull around a
 * bend is handed on whole however far a triangle reaches.
 */

import { shapeDerivatives, shapeFunctions } from '../../geometry/shapeFunctions.ts';
import { vectorAt } from '../../geometry/vector3.ts';
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import {
  type ElementGeometry,
  elementGeometry,
  INTEGRATION_POINTS,
  POINT_SIZE,
  POINTS_PER_TRIANGLE,
} from '../../solve/elements.ts';
import { IMAGE_OF_X, IMAGE_OF_Y, PLACED_SIZE } from '../../tray/neutralSurface.ts';
import { type FlatAtlas, times } from './flatAtlas.ts';
import type { PartPlace } from './skin.ts';

/**
 * How far tangents by a face's parameters may be from those in space, as a share of the longer ones: across a right
 * angle it is a sixth, across the seam of a closed face, where a parameter jumps, far more.
 */
const LIKE = 0.4;

type Points = readonly {
  readonly shape: Float64Array;
  readonly du: Float64Array;
  readonly dv: Float64Array;
}[];

/**
 * @param places per node its places on the part's faces
 * @param start  x y per node: the first flat shape
 */
export function exactGeometry(
  mesh: QuadraticMesh,
  places: readonly (readonly PartPlace[])[],
  start: Float64Array,
  atlas: FlatAtlas,
): ElementGeometry {
  const geometry = elementGeometry(mesh);
  const at: Points = INTEGRATION_POINTS.map(([u, v]) => {
    const [shape, du, dv] = [new Float64Array(6), new Float64Array(6), new Float64Array(6)];
    shapeFunctions(u, v, shape);
    shapeDerivatives(u, v, du, dv);
    return { shape, du, dv };
  });
  const own = new Float64Array(6 * POINTS_PER_TRIANGLE);
  const surface = new Float64Array(15);
  for (let t = 0; t < mesh.triangles.length / 6; t++) {
    const nodes = mesh.triangles.subarray(6 * t, 6 * t + 6);
    spaceTangents(mesh, nodes, at, own);
    if (!onOneFace(nodes, places, at, atlas, own)) {
      for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
        const [x, y] = [0, 1].map((axis) => inner(at[g]!.shape, (i) => start[2 * nodes[i]! + axis]!));
        atlas.tangents(atlas.onPart(x!, y!), surface);
        const matrix = surface.subarray(6);
        for (const k of [6 * g, 6 * g + 3]) own.set(times(matrix, [own[k]!, own[k + 1]!, own[k + 2]!]), k);
      }
    }
    for (let g = 0; g < POINTS_PER_TRIANGLE; g++) {
      const into = geometry.points.subarray((t * POINTS_PER_TRIANGLE + g) * POINT_SIZE);
      fill(mesh, nodes, at[g]!, own.subarray(6 * g, 6 * g + 6), into);
    }
  }
  return geometry;
}

const inner = (weights: Float64Array, value: (i: number) => number): number =>
  weights.reduce((sum, weight, i) => sum + weight * value(i), 0);

/** Tangents of the triangle in space at its integration points, u and v in turn. */
function spaceTangents(mesh: QuadraticMesh, nodes: Uint32Array, at: Points, out: Float64Array): void {
  out.fill(0);
  for (const [g, { du, dv }] of at.entries()) {
    for (let i = 0; i < 6; i++) {
      const from = PLACED_SIZE * nodes[i]!;
      for (let k = 0; k < 3; k++) {
        out[6 * g + k] = out[6 * g + k]! + du[i]! * mesh.placed[from + k]!;
        out[6 * g + 3 + k] = out[6 * g + 3 + k]! + dv[i]! * mesh.placed[from + k]!;
      }
    }
  }
}

/**
 * The same by the parameters of the face that a triangle lies on, on the neutral surface.
 *
 * @returns false, and `out` is as it was, when it lies on no one face or its parameters do not serve
 */
function onOneFace(
  nodes: Uint32Array,
  places: readonly (readonly PartPlace[])[],
  at: Points,
  atlas: FlatAtlas,
  out: Float64Array,
): boolean {
  const surface = new Float64Array(15);
  for (const { face } of places[nodes[0]!]!) {
    const own: PartPlace[] = [];
    for (const node of nodes) {
      const place = places[node]!.find((each) => each.face === face);
      if (place === undefined) break;
      own.push(place);
    }
    if (own.length < 6) continue;
    const found = new Float64Array(out.length);
    for (const [g, { shape, du, dv }] of at.entries()) {
      let [u, v, uu, uv, vu, vv] = [0, 0, 0, 0, 0, 0];
      for (let i = 0; i < 6; i++) {
        const { u: a, v: b } = own[i]!;
        u += shape[i]! * a;
        v += shape[i]! * b;
        uu += du[i]! * a;
        uv += du[i]! * b;
        vu += dv[i]! * a;
        vv += dv[i]! * b;
      }
      atlas.tangents({ face, u, v }, surface);
      for (let i = 0; i < 3; i++) {
        found[6 * g + i] = uu * surface[i]! + uv * surface[3 + i]!;
        found[6 * g + 3 + i] = vu * surface[i]! + vv * surface[3 + i]!;
      }
    }
    if (!alike(found, out)) continue;
    out.set(found);
    return true;
  }
  return false;
}

function alike(found: Float64Array, inSpace: Float64Array): boolean {
  for (let g = 0; g < found.length; g += 6) {
    let [apart, longest] = [0, 0];
    for (const k of [g, g + 3]) {
      apart = Math.max(
        apart,
        Math.hypot(found[k]! - inSpace[k]!, found[k + 1]! - inSpace[k + 1]!, found[k + 2]! - inSpace[k + 2]!),
      );
      longest = Math.max(longest, Math.hypot(inSpace[k]!, inSpace[k + 1]!, inSpace[k + 2]!));
    }
    if (!(apart < LIKE * longest)) return false;
  }
  return true;
}

/** One integration point from its tangents; the numbers of `ElementGeometry.points`. */
function fill(
  { placed }: QuadraticMesh,
  nodes: Uint32Array,
  { du, dv }: Points[number],
  tangents: Float64Array,
  into: Float64Array,
): void {
  const [ax, ay, az, bx, by, bz] = tangents as unknown as [number, number, number, number, number, number];
  const length = Math.hypot(ax, ay, az);
  const [e1x, e1y, e1z] = [ax / length, ay / length, az / length];
  const shear = bx * e1x + by * e1y + bz * e1z;
  const [px, py, pz] = [bx - shear * e1x, by - shear * e1y, bz - shear * e1z];
  const width = Math.hypot(px, py, pz);
  const [e2x, e2y, e2z] = [px / width, py / width, pz / width];
  const [nx, ny, nz] = [e1y * e2z - e1z * e2y, e1z * e2x - e1x * e2z, e1x * e2y - e1y * e2x];
  into[0] = (length * width) / 6;
  for (let i = 0; i < 6; i++) {
    const g1 = du[i]! / length;
    into[1 + 2 * i] = g1;
    into[2 + 2 * i] = (dv[i]! - shear * g1) / width;
    const at = PLACED_SIZE * nodes[i]!;
    const [x1, y1, z1] = vectorAt(placed, at + IMAGE_OF_X);
    const [x2, y2, z2] = vectorAt(placed, at + IMAGE_OF_Y);
    const [mx, my, mz] = [y1 * z2 - z1 * y2, z1 * x2 - x1 * z2, x1 * y2 - y1 * x2];
    // The turn that takes the node's normal to the point's takes w to w − (n·w)/(1 + n·m) (n + m).
    const along = 1 / (1 + nx * mx + ny * my + nz * mz);
    const sum1 = (mx + nx) * e1x + (my + ny) * e1y + (mz + nz) * e1z;
    const sum2 = (mx + nx) * e2x + (my + ny) * e2y + (mz + nz) * e2z;
    for (const [k, x, y, z] of [
      [0, x1, y1, z1],
      [2, x2, y2, z2],
    ] as const) {
      const off = (nx * x + ny * y + nz * z) * along;
      into[13 + 4 * i + k] = x * e1x + y * e1y + z * e1z - off * sum1;
      into[14 + 4 * i + k] = x * e2x + y * e2y + z * e2z - off * sum2;
    }
  }
}

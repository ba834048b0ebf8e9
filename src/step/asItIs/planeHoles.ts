/**
 * Holes in plane faces, which are taken as cut in a sheet that was solved whole, as the holes of a tray file are: a
 * net without them, and their edges to be carried to the blank.
 *
 * Other holes stay in the net: a face that is curved there has no points to fill them with.
 */
import type { LivePart } from '../kernel/readShape.ts';
import type { TrayFrame } from './flatAtlas.ts';
import { nearestEdges } from './nearestEdges.ts';
import { boundaryLoops, edgeMap, type SkinMesh } from './skinMesh.ts';
import type { Skin } from './skins.ts';

/** The edge of a hole on the middle of the sheet. */
export interface PlaneHole {
  /** Number of its loop among the boundaries of the skin. */
  readonly loop: number;
  /** x y z per point in the part's space, counter-clockwise seen from inside the tray. */
  readonly points: readonly (readonly [number, number, number])[];
  /** Numbers of the points that are corners. */
  readonly corners: readonly number[];
}

/** Points of the exact edge for each edge of the net. */
const POINTS_PER_EDGE = 4;
/** A turn of more than this between two of them is a corner; radians. */
const CORNER_TURN = 0.35;
/** Most that a normal of a plane face may be off, as one less its cosine. */
const PLANE = 1e-9;

/**
 * Fills the holes in plane faces, changing the skin's net in place.
 *
 * @param open numbers of the loops that are left as they are
 */
export function fillPlaneHoles(live: LivePart, skin: Skin, open: ReadonlySet<number>): PlaneHole[] {
  const { mesh } = skin;
  const edges = edgeMap(mesh.triangles, mesh.position.length / 3);
  const faceAlong = (from: number, to: number): number => {
    const count = mesh.position.length / 3;
    const use = edges.get(from < to ? from * count + to : to * count + from)![0]!;
    return mesh.face[Math.floor(use / 3)]!;
  };
  const holes: PlaneHole[] = [];
  for (const [number, loop] of boundaryLoops(mesh).entries()) {
    // The first is the rim.
    if (number === 0 || open.has(number)) continue;
    const face = faceAlong(loop[0]!, loop[1]!);
    const alone = loop.every((vertex, i) => faceAlong(vertex, loop[(i + 1) % loop.length]!) === face);
    if (!alone || !isPlane(live, face)) continue;
    // With the hole on the left.
    const around = [...loop].reverse();
    const normal = Array.from(live.part.faces[face]!.normals.subarray(0, 3), (value) =>
      skin.turned ? -value : value,
    );
    const ears = earsOf(inPlane(mesh, around, normal));
    if (ears === null) continue;
    holes.push({ loop: number, ...edgeOf(live, skin, face, around, normal) });
    const parameters = parametersOf(mesh, face);
    for (const ear of ears) {
      const vertices = ear.map((k) => around[k]!);
      mesh.triangles.push(...vertices);
      mesh.face.push(face);
      for (const vertex of vertices) mesh.parameters.push(...parameters.get(vertex)!);
    }
  }
  return holes;
}

/** The hole's points in the tray's frame. */
export function inFrame(
  { points }: PlaneHole,
  { axes, origin }: TrayFrame,
): (readonly [number, number, number])[] {
  return points.map(
    (point) =>
      axes.map((axis) => axis.reduce((sum, value, i) => sum + value * (point[i]! - origin[i]!), 0)) as [
        number,
        number,
        number,
      ],
  );
}

function isPlane(live: LivePart, face: number): boolean {
  const { normals } = live.part.faces[face]!;
  for (let i = 3; i < normals.length; i += 3) {
    const cosine = normals[0]! * normals[i]! + normals[1]! * normals[i + 1]! + normals[2]! * normals[i + 2]!;
    if (!(cosine > 1 - PLANE)) return false;
  }
  return true;
}

/** Surface parameters of a face's vertices. */
function parametersOf({ triangles, face, parameters }: SkinMesh, own: number): Map<number, [number, number]> {
  const out = new Map<number, [number, number]>();
  for (const [at, vertex] of triangles.entries()) {
    if (face[Math.floor(at / 3)] === own) out.set(vertex, [parameters[2 * at]!, parameters[2 * at + 1]!]);
  }
  return out;
}

/** Vertices of a plane as x y seen against its normal. */
function inPlane(
  { position }: SkinMesh,
  vertices: readonly number[],
  normal: readonly number[],
): (readonly [number, number])[] {
  const [nx, ny, nz] = normal as [number, number, number];
  const [ax, ay, az] = Math.abs(nx) < 0.9 ? [0, nz, -ny] : [-nz, 0, nx];
  const length = Math.hypot(ax, ay, az);
  const [ex, ey, ez] = [ax / length, ay / length, az / length];
  const [fx, fy, fz] = [ny * ez - nz * ey, nz * ex - nx * ez, nx * ey - ny * ex];
  return vertices.map((vertex) => {
    const [x, y, z] = [0, 1, 2].map((i) => position[3 * vertex + i]!) as [number, number, number];
    return [x * ex + y * ey + z * ez, x * fx + y * fy + z * fz] as const;
  });
}

/**
 * Triangles of a polygon by cutting off one corner after the other (G. H. Meisters, "Polygons have ears", 1975,
 * title from memory); null when it crosses itself.
 */
function earsOf(points: readonly (readonly [number, number])[]): [number, number, number][] | null {
  const cross = (i: number, j: number, k: number): number => {
    const [p, q, r] = [points[i]!, points[j]!, points[k]!];
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  };
  const left = points.map((_, i) => i);
  const out: [number, number, number][] = [];
  while (left.length > 3) {
    const size = left.length;
    const at = left.findIndex((own, k) => {
      const [before, after] = [left[(k + size - 1) % size]!, left[(k + 1) % size]!];
      if (!(cross(before, own, after) > 0)) return false;
      return left.every(
        (other) =>
          other === before ||
          other === own ||
          other === after ||
          cross(before, own, other) < 0 ||
          cross(own, after, other) < 0 ||
          cross(after, before, other) < 0,
      );
    });
    if (at < 0) return null;
    out.push([left[(at + size - 1) % size]!, left[at]!, left[(at + 1) % size]!]);
    left.splice(at, 1);
  }
  const [a, b, c] = left as [number, number, number];
  return cross(a, b, c) > 0 ? [...out, [a, b, c]] : null;
}

/** Points of the hole's exact edge, moved to the middle of the sheet. */
function edgeOf(
  live: LivePart,
  { mesh: { position }, depth }: Skin,
  face: number,
  around: readonly number[],
  normal: readonly number[],
): Omit<PlaneHole, 'loop'> {
  const points: [number, number, number][] = [];
  const at = new Float64Array(3);
  for (const [i, from] of around.entries()) {
    const to = around[(i + 1) % around.length]!;
    for (let k = 0; k < POINTS_PER_EDGE; k++) {
      const share = k / POINTS_PER_EDGE;
      const chord = Float64Array.from([0, 1, 2], (axis) => {
        return (1 - share) * position[3 * from + axis]! + share * position[3 * to + axis]!;
      });
      let [best, found] = [Infinity, chord];
      for (const edge of nearestEdges(live, live.part.faces[face]!.wires.flat(), chord)) {
        at.set(chord);
        live.snapToEdge(edge, at);
        const away = Math.hypot(at[0]! - chord[0]!, at[1]! - chord[1]!, at[2]! - chord[2]!);
        if (away < best) [best, found] = [away, at.slice()];
      }
      points.push([0, 1, 2].map((axis) => found[axis]! - depth * normal[axis]!) as [number, number, number]);
    }
  }
  const count = points.length;
  const corners = points.flatMap((point, i) => {
    const [before, after] = [points[(i + count - 1) % count]!, points[(i + 1) % count]!];
    const [a, b] = [point.map((x, k) => x - before[k]!), point.map((x, k) => after[k]! - x)];
    const along = a.reduce((sum, x, k) => sum + x * b[k]!, 0) / Math.hypot(...a) / Math.hypot(...b);
    return Math.acos(Math.max(-1, Math.min(1, along))) > CORNER_TURN ? [i] : [];
  });
  return { points, corners };
}

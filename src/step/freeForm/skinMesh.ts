/**
 * One skin of a part as one net of triangles that remembers where on the kernel's surfaces each corner lies.
 *
 * Plain lists, changed in place while the net is made even; lengths mm.
 */

import { chainsOf } from '../../geometry/chain.ts';
import { cross, distance, minus, moved, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import type { Part } from '../part.ts';

export interface SkinMesh {
  /** x y z per vertex, on the skin. */
  readonly position: number[];
  /** Three vertex numbers a triangle, counter-clockwise seen from outside the material. */
  readonly triangles: number[];
  /** Face number per triangle. */
  readonly face: number[];
  /** Surface parameters u v of each corner, six a triangle. */
  readonly parameters: number[];
}

/** All faces of a part joined where their points meet, with the triangles of each face in a row. */
export interface Stitched {
  readonly mesh: SkinMesh;
  /** Unit normals out of the material per corner, nine a triangle. */
  readonly normals: number[];
}

/** Joins the faces' nets: points nearer than `tolerance` (mm) are one vertex. */
export function stitch(part: Part, tolerance: number): Stitched {
  const mesh: SkinMesh = { position: [], triangles: [], face: [], parameters: [] };
  const normals: number[] = [];
  const cells = new Map<string, number[]>();
  const { position } = mesh;
  const vertexAt = (x: number, y: number, z: number): number => {
    const [i, j, k] = [x, y, z].map((value) => Math.floor(value / (4 * tolerance))) as [
      number,
      number,
      number,
    ];
    for (let di = -1; di <= 1; di++) {
      for (let dj = -1; dj <= 1; dj++) {
        for (let dk = -1; dk <= 1; dk++) {
          for (const vertex of cells.get(`${i + di} ${j + dj} ${k + dk}`) ?? []) {
            const d = Math.hypot(
              position[3 * vertex]! - x,
              position[3 * vertex + 1]! - y,
              position[3 * vertex + 2]! - z,
            );
            if (d < tolerance) return vertex;
          }
        }
      }
    }
    const vertex = position.length / 3;
    position.push(x, y, z);
    const key = `${i} ${j} ${k}`;
    cells.set(key, [...(cells.get(key) ?? []), vertex]);
    return vertex;
  };
  for (const [number, face] of part.faces.entries()) {
    const own = Array.from({ length: face.points.length / 3 }, (_, i) =>
      vertexAt(face.points[3 * i]!, face.points[3 * i + 1]!, face.points[3 * i + 2]!),
    );
    for (let t = 0; t < face.triangles.length; t += 3) {
      const corners = [0, 1, 2].map((k) => face.triangles[t + k]!);
      const vertices = corners.map((corner) => own[corner]!);
      if (new Set(vertices).size < 3) continue;
      mesh.triangles.push(...vertices);
      mesh.face.push(number);
      for (const corner of corners) {
        mesh.parameters.push(face.parameters[2 * corner]!, face.parameters[2 * corner + 1]!);
        for (let k = 0; k < 3; k++) normals.push(face.normals[3 * corner + k]!);
      }
    }
  }
  return { mesh, normals };
}

/** Which triangles meet at each edge; keyed low·count + high, value triangle·3 + edge (01, 12, 20). */
export function edgeMap(triangles: readonly number[], vertexCount: number): Map<number, number[]> {
  const map = new Map<number, number[]>();
  for (let at = 0; at < triangles.length; at++) {
    const from = triangles[at]!;
    const to = triangles[at % 3 === 2 ? at - 2 : at + 1]!;
    const key = from < to ? from * vertexCount + to : to * vertexCount + from;
    const list = map.get(key);
    if (list === undefined) map.set(key, [at]);
    else list.push(at);
  }
  return map;
}

/** The triangles of some faces, vertices numbered anew. `turnOver` makes the other side the outside. */
export function submesh(mesh: SkinMesh, faces: ReadonlySet<number>, turnOver: boolean): SkinMesh {
  const out: SkinMesh = { position: [], triangles: [], face: [], parameters: [] };
  const numbers = new Map<number, number>();
  for (const [t, face] of mesh.face.entries()) {
    if (!faces.has(face)) continue;
    out.face.push(face);
    for (const k of turnOver ? [0, 2, 1] : [0, 1, 2]) {
      const vertex = mesh.triangles[3 * t + k]!;
      let number = numbers.get(vertex);
      if (number === undefined) {
        number = out.position.length / 3;
        numbers.set(vertex, number);
        out.position.push(...mesh.position.slice(3 * vertex, 3 * vertex + 3));
      }
      out.triangles.push(number);
      out.parameters.push(mesh.parameters[6 * t + 2 * k]!, mesh.parameters[6 * t + 2 * k + 1]!);
    }
  }
  return out;
}

const length = (mesh: SkinMesh, a: number, b: number): number =>
  distance(vectorAt(mesh.position, 3 * a), vectorAt(mesh.position, 3 * b));

/** Halves edges longer than `longest` (mm), the longest ones first. `place` gives the point at parameters. */
export function splitLongEdges(
  mesh: SkinMesh,
  longest: number,
  place: (face: number, u: number, v: number) => readonly number[],
): void {
  for (let round = 0; round < 12; round++) {
    const count = mesh.position.length / 3;
    const edges = [...edgeMap(mesh.triangles, count).values()]
      .map((uses) => {
        const at = uses[0]!;
        const from = mesh.triangles[at]!;
        const to = mesh.triangles[at % 3 === 2 ? at - 2 : at + 1]!;
        return { uses, from, to, size: length(mesh, from, to) };
      })
      .filter(({ size }) => size > longest)
      .sort((a, b) => b.size - a.size || a.from - b.from || a.to - b.to);
    if (edges.length === 0) return;
    const touched = new Set<number>();
    for (const { uses, from, to } of edges) {
      const owners = uses.map((use) => Math.floor(use / 3));
      if (owners.some((t) => touched.has(t))) continue;
      for (const t of owners) touched.add(t);
      splitEdge(mesh, owners, from, to, place);
    }
  }
}

function splitEdge(
  mesh: SkinMesh,
  owners: readonly number[],
  from: number,
  to: number,
  place: (face: number, u: number, v: number) => readonly number[],
): void {
  const middle = mesh.position.length / 3;
  for (const [n, t] of owners.entries()) {
    const k = [0, 1, 2].find((corner) => {
      const a = mesh.triangles[3 * t + corner]!;
      const b = mesh.triangles[3 * t + ((corner + 1) % 3)]!;
      return (a === from && b === to) || (a === to && b === from);
    })!;
    const next = (k + 1) % 3;
    const other = (k + 2) % 3;
    const uv = (corner: number): [number, number] => [
      mesh.parameters[6 * t + 2 * corner]!,
      mesh.parameters[6 * t + 2 * corner + 1]!,
    ];
    const [a, b, c] = [uv(k), uv(next), uv(other)];
    const m: [number, number] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    if (n === 0) mesh.position.push(...place(mesh.face[t]!, m[0], m[1]));
    const [va, vb, vc] = [k, next, other].map((corner) => mesh.triangles[3 * t + corner]!) as [
      number,
      number,
      number,
    ];
    mesh.triangles.splice(3 * t, 3, va, middle, vc);
    mesh.parameters.splice(6 * t, 6, ...a, ...m, ...c);
    mesh.triangles.push(middle, vb, vc);
    mesh.parameters.push(...m, ...b, ...c);
    mesh.face.push(mesh.face[t]!);
  }
}

/** Turns diagonals inside faces until the angles opposite each one add up to no more than 180° (Delaunay). */
export function flipToDelaunay(mesh: SkinMesh): void {
  const count = mesh.position.length / 3;
  for (let round = 0; round < 20; round++) {
    let flips = 0;
    const touched = new Set<number>();
    for (const uses of edgeMap(mesh.triangles, count).values()) {
      if (uses.length !== 2) continue;
      const [t, s] = uses.map((use) => Math.floor(use / 3)) as [number, number];
      if (mesh.face[t] !== mesh.face[s] || touched.has(t) || touched.has(s)) continue;
      if (flip(mesh, uses[0]!, uses[1]!)) {
        touched.add(t);
        touched.add(s);
        flips++;
      }
    }
    if (flips === 0) return;
  }
}

function flip(mesh: SkinMesh, useOne: number, useOther: number): boolean {
  const [t, k] = [Math.floor(useOne / 3), useOne % 3];
  const [s, l] = [Math.floor(useOther / 3), useOther % 3];
  const vertex = (triangle: number, corner: number): number => mesh.triangles[3 * triangle + (corner % 3)]!;
  const uv = (triangle: number, corner: number): [number, number] => [
    mesh.parameters[6 * triangle + 2 * (corner % 3)]!,
    mesh.parameters[6 * triangle + 2 * (corner % 3) + 1]!,
  ];
  const [a, b, c, d] = [vertex(t, k), vertex(t, k + 1), vertex(t, k + 2), vertex(s, l + 2)];
  // Across the seam of a closed surface the parameters jump.
  const [ua, ub] = [uv(t, k), uv(t, k + 1)];
  const [wa, wb] = [uv(s, l + 1), uv(s, l)];
  if (
    Math.abs(ua[0] - wa[0]) + Math.abs(ua[1] - wa[1]) + Math.abs(ub[0] - wb[0]) + Math.abs(ub[1] - wb[1]) >
    1e-9
  ) {
    return false;
  }
  const angle = (at: number, p: number, q: number): number => {
    const [x, y, z] = [length(mesh, at, p), length(mesh, at, q), length(mesh, p, q)];
    return Math.acos(Math.max(-1, Math.min(1, (x * x + y * y - z * z) / (2 * x * y))));
  };
  if (angle(c, a, b) + angle(d, a, b) <= Math.PI + 1e-6) return false;
  const [uc, ud] = [uv(t, k + 2), uv(s, l + 2)];
  // Both new triangles must keep the old ones' sense in the parameters.
  const sense = (p: readonly number[], q: readonly number[], r: readonly number[]): number =>
    (q[0]! - p[0]!) * (r[1]! - p[1]!) - (q[1]! - p[1]!) * (r[0]! - p[0]!);
  const was = sense(ua, ub, uc);
  if (!(was * sense(ua, ud, uc) > 0 && was * sense(ud, ub, uc) > 0)) return false;
  mesh.triangles.splice(3 * t, 3, a, d, c);
  mesh.parameters.splice(6 * t, 6, ...ua, ...ud, ...uc);
  mesh.triangles.splice(3 * s, 3, d, b, c);
  mesh.parameters.splice(6 * s, 6, ...ud, ...ub, ...uc);
  return true;
}

/** The mean normal of a net, as long as the net is large, mm²: that of any other net over the same boundary. */
export function areaVector({ position, triangles }: SkinMesh): Vector3 {
  let sum: Vector3 = [0, 0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => vectorAt(position, 3 * triangles[t + k]!)) as [
      Vector3,
      Vector3,
      Vector3,
    ];
    sum = moved(sum, 0.5, cross(minus(b, a), minus(c, a)));
  }
  return sum;
}

/** Closed chains of free edges, each with the surface on its left; the longest first. */
export function boundaryLoops(mesh: SkinMesh): number[][] {
  const count = mesh.position.length / 3;
  const next = new Map<number, number>();
  for (const uses of edgeMap(mesh.triangles, count).values()) {
    if (uses.length !== 1) continue;
    const at = uses[0]!;
    next.set(mesh.triangles[at]!, mesh.triangles[at % 3 === 2 ? at - 2 : at + 1]!);
  }
  const loops = chainsOf(new Map([...next].sort(([a], [b]) => a - b))).map(({ keys }) => [...keys]);
  const size = (loop: readonly number[]): number =>
    loop.reduce((sum, vertex, i) => sum + length(mesh, vertex, loop[(i + 1) % loop.length]!), 0);
  return loops.sort((a, b) => size(b) - size(a));
}

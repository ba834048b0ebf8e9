/** The cross-check of the accounting of faces: a sheet has the volume of its middle surface times its thickness. */

import { GatherpanError } from '../../errors.ts';
import {
  angleBetween,
  cross,
  distance,
  dot,
  minus,
  moved,
  norm,
  scaled,
  type Vector3,
  vectorAt,
} from '../../geometry/vector3.ts';
import { words } from '../../words/language.ts';
import { edgeMap } from '../freeForm/skinMesh.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { Accounting } from './accounting.ts';
import { matches } from './throughMaterial.ts';

/** Share by which the kernel's areas and volumes are off at worst, on B-splines that go all round (see `agreement.ts`). */
const KERNEL = 1e-6;

/**
 * The volume between two parallel skins of areas A and B at distance t is, by Steiner's formula for parallel surfaces,
 *
 *   V = t (A + B) / 2 − K t³ / 6,   K the whole Gaussian curvature of a skin (the solid angle of its normals),
 *
 * or the middle surface M = (A + B) / 2 − K t² / 4 times t, and K t³ / 12 more. It holds for an edge square to the
 * skins. By how much V may be off it:
 *
 *  - A times the largest difference found between the distance of the skins and t;
 *  - for edges that are not square, t times what they run sideways: across the edge the part of the sheet beyond a
 *    straight cut is t wide at most and ∫ |n·N| ds long, n the normal of the edge and N that of the skin;
 *  - where two pieces of the sheet meet in a sharp edge they end at a slant, of half the angle between them at most a
 *    right one: straight edges keep the formula, and one that turns by a is off it by a t³ at most;
 *  - the error of the kernel's own integrals.
 *
 * Source: H. Federer, Curvature measures, Trans. AMS 93 (1959), for Steiner's formula; titles from memory.
 *
 * @throws GatherpanError NOT_MAKEABLE
 */
export function checkVolume(live: LivePart, found: Accounting): void {
  const { part } = live;
  const { inner, outer, thickness: t } = found;
  const areaOf = (faces: ReadonlySet<number>): number =>
    [...faces].reduce((sum, face) => sum + part.faces[face]!.area, 0);
  const mean = (areaOf(inner) + areaOf(outer)) / 2;
  const expected = t * mean - (wholeCurvature(found) * t ** 3) / 6;
  const uneven = found.probes.reduce(
    (most, probe) =>
      (inner.has(probe.face) || outer.has(probe.face)) && matches(probe, t)
        ? Math.max(most, Math.abs(probe.distance - t))
        : most,
    0,
  );
  const within =
    mean * uneven + t * sidewaysEdge(found) + t ** 3 * turnOfSharpEdges(found) + KERNEL * part.volume;
  if (Math.abs(part.volume - expected) <= within) return;
  throw new GatherpanError(
    'NOT_MAKEABLE',
    words().messages.step.freeForm.volume(part.volume.toFixed(0), expected.toFixed(0), t.toFixed(2)),
  );
}

/**
 * Solid angle of a skin's normals, positive where it is curved alike in all directions.
 *
 * Source: A. van Oosterom, J. Strackee, The solid angle of a plane triangle, 1983.
 */
function wholeCurvature({ stitched: { mesh, normals }, inner }: Accounting): number {
  let sum = 0;
  for (const [t, face] of mesh.face.entries()) {
    if (!inner.has(face)) continue;
    const [a, b, c] = [0, 3, 6].map((k) => vectorAt(normals, 9 * t + k)) as [Vector3, Vector3, Vector3];
    sum += 2 * Math.atan2(dot(a, cross(b, c)), 1 + dot(a, b) + dot(b, c) + dot(c, a));
  }
  return sum;
}

/** Angle by which the sharp edges inside the skins turn on their way, radians. */
function turnOfSharpEdges({ stitched: { mesh }, inner, outer, smoothNeighbours }: Accounting): number {
  const { position, triangles, face } = mesh;
  const ends = new Map<number, number[]>();
  for (const uses of edgeMap(triangles, position.length / 3).values()) {
    if (uses.length !== 2) continue;
    const [a, b] = uses.map((use) => face[Math.floor(use / 3)]!) as [number, number];
    const oneSkin = (inner.has(a) && inner.has(b)) || (outer.has(a) && outer.has(b));
    if (a === b || !oneSkin || smoothNeighbours[a]!.has(b)) continue;
    const at = uses[0]!;
    const [from, to] = [triangles[at]!, triangles[at % 3 === 2 ? at - 2 : at + 1]!];
    ends.set(from, [...(ends.get(from) ?? []), to]);
    ends.set(to, [...(ends.get(to) ?? []), from]);
  }
  let sum = 0;
  for (const [vertex, others] of ends) {
    if (others.length !== 2) continue;
    const at = vectorAt(position, 3 * vertex);
    const [u, v] = others.map((other) => minus(vectorAt(position, 3 * other), at)) as [Vector3, Vector3];
    sum += Math.PI - angleBetween(u, v);
  }
  return sum;
}

/** ∫ |n·N| over the faces that are no skin, mm²: N is the skin's normal at the nearest point of its border. */
function sidewaysEdge({ stitched: { mesh, normals }, inner, outer }: Accounting): number {
  const { position, triangles } = mesh;
  const onEdge = (face: number): boolean => !inner.has(face) && !outer.has(face);
  const edge = new Set(triangles.filter((_, at) => onEdge(mesh.face[Math.floor(at / 3)]!)));
  const border = new Map<number, Vector3>();
  for (const [at, vertex] of triangles.entries()) {
    if (!inner.has(mesh.face[Math.floor(at / 3)]!) || !edge.has(vertex) || border.has(vertex)) continue;
    border.set(vertex, vectorAt(normals, 3 * at));
  }
  let sum = 0;
  for (const [t, face] of mesh.face.entries()) {
    if (!onEdge(face)) continue;
    const [a, b, c] = [0, 1, 2].map((k) => vectorAt(position, 3 * triangles[3 * t + k]!)) as [
      Vector3,
      Vector3,
      Vector3,
    ];
    const middle = moved(moved(scaled(1 / 3, a), 1 / 3, b), 1 / 3, c);
    let nearest = Infinity;
    let normal: Vector3 = [0, 0, 0];
    for (const [vertex, own] of border) {
      const away = distance(middle, vectorAt(position, 3 * vertex));
      if (away < nearest) [nearest, normal] = [away, own];
    }
    const area = norm(cross(minus(b, a), minus(c, a))) / 2;
    const lean = Math.max(...[0, 3, 6].map((k) => Math.abs(dot(normal, vectorAt(normals, 9 * t + k)))));
    sum += area * lean;
  }
  return sum;
}

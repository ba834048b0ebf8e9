/** Which way up a part stands, and which of its plane faces is the base. */
import { distance, dot, scaled, squareTo, unit, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { Skin, TrayFrame } from './skin.ts';
import { areaVector, boundaryLoops } from './skinMesh.ts';

/** Share of the largest plane face that another one parallel to it must have to be the base. */
const LEAST_BASE = 0.15;

/**
 * z out of the base into the tray, x as near as can be to the file's own, z = 0 in the middle of the base's sheet.
 *
 * The largest plane face says how the part stands; of those parallel to it the one farthest from the rim is the
 * base, so that the step around a raised or lowered middle is none. Without a plane face the sheet stands by the mean of
 * its normals.
 */
export function trayFrame(live: LivePart, skin: Skin): TrayFrame {
  const { part } = live;
  const sign = skin.turned ? -1 : 1;
  const normalOf = (face: number): Vector3 => scaled(sign, part.faces[face]!.normals);
  let largest = -1;
  const planes: number[] = [];
  for (const number of new Set(skin.mesh.face)) {
    const face = part.faces[number]!;
    const own = normalOf(number);
    let plane = true;
    for (let i = 0; i < face.normals.length && plane; i += 3) {
      plane = alike(own, scaled(sign, vectorAt(face.normals, i)));
    }
    if (!plane) continue;
    planes.push(number);
    if (largest < 0 || face.area > part.faces[largest]!.area) largest = number;
  }
  const base = largest < 0 ? -1 : farthestFromRim(live, skin, planes, largest, normalOf);
  const z = unit(base >= 0 ? normalOf(base) : areaVector(skin.mesh));
  const on = base >= 0 ? part.faces[base]!.points : skin.mesh.position;
  return { axes: [...squareTo(z), z], origin: scaled(dot(z, on) - skin.depth, z), base };
}

const alike = (a: Vector3, b: Vector3): boolean => dot(a, b) > 1 - 1e-9;

function farthestFromRim(
  live: LivePart,
  skin: Skin,
  planes: readonly number[],
  largest: number,
  normalOf: (face: number) => Vector3,
): number {
  const { position, triangles, face } = skin.mesh;
  const rim = boundaryLoops(skin.mesh)[0] ?? [];
  const least = LEAST_BASE * live.part.faces[largest]!.area;
  const candidates = planes.filter(
    (plane) => live.part.faces[plane]!.area >= least && alike(normalOf(plane), normalOf(largest)),
  );
  if (candidates.length < 2) return largest;
  const distances = candidates.map((plane) => {
    const own = new Set(triangles.filter((_, corner) => face[Math.floor(corner / 3)] === plane));
    let sum = 0;
    for (const vertex of own) {
      sum += Math.min(
        ...rim.map((other) => distance(vectorAt(position, 3 * vertex), vectorAt(position, 3 * other))),
      );
    }
    return sum / own.size;
  });
  return candidates[distances.indexOf(Math.max(...distances))]!;
}

/**
 * Turns and shifts flat points so that the base lies, on the mean, where it lies in the formed part.
 *
 * @param flat   x y per point, changed in place
 * @param formed x y per point in the tray's frame
 * @param chosen points to go by, with their weights
 * @returns the angle turned through, radians
 */
export function alignFlat(
  flat: Float64Array,
  formed: Float64Array,
  chosen: ReadonlyMap<number, number>,
): number {
  let [px, py, qx, qy] = [0, 0, 0, 0];
  const total = [...chosen.values()].reduce((sum, weight) => sum + weight, 0);
  for (const [i, weight] of chosen) {
    px += (weight * formed[2 * i]!) / total;
    py += (weight * formed[2 * i + 1]!) / total;
    qx += (weight * flat[2 * i]!) / total;
    qy += (weight * flat[2 * i + 1]!) / total;
  }
  let [along, across] = [0, 0];
  for (const [i, weight] of chosen) {
    const [ax, ay] = [formed[2 * i]! - px, formed[2 * i + 1]! - py];
    const [bx, by] = [flat[2 * i]! - qx, flat[2 * i + 1]! - qy];
    along += weight * (ax * bx + ay * by);
    across += weight * (bx * ay - by * ax);
  }
  const size = Math.hypot(along, across);
  const [c, s] = size > 0 ? [along / size, across / size] : [1, 0];
  for (let i = 0; i < flat.length; i += 2) {
    const [x, y] = [flat[i]! - qx, flat[i + 1]! - qy];
    flat[i] = px + c * x - s * y;
    flat[i + 1] = py + s * x + c * y;
  }
  return Math.atan2(s, c);
}

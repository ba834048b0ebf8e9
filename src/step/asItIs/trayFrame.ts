/** Which way up a part stands: its largest plane face is the base. */
import type { LivePart } from '../kernel/readShape.ts';
import type { TrayFrame } from './flatAtlas.ts';
import type { Skin } from './skins.ts';

/** z out of the base into the tray, x as near as can be to the file's own, z = 0 on the base's neutral surface. */
export function trayFrame(live: LivePart, skin: Skin): TrayFrame {
  const { part } = live;
  const sign = skin.turned ? -1 : 1;
  let base = -1;
  let mean = [0, 0, 0];
  for (const number of new Set(skin.mesh.face)) {
    const face = part.faces[number]!;
    const own = Array.from(face.normals.subarray(0, 3), (value) => sign * value);
    mean = mean.map((value, i) => value + face.area * sign * face.normals[i]!);
    let plane = true;
    for (let i = 0; i < face.normals.length && plane; i += 3) {
      const dot = [0, 1, 2].reduce((sum, k) => sum + own[k]! * sign * face.normals[i + k]!, 0);
      plane = dot > 1 - 1e-9;
    }
    if (plane && (base < 0 || face.area > part.faces[base]!.area)) base = number;
  }
  const raw =
    base >= 0 ? Array.from(part.faces[base]!.normals.subarray(0, 3), (value) => sign * value) : mean;
  const size = Math.hypot(raw[0]!, raw[1]!, raw[2]!);
  const z = raw.map((value) => value / size);
  const first = Math.abs(z[0]!) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  const along = first.reduce((sum, value, i) => sum + value * z[i]!, 0);
  const flat = first.map((value, i) => value - along * z[i]!);
  const length = Math.hypot(flat[0]!, flat[1]!, flat[2]!);
  const x = flat.map((value) => value / length);
  const y = [z[1]! * x[2]! - z[2]! * x[1]!, z[2]! * x[0]! - z[0]! * x[2]!, z[0]! * x[1]! - z[1]! * x[0]!];
  const on = base >= 0 ? part.faces[base]!.points : skin.mesh.position;
  const level = [0, 1, 2].reduce((sum, i) => sum + z[i]! * on[i]!, 0) - skin.depth;
  return { axes: [x, y, z], origin: z.map((value) => value * level), base };
}

/**
 * Turns and shifts flat points so that the base lies, on the mean, where it lies in the formed part.
 *
 * @param flat   x y per point, changed in place
 * @param formed x y per point in the tray's frame
 * @param chosen points to go by
 */
export function alignFlat(flat: Float64Array, formed: Float64Array, chosen: readonly number[]): void {
  let [px, py, qx, qy] = [0, 0, 0, 0];
  for (const i of chosen) {
    px += formed[2 * i]! / chosen.length;
    py += formed[2 * i + 1]! / chosen.length;
    qx += flat[2 * i]! / chosen.length;
    qy += flat[2 * i + 1]! / chosen.length;
  }
  let [along, across] = [0, 0];
  for (const i of chosen) {
    const [ax, ay] = [formed[2 * i]! - px, formed[2 * i + 1]! - py];
    const [bx, by] = [flat[2 * i]! - qx, flat[2 * i + 1]! - qy];
    along += ax * bx + ay * by;
    across += bx * ay - by * ax;
  }
  const size = Math.hypot(along, across);
  const [c, s] = size > 0 ? [along / size, across / size] : [1, 0];
  for (let i = 0; i < flat.length; i += 2) {
    const [x, y] = [flat[i]! - qx, flat[i + 1]! - qy];
    flat[i] = px + c * x - s * y;
    flat[i + 1] = py + s * x + c * y;
  }
}

/** Finds the two sides of the flat base among a part's faces, and the frame that goes with them. */
import type { Part, PartFace } from '../part.ts';
import { planeNormal } from './joinedPlanes.ts';

export interface BasePair {
  /** Face number of the base's upper side, in the tray, and of its lower side. */
  readonly upper: number;
  readonly lower: number;
  readonly thickness: number;
  readonly frame: Frame;
}

/** A frame with z up, out of the base into the tray, and z = 0 on the base's lower side. */
export interface Frame {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly z: readonly number[];
  readonly origin: readonly number[];
}

/** x y z in the frame. */
export function inFrame(frame: Frame, points: Float64Array, at: number): [number, number, number] {
  const d = [0, 1, 2].map((k) => points[at + k]! - frame.origin[k]!);
  const dot = (axis: readonly number[]): number => axis[0]! * d[0]! + axis[1]! * d[1]! + axis[2]! * d[2]!;
  return [dot(frame.x), dot(frame.y), dot(frame.z)];
}

/** All pairs of equal, parallel plane faces back to back with everything else on one side, the largest first. */
export function basePairs(part: Part, tolerance: number): BasePair[] {
  const planes = part.faces.flatMap((face, number) => {
    const normal = planeNormal(face, tolerance);
    return normal === null ? [] : [{ number, face, normal }];
  });
  planes.sort((a, b) => b.face.area - a.face.area || a.number - b.number);
  const out: BasePair[] = [];
  for (const upper of planes.slice(0, 12)) {
    for (const lower of planes) {
      if (lower === upper || Math.abs(lower.face.area - upper.face.area) > 1e-4 * upper.face.area) continue;
      const facing = [0, 1, 2].reduce((sum, k) => sum + upper.normal[k]! * lower.normal[k]!, 0);
      if (facing > -1 + 1e-9) continue;
      const thickness = [0, 1, 2].reduce(
        (sum, k) => sum + upper.normal[k]! * (upper.face.points[k]! - lower.face.points[k]!),
        0,
      );
      if (thickness <= 0) continue;
      const frame = frameOf(upper.normal, lower.face);
      if (lowest(part, frame) < -tolerance) continue;
      out.push({ upper: upper.number, lower: lower.number, thickness, frame });
    }
  }
  return out;
}

/** x as near as can be to the file's own x, so that a tray that lies flat keeps its directions. */
function frameOf(normal: readonly number[], lower: PartFace): Frame {
  const z = normal;
  const start = Math.abs(z[0]!) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  const along = start[0]! * z[0]! + start[1]! * z[1]! + start[2]! * z[2]!;
  const raw = start.map((value, k) => value - along * z[k]!);
  const length = Math.hypot(raw[0]!, raw[1]!, raw[2]!);
  const x = raw.map((value) => value / length);
  const y = [z[1]! * x[2]! - z[2]! * x[1]!, z[2]! * x[0]! - z[0]! * x[2]!, z[0]! * x[1]! - z[1]! * x[0]!];
  // The file's origin, moved up or down to the base's lower side.
  const level = z[0]! * lower.points[0]! + z[1]! * lower.points[1]! + z[2]! * lower.points[2]!;
  return { x, y, z, origin: z.map((value) => value * level) };
}

function lowest(part: Part, frame: Frame): number {
  let least = Infinity;
  for (const face of part.faces) {
    for (let i = 0; i < face.points.length; i += 3)
      least = Math.min(least, inFrame(frame, face.points, i)[2]);
  }
  return least;
}

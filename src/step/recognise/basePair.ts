/** Finds the two sides of the flat base among a part's faces, and the frame that goes with them. */
import { dot, minus, scaled, squareTo, type Vector3, vectorAt } from '../../geometry/vector3.ts';
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
  readonly x: Vector3;
  readonly y: Vector3;
  readonly z: Vector3;
  readonly origin: Vector3;
}

/** x y z in the frame. */
export function inFrame(frame: Frame, points: Float64Array, at: number): Vector3 {
  const from = minus(vectorAt(points, at), frame.origin);
  return [dot(frame.x, from), dot(frame.y, from), dot(frame.z, from)];
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
      if (dot(upper.normal, lower.normal) > -1 + 1e-9) continue;
      const thickness = dot(upper.normal, minus(upper.face.points, lower.face.points));
      if (thickness <= 0) continue;
      const frame = frameOf(upper.normal, lower.face);
      if (lowest(part, frame) < -tolerance) continue;
      out.push({ upper: upper.number, lower: lower.number, thickness, frame });
    }
  }
  return out;
}

/** x as near as can be to the file's own x, so that a tray that lies flat keeps its directions. */
function frameOf(z: Vector3, lower: PartFace): Frame {
  const [x, y] = squareTo(z);
  // The file's origin, moved up or down to the base's lower side.
  return { x, y, z, origin: scaled(dot(z, lower.points), z) };
}

function lowest(part: Part, frame: Frame): number {
  let least = Infinity;
  for (const face of part.faces) {
    for (let i = 0; i < face.points.length; i += 3)
      least = Math.min(least, inFrame(frame, face.points, i)[2]);
  }
  return least;
}

import { hypotenuse } from '../geometry/hypotenuse.ts';
import { shapeFunctions } from '../geometry/shapeFunctions.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';
import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import { type ElementGeometry, INTEGRATION_POINTS, POINT_SIZE, POINTS_PER_TRIANGLE } from './elements.ts';
import { sameLine } from './structure.ts';

/**
 * Shifts and turns the flat so that its base lies, on the mean, where the formed base lies. Mirror lines
 * already fix what they can.
 */
export function alignWithBase(
  mesh: QuadraticMesh,
  geometry: ElementGeometry,
  flat: Float64Array,
): Float64Array {
  if (mesh.mirrorLines !== null && !sameLine(mesh)) return flat;
  // Area integrals over the base of: 1, formed p, flat q, p·q, q × p.
  let [area, px, py, qx, qy, along, across] = [0, 0, 0, 0, 0, 0, 0];
  const hasBase = mesh.base.includes(1);
  const shape = new Float64Array(6);
  for (let point = 0; point < mesh.base.length * POINTS_PER_TRIANGLE; point++) {
    const t = Math.floor(point / POINTS_PER_TRIANGLE);
    if (hasBase && mesh.base[t] === 0) continue;
    const [u, v] = INTEGRATION_POINTS[point % POINTS_PER_TRIANGLE]!;
    shapeFunctions(u, v, shape);
    let [ax, ay, bx, by] = [0, 0, 0, 0];
    for (let i = 0; i < 6; i++) {
      const node = mesh.triangles[6 * t + i]!;
      ax += shape[i]! * mesh.placed[PLACED_SIZE * node]!;
      ay += shape[i]! * mesh.placed[PLACED_SIZE * node + 1]!;
      bx += shape[i]! * flat[2 * node]!;
      by += shape[i]! * flat[2 * node + 1]!;
    }
    const w = geometry.points[point * POINT_SIZE]!;
    area += w;
    px += w * ax;
    py += w * ay;
    qx += w * bx;
    qy += w * by;
    along += w * (ax * bx + ay * by);
    across += w * (bx * ay - by * ax);
  }
  px /= area;
  py /= area;
  qx /= area;
  qy /= area;
  let c = 1;
  let s = 0;
  if (mesh.mirrorLines === null) {
    along -= area * (px * qx + py * qy);
    across -= area * (qx * py - qy * px);
    const length = hypotenuse(along, across);
    c = along / length;
    s = across / length;
  } else {
    // Only along the mirror line.
    const dx = Math.cos(mesh.mirrorLines.firstAngle);
    const dy = Math.sin(mesh.mirrorLines.firstAngle);
    const shift = dx * (px - qx) + dy * (py - qy);
    px = qx + shift * dx;
    py = qy + shift * dy;
  }
  const out = flat.slice();
  for (let node = 0; node < mesh.nodeCount; node++) {
    const x = flat[2 * node]! - qx;
    const y = flat[2 * node + 1]! - qy;
    out[2 * node] = px + c * x - s * y;
    out[2 * node + 1] = py + s * x + c * y;
  }
  return out;
}

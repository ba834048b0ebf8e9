/** From the blank forward to the formed tray through a solved field, apart from the routine that goes back. */

import type { FlatField } from '../../src/geometry/flatField.ts';
import type { Path } from '../../src/geometry/path.ts';

export type Point3 = readonly [x: number, y: number, z: number];

/** A point of the flat, carried to the formed surface, and the outward unit normal of the surface there. */
export interface Formed {
  readonly at: Point3;
  readonly normal: Point3;
}

/**
 * Every triangle is tried: Newton's method on its two parabolic coordinates until the flat position is met; the
 * triangle that contains the point carries it over.
 */
export function formedPointOf(field: FlatField, x: number, y: number): Formed {
  const { triangles, flat, formed } = field;
  for (let t = 0; t < triangles.length; t += 6) {
    const nodes = Array.from(triangles.subarray(t, t + 6));
    const reach = Math.max(...nodes.map((node) => Math.abs(flat[2 * node]! - flat[2 * nodes[0]!]!)));
    const reachY = Math.max(...nodes.map((node) => Math.abs(flat[2 * node + 1]! - flat[2 * nodes[0]! + 1]!)));
    if (Math.abs(x - flat[2 * nodes[0]!]!) > 1.3 * reach + 1e-6) continue;
    if (Math.abs(y - flat[2 * nodes[0]! + 1]!) > 1.3 * reachY + 1e-6) continue;
    let [u, v] = [1 / 3, 1 / 3];
    for (let step = 0; step < 20; step++) {
      const [px, pxu, pxv] = value(nodes, flat, 2, 0, u, v);
      const [py, pyu, pyv] = value(nodes, flat, 2, 1, u, v);
      const det = pxu * pyv - pxv * pyu;
      u += ((x - px) * pyv - (y - py) * pxv) / det;
      v += ((y - py) * pxu - (x - px) * pyu) / det;
    }
    if (!(u > -1e-7 && v > -1e-7 && u + v < 1 + 1e-7)) continue;
    const [fx, ax, bx] = value(nodes, formed, 3, 0, u, v);
    const [fy, ay, by] = value(nodes, formed, 3, 1, u, v);
    const [fz, az, bz] = value(nodes, formed, 3, 2, u, v);
    // Counter-clockwise from above, so the cross product points into the tray.
    const inward = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx] as const;
    const length = -Math.hypot(...inward);
    return { at: [fx, fy, fz], normal: [inward[0] / length, inward[1] / length, inward[2] / length] };
  }
  throw new Error(`no triangle of the blank contains ${x} ${y}`);
}

/** One coordinate of a six-node triangle and its slopes by u and v, at barycentric (1 − u − v, u, v). */
function value(
  nodes: readonly number[],
  values: Float64Array,
  size: number,
  axis: number,
  u: number,
  v: number,
): readonly [number, number, number] {
  const [a, b, c, ab, bc, ca] = nodes.map((node) => values[size * node + axis]!) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  // Written as a polynomial in u and v.
  const [l, m] = [4 * ab - 3 * a - b, 4 * ca - 3 * a - c];
  const [p, q, r] = [2 * a + 2 * b - 4 * ab, 2 * a + 2 * c - 4 * ca, 4 * a - 4 * ab + 4 * bc - 4 * ca];
  return [
    a + l * u + m * v + p * u * u + q * v * v + r * u * v,
    l + 2 * p * u + r * v,
    m + 2 * q * v + r * u,
  ];
}

/** Points on the lines and arcs of a path, so many to each. */
export function samplesOf(path: Path, perPiece: number): [x: number, y: number][] {
  const count = path.vertices.length;
  const out: [number, number][] = [];
  for (const [i, from] of path.vertices.entries()) {
    if (!path.closed && i === count - 1) break;
    const to = path.vertices[(i + 1) % count]!;
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    // Point of an arc at a share of its sweep 4·atan(bulge), from the tangent–chord angle.
    const half = 2 * Math.atan(from.bulge);
    for (let k = 0; k < perPiece; k++) {
      const share = k / perPiece;
      const along = half === 0 ? share : Math.sin(share * half) / Math.sin(half);
      const turn = half === 0 ? 0 : -half + share * half;
      out.push([
        from.x + along * (dx * Math.cos(turn) - dy * Math.sin(turn)),
        from.y + along * (dx * Math.sin(turn) + dy * Math.cos(turn)),
      ]);
    }
  }
  return out;
}

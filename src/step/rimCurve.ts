/**
 * The rim's edge above a corner where it runs from one height to another.
 *
 * The wall's height goes with the angle, so the edge is a helix (upright wall) or a spiral on a cone (draft), for
 * which the exchange format has no curve, and the strip between the two skins' edges a helicoid, for which it has
 * no surface. Both are written as splines within 1e-7 mm: quintic pieces with the true curve's position and first
 * two derivatives at their ends, whose error in between is R·h⁶ / 46,080 for radius R and angle h (remainder of
 * two-point Hermite interpolation; Davis, Interpolation and Approximation, 1963, from memory).
 */
import { pow } from '../elementary.ts';
import { moved, type Vector3 } from '../geometry/vector3.ts';
import type { CornerSegment } from '../tray/planLoop.ts';
import type { Spline } from './brep.ts';
import type { ProfilePoint } from './profile.ts';
import { ringRadius } from './strips.ts';

const ERROR = 5e-8;

/** Pieces needed for a corner whose wall reaches out to `radius`. */
export function pieceCount(segment: CornerSegment, radius: number): number {
  const step = pow((46_080 * ERROR) / Math.max(radius, 1), 1 / 6);
  return Math.max(1, Math.ceil(Math.abs(segment.sweep) / step));
}

/** The edge from one profile point at the corner's start to another at its end, run and height linear in the angle. */
export function rimCurve(
  segment: CornerSegment,
  from: ProfilePoint,
  to: ProfilePoint,
  count: number,
): Spline {
  const sign = Math.sign(segment.sweep);
  const angle = segment.sweep / count;
  const grow = (to.run - from.run) / count;
  const rise = (to.height - from.height) / count;
  const poles: Vector3[] = [];
  for (let k = 0; k < count; k++) {
    const [start, end] = [k, k + 1].map((at) => {
      // Signed distance from the axis, so that a concave corner's normal points at the axis.
      const radius = sign * ringRadius(segment, from.run + at * grow);
      const theta = segment.startAngle + at * angle;
      const [c, s] = [Math.cos(theta), Math.sin(theta)];
      const point: Vector3 = [
        segment.centreX + radius * c,
        segment.centreY + radius * s,
        from.height + at * rise,
      ];
      const first: Vector3 = [grow * c - radius * angle * s, grow * s + radius * angle * c, rise];
      const second: Vector3 = [
        -2 * grow * angle * s - radius * angle * angle * c,
        2 * grow * angle * c - radius * angle * angle * s,
        0,
      ];
      return { point, first, second };
    }) as [Derived, Derived];
    const inner = (at: Derived, side: 1 | -1, steps: 1 | 2): Vector3 =>
      moved(moved(at.point, (side * steps) / 5, at.first), steps === 2 ? 1 / 20 : 0, at.second);
    // Where pieces join, one pole stands for the three about the joint.
    if (k === 0) poles.push(start.point, inner(start, 1, 1));
    else poles.push(moved(start.point, -1 / 20, start.second));
    poles.push(inner(start, 1, 2), inner(end, -1, 2));
    if (k === count - 1) poles.push(inner(end, -1, 1), end.point);
  }
  return { poles, breaks: Array.from({ length: count + 1 }, (_, k) => k) };
}

interface Derived {
  readonly point: Vector3;
  readonly first: Vector3;
  readonly second: Vector3;
}

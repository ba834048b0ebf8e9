import { hypotenuse } from './hypotenuse.ts';

/**
 * Distance of the point (x, y) from the straight line between two points of a list.
 *
 * @param points x y per point
 * @param from   number of the point at which the line begins
 * @param to     number of the one at which it ends
 */
export function distanceToStraight(
  x: number,
  y: number,
  points: ArrayLike<number>,
  from: number,
  to: number,
): number {
  const ax = points[2 * from]!;
  const ay = points[2 * from + 1]!;
  const dx = points[2 * to]! - ax;
  const dy = points[2 * to + 1]! - ay;
  const square = dx * dx + dy * dy;
  const at = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / square));
  return hypotenuse(x - ax - at * dx, y - ay - at * dy);
}

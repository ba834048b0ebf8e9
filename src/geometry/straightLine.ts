import { hypotenuse } from './hypotenuse.ts';

/** Distance of the point (x, y) from the straight line that ends at (ax, ay) and (bx, by). Its length must not be 0. */
export function distanceToStraight(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const dx = bx - ax;
  const dy = by - ay;
  const at = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
  return hypotenuse(x - ax - at * dx, y - ay - at * dy);
}

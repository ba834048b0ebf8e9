/**
 * Where one convex polygon may lie among others: no-fit polygons.
 *
 * B moved by p overlaps A exactly when p is inside A ⊕ (−B) (J. A. Bennell, J. F. Oliveira, The geometry of
 * nesting problems: a tutorial, European Journal of Operational Research 184, 2008, section 4.3). Of all free
 * places the leftmost, and of those the lowest, is a corner of the room left, a corner of a no-fit polygon, or
 * lies where two of these cross.
 */
import type { Extent } from '../geometry/extent.ts';
import type { Polygon } from './convex.ts';

/** Deeper inside a no-fit polygon than this is an overlap, mm. */
const TOUCH = 1e-7;

/** A no-fit polygon at its place. */
export interface Obstacle {
  /** Moved by (x, y); not changed. */
  readonly polygon: Polygon;
  readonly x: number;
  readonly y: number;
  /** With the move. */
  readonly extent: Extent;
}

export interface Spot {
  readonly x: number;
  readonly y: number;
}

/**
 * The leftmost, then lowest place in `room` that is inside no obstacle, or null.
 *
 * @param room where the moved polygon's origin may be; may be a line or a point
 * @param from places before this one, in that order, are known not to be free
 */
export function leftmostFree(room: Extent, obstacles: readonly Obstacle[], from: Spot | null): Spot | null {
  if (room.maxX < room.minX - TOUCH || room.maxY < room.minY - TOUCH) return null;
  const least = from === null ? -Infinity : from.x - TOUCH;
  // Only what reaches the part of the room that is still open can cut it.
  const near = obstacles.filter(
    ({ extent }) =>
      extent.maxX >= Math.max(least, room.minX) &&
      extent.minX <= room.maxX &&
      extent.maxY >= room.minY &&
      extent.minY <= room.maxY,
  );
  let best: Spot | null = null;
  const consider = (x: number, y: number): void => {
    if (x < least || x < room.minX - TOUCH || x > room.maxX + TOUCH) return;
    if (y < room.minY - TOUCH || y > room.maxY + TOUCH) return;
    if (best !== null && (x > best.x + TOUCH || (x > best.x - TOUCH && y >= best.y - TOUCH))) return;
    for (const obstacle of near) if (isInside(obstacle, x, y)) return;
    best = { x, y };
  };
  if (from !== null) consider(from.x, from.y);
  consider(room.minX, room.minY);
  consider(room.minX, room.maxY);
  const sorted = [...near].sort((a, b) => a.extent.minX - b.extent.minX);
  for (const obstacle of sorted) cornersAndSides(obstacle, room, consider);
  for (let i = 0; i < sorted.length; i++) {
    const a = sorted[i]!;
    const limit = (best as Spot | null)?.x ?? room.maxX;
    if (a.extent.minX > limit + TOUCH) break;
    for (let j = i + 1; j < sorted.length; j++) {
      const b = sorted[j]!;
      if (b.extent.minX > ((best as Spot | null)?.x ?? room.maxX) + TOUCH) break;
      if (Math.min(a.extent.maxX, b.extent.maxX) < least) continue;
      if (a.extent.maxX < b.extent.minX || a.extent.minY > b.extent.maxY || a.extent.maxY < b.extent.minY)
        continue;
      crossings(a, b, least, consider);
    }
  }
  return best;
}

function isInside({ polygon, x: mx, y: my, extent }: Obstacle, x: number, y: number): boolean {
  if (
    x <= extent.minX + TOUCH ||
    x >= extent.maxX - TOUCH ||
    y <= extent.minY + TOUCH ||
    y >= extent.maxY - TOUCH
  ) {
    return false;
  }
  const px = x - mx;
  const py = y - my;
  const count = polygon.length;
  let ax = polygon[count - 2]!;
  let ay = polygon[count - 1]!;
  for (let i = 0; i < count; i += 2) {
    const bx = polygon[i]!;
    const by = polygon[i + 1]!;
    const dx = bx - ax;
    const dy = by - ay;
    const cross = dx * (py - ay) - dy * (px - ax);
    if (cross <= TOUCH * (Math.abs(dx) + Math.abs(dy)) && (dx !== 0 || dy !== 0)) return false;
    ax = bx;
    ay = by;
  }
  return true;
}

type Consider = (x: number, y: number) => void;

/** Corners of an obstacle, and where its edges cross the left, lower and upper side of the room. */
function cornersAndSides({ polygon, x, y }: Obstacle, room: Extent, consider: Consider): void {
  const count = polygon.length;
  let ax = polygon[count - 2]! + x;
  let ay = polygon[count - 1]! + y;
  for (let i = 0; i < count; i += 2) {
    const bx = polygon[i]! + x;
    const by = polygon[i + 1]! + y;
    consider(ax, ay);
    if (ax < room.minX !== bx < room.minX)
      consider(room.minX, ay + ((room.minX - ax) / (bx - ax)) * (by - ay));
    if (ay < room.minY !== by < room.minY)
      consider(ax + ((room.minY - ay) / (by - ay)) * (bx - ax), room.minY);
    if (ay < room.maxY !== by < room.maxY)
      consider(ax + ((room.maxY - ay) / (by - ay)) * (bx - ax), room.maxY);
    ax = bx;
    ay = by;
  }
}

/**
 * Where the edges of two obstacles cross. Written out, since this is where a layout spends its time: a function
 * called for every edge would have its numbers wrapped up on every call.
 */
function crossings(a: Obstacle, b: Obstacle, least: number, consider: Consider): void {
  const minX = Math.max(a.extent.minX, b.extent.minX, least);
  const maxX = Math.min(a.extent.maxX, b.extent.maxX);
  const minY = Math.max(a.extent.minY, b.extent.minY);
  const maxY = Math.min(a.extent.maxY, b.extent.maxY);
  const p = a.polygon;
  const q = b.polygon;
  let ax = p[p.length - 2]! + a.x;
  let ay = p[p.length - 1]! + a.y;
  for (let i = 0; i < p.length; i += 2) {
    const x0 = ax;
    const y0 = ay;
    ax = p[i]! + a.x;
    ay = p[i + 1]! + a.y;
    // The part of this edge's box that both obstacles cover.
    const left = Math.max(Math.min(x0, ax), minX);
    const right = Math.min(Math.max(x0, ax), maxX);
    const low = Math.max(Math.min(y0, ay), minY);
    const high = Math.min(Math.max(y0, ay), maxY);
    if (left > right + TOUCH || low > high + TOUCH) continue;
    const dx = ax - x0;
    const dy = ay - y0;
    let cx = q[q.length - 2]! + b.x;
    let cy = q[q.length - 1]! + b.y;
    for (let j = 0; j < q.length; j += 2) {
      const x1 = cx;
      const y1 = cy;
      cx = q[j]! + b.x;
      cy = q[j + 1]! + b.y;
      if (x1 < left - TOUCH && cx < left - TOUCH) continue;
      if (x1 > right + TOUCH && cx > right + TOUCH) continue;
      if (y1 < low - TOUCH && cy < low - TOUCH) continue;
      if (y1 > high + TOUCH && cy > high + TOUCH) continue;
      const fx = cx - x1;
      const fy = cy - y1;
      const cross = dx * fy - dy * fx;
      if (cross < 1e-12 && cross > -1e-12) continue;
      const t = ((x1 - x0) * fy - (y1 - y0) * fx) / cross;
      const u = ((x1 - x0) * dy - (y1 - y0) * dx) / cross;
      if (t >= -1e-9 && t <= 1 + 1e-9 && u >= -1e-9 && u <= 1 + 1e-9) consider(x0 + t * dx, y0 + t * dy);
    }
  }
}

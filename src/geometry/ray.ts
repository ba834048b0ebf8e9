/** How far a ray goes before it leaves a closed path for good. */
import { pieceCount, pieceEnd } from './arc.ts';
import { meetings } from './intersect.ts';
import { pathBounds } from './measure.ts';
import type { Path, Point } from './path.ts';

/**
 * Distance along a ray to its last crossing with a path; null where it meets it nowhere.
 *
 * @param from      where the ray begins; not far outside the path's box
 * @param direction a unit vector
 */
export function lastCrossing(path: Path, from: Point, direction: Point): number | null {
  const { minX, minY, maxX, maxY } = pathBounds(path);
  const far = 2 * (maxX - minX + maxY - minY);
  const end = { x: from.x + far * direction.x, y: from.y + far * direction.y };
  let last: number | null = null;
  for (let i = 0; i < pieceCount(path); i++)
    for (const { x, y } of meetings({ ...from, bulge: 0 }, end, path.vertices[i]!, pieceEnd(path, i))) {
      const along = (x - from.x) * direction.x + (y - from.y) * direction.y;
      if (last === null || along > last) last = along;
    }
  return last;
}

/**
 * The outline that is cut: the worked rim. Where there is no wall, and at the sides of walls beside, the trim is laid on
 * in the flat; the edges of notched corners have none.
 */

import { pointOnPiece } from '../geometry/arc.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { offsetPath } from '../geometry/offset.ts';
import { offsetEach } from '../geometry/offsetEach.ts';
import type { Path } from '../geometry/path.ts';
import { notchRoots } from '../tray/notches.ts';
import type { TraySpec } from '../tray/spec.ts';
import { notchesAlong } from './notchEdges.ts';
import { isWorkedAt, type RimEdge } from './rimEdges.ts';

export interface CutOutline {
  readonly outline: Path;
  /** True where the trim, or a part of it, is laid on in the flat. */
  readonly laidOn: boolean;
}

/**
 * @param rim   solved worked rim
 * @param edges its edges over the whole blank
 * @param field solved field of the whole blank
 * @throws GatherpanError NOT_MAKEABLE when trim laid on does not fit the outline
 */
export function cutOutline(
  rim: Path,
  edges: readonly RimEdge[],
  field: FlatField,
  spec: TraySpec,
): CutOutline {
  const kerf = spec.cut.compensate ? spec.cut.kerf / 2 : 0;
  const { trim } = spec.forming;
  const bare = trim > 0 && edges.some(({ worked }) => !worked);
  if (!bare && notchRoots(spec).length === 0)
    return { outline: kerf === 0 ? rim : offsetPath(rim, kerf), laidOn: false };
  const notches = notchesAlong(rim, field, spec);
  const isWorked = isWorkedAt(edges);
  const count = rim.vertices.length;
  const distances = rim.vertices.map((from, i) => {
    const middle = pointOnPiece(from, rim.vertices[(i + 1) % count]!, 0.5);
    // The weld needs its edges where they are; trim would close the gap.
    return notches[i] !== null || isWorked(middle.x, middle.y) ? kerf : trim + kerf;
  });
  const laidOn = distances.some((distance) => distance > kerf);
  if (!laidOn && kerf === 0) return { outline: rim, laidOn };
  return { outline: offsetEach(rim, distances), laidOn };
}

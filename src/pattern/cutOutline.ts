/**
 * The outline that is cut: the worked rim. Where there is no wall, and at the sides of walls beside, the trim is laid on
 * in the flat; the edges of notched corners have none.
 */

import { GatherpanError } from '../errors.ts';
import { pointOnPiece } from '../geometry/arc.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { offsetPath } from '../geometry/offset.ts';
import { offsetEach } from '../geometry/offsetEach.ts';
import type { Path } from '../geometry/path.ts';
import { cornerLetter } from '../tray/cornerLetter.ts';
import { notchRoots } from '../tray/notches.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
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
  const outline = offsetEach(rim, distances, (why, distance, pieces) => {
    const corner = notchBeside(rim, notches, pieces, distance);
    const say = words().messages.outline;
    const message =
      corner === null
        ? say.trimTooLarge[why](String(distance))
        : say.trimAtNotch(String(distance), cornerLetter(corner));
    return new GatherpanError('NOT_MAKEABLE', { path: 'forming.trim', message });
  });
  return { outline, laidOn };
}

/** The corner of the notch whose edge is one of the pieces, or is no further along the rim from one than the distance. */
function notchBeside(
  { vertices }: Path,
  notches: readonly (number | null)[],
  pieces: readonly number[],
  distance: number,
): number | null {
  const count = vertices.length;
  const chord = (piece: number): number => {
    const [from, to] = [vertices[piece]!, vertices[(piece + 1) % count]!];
    return hypotenuse(to.x - from.x, to.y - from.y);
  };
  for (const start of pieces) {
    if (notches[start] !== null) return notches[start]!;
    for (const step of [1, count - 1]) {
      let along = 0;
      for (let at = (start + step) % count; at !== start && along <= distance; at = (at + step) % count) {
        if (notches[at] !== null) return notches[at]!;
        along += chord(at);
      }
    }
  }
  return null;
}

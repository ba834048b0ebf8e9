/** The outline that is cut: the net rim with trim, and the edges of notched corners without. */

import { GatherpanError } from '../errors.ts';
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

/**
 * @param rim   solved net rim
 * @param field solved field of the whole blank
 * @throws GatherpanError NOT_MAKEABLE when the trim does not fit the outline
 */
export function cutOutline(rim: Path, field: FlatField, spec: TraySpec): Path {
  const kerf = spec.cut.compensate ? spec.cut.kerf / 2 : 0;
  const allowance = spec.forming.trim + kerf;
  if (notchRoots(spec).length === 0) return allowance === 0 ? rim : offsetPath(rim, allowance);
  const notches = notchesAlong(rim, field, spec);
  // The weld needs its edges where they are; trim would close the gap.
  const distances = notches.map((notch) => (notch === null ? allowance : kerf));
  return offsetEach(rim, distances, (why, distance, pieces) => {
    const corner = notchBeside(rim, notches, pieces, distance);
    const say = words().messages.outline;
    const message =
      corner === null
        ? say.trimTooLarge[why](String(distance))
        : say.trimAtNotch(String(distance), cornerLetter(corner));
    return new GatherpanError('NOT_MAKEABLE', { path: 'forming.trim', message });
  });
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

/** The marks of the rim to lose: where on the worked edge a tape is laid, before forming and after. */
import { pathLength, pointAlong } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import type { GatherZone, ZoneRim } from './report.ts';
import { slicePath } from './slicePath.ts';

/** Whether a zone goes all round the blank. */
export const goesRound = ({ begin, end }: ZoneRim): boolean => begin.x === end.x && begin.y === end.y;

/** Length of a mark, from the edge inwards, mm. */
const MARK = 6;

/**
 * Two short lines from the worked edge inwards for every zone that reaches it, at the ends of the stretch that
 * `GatherZone.rim` measures; none for a zone that goes all round.
 *
 * @param workedRim closed, counter-clockwise
 */
export const rimMarks = (zones: readonly GatherZone[], workedRim: Path): Path[] =>
  zones.flatMap(({ rim }) => {
    if (rim === null || goesRound(rim)) return [];
    const piece = slicePath(workedRim, rim.begin, rim.end);
    return [0, pathLength(piece)].map((at) => {
      const { x, y, tangent } = pointAlong(piece, at);
      // Inwards is to the left of a counter-clockwise rim.
      const inner = { x: x - MARK * Math.sin(tangent), y: y + MARK * Math.cos(tangent), bulge: 0 };
      return { vertices: [{ x, y, bulge: 0 }, inner], closed: false };
    });
  });

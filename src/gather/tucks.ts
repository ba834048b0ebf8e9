/**
 * Tucks: how a free wall is gathered by hand. It is bent into puckers where it wants to buckle anyway, and the
 * puckers are knocked down one by one over a stake, so that each turns into shorter and thicker metal.
 *
 * How many: at least as many as the half-waves in which a free flange held at its root buckles by itself
 * (plate buckling: Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. 1961, sec. 9.4; plastic: Stowell,
 * NACA TN 1556, 1948; see `material/neckingAndBuckling.ts`), and so many that they stand no further apart on the whole than the
 * wall is high, which keeps a pucker low enough to strike (common practice, no source). They stand where the metal is:
 * each takes up the same length of the solved rim.
 *
 * How much at a time: of itself the edge between two tucks stays flat up to the strain at which that strip of plate
 * buckles (the same sources; `edgeBuckling`). In the trays of `samples` that is 0.04 to 0.2 %, or 0.02 to 0.05 mm between
 * two tucks: alone it would take 200 to 740 passes, and ten passes want tucks four or five thicknesses apart. So it is
 * told, and the rounds are planned by a rule of thumb: a pucker w = A sin(πx/p) of pitch p takes up the share (πA/p)²/4 of
 * its length and is πA/p steep at its ends. Kept to a slope of 30°, a round takes up 8.3 % at most; a steeper pucker folds
 * over instead of shrinking (the slope: common practice, no source).
 *
 * The other way goes without tucks: the wall is struck over the dolly blow by blow, in rows from the bend to the rim,
 * and what waves each pass raises are struck flat before the next. The rows stand as close as faces of blows overlap,
 * and a wave may be half as steep as a tuck, so that it goes flat under single blows (both: common practice, no source).
 */

import type { FlatField } from '../geometry/flatField.ts';
import { pathLength, pointAlong } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import { edgeBuckling, naturalWaves } from '../material/neckingAndBuckling.ts';
import type { Sheet } from '../material/sheet.ts';
import type { GatheringName } from '../tray/spec.ts';
import type { GatherZone, TuckPlan } from './report.ts';
import { rimCourse } from './rimCourse.ts';
import { slicePath } from './slicePath.ts';

/** One way of working the gather in. */
interface Gathering {
  /** Slope of the steepest pucker that is struck flat, radians. */
  readonly steepest: number;
  /** Length of a mark as a share of the zone's depth. */
  readonly depth: number;
}

const GATHERINGS: Readonly<Record<GatheringName, Gathering>> = {
  tucks: { steepest: Math.PI / 6, depth: 0.6 },
  blows: { steepest: Math.PI / 12, depth: 1 },
};

/** Rows of blows stand no further apart, mm; half the face of a hammer. */
const ROW = 20;

/** Slope of the steepest pucker that is struck flat, radians. */
export const steepestOf = (name: GatheringName): number => GATHERINGS[name].steepest;

const slopeOf = (name: GatheringName): number => Math.tan(steepestOf(name));

/** Share of its length that a pucker takes up in one round. */
export const shareOf = (name: GatheringName): number => slopeOf(name) ** 2 / 4;

/** A whole blank as its gather is judged. */
export interface SolvedBlank {
  readonly field: FlatField;
  /** The worked rim as lines and arcs, closed, counter-clockwise. */
  readonly rim: Path;
  /** Flat width of the wall from the bend's beginning to the rim, mm. */
  readonly freeWidth: number;
}

/** The tucks, or the rows of blows, of every shrink zone that reaches the rim. */
export function tuckPlans(
  zones: readonly GatherZone[],
  { field, rim, freeWidth }: SolvedBlank,
  sheet: Sheet,
  way: GatheringName,
): TuckPlan[] {
  const { depth: share } = GATHERINGS[way];
  const { n } = sheet.material;
  const known = new Map<string, number>();
  return zones.flatMap((zone, number) => {
    if (zone.kind !== 'shrink' || zone.rim === null || !(zone.rim.toLose > 0) || !(freeWidth > 0)) return [];
    const { flatLength, toLose, begin, end } = zone.rim;
    // Mirrored corners have the same length but for rounding.
    const key = flatLength.toFixed(4);
    const waves = known.get(key) ?? naturalWaves(flatLength, freeWidth, 'clamped', 0.5, n);
    known.set(key, waves);
    const apart = way === 'tucks' ? freeWidth : Math.min(ROW, freeWidth);
    const count = Math.max(waves, Math.ceil(flatLength / apart - 1e-9));
    // The peak shrink p takes rounds of at most the share each: (1 − share)^rounds ≤ 1 − p.
    const rounds = Math.ceil(Math.log1p(-zone.peak.percent / 100) / Math.log1p(-shareOf(way)) - 1e-9);
    const depth = share * zone.depth;
    const piece = begin === end ? rim : slicePath(rim, begin, end);
    const length = pathLength(piece);
    const course = rimCourse(field, zone.rim, length);
    const at = Array.from({ length: count }, (_, k) => course.at(((k + 0.5) / count) * course.lost));
    const run = count === 1 ? flatLength : Math.min(...at.slice(1).map((along, i) => along - at[i]!));
    const { strain, regime } = edgeBuckling(sheet.material, sheet.thickness / freeWidth, run / freeWidth);
    const marks = at.map((along) => {
      const { x, y, tangent } = pointAlong(piece, along);
      // Inwards is to the left of a counter-clockwise rim.
      const inner = { x: x - depth * Math.sin(tangent), y: y + depth * Math.cos(tangent), bulge: 0 };
      return { vertices: [{ x, y, bulge: 0 }, inner], closed: false };
    });
    return [
      {
        zone: number,
        way,
        count,
        at,
        depth,
        takeUp: toLose / count,
        rounds: Math.max(1, rounds),
        height: (flatLength / count / Math.PI) * slopeOf(way),
        edge: { apart: run, takeUp: -Math.expm1(-strain) * run, regime },
        naturalWaves: waves,
        marks,
      },
    ];
  });
}

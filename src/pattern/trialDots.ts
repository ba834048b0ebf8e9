/**
 * Two punched dots beside each corner's middle line, to be measured before and after: what a trial corner tells its hand
 * by.
 *
 * They stand side by side along the rim, square to the middle line, and keep so far from the edge that they start no
 * crack there; common practice, no source.
 */
import { containsPoint, distanceToPath } from '../geometry/measure.ts';
import type { Point } from '../geometry/path.ts';
import { lastCrossing } from '../geometry/ray.ts';
import { turnName } from '../tray/cornerLetter.ts';
import { loopPoint, planLoop } from '../tray/planLoop.ts';
import type { FlatPattern } from './flatPattern.ts';

export interface TrialDots {
  readonly index: number;
  readonly letter: string;
  /** Between the dots, straight, on the flat; and from the cut edge to the line between them, on the middle line, mm. */
  readonly apart: number;
  readonly inset: number;
  readonly points: readonly [Point, Point];
}

/** Least distance of a dot from an edge, mm. */
export const DOT_CLEAR = 10;
/** Distances that are tried, the first that has room, mm; and steps of the inset. */
const APART = [50, 40, 30, 20];
const STEP = 0.5;

/** The dots of every gathered corner that has room for them between the edge and the base. */
export function trialDots({ spec, outline, holes }: FlatPattern): TrialDots[] {
  const { segments, vertexCount } = planLoop(spec);
  const free = (point: Point): boolean =>
    containsPoint(outline, point) &&
    [outline, ...holes.map(({ path }) => path)].every((path) => distanceToPath(point, path) >= DOT_CLEAR);
  return segments.flatMap((segment): TrialDots[] => {
    if (segment.kind !== 'corner' || !segment.wall) return [];
    const at = loopPoint(segment, 0.5, { x: 0, y: 0, normalX: 0, normalY: 0 });
    const out = lastCrossing(outline, at, { x: at.normalX, y: at.normalY });
    if (out === null) return [];
    for (const apart of APART)
      for (let inset = DOT_CLEAR; inset < out; inset += STEP) {
        const reach = out - inset;
        const dot = (side: number): Point => ({
          x: at.x + reach * at.normalX - (side * apart * at.normalY) / 2,
          y: at.y + reach * at.normalY + (side * apart * at.normalX) / 2,
        });
        const points = [dot(-1), dot(1)] as const;
        if (!points.every(free)) continue;
        const { index } = segment;
        return [{ index, letter: turnName(index, vertexCount), apart, inset, points }];
      }
    return [];
  });
}

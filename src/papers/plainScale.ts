/** Scales that a drawing states. */
import { short } from './figureRows.ts';

/** Scales that are easily said, paper to part, largest first. */
const SCALES = [5, 2, 1, 0.5, 0.4, 0.25, 0.2, 0.15, 0.125, 0.1, 0.05, 0.04, 0.025, 0.02, 0.0125, 0.01];

/** The largest scale that is easily said and no larger than `most`; `most` itself when there is none. */
export const plainScale = (most: number): number => SCALES.find((scale) => scale <= most) ?? most;

/** `1:4`, `2:1`. */
export const scaleText = (scale: number): string =>
  scale >= 1 ? `${short(scale)}:1` : `1:${short(1 / scale)}`;

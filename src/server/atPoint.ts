/** What the metal does at a point of the blank's picture. */
import { Locator } from '../geometry/locate.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { percentFromLogStrain } from '../units.ts';
import { blankPlace } from './pictures.ts';

export interface AtPoint {
  /** Finished, mm. */
  readonly thickness: number;
  /** Shrink and stretch in the plane, engineering per cent, 0 and more. */
  readonly gather: number;
  readonly stretch: number;
}

/**
 * @param across, down where the point is, as parts of the picture's width and height from its upper left corner
 * @returns null beside the blank
 */
export function atPoint(pattern: FlatPattern, across: number, down: number): AtPoint | null {
  const { width, height, at, scale } = blankPlace(pattern);
  const x = (across * width - at.x) / scale;
  const y = ((1 - down) * height - at.y) / scale;
  const { field, sheet } = pattern;
  const locator = new Locator(field.flat, field.triangles);
  const place = locator.within(x, y);
  if (place === null) return null;
  const value = (values: Float64Array): number =>
    locator.interpolate(place, values, 1, new Float64Array(1))[0]!;
  return {
    thickness: sheet.thickness * Math.exp(value(field.thicknessStrain)),
    gather: Math.max(0, -percentFromLogStrain(value(field.minorStrain))),
    stretch: Math.max(0, percentFromLogStrain(value(field.majorStrain))),
  };
}

/** What the metal does at a point of the blank's picture. */
import type { FlatField } from '../geometry/flatField.ts';
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

/** How far outside a triangle a point may lie and still belong to it, of its heights: rims bulge beyond their chords. */
const BULGE = 0.05;

/**
 * @param across, down where the point is, as parts of the picture's width and height from its upper left corner
 * @returns null beside the blank
 */
export function atPoint(pattern: FlatPattern, across: number, down: number): AtPoint | null {
  const { width, height, at, scale } = blankPlace(pattern);
  const x = (across * width - at.x) / scale;
  const y = ((1 - down) * height - at.y) / scale;
  const weights = weightsAt(pattern.field, x, y);
  if (weights === null) return null;
  const value = (values: Float64Array): number =>
    weights.reduce((sum, [node, weight]) => sum + weight * values[node]!, 0);
  const { field, sheet } = pattern;
  return {
    thickness: sheet.thickness * Math.exp(value(field.thicknessStrain)),
    gather: Math.max(0, -percentFromLogStrain(value(field.minorStrain))),
    stretch: Math.max(0, percentFromLogStrain(value(field.majorStrain))),
  };
}

/** The six nodes of the triangle that a point lies in, with their quadratic shape functions there. */
function weightsAt(
  { flat, triangles }: FlatField,
  x: number,
  y: number,
): readonly (readonly [node: number, weight: number])[] | null {
  let best: { readonly first: number; readonly l: readonly [number, number, number] } | null = null;
  let inside = -BULGE;
  for (let first = 0; first < triangles.length; first += 6) {
    const [a, b, c] = [0, 1, 2].map((k) => 2 * triangles[first + k]!) as [number, number, number];
    const [ax, ay] = [flat[a]!, flat[a + 1]!];
    const [ux, uy, vx, vy] = [flat[b]! - ax, flat[b + 1]! - ay, flat[c]! - ax, flat[c + 1]! - ay];
    const area = ux * vy - uy * vx;
    const l1 = ((x - ax) * vy - (y - ay) * vx) / area;
    const l2 = ((y - ay) * ux - (x - ax) * uy) / area;
    const least = Math.min(l1, l2, 1 - l1 - l2);
    if (least > inside) {
      inside = least;
      best = { first, l: [1 - l1 - l2, l1, l2] };
    }
  }
  if (best === null) return null;
  const { first, l } = best;
  const [p, q, r] = l;
  return [p * (2 * p - 1), q * (2 * q - 1), r * (2 * r - 1), 4 * p * q, 4 * q * r, 4 * r * p].map(
    (weight, k) => [triangles[first + k]!, weight] as const,
  );
}

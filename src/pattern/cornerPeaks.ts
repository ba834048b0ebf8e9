/** Extremes of the strains about each corner of a blank. */
import type { FlatField } from '../geometry/flatField.ts';

/** Logarithmic; shrink and thinnest not above 0, stretch and thickest not below. */
export interface CornerPeaks {
  shrink: number;
  stretch: number;
  thickest: number;
  thinnest: number;
}

/**
 * Over the nodes nearest to each corner in plan, so that no peak is missed.
 *
 * @param corners points of the formed tray's plan, mm
 */
export function cornerPeaks(
  field: Pick<FlatField, 'formed' | 'majorStrain' | 'minorStrain' | 'thicknessStrain'>,
  corners: readonly { readonly x: number; readonly y: number }[],
): CornerPeaks[] {
  const peaks = corners.map(() => ({ shrink: 0, stretch: 0, thickest: 0, thinnest: 0 }));
  if (peaks.length === 0) return peaks;
  // Bare numbers: this runs over every node.
  const targets = Float64Array.from(corners.flatMap(({ x, y }) => [x, y]));
  for (let node = 0; node < field.formed.length / 3; node++) {
    let best = Infinity;
    let nearest = 0;
    for (let number = 0; number < peaks.length; number++) {
      const dx = field.formed[3 * node]! - targets[2 * number]!;
      const dy = field.formed[3 * node + 1]! - targets[2 * number + 1]!;
      const square = dx * dx + dy * dy;
      if (square >= best) continue;
      best = square;
      nearest = number;
    }
    const own = peaks[nearest]!;
    own.shrink = Math.min(own.shrink, field.minorStrain[node]!);
    own.stretch = Math.max(own.stretch, field.majorStrain[node]!);
    own.thickest = Math.max(own.thickest, field.thicknessStrain[node]!);
    own.thinnest = Math.min(own.thinnest, field.thicknessStrain[node]!);
  }
  return peaks;
}

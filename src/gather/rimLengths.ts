/** Flat and formed length of a stretch of a free edge. */
import type { FlatField } from '../geometry/flatField.ts';
import type { EdgePart } from '../geometry/levelSet.ts';

const GAUSS = [
  [-Math.sqrt(0.6), 5 / 9],
  [0, 8 / 9],
  [Math.sqrt(0.6), 5 / 9],
] as const;

/**
 * Length of the parabola over a free edge from one fraction to another, by Gauss–Legendre quadrature with three
 * points.
 *
 * @param points coordinates per node
 * @param size   coordinates a node has: 2 in the flat, 3 formed
 */
export function partLength(points: ArrayLike<number>, size: 2 | 3, { edge, start, end }: EdgePart): number {
  let sum = 0;
  for (const [at, weight] of GAUSS) {
    const s = start + ((at + 1) / 2) * (end - start);
    let square = 0;
    for (let k = 0; k < size; k++) {
      const slope =
        (4 * s - 3) * points[size * edge.from + k]! +
        (4 - 8 * s) * points[size * edge.middle + k]! +
        (4 * s - 1) * points[size * edge.to + k]!;
      square += slope * slope;
    }
    sum += weight * Math.sqrt(square);
  }
  return (sum * (end - start)) / 2;
}

/** Flat and formed length of stretches of the free edge, mm. */
export function lengthsOf(
  field: Pick<FlatField, 'flat' | 'formed'>,
  parts: readonly EdgePart[],
): { flat: number; formed: number } {
  let flat = 0;
  let formed = 0;
  for (const part of parts) {
    flat += partLength(field.flat, 2, part);
    formed += partLength(field.formed, 3, part);
  }
  return { flat, formed };
}

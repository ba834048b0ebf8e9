/**
 * Area, length and pieces of a loop, worked out here and not by the code under test.
 *
 * Circular segment: area = r²(θ − sin θ)/2, chord = 2 r sin(θ/2) (E. W. Weisstein, "Circular Segment",
 * MathWorld). θ = 4 atan(bulge) (DXF Reference, LWPOLYLINE, group code 42).
 */
import type { Vertex } from '../../src/geometry/path.ts';

/** A line (radius Infinity) or an arc of a loop. */
export interface Piece {
  readonly from: Vertex;
  readonly to: Vertex;
  /** Radians, positive counter-clockwise; 0 for a line. */
  readonly sweep: number;
  readonly radius: number;
  readonly length: number;
}

export function pieces(vertices: readonly Vertex[]): Piece[] {
  return vertices.map((from, i) => {
    const to = vertices[(i + 1) % vertices.length]!;
    const chord = Math.hypot(to.x - from.x, to.y - from.y);
    const sweep = 4 * Math.atan(from.bulge);
    if (sweep === 0) return { from, to, sweep, radius: Number.POSITIVE_INFINITY, length: chord };
    const radius = chord / (2 * Math.sin(Math.abs(sweep) / 2));
    return { from, to, sweep, radius, length: radius * Math.abs(sweep) };
  });
}

/** Signed, counter-clockwise positive, mm². Shoelace formula and the segments between chord and arc. */
export function loopArea(vertices: readonly Vertex[]): number {
  let area = 0;
  for (const { from, to, sweep, radius } of pieces(vertices)) {
    area += (from.x * to.y - to.x * from.y) / 2;
    if (sweep !== 0) area += (radius ** 2 * (sweep - Math.sin(sweep))) / 2;
  }
  return area;
}

export const loopLength = (vertices: readonly Vertex[]): number =>
  pieces(vertices).reduce((sum, piece) => sum + piece.length, 0);

/** |actual − expected| as a share of the larger of |expected| and `least`. */
export const relativeError = (actual: number, expected: number, least = 0): number =>
  Math.abs(actual - expected) / Math.max(Math.abs(expected), least);

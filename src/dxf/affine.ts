/** Maps of the plane that move, turn, mirror and stretch: x' = a·x + c·y + e, y' = b·x + d·y + f. */
import type { XY } from './curves.ts';

export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const AS_IT_IS: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** Turns the plane over: what is drawn as seen from below has its x the other way round. */
export const TURNED_OVER: Affine = { ...AS_IT_IS, a: -1 };

export const moved = (by: XY): Affine => ({ ...AS_IT_IS, e: by[0], f: by[1] });

export const stretched = (x: number, y: number): Affine => ({ ...AS_IT_IS, a: x, d: y });

/** Counter-clockwise, degrees. */
export function turned(degrees: number): Affine {
  const quarters = degrees / 90;
  // Whole quarters are exact.
  const [cos, sin] = Number.isInteger(quarters)
    ? ([
        [1, 0],
        [0, 1],
        [-1, 0],
        [0, -1],
      ][((quarters % 4) + 4) % 4] as [number, number])
    : [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}

/** First the last one, then the one before it, … */
export const chained = (...maps: readonly Affine[]): Affine =>
  maps.reduce((outer, inner) => ({
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  }));

export const pointOf = (map: Affine, [x, y]: XY): XY => [
  map.a * x + map.c * y + map.e,
  map.b * x + map.d * y + map.f,
];

/** Of a direction, which does not move. */
export const directionOf = (map: Affine, [x, y]: XY): XY => [map.a * x + map.c * y, map.b * x + map.d * y];

/** Whether circles stay circles. */
export function keepsCircles({ a, b, c, d }: Affine): boolean {
  const size = a * a + b * b + c * c + d * d;
  return Math.abs(a * c + b * d) <= 1e-9 * size && Math.abs(a * a + b * b - c * c - d * d) <= 1e-9 * size;
}

export const turnsOver = ({ a, b, c, d }: Affine): boolean => a * d - b * c < 0;

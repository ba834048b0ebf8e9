/** Shapes and measures of the layout tests, worked out another way than the layout does it. */
import fc from 'fast-check';
import { convexHull, type Polygon } from '../../src/layout/convex.ts';
import { between } from '../support/randomTrays.ts';

export const rectangle = (width: number, height: number): Polygon =>
  Float64Array.of(0, 0, width, 0, width, height, 0, height);

/** Convex polygons of three corners and more, 20 to 400 mm across. */
export const convexPolygon: fc.Arbitrary<Polygon> = fc
  .tuple(
    between(10, 200),
    fc.array(between(0, 2 * Math.PI), { minLength: 3, maxLength: 12 }),
    between(0.3, 1),
  )
  .map(([radius, angles, flat]) =>
    convexHull(
      Float64Array.from(
        angles.flatMap((angle) => [radius * Math.cos(angle), flat * radius * Math.sin(angle)]),
      ),
    ),
  )
  .filter((polygon) => polygon.length >= 6 && shoelace(polygon) > 10);

export function shoelace(polygon: Polygon): number {
  let sum = 0;
  for (let i = 0; i < polygon.length; i += 2) {
    const j = (i + 2) % polygon.length;
    sum += polygon[i]! * polygon[j + 1]! - polygon[j]! * polygon[i + 1]!;
  }
  return sum / 2;
}

export const shifted = (polygon: Polygon, x: number, y: number): Polygon =>
  polygon.map((value, i) => value + (i % 2 === 0 ? x : y));

/**
 * Distance of two convex polygons, negative by the depth when they overlap: the largest gap between their
 * projections on the normals of their edges and on the lines between their corners (separating axes).
 */
export function separation(a: Polygon, b: Polygon): number {
  let largest = -Infinity;
  const along = (nx: number, ny: number): void => {
    const length = Math.hypot(nx, ny);
    if (length < 1e-12) return;
    const range = (polygon: Polygon): [number, number] => {
      let [low, high] = [Infinity, -Infinity];
      for (let i = 0; i < polygon.length; i += 2) {
        const at = (polygon[i]! * nx + polygon[i + 1]! * ny) / length;
        low = Math.min(low, at);
        high = Math.max(high, at);
      }
      return [low, high];
    };
    const [la, ha] = range(a);
    const [lb, hb] = range(b);
    largest = Math.max(largest, la - hb, lb - ha);
  };
  for (const polygon of [a, b]) {
    for (let i = 0; i < polygon.length; i += 2) {
      const j = (i + 2) % polygon.length;
      along(polygon[j + 1]! - polygon[i + 1]!, polygon[i]! - polygon[j]!);
    }
  }
  for (let i = 0; i < a.length; i += 2) {
    for (let j = 0; j < b.length; j += 2) along(a[i]! - b[j]!, a[i + 1]! - b[j + 1]!);
  }
  return largest;
}

/** The foot on the base's edge against that on a rectangle in closed form. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { baseFoot } from '../../../src/step/freeForm/baseFoot.ts';
import { between, livePart, type Patch, plane, skinOf } from './patches.ts';

const rectangle = (x: readonly [number, number], y: readonly [number, number]): Patch => ({
  surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]),
  u: x,
  v: y,
  cells: [3, 2],
});

// A base with a flange on its right and one behind it; face 1 is the base.
const { mesh } = skinOf(
  livePart([rectangle([30, 45], [0, 20]), rectangle([0, 30], [0, 20]), rectangle([0, 30], [20, 50])]),
);
const FLAT = Float64Array.from(mesh.position.filter((_, i) => i % 3 < 2));

/** Nearest point on the outline of 0…30 × 0…20. */
function onRectangle(x: number, y: number): [number, number] {
  const [cx, cy] = [Math.min(30, Math.max(0, x)), Math.min(20, Math.max(0, y))];
  if (cx !== x || cy !== y) return [cx, cy];
  const sides: [number, [number, number]][] = [
    [x, [0, y]],
    [30 - x, [30, y]],
    [y, [x, 0]],
    [20 - y, [x, 20]],
  ];
  return sides.sort(([a], [b]) => a - b)[0]![1];
}

describe('the foot on the base', () => {
  it('is the nearest point of its outline, from inside, from a flange and from outside', () => {
    const foot = baseFoot(mesh, FLAT, 1);
    const coordinate = between(-20, 60);
    fc.assert(
      fc.property(coordinate, coordinate, (x, y) => {
        const [px, py] = foot(x, y);
        const [qx, qy] = onRectangle(x, y);
        expect(Math.hypot(px - x, py - y)).toBeCloseTo(Math.hypot(qx - x, qy - y), 9);
        expect(Math.hypot(px - onRectangle(px, py)[0], py - onRectangle(px, py)[1])).toBeLessThan(1e-9);
      }),
      { seed: 8, numRuns: 200 },
    );
  });

  it('is the mean of all vertices where no plane is the base', () => {
    const foot = baseFoot(mesh, FLAT, -1);
    const mean = [0, 1].map(
      (axis) =>
        FLAT.filter((_, i) => i % 2 === axis).reduce((sum, value) => sum + value, 0) / (FLAT.length / 2),
    );
    expect(foot(1, 2)[0]).toBeCloseTo(mean[0]!, 12);
    expect(foot(50, -3)[1]).toBeCloseTo(mean[1]!, 12);
  });
});

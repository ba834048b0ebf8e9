/** Joints that are smooth but for the places after the decimal point. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { smoothed, turns } from '../../src/tray/smoothJoints.ts';
import type { PlanVertex } from '../../src/tray/spec.ts';

/** A slot of half circles, turned; every number rounded to so many places. */
function slot(length: number, radius: number, angle: number, places: number): PlanVertex[] {
  const round = (value: number): number => Number(value.toFixed(places));
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return (
    [
      [length, radius, 0],
      [-length, radius, 1],
      [-length, -radius, 0],
      [length, -radius, 1],
    ] as const
  ).map(([x, y, bulge]) => ({
    x: round(c * x - s * y),
    y: round(s * x + c * y),
    radius: 0,
    ...(bulge === 0 ? {} : { bulge }),
  }));
}

describe('nearly smooth joints', () => {
  test('become smooth by moving less than the rounding that made them', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 500, noNaN: true }),
        fc.double({ min: 20, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        fc.integer({ min: 3, max: 8 }),
        (length, radius, angle, places) => {
          const given = slot(length, radius, angle, places);
          const made = smoothed(given);
          for (const turn of turns(made)) expect(Math.abs(turn)).toBeLessThan(1e-6);
          made.forEach((vertex, i) => {
            const moved = Math.hypot(vertex.x - given[i]!.x, vertex.y - given[i]!.y);
            expect(moved).toBeLessThan(3 * 10 ** -places);
          });
        },
      ),
      { seed: 1, numRuns: 300 },
    );
  });

  test('that are smooth already are left as they are, to the last bit', () => {
    const circle = [
      { x: 100, y: 0, radius: 0, bulge: 1 },
      { x: -100, y: 0, radius: 0, bulge: 1 },
    ];
    expect(smoothed(circle)).toBe(circle);
    const again = smoothed(smoothed(slot(100, 40, 1, 3)));
    expect(smoothed(again)).toBe(again);
  });

  test('that would have to move too far are left alone', () => {
    const given = slot(100, 40, 0, 6).map((vertex) =>
      vertex.bulge === 1 ? { ...vertex, bulge: 0.998 } : vertex,
    );
    expect(smoothed(given)).toBe(given);
  });

  test('corners, and joints with a radius, are left alone', () => {
    const corner = [
      { x: 100, y: 0, radius: 0, bulge: 1 },
      { x: -100, y: 0, radius: 0 },
      { x: -100, y: -50, radius: 30 },
      { x: 100.001, y: -50, radius: 30 },
    ];
    const made = smoothed(corner);
    expect(made[2]!.radius).toBe(30);
    expect(Math.abs(turns(made)[2]!)).toBeGreaterThan(1);
    expect(Math.abs(turns(made)[0]!)).toBeLessThan(1e-6);
  });
});

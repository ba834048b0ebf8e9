/** Regions of fields whose regions are known in closed form, on a grid of six-node triangles. */
import { describe, expect, it } from 'vitest';
import { fieldRegions, type NodalField, refined } from '../../src/geometry/fieldRegions.ts';
import { pathArea, pathLength } from '../../src/geometry/measure.ts';

/** The square [-1, 1]² as 2·n² six-node triangles, counter-clockwise. */
function square(n: number, value: (x: number, y: number) => number): NodalField {
  const side = 2 * n + 1;
  const flat = new Float64Array(2 * side * side);
  const values = new Float64Array(side * side);
  for (let j = 0; j < side; j++) {
    for (let i = 0; i < side; i++) {
      const [x, y] = [i / n - 1, j / n - 1];
      flat.set([x, y], 2 * (j * side + i));
      values[j * side + i] = value(x, y);
    }
  }
  const triangles: number[] = [];
  const at = (i: number, j: number): number => j * side + i;
  for (let j = 0; j < 2 * n; j += 2) {
    for (let i = 0; i < 2 * n; i += 2) {
      triangles.push(
        at(i, j),
        at(i + 2, j),
        at(i + 2, j + 2),
        at(i + 1, j),
        at(i + 2, j + 1),
        at(i + 1, j + 1),
      );
      triangles.push(
        at(i, j),
        at(i + 2, j + 2),
        at(i, j + 2),
        at(i + 1, j + 1),
        at(i + 1, j + 2),
        at(i, j + 1),
      );
    }
  }
  return { flat, values, triangles: Uint32Array.from(triangles) };
}

const area = (paths: readonly Parameters<typeof pathArea>[0][]): number =>
  paths.reduce((sum, path) => sum + pathArea(path), 0);

describe('regions above a level', () => {
  it('are exact for a linear field, and their line stops at the border', () => {
    const [region] = fieldRegions(
      square(5, (x, y) => x + y / 2),
      [0.3],
      1e-9,
    );
    // x ≥ 0.3 − y/2 over y from −1 to 1: area 2·(1 − 0.3) = 1.4.
    expect(area(region!.loops)).toBeCloseTo(1.4, 9);
    expect(region!.loops).toHaveLength(1);
    expect(region!.lines).toHaveLength(1);
    expect(region!.lines[0]!.closed).toBe(false);
    expect(pathLength(region!.lines[0]!)).toBeCloseTo(Math.hypot(1, 2), 9);
  });

  it('turn counter-clockwise outside and clockwise round gaps', () => {
    const [inside] = fieldRegions(
      square(16, (x, y) => -Math.hypot(x, y)),
      [-0.6],
      1e-9,
    );
    const [outside] = fieldRegions(
      square(16, (x, y) => Math.hypot(x, y)),
      [0.6],
      1e-9,
    );
    expect(inside!.loops).toHaveLength(1);
    expect(pathArea(inside!.loops[0]!)).toBeGreaterThan(0);
    expect(Math.abs(area(inside!.loops) - Math.PI * 0.36)).toBeLessThan(0.003);
    expect(outside!.loops.map((path) => Math.sign(pathArea(path))).sort()).toEqual([-1, 1]);
    expect(area(outside!.loops)).toBeCloseTo(4 - area(inside!.loops), 9);
    expect(outside!.lines.every((path) => path.closed)).toBe(true);
  });

  it('are nested: a higher level never reaches beyond a lower one', () => {
    const levels = [0.1, 0.35, 0.6, 0.85];
    const areas = fieldRegions(
      square(9, (x, y) => Math.cos(2 * x) * Math.cos(3 * y)),
      levels,
      1e-9,
    ).map((region) => area(region.loops));
    for (let i = 1; i < areas.length; i++) expect(areas[i]!).toBeLessThan(areas[i - 1]!);
  });

  it('are empty above the peak and everything below the least', () => {
    const [all, none] = fieldRegions(
      square(3, (x) => x),
      [-2, 2],
      1e-9,
    );
    expect(area(all!.loops)).toBeCloseTo(4, 9);
    expect(none!.loops).toEqual([]);
  });

  it('lose no more than the tolerance when points are left out', () => {
    const field = square(24, (x, y) => -Math.hypot(x, y));
    const [fine] = fieldRegions(field, [-0.7], 1e-9);
    const [coarse] = fieldRegions(field, [-0.7], 0.01);
    expect(coarse!.loops[0]!.vertices.length).toBeLessThan(fine!.loops[0]!.vertices.length / 2);
    expect(Math.abs(area(fine!.loops) - area(coarse!.loops))).toBeLessThan(0.01 * 2 * Math.PI * 0.7);
  });
});

describe('a refined field', () => {
  const quadratic = (x: number, y: number): number => 1 + 2 * x - 3 * y + 4 * x * x - 5 * x * y + 6 * y * y;

  it('is the same quadratic function at its new nodes', () => {
    const { flat, values, triangles } = refined(square(2, quadratic));
    // A grid of 2 × 2 squares has 5 × 5 nodes; at half the size 9 × 9.
    expect(values.length).toBe(81);
    expect(triangles.length).toBe(4 * 6 * 8);
    for (let node = 0; node < values.length; node++) {
      expect(values[node]!).toBeCloseTo(quadratic(flat[2 * node]!, flat[2 * node + 1]!), 10);
    }
    // Every middle is where a middle has to be, and no node came twice.
    for (let t = 0; t < triangles.length; t += 6) {
      for (const [m, a, b] of [
        [3, 0, 1],
        [4, 1, 2],
        [5, 2, 0],
      ] as const) {
        for (const axis of [0, 1]) {
          const at = (k: number): number => flat[2 * triangles[t + k]! + axis]!;
          expect(at(m)).toBeCloseTo((at(a) + at(b)) / 2, 12);
        }
      }
    }
    const places = new Set(
      Array.from(values, (_, i) => `${flat[2 * i]!.toFixed(9)} ${flat[2 * i + 1]!.toFixed(9)}`),
    );
    expect(places.size).toBe(values.length);
  });
});

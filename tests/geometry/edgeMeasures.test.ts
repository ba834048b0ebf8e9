/** Lengths, distances and areas of edges, against edges cut into many short lines. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  alongEdge,
  distanceBetween,
  distanceTo,
  edgeBounds,
  edgeLength,
  edgeSweep,
  edgesArea,
  isInside,
  pointAlong,
} from '../../src/geometry/edgeMeasures.ts';
import { type PlanEdge, planEdge } from '../../src/geometry/planEdges.ts';

const number = fc.double({ min: -100, max: 100, noNaN: true });
const edge = fc
  .record({
    x0: number,
    y0: number,
    x1: number,
    y1: number,
    bulge: fc.double({ min: -3, max: 3, noNaN: true }),
  })
  .filter(({ x0, y0, x1, y1 }) => Math.hypot(x1 - x0, y1 - y0) > 5)
  .map(({ x0, y0, x1, y1, bulge }) => ({
    edge: planEdge({ x: x0, y: y0, bulge: Math.abs(bulge) < 0.05 ? 0 : bulge }, { x: x1, y: y1 }),
    bulge: Math.abs(bulge) < 0.05 ? 0 : bulge,
  }));

const COUNT = 2000;

/** Points of an edge by turning its chord, which uses nothing of what is tested but the ends and the bulge. */
function points({ x0, y0, x1, y1 }: PlanEdge, bulge: number): (readonly [number, number])[] {
  const half = 2 * Math.atan(bulge);
  return Array.from({ length: COUNT + 1 }, (_, k) => {
    const s = k / COUNT;
    if (bulge === 0) return [x0 + s * (x1 - x0), y0 + s * (y1 - y0)] as const;
    // A chord of an arc is seen under half its angle: the chord to s has length ratio and direction by angle.
    const ratio = Math.sin(s * half) / Math.sin(half);
    const turn = -(1 - s) * half;
    const [dx, dy] = [ratio * (x1 - x0), ratio * (y1 - y0)];
    return [
      x0 + dx * Math.cos(turn) - dy * Math.sin(turn),
      y0 + dx * Math.sin(turn) + dy * Math.cos(turn),
    ] as const;
  });
}

const polylineLength = (line: readonly (readonly [number, number])[]): number =>
  line.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - line[i]![0], y - line[i]![1]), 0);

describe('one edge', () => {
  test('has the sweep, the length and the points of its bulge', () => {
    fc.assert(
      fc.property(edge, ({ edge: own, bulge }) => {
        const line = points(own, bulge);
        const length = polylineLength(line);
        expect(Math.abs(edgeSweep(own) - 4 * Math.atan(bulge))).toBeLessThan(1e-9);
        expect(Math.abs(edgeLength(own) / length - 1)).toBeLessThan(1e-5);
        for (const k of [0, 300, 1000, 1999, 2000]) {
          const [x, y] = pointAlong(own, k / COUNT);
          expect(Math.hypot(x - line[k]![0], y - line[k]![1])).toBeLessThan(1e-8);
          expect(Math.abs(alongEdge(own, x, y) - (k / COUNT) * edgeLength(own))).toBeLessThan(1e-7);
        }
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  test('is as far from a point as the nearest of its points, and from another edge as the nearest two', () => {
    fc.assert(
      fc.property(edge, edge, number, number, (a, b, x, y) => {
        const line = points(a.edge, a.bulge);
        const other = points(b.edge, b.bulge).filter((_, k) => k % 10 === 0);
        const step = edgeLength(a.edge) / COUNT;
        const nearest = Math.min(...line.map(([px, py]) => Math.hypot(px - x, py - y)));
        const found = distanceTo(a.edge, x, y);
        expect(found).toBeLessThanOrEqual(nearest + 1e-9);
        expect(found).toBeGreaterThan(nearest - step);
        const coarse = line.filter((_, k) => k % 10 === 0);
        let between = Number.POSITIVE_INFINITY;
        for (const [px, py] of coarse) {
          for (const [qx, qy] of other) between = Math.min(between, Math.hypot(px - qx, py - qy));
        }
        const gap = distanceBetween(a.edge, b.edge);
        expect(gap).toBeLessThanOrEqual(between + 1e-9);
        expect(gap).toBeGreaterThan(between - 10 * step - (10 * edgeLength(b.edge)) / COUNT);
      }),
      { seed: 2, numRuns: 60 },
    );
  });
});

describe('a closed chain', () => {
  const circle = (radius: number): PlanEdge[] => [
    planEdge({ x: radius, y: 0, bulge: 1 }, { x: -radius, y: 0 }),
    planEdge({ x: -radius, y: 0, bulge: 1 }, { x: radius, y: 0 }),
  ];

  test('of two half circles has the area and the extent of a circle', () => {
    expect(Math.abs(edgesArea(circle(50)) - Math.PI * 2500)).toBeLessThan(1e-9);
    const [[minX, maxX], [minY, maxY]] = edgeBounds(circle(50));
    for (const [found, wanted] of [
      [minX, -50],
      [maxX, 50],
      [minY, -50],
      [maxY, 50],
    ] as const) {
      expect(Math.abs(found - wanted)).toBeLessThan(1e-9);
    }
  });

  test('holds the points that are inside it', () => {
    fc.assert(
      fc.property(number, number, (x, y) => {
        const away = Math.hypot(x, y);
        fc.pre(Math.abs(away - 50) > 0.1);
        expect(isInside(circle(50), x, y)).toBe(away < 50);
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});

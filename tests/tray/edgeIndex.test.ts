/** Edges found by where they are, against all edges looked at one after the other. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distanceBetween, isInside, pointAlong } from '../../src/geometry/edgeMeasures.ts';
import { type PlanEdge, planEdge } from '../../src/geometry/planEdges.ts';
import { edgeIndex, meetingEdges } from '../../src/tray/edgeIndex.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { LONG } from '../support/long.ts';
import { refusal } from '../support/refusal.ts';
import { changed } from './trayFiles.ts';

const RUNS = LONG ? 2_000 : 60;

/** Evenly spread, unlike `fc.double`, which likes the neighbourhood of 0. */
const even = (min: number, max: number) =>
  fc.integer({ min: 1000 * min, max: 1000 * max }).map((n) => n / 1000);
const number = even(-50, 50);
/** Bulges too small to see do not get past the reader. */
const bulge = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((value) => (Math.abs(value) < 0.02 ? 0 : value));
const point = fc.record({
  x: number,
  y: number,
  bulge: fc.oneof(fc.constant(0), bulge(-2, 2)),
});

const closedChain = (points: readonly { x: number; y: number; bulge?: number }[]): PlanEdge[] =>
  points.map((from, i) => planEdge(from, points[(i + 1) % points.length]!));

describe('an index of edges', () => {
  test('finds every edge that is near, of any thickness', () => {
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 30 }),
        fc.double({ min: 0.01, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (points, distance, reach) => {
          const edges = closedChain(points);
          fc.pre(edges.every(({ x0, y0, x1, y1 }) => Math.hypot(x1 - x0, y1 - y0) > 0.01));
          const index = edgeIndex(
            edges,
            edges.map(() => reach),
          );
          for (const edge of edges) {
            const found = index.near(edge, distance);
            expect(found).toEqual([...new Set(found)].sort((a, b) => a - b));
            edges.forEach((other, i) => {
              if (distanceBetween(edge, other) - reach < distance - 1e-9) expect(found).toContain(i);
            });
          }
        },
      ),
      { seed: 1, numRuns: RUNS },
    );
  });

  /** Rows of short edges, side by side. */
  const field = (across: number): PlanEdge[] =>
    Array.from({ length: across * across }, (_, i) => {
      const [x, y] = [10 * (i % across), 10 * Math.floor(i / across)];
      return planEdge({ x, y }, { x: x + 4, y: y + 4 });
    });
  /** Long slanting edges side by side, whose boxes all overlap. */
  const hatching = (count: number): PlanEdge[] =>
    Array.from({ length: count }, (_, i) => planEdge({ x: 2 * i, y: 0 }, { x: 2 * i + 3000, y: 3000 }));
  test.each([
    ['a field', (n: number) => field(10 * n)],
    ['hatching', (n: number) => hatching(100 * n * n)],
  ])('looks closely at no more edges of %s than are near', (_what, make) => {
    const looked = [1, 2].map((n) => {
      const edges = make(n);
      const index = edgeIndex(edges);
      return edges.reduce((sum, edge) => sum + index.near(edge, 1.2).length, 0) / edges.length;
    });
    // Of a field, each edge has itself only; of hatching, its two neighbours too, 1.41 mm away.
    for (const each of looked) expect(each).toBeLessThan(1.01);
  });

  test('of no edges finds none', () => {
    expect(edgeIndex([]).near(field(1)[0]!, 100)).toEqual([]);
    expect(meetingEdges([], 1)).toBeUndefined();
  });
});

describe('a closed chain', () => {
  test('has edges that meet exactly when two that share no end do, or two neighbours do elsewhere', () => {
    let [sound, crossing] = [0, 0];
    fc.assert(
      fc.property(
        fc.array(fc.record({ x: number, y: number }), { minLength: 3, maxLength: 9 }),
        fc.boolean(),
        (list, round) => {
          // By angle about the origin no two edges cross.
          const points = round ? list.sort((a, b) => Math.atan2(a.y, a.x) - Math.atan2(b.y, b.x)) : list;
          const edges = closedChain(points);
          const count = edges.length;
          fc.pre(edges.every(({ x0, y0, x1, y1 }) => Math.hypot(x1 - x0, y1 - y0) > 1));
          // Corners sharper than this come near to themselves beside their point.
          fc.pre(
            edges.every((a, i) => {
              const b = edges[(i + 1) % count]!;
              const [ax, ay, bx, by] = [a.x1 - a.x0, a.y1 - a.y0, b.x1 - b.x0, b.y1 - b.y0];
              return ax * bx + ay * by > -0.999 * Math.hypot(ax, ay) * Math.hypot(bx, by);
            }),
          );
          const meeting: (readonly [number, number])[] = [];
          for (let i = 0; i < count; i++) {
            for (let j = i + 2; j < count; j++) {
              if (i === 0 && j === count - 1) continue;
              if (distanceBetween(edges[i]!, edges[j]!) < 0.01) meeting.push([i, j]);
            }
          }
          expect(meetingEdges(edges, 0.01)).toEqual(meeting[0]);
          if (meeting.length === 0) sound++;
          else crossing++;
        },
      ),
      { seed: 2, numRuns: 5 * RUNS },
    );
    expect(Math.min(sound, crossing)).toBeGreaterThan(RUNS / 2);
  });

  test('holds the points that a fine polygon of it holds', () => {
    let [inside, outside] = [0, 0];
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            radius: fc.double({ min: 20, max: 50, noNaN: true }),
            bulge: fc.oneof(fc.constant(0), bulge(-0.15, 1.2)),
          }),
          { minLength: 5, maxLength: 9 },
        ),
        fc.array(fc.record({ x: number, y: number }), { minLength: 20, maxLength: 20 }),
        (star, probes) => {
          const edges = closedChain(
            star.map(({ radius, bulge }, i) => {
              const angle = (2 * Math.PI * i) / star.length;
              return { x: radius * Math.cos(angle), y: radius * Math.sin(angle), bulge };
            }),
          );
          fc.pre(meetingEdges(edges, 0.01) === undefined);
          const fine = edges.flatMap((edge) =>
            Array.from({ length: 400 }, (_, k) => pointAlong(edge, k / 400)),
          );
          for (const { x, y } of probes) {
            const self = planEdge({ x, y }, { x, y });
            if (edges.some((edge) => distanceBetween(self, edge) < 0.05)) continue;
            let turned = 0;
            fine.forEach(([px, py], i) => {
              const [qx, qy] = fine[(i + 1) % fine.length]!;
              turned += Math.atan2(
                (px - x) * (qy - y) - (py - y) * (qx - x),
                (px - x) * (qx - x) + (py - y) * (qy - y),
              );
            });
            expect(isInside(edges, x, y)).toBe(Math.abs(turned) > Math.PI);
            if (Math.abs(turned) > Math.PI) inside++;
            else outside++;
          }
        },
      ),
      { seed: 3, numRuns: RUNS },
    );
    expect(Math.min(inside, outside)).toBeGreaterThan(RUNS);
  });
});

describe('many holes', () => {
  const polygon = fc.tuple(fc.integer({ min: 3, max: 12 }), even(2, 30)).chain(([corners, size]) =>
    fc.array(even(0.35, 1), { minLength: corners, maxLength: corners }).map((radii) => ({
      kind: 'polygon' as const,
      points: radii.map((radius, k) => ({
        x: size * radius * Math.cos((2 * Math.PI * k) / corners),
        y: size * radius * Math.sin((2 * Math.PI * k) / corners),
      })),
    })),
  );
  const round = fc
    .double({ min: 1, max: 30, noNaN: true })
    .map((diameter) => ({ kind: 'round' as const, diameter }));
  const hole = fc.record({
    shape: fc.oneof(polygon, round),
    x: even(-140, 140),
    y: even(-90, 90),
  });

  /** A hole as a polygon of points set out closely along it. */
  const outline = ({
    shape,
    x,
    y,
  }: {
    shape: { kind: string; diameter?: number; points?: { x: number; y: number }[] };
    x: number;
    y: number;
  }): [number, number][] => {
    if (shape.points === undefined) {
      return Array.from({ length: 120 }, (_, k) => {
        const angle = (k / 60) * Math.PI;
        return [x + (shape.diameter! / 2) * Math.cos(angle), y + (shape.diameter! / 2) * Math.sin(angle)];
      });
    }
    return shape.points.flatMap((from, i) => {
      const to = shape.points![(i + 1) % shape.points!.length]!;
      return Array.from({ length: 20 }, (_, k): [number, number] => [
        x + from.x + (k / 20) * (to.x - from.x),
        y + from.y + (k / 20) * (to.y - from.y),
      ]);
    });
  };
  const holds = (line: readonly (readonly [number, number])[], x: number, y: number): boolean =>
    line.reduce((inside, [ax, ay], i) => {
      const [bx, by] = line[(i + 1) % line.length]!;
      return ay > y !== by > y && ax + ((y - ay) / (by - ay)) * (bx - ax) > x ? !inside : inside;
    }, false);

  const between = (a: readonly (readonly [number, number])[], b: typeof a): number => {
    if (holds(a, ...b[0]!) || holds(b, ...a[0]!)) return 0;
    let least = Number.POSITIVE_INFINITY;
    for (const [x, y] of a) for (const [px, py] of b) least = Math.min(least, Math.hypot(px - x, py - y));
    return least;
  };

  test('are refused exactly where two come nearer than the sheet is thick, the first of them named', () => {
    let [taken, refused] = [0, 0];
    fc.assert(
      fc.property(fc.array(hole, { minLength: 2, maxLength: 5 }), (holes) => {
        const lines = holes.map(outline);
        const gaps = lines.map((line, i) => lines.slice(0, i).map((other) => between(line, other)));
        const nearTo = (i: number, least: number): number => gaps[i]!.findIndex((gap) => gap < least);
        const expected = holes.map((_, i) => nearTo(i, 1));
        // What depends on how finely the points are set out proves nothing.
        fc.pre(holes.every((_, i) => nearTo(i, 0.4) === nearTo(i, 1.6)));
        const file = changed({
          plan: { length: 400, width: 300, cornerRadius: 40 },
          section: { bottomRadius: 10, height: 30 },
          'sheet.thickness': 1,
          holes: holes.map(({ shape, x, y }) => ({ shape, place: { on: 'base', x, y } })),
        });
        const near = expected.flatMap((k, i) => (k < 0 ? [] : [[i, k] as const]));
        if (near.length === 0) {
          expect(() => readTray(file)).not.toThrow();
          taken++;
        } else {
          const { faults } = refusal(() => readTray(file));
          expect(faults.map(({ path }) => path)).toEqual(near.map(([i]) => `holes.${i}.place`));
          for (const [n, [, k]] of near.entries()) expect(faults[n]!.message).toContain(`holes.${k} (`);
          refused++;
        }
      }),
      { seed: 4, numRuns: 2 * RUNS },
    );
    expect(Math.min(taken, refused)).toBeGreaterThan(RUNS / 10);
  });
});

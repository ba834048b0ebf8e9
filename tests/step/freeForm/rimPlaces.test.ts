import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edgePartsBetween, onEdge, rimPlace } from '../../../src/step/freeForm/rimPlaces.ts';

const EDGES = 9;
const NODES = 2 * EDGES;

/** Node numbers that are not their places in the rim. */
const rimNodes = Uint32Array.from({ length: NODES }, (_, i) => (7 * i + 3) % NODES);

/** A rim that is curved in plan and goes up and down. */
const formed = new Float64Array(3 * NODES);
for (const [i, node] of rimNodes.entries()) {
  const angle = (2 * Math.PI * i) / NODES;
  formed.set([60 * Math.cos(angle), 45 * Math.sin(angle), 4 * Math.cos(2 * angle)], 3 * node);
}

const edgeOf = (number: number) => {
  const node = (k: number): number => rimNodes[(2 * number + k) % NODES]!;
  return { from: node(0), middle: node(1), to: node(2) };
};

/** The point of the rim at a place, by its edge's own parabola through three points (Lagrange). */
function pointAt(along: number): [number, number, number] {
  const [number, s] = [Math.floor(along) % EDGES, along % 1];
  const { from, middle, to } = edgeOf(number);
  const weights = [2 * (s - 0.5) * (s - 1), -4 * s * (s - 1), 2 * s * (s - 0.5)];
  return [0, 1, 2].map((k) =>
    [from, middle, to].reduce((sum, node, i) => sum + weights[i]! * formed[3 * node + k]!, 0),
  ) as [number, number, number];
}

const seeded = { seed: 20260, numRuns: 60 };
const place = (along: number) => ({ along, x: 0, y: 0 });
const alongRim = fc.double({ min: 0, max: EDGES - 1e-6, noNaN: true });
/** Round the rim, the shorter way. */
const apart = (a: number, b: number): number => {
  const d = Math.abs(a - b) % EDGES;
  return Math.min(d, EDGES - d);
};

it('a nodal value on an edge is the parabola through its three, whichever of a node’s numbers it is', () => {
  const coefficient = fc.double({ min: -9, max: 9, noNaN: true });
  fc.assert(
    fc.property(
      coefficient,
      coefficient,
      coefficient,
      fc.double({ min: 0, max: 1, noNaN: true }),
      (a, b, c, s) => {
        const at = (t: number): number => a + b * t + c * t * t;
        const values = new Float64Array(12).fill(Number.NaN);
        for (const [node, t] of [
          [3, 0],
          [0, 0.5],
          [1, 1],
        ] as const)
          values[3 * node + 2] = at(t);
        expect(onEdge(values, 3, 2, { from: 3, middle: 0, to: 1 }, s)).toBeCloseTo(at(s), 10);
      },
    ),
    seeded,
  );
});

describe('the place of the rim nearest to a point', () => {
  it('is where a point of the rim was taken', () => {
    fc.assert(
      fc.property(alongRim, (along) => {
        const point = pointAt(along);
        const found = rimPlace({ formed, rimNodes }, point);
        expect(apart(found.along, along)).toBeLessThan(1e-6);
        expect(found.x).toBeCloseTo(point[0], 4);
        expect(found.y).toBeCloseTo(point[1], 4);
      }),
      seeded,
    );
  });

  it('is no farther than the nearest of many points of the rim', () => {
    const many = Array.from({ length: 400 * EDGES }, (_, i) => pointAt(i / 400));
    const off = fc.double({ min: -8, max: 8, noNaN: true });
    fc.assert(
      fc.property(alongRim, off, off, off, (along, dx, dy, dz) => {
        const [x, y, z] = pointAt(along);
        const point: [number, number, number] = [x + dx, y + dy, z + dz];
        const away = (p: readonly number[]): number => Math.hypot(...p.map((value, k) => value - point[k]!));
        const found = rimPlace({ formed, rimNodes }, point);
        expect(away(pointAt(found.along))).toBeLessThan(Math.min(...many.map(away)) + 1e-6);
      }),
      seeded,
    );
  });
});

describe('the parts of edges between two places', () => {
  it('follow each other from the one to the other, counter-clockwise', () => {
    fc.assert(
      fc.property(alongRim, alongRim, (a, b) => {
        fc.pre(apart(a, b) > 1e-5);
        const parts = edgePartsBetween(place(a), place(b), rimNodes);
        for (const [i, part] of parts.entries()) {
          expect(part.edge).toEqual(edgeOf((Math.floor(a) + i) % EDGES));
          if (i > 0) expect(part.start).toBe(0);
          if (i < parts.length - 1) expect(part.end).toBe(1);
        }
        const sum = parts.reduce((total, part) => total + part.end - part.start, 0);
        expect(sum).toBeCloseTo((b - a + EDGES) % EDGES, 8);
        expect(parts[0]!.start).toBeCloseTo(a % 1, 8);
      }),
      seeded,
    );
  });

  it('are the whole rim when the places are the same', () => {
    const parts = edgePartsBetween(place(2.25), place(2.25), rimNodes);
    expect(parts.reduce((total, { start, end }) => total + end - start, 0)).toBeCloseTo(EDGES, 12);
    expect(new Set(parts.map(({ edge }) => edge.middle)).size).toBe(EDGES);
  });
});

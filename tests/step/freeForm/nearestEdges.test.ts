/** The edges that are told are never without the one that is nearest, though an edge is known by nine points only. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, type Vector3, vectorAt } from '../../../src/geometry/vector3.ts';
import { nearestEdges } from '../../../src/step/freeForm/nearestEdges.ts';
import type { LivePart } from '../../../src/step/occt/livePart.ts';
import { EDGE_SAMPLES } from '../../../src/step/part.ts';
import { bend, between, livePart } from './patches.ts';

const coordinate = between(-15, 35);
const anyPoint: fc.Arbitrary<Vector3> = fc.tuple(coordinate, coordinate, coordinate);

describe('the nearest edge of a part', () => {
  it('is among those that are told, wherever the point is', () => {
    const live = livePart(bend([20, 15], 6, 30));
    const all = [...live.part.edges.keys()];
    fc.assert(
      fc.property(anyPoint, (point) => {
        const away = all.map((edge) => {
          const foot = Float64Array.from(point);
          live.snapToEdge(edge, foot);
          return distance(vectorAt(foot), point);
        });
        const told = nearestEdges(live, all, Float64Array.from(point));
        const least = Math.min(...away);
        expect(told.some((edge) => away[edge]! < least + 1e-9)).toBe(true);
      }),
      { seed: 5, numRuns: 60 },
    );
  });

  it('is told though the chords of a whole circle pass farther away than it does', () => {
    const [r, off] = [10, 10.5];
    const samples = (at: (s: number) => Vector3): Float64Array =>
      Float64Array.from(
        { length: 3 * EDGE_SAMPLES },
        (_, i) => at(Math.floor(i / 3) / (EDGE_SAMPLES - 1))[i % 3]!,
      );
    const circle = samples((s) => [r * Math.cos(2 * Math.PI * s), r * Math.sin(2 * Math.PI * s), 0]);
    fc.assert(
      fc.property(between(0, 6.28), between(9, off), (turn, at) => {
        // A line square to the ray at 10.5: nearer than the circle beyond 10.25.
        const [c, s] = [Math.cos(turn), Math.sin(turn)];
        const line = samples((share) => [off * c - (share - 0.5) * s, off * s + (share - 0.5) * c, 0]);
        const live = { part: { edges: [{ samples: circle }, { samples: line }] } } as unknown as LivePart;
        const told = nearestEdges(live, [0, 1], Float64Array.of(at * c, at * s, 0));
        expect(told).toContain(Math.abs(at - r) < off - at ? 0 : 1);
      }),
      { seed: 6, numRuns: 60 },
    );
  });

  it('is told alone where no other comes near, once, and only out of those asked for', () => {
    const live = livePart(bend([20, 15], 6, 30));
    const start = live.part.edges.findIndex(({ samples }) => samples[0] === 0 && samples[24] === 0);
    const point = Float64Array.of(0.1, 15, 0);
    const all = [...live.part.edges.keys()];
    expect(nearestEdges(live, [...all, ...all], point)).toEqual([start]);
    const others = all.filter((edge) => edge !== start);
    expect(nearestEdges(live, others, point)).not.toContain(start);
    expect(nearestEdges(live, others, point).length).toBeGreaterThan(0);
  });
});

/** Room for a label: closed forms in simple blanks, and a property over random ones. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { largestPlace } from '../../src/exporters/freePlace.ts';
import type { Path } from '../../src/geometry/path.ts';
import { roundedRectangle, roundHole } from './samplePattern.ts';

/** The share of the free room a label takes: a choice of ours. */
const MARGIN = 0.85;

const rectangle = (length: number, width: number): Path => ({
  closed: true,
  vertices: [
    { x: -length / 2, y: -width / 2, bulge: 0 },
    { x: length / 2, y: -width / 2, bulge: 0 },
    { x: length / 2, y: width / 2, bulge: 0 },
    { x: -length / 2, y: width / 2, bulge: 0 },
  ],
});

describe('largestPlace', () => {
  it('fills a rectangle up to the side that is short', () => {
    expect(largestPlace({ width: 2, height: 1 }, 1000, rectangle(100, 40), [], [])).toEqual({
      center: { x: 0, y: 0 },
      scale: 40 * MARGIN,
    });
    expect(largestPlace({ width: 4, height: 1 }, 1000, rectangle(100, 40), [], [])!.scale).toBeCloseTo(
      25 * MARGIN,
      12,
    );
  });

  it('fills a circle: the corners of a square touch it', () => {
    // Square of side s in a circle of radius R: s = R √2. The chords lie at most 0.2 % of R inside.
    const { scale } = largestPlace({ width: 1, height: 1 }, 1000, roundHole({ x: 3, y: 4 }, 100), [], [])!;
    expect(scale / (50 * Math.SQRT2 * MARGIN)).toBeGreaterThan(1 - 0.003);
    expect(scale / (50 * Math.SQRT2 * MARGIN)).toBeLessThanOrEqual(1 + 1e-9);
  });

  it('takes no more than asked, and the middle when that is enough', () => {
    expect(largestPlace({ width: 2, height: 1 }, 7, rectangle(100, 40), [], [])).toEqual({
      center: { x: 0, y: 0 },
      scale: 7,
    });
  });

  it('moves away from a hole in the middle', () => {
    const hole = roundHole({ x: 0, y: 0 }, 20);
    const { center, scale } = largestPlace({ width: 10, height: 1 }, 4, rectangle(100, 80), [hole], [])!;
    expect(scale).toBe(4);
    expect(Math.abs(center.y)).toBeGreaterThan(10 + 2);
  });

  it('gives the same answer every time', () => {
    const blank = roundedRectangle(90, 50, 11);
    const hole = roundHole({ x: 5, y: 2 }, 16);
    const once = largestPlace({ width: 7, height: 3 }, 9, blank, [hole], []);
    expect(largestPlace({ width: 7, height: 3 }, 9, blank, [hole], [])).toEqual(once);
  });

  it('never lets the box touch the edge, a hole or a scribe line', () => {
    fc.assert(
      fc.property(
        fc.record({
          x: fc.double({ min: -40, max: 40, noNaN: true }),
          y: fc.double({ min: -15, max: 15, noNaN: true }),
          diameter: fc.double({ min: 2, max: 20, noNaN: true }),
          width: fc.double({ min: 1, max: 30, noNaN: true }),
          height: fc.double({ min: 1, max: 30, noNaN: true }),
          turn: fc.double({ min: 0, max: 6.28, noNaN: true }),
        }),
        ({ x, y, diameter, width, height, turn }) => {
          const line: Path = {
            closed: false,
            vertices: [
              { x, y, bulge: 0 },
              { x: x + 60 * Math.cos(turn), y: y + 60 * Math.sin(turn), bulge: 0 },
            ],
          };
          const place = largestPlace(
            { width, height },
            5,
            rectangle(100, 60),
            [roundHole({ x, y }, diameter)],
            [line],
          )!;
          const [a, b] = [(width / 2) * place.scale, (height / 2) * place.scale];
          const { x: cx, y: cy } = place.center;
          expect(Math.abs(cx) + a).toBeLessThan(50);
          expect(Math.abs(cy) + b).toBeLessThan(30);
          const dx = Math.max(Math.abs(x - cx) - a, 0);
          const dy = Math.max(Math.abs(y - cy) - b, 0);
          expect(Math.hypot(dx, dy)).toBeGreaterThan(diameter / 2);
          for (let k = 0; k <= 600; k++) {
            const u = Math.abs(x + (k / 10) * Math.cos(turn) - cx);
            const v = Math.abs(y + (k / 10) * Math.sin(turn) - cy);
            expect(u > a || v > b).toBe(true);
          }
        },
      ),
      { numRuns: 100, seed: 20 },
    );
  });
});

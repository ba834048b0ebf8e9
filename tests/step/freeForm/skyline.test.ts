/** The envelope factor: what it solves is what was asked, whatever the numbering and however many pieces there are. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { factorSkyline } from '../../../src/step/freeForm/skyline.ts';
import { between } from './patches.ts';

type Entry = [number, number, number];

/** A x, by the entries themselves. */
function times(entries: readonly Entry[], diagonal: Float64Array, x: Float64Array): Float64Array {
  const b = diagonal.map((d, i) => d * x[i]!);
  for (const [i, j, value] of entries) {
    b[i] = b[i]! + value * x[j]!;
    b[j] = b[j]! + value * x[i]!;
  }
  return b;
}

const worst = (a: Float64Array, b: Float64Array): number =>
  Math.max(...a.map((value, i) => Math.abs(value - b[i]!)));

describe('the envelope factor', () => {
  it('solves a ring with chords, twice from one factor', () => {
    const count = 40;
    const entries: Entry[] = [];
    for (let i = 0; i < count; i++) entries.push([i, (i + 1) % count, -1], [i, (i + 7) % count, -0.5]);
    // Diagonally dominant: positive definite.
    const diagonal = new Float64Array(count).fill(3.5);
    const factored = factorSkyline(count, entries, diagonal);
    for (const wave of [3, 5]) {
      const x = Float64Array.from({ length: count }, (_, i) => Math.sin(wave * i));
      const b = times(entries, diagonal, x);
      factored.solve(b);
      expect(worst(b, x)).toBeLessThan(1e-12);
    }
  });

  it('solves any dominant matrix, in one piece or several, with pairs given either way round', () => {
    const matrices = fc.integer({ min: 2, max: 25 }).chain((count) =>
      fc.record({
        count: fc.constant(count),
        pairs: fc.uniqueArray(
          fc.tuple(fc.nat(count - 1), fc.nat(count - 1)).filter(([i, j]) => i !== j),
          { maxLength: 3 * count, selector: ([i, j]) => `${Math.min(i, j)} ${Math.max(i, j)}` },
        ),
        values: fc.array(between(-2, 2), {
          minLength: 3 * count,
          maxLength: 3 * count,
        }),
        x: fc.array(between(-10, 10), { minLength: count, maxLength: count }),
      }),
    );
    fc.assert(
      fc.property(matrices, ({ count, pairs, values, x }) => {
        const entries = pairs.map(([i, j], k): Entry => [i, j, values[k]!]);
        const diagonal = new Float64Array(count).fill(0.5);
        for (const [i, j, value] of entries) {
          diagonal[i] = diagonal[i]! + Math.abs(value);
          diagonal[j] = diagonal[j]! + Math.abs(value);
        }
        const expected = Float64Array.from(x);
        const b = times(entries, diagonal, expected);
        factorSkyline(count, entries, diagonal).solve(b);
        expect(worst(b, expected)).toBeLessThan(1e-10);
      }),
      { seed: 41, numRuns: 100 },
    );
  });
});

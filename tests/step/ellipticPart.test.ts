/** A tub of elliptic plan, its wall one face all round: measured by the kernel, and unfolded. */
import { describe, expect, it } from 'vitest';
import { pathArea, pathBounds } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developPart } from '../../src/step/freeForm/developPart.ts';
import { areaOf, volumeOf } from '../../src/step/occt/measures.ts';
import { randomNumbers } from '../support/drawnTrays.ts';
import { ellipticBlock, ellipticTub } from './foreignParts.ts';
import { COARSE, GIVEN } from './given.ts';
import { occt, withLivePart } from './occt.ts';
import { writtenPart } from './parts.ts';

const T = 1;

describe('an elliptic plan', () => {
  it('is measured right by the kernel, all round in one face', async () => {
    const k = await occt();
    const random = randomNumbers(7);
    for (let i = 0; i < 6; i++) {
      const a = 30 + 100 * random();
      const [b, h] = [a * (0.4 + 0.59 * random()), 10 + 30 * random()];
      const block = ellipticBlock(k, [a, b, h]);
      let around = 0;
      const steps = 2000;
      // The trapezoidal rule over a period is exact to all figures here.
      for (let j = 0; j < steps; j++) {
        const p = (2 * Math.PI * j) / steps;
        around += (2 * Math.PI * Math.hypot(a * Math.sin(p), b * Math.cos(p))) / steps;
      }
      expect(volumeOf(k, block) / (Math.PI * a * b * h) - 1).toBeCloseTo(0, 6);
      expect(areaOf(k, block) / (2 * Math.PI * a * b + around * h) - 1).toBeCloseTo(0, 6);
    }
  });

  it('solves: the blank has the sheet of the part, and both its mirror lines', async () => {
    const bytes = await writtenPart((k) => ellipticTub(k, [60, 42, 20], 8, T));
    await withLivePart(bytes, (live) => {
      const { rim, report } = flatPatternOf(developPart(live, GIVEN, COARSE));
      const area = pathArea(rim);
      // Volume is kept: the blank, T thick, has the part's middle surface times its thickness once formed.
      const middle = live.part.volume / T;
      expect(T * area).toBeGreaterThan(report.thickness.min * middle);
      expect(T * area).toBeLessThan(report.thickness.max * middle);
      const { minX, minY, maxX, maxY } = pathBounds(rim);
      expect(Math.abs(minX + maxX)).toBeLessThan(0.1);
      expect(Math.abs(minY + maxY)).toBeLessThan(0.1);
      expect(maxX - minX).toBeGreaterThan(maxY - minY);
    });
  });
});

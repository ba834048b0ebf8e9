/**
 * The ramp against an independent way from its hex colours: sRGB → linear (IEC 61966-2-1) → OKLab with the
 * forward matrices of Ottosson (2020), and CIELAB lightness from relative luminance (CIE 15).
 */
import { describe, expect, it } from 'vitest';
import { linearRgb, rampColour, rampLab } from '../../src/drawing/ramp.ts';

const linearOf = (hex: string): [number, number, number] =>
  [1, 3, 5].map((i) => {
    const value = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];

function oklab([r, g, b]: [number, number, number]): [number, number, number] {
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

/** CIELAB L* of the grey a colour prints as. */
function lightness([r, g, b]: [number, number, number]): number {
  const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (24389 / 27) * y;
}

const STEPS = 40;
const colours = Array.from({ length: STEPS + 1 }, (_, i) => rampColour(i / STEPS));

describe('the ramp of gather', () => {
  it('gets darker all the way, in grey print too, over most of the range of greys', () => {
    const greys = colours.map((hex) => lightness(linearOf(hex)));
    for (let i = 1; i < greys.length; i++) expect(greys[i]!, `step ${i}`).toBeLessThan(greys[i - 1]! - 0.8);
    expect(greys[0]! - greys.at(-1)!).toBeGreaterThan(75);
  });

  it('takes equal steps to the eye', () => {
    const labs = colours.map((hex) => oklab(linearOf(hex)));
    const steps = labs
      .slice(1)
      .map((lab, i) => Math.hypot(lab[0] - labs[i]![0], lab[1] - labs[i]![1], lab[2] - labs[i]![2]));
    const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
    // Eight bits a channel move a colour by up to a quarter of a step.
    for (const [i, step] of steps.entries()) {
      expect(step / mean, `step ${i}`).toBeGreaterThan(0.75);
      expect(step / mean, `step ${i}`).toBeLessThan(1.25);
    }
  });

  it('has only colours a screen has', () => {
    for (let i = 0; i <= 200; i++) {
      for (const channel of linearRgb(rampLab(i / 200))) {
        expect(channel, `at ${i / 200}`).toBeGreaterThan(-1e-4);
        expect(channel, `at ${i / 200}`).toBeLessThan(1.0001);
      }
    }
  });

  it('holds its ends', () => {
    expect(rampColour(-1)).toBe(rampColour(0));
    expect(rampColour(7)).toBe(rampColour(1));
  });
});

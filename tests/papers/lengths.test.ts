/** Lengths as text: mm, decimal inches, fractions of an inch down to 1/64. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthText, sizeText, withUnit } from '../../src/papers/lengths.ts';

describe('lengths', () => {
  it('are written as a rule shows them', () => {
    expect(lengthText(381.44, 'mm')).toBe('381.4');
    expect(lengthText(25.4, 'inch')).toBe('1.00″');
    expect(lengthText(25.4, 'fraction')).toBe('1″');
    expect(lengthText(12.7, 'fraction')).toBe('1/2″');
    expect(lengthText((1 + 33 / 64) * 25.4, 'fraction')).toBe('1\u00a033/64″');
    expect(lengthText(-6.35, 'fraction')).toBe('-1/4″');
    expect(lengthText(0.1, 'fraction')).toBe('0″');
    // A fraction would hide what a thickness or a sagitta has to show.
    expect(lengthText(0.8, 'fraction', 2)).toBe('0.031″');
    expect(lengthText(0.667, 'fraction', 3)).toBe('0.0263″');
    expect(lengthText(-0.01, 'mm')).toBe('0.0');
    expect(sizeText(300, 200, 'mm', 0)).toBe('300 × 200\u00a0mm');
    expect(withUnit(50.8, 'fraction')).toBe('2″');
  });

  it('in fractions are within half of 1/64 inch, in lowest terms', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 3000, noNaN: true }), (mm) => {
        const text = lengthText(mm, 'fraction');
        const [, whole, over, under] = /^(?:(\d+)(?:\u00a0|″))?(?:(\d+)\/(\d+)″)?$/.exec(text)!;
        const inches = Number(whole ?? 0) + (over === undefined ? 0 : Number(over) / Number(under));
        expect(Math.abs(inches - mm / 25.4)).toBeLessThanOrEqual(0.5 / 64 + 1e-12);
        if (over !== undefined) expect(Number(over) % 2).toBe(1);
      }),
    );
  });
});

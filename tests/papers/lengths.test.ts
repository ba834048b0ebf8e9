/** Lengths as text: mm, decimal inches, fractions of an inch down to 1/64. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthText, roundText, sizeText, withUnit } from '../../src/papers/lengths.ts';

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

  it('of rules of thumb are round in every unit, and hardly another length', () => {
    expect([20, 0.5].map((mm) => roundText(mm, 'mm'))).toEqual(['20\u00a0mm', '0.5\u00a0mm']);
    const lengths = [0.5, 1, 2, 3, 5, 15, 20, 40];
    expect(lengths.map((mm) => roundText(mm, 'inch'))).toEqual(
      ['0.02', '0.04', '0.08', '0.12', '0.2', '0.6', '0.8', '1.6'].map((inches) => `${inches}″`),
    );
    // A workshop rule has 1/64 at the finest: 0.5 and 1 mm are the nearest ones.
    expect(lengths.map((mm) => roundText(mm, 'fraction'))).toEqual(
      ['1/64', '3/64', '5/64', '1/8', '3/16', '5/8', '3/4', '1\u00a01/2'].map((inches) => `${inches}″`),
    );
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

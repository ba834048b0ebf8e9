/** Comparing numbers with a tolerance that has a name and a reason; a failure shows all the figures. */
import { expect } from 'vitest';

/** How far two numbers may differ: the larger of the absolute and the relative allowance. */
export interface Tolerance {
  /** Why this much, in a few words; shown when a check fails. */
  readonly why: string;
  /** In the unit of the numbers. */
  readonly absolute?: number;
  /** Of the expected number. */
  readonly relative?: number;
}

/** Same arithmetic in another order. */
export const ROUNDING: Tolerance = { why: 'rounding', absolute: 1e-12, relative: 1e-12 };

/** Two equilibria, each found to a relative residual of 1e-8. */
export const RESIDUAL: Tolerance = { why: 'Newton stops at 1e-8', relative: 1e-6 };

/** What a rim at default settings may be off, mm. */
export const OUTLINE: Tolerance = { why: 'default accuracy of the outline', absolute: 0.05 };

/** A mesh two refinements finer than the default one. */
export const FINE_MESH: Tolerance = { why: 'mesh error of a fine solve', relative: 5e-4 };

/** A value given with so many decimals. */
export const printed = (decimals: number): Tolerance => ({
  why: `printed with ${decimals} decimals`,
  absolute: 0.5001 * 10 ** -decimals,
});

/** Fails, with the figures, unless `actual` is within the tolerance of `expected`. NaN always fails. */
export function closeTo(actual: number, expected: number, tolerance: Tolerance, what: string): void {
  const allowed = Math.max(tolerance.absolute ?? 0, (tolerance.relative ?? 0) * Math.abs(expected));
  const off = Math.abs(actual - expected);
  if (off <= allowed) {
    expect(off).toBeLessThanOrEqual(allowed);
    return;
  }
  expect.fail(
    `${what}: ${actual} instead of ${expected}, off by ${off.toExponential(3)}; ` +
      `allowed ${allowed.toExponential(3)} (${tolerance.why})`,
  );
}

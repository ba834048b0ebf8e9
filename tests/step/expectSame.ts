import { expect } from 'vitest';

/** Every number within 1e-6, everything else the same. */
export function expectSame(actual: unknown, expected: unknown, path = ''): void {
  if (typeof expected === 'number') {
    expect(
      Math.abs((actual as number) - expected),
      `${path}: ${String(actual)} for ${expected}`,
    ).toBeLessThanOrEqual(1.01e-6);
  } else if (typeof expected === 'object' && expected !== null) {
    expect(Object.keys(actual as object).sort(), path).toEqual(Object.keys(expected).sort());
    for (const [key, value] of Object.entries(expected)) {
      expectSame((actual as Record<string, unknown>)[key], value, `${path}.${key}`);
    }
  } else expect(actual, path).toBe(expected);
}

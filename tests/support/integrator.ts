/**
 * Ordinary differential equations by an adaptive Runge–Kutta pair, and a bracketing root finder; shares no
 * code with the solver.
 *
 * Source of the coefficients: J. R. Dormand and P. J. Prince, "A family of embedded Runge–Kutta formulae",
 * J. Computational and Applied Mathematics 6 (1980) 19–26, pair 5(4).
 */

/** y' = f(x, y). */
export type Derivative = (x: number, y: readonly number[]) => number[];

const NODES = [0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1, 1] as const;
const STAGES: readonly (readonly number[])[] = [
  [],
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
const FIFTH = [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84, 0] as const;
const FOURTH = [5179 / 57600, 0, 7571 / 16695, 393 / 640, -92097 / 339200, 187 / 2100, 1 / 40] as const;

/**
 * y at `to`, or null when the step shrinks to nothing or y stops being a number on the way.
 *
 * @param tolerance error per step, relative to |y| + 1
 */
export function integrate(
  derivative: Derivative,
  from: number,
  to: number,
  start: readonly number[],
  tolerance = 1e-11,
): number[] | null {
  let x = from;
  let y = [...start];
  let step = (to - from) / 50;
  const smallest = 1e-13 * (to - from);
  while (x < to) {
    if (step < smallest) return null;
    step = Math.min(step, to - x);
    const slopes: number[][] = [];
    for (let stage = 0; stage < 7; stage++) {
      const at = y.map(
        (value, i) =>
          value + step * STAGES[stage]!.reduce((sum, weight, k) => sum + weight * slopes[k]![i]!, 0),
      );
      slopes.push(derivative(x + NODES[stage]! * step, at));
    }
    let error = 0;
    const next = y.map((value, i) => {
      let high = value;
      let difference = 0;
      for (let stage = 0; stage < 7; stage++) {
        high += step * FIFTH[stage]! * slopes[stage]![i]!;
        difference += step * (FIFTH[stage]! - FOURTH[stage]!) * slopes[stage]![i]!;
      }
      error = Math.max(error, Math.abs(difference) / (Math.abs(value) + 1) / tolerance);
      return high;
    });
    if (Number.isNaN(error) || next.some((value) => !Number.isFinite(value))) {
      step /= 4;
      continue;
    }
    if (error <= 1) {
      x = x + step >= to - smallest ? to : x + step;
      y = next;
    }
    step *= Math.min(4, Math.max(0.2, 0.9 * (error + 1e-12) ** -0.2));
  }
  return y;
}

/**
 * Bisects until f changes sign within 1e-14: the last two points, f not positive at the first.
 *
 * Without a change of sign the two points come back as they are.
 */
export function bracket(f: (x: number) => number, low: number, high: number): readonly [number, number] {
  if (f(low) > 0 || !(f(high) > 0)) return [low, high];
  let a = low;
  let b = high;
  while (b - a > 1e-14 * Math.max(1, Math.abs(b))) {
    const middle = (a + b) / 2;
    if (middle === a || middle === b) break;
    if (f(middle) > 0) b = middle;
    else a = middle;
  }
  return [a, b];
}

/** The eight coefficients of a yield function from what a tensile test and a bulge test say of a sheet. */
import { pow } from '../elementary.ts';
import {
  type YieldCoefficients,
  type YieldExponent,
  type YieldFunction,
  yieldFunction,
  yieldGradient,
  yieldStress,
} from './yieldFunction.ts';

/** A pull at an angle from the rolling direction, or equal pulls both ways. */
export interface Test {
  /** Radians from the rolling direction; null for balanced biaxial tension. */
  readonly angle: number | null;
  /** Yield stress over that along the rolling direction. */
  readonly strength: number;
  /** Strain across over strain through the thickness; for equal pulls ε22/ε11. */
  readonly r: number;
}

/** What a yield function says of a test. */
export function testOf(f: YieldFunction, angle: number | null): { strength: number; r: number } {
  if (angle === null) {
    const [e11, e22] = yieldGradient(f, 1, 1, 0);
    return { strength: 1 / yieldStress(f, 1, 1, 0), r: e22 / e11 };
  }
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const [e11, e22, shear] = yieldGradient(f, c * c, s * s, c * s);
  const across = e11 * s * s + e22 * c * c - shear * c * s;
  return { strength: 1 / yieldStress(f, c * c, s * s, c * s), r: -across / (e11 + e22) };
}

/**
 * Balanced biaxial strength over the uniaxial one of a sheet with the same r in every direction:
 * ((1 + r)/2)^(1/a). Source: W. F. Hosford, "On yield loci of anisotropic cubic metals", Proc. 7th North American
 * Metalworking Research Conference (1979) 191–196, σ1^a + σ2^a + r·|σ1 − σ2|^a = (1 + r)·σ̄^a.
 */
export const biaxialStrength = (exponent: YieldExponent, r: number): number => pow((1 + r) / 2, 1 / exponent);

/** The coefficients with which the function is Hosford's for one r in every direction. */
export function normalAnisotropy(exponent: YieldExponent, r: number): YieldCoefficients {
  const apart = pow((2 * r) / (1 + r), 1 / exponent);
  const alone = pow(2 / (1 + r), 1 / exponent);
  return [apart, apart, alone, alone, alone, alone, apart, alone];
}

export interface YieldFit {
  readonly function: YieldFunction;
  /** What the function says of each test, in the order given. */
  readonly tests: readonly Test[];
  /** Largest of |Δ ln strength| and |Δ r/(1 + r)| over the tests: 0 but for rounding where a function has them all. */
  readonly misfit: number;
  /**
   * How far from the even sheet of the mean r to the tests the function lies, 0 to 1: less than 1 where no sound function
   * has them, and then it has what lies there on the way.
   */
  readonly share: number;
}

/**
 * The function that gives up to four tests back: over ln strength and r/(1 + r), the share of a pull's strain that goes
 * across, by Levenberg's and Marquardt's damped Newton method, in strides from the function of the mean r. More tests than
 * eight coefficients can meet are met in the sense of least squares.
 *
 * @param r the sheet's mean r
 */
export function fitYieldFunction(exponent: YieldExponent, r: number, tests: readonly Test[]): YieldFit {
  const even = normalAnisotropy(exponent, r);
  const make = (a: readonly number[]): YieldFunction => yieldFunction(exponent, a as YieldCoefficients);
  const figures = (a: readonly number[]): number[] => {
    const f = make(a);
    return tests.flatMap(({ angle }) => {
      const found = testOf(f, angle);
      return [Math.log(found.strength), found.r / (1 + found.r)];
    });
  };
  const wanted = tests.flatMap(({ strength, r: across }) => [Math.log(strength), across / (1 + across)]);
  const fitOf = (alpha: readonly number[], share: number): YieldFit => {
    const f = make(alpha);
    return {
      function: f,
      tests: tests.map(({ angle }) => ({ angle, ...testOf(f, angle) })),
      misfit: Math.max(...figures(alpha).map((value, k) => Math.abs(value - wanted[k]!))),
      share,
    };
  };
  if (2 * tests.length > even.length) return fitOf(leastSquares(figures, even, wanted).x, 1);
  const from = figures(even);
  let alpha: readonly number[] = even;
  let share = 0;
  for (let stride = 1; share < 1 && stride > SHORTEST_STRIDE; ) {
    const next = Math.min(1, share + stride);
    const target = from.map((value, k) => value + next * (wanted[k]! - value));
    const found = leastSquares(figures, alpha, target);
    if (found.misfit < MET && isSound(found.x, even)) {
      alpha = found.x;
      share = next;
    } else {
      stride /= 2;
    }
  }
  return fitOf(alpha, share);
}

/** Misfit at which tests count as met. */
const MET = 1e-9;
const SHORTEST_STRIDE = 1 / 32;
/**
 * Where tests come near to what no function has, a coefficient goes to nothing, and with it the curvature of the
 * function: no tray of such a sheet would be solved.
 */
const LEAST_SHARE = 0.4;
const isSound = (alpha: readonly number[], even: readonly number[]): boolean =>
  alpha.every((value, k) => value > LEAST_SHARE * even[k]!);

const MOST_STEPS = 60;
const DIFFERENCE = 1e-6;

/** The x near `start` for which `figures` come nearest to `target`. */
function leastSquares(
  figures: (x: readonly number[]) => number[],
  start: readonly number[],
  target: readonly number[],
): { x: readonly number[]; misfit: number } {
  const off = (x: readonly number[]): number[] => figures(x).map((value, k) => value - target[k]!);
  const squares = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value * value, 0);
  let x = start;
  let residual = off(x);
  let damping = 1e-4;
  for (let step = 0; step < MOST_STEPS && Math.sqrt(squares(residual)) > 1e-13 && damping < 1e6; step++) {
    const columns = x.map((_, k) => {
      const at = (by: number): number[] => figures(x.map((value, i) => (i === k ? value + by : value)));
      const low = at(-DIFFERENCE);
      return at(DIFFERENCE).map((value, i) => (value - low[i]!) / (2 * DIFFERENCE));
    });
    const product = (a: readonly number[], b: readonly number[]): number =>
      a.reduce((sum, value, i) => sum + value * b[i]!, 0);
    const normal = columns.map((a) => columns.map((b) => product(a, b)));
    const right = columns.map((a) => -product(a, residual));
    for (; damping < 1e6; damping *= 10) {
      const move = solve(
        normal.map((row, i) => row.map((value, j) => (i === j ? value + damping : value))),
        right,
      );
      const trial = x.map((value, i) => value + move[i]!);
      const left = off(trial);
      if (squares(left) < squares(residual)) {
        x = trial;
        residual = left;
        damping /= 100;
        break;
      }
    }
  }
  return { x, misfit: Math.max(...residual.map(Math.abs)) };
}

/** Gaussian elimination of a symmetric positive definite system. */
function solve(matrix: number[][], right: readonly number[]): number[] {
  const size = right.length;
  const x = [...right];
  for (let k = 0; k < size; k++) {
    for (let i = k + 1; i < size; i++) {
      const factor = matrix[i]![k]! / matrix[k]![k]!;
      for (let j = k; j < size; j++) matrix[i]![j] = matrix[i]![j]! - factor * matrix[k]![j]!;
      x[i] = x[i]! - factor * x[k]!;
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    for (let j = k + 1; j < size; j++) x[k] = x[k]! - matrix[k]![j]! * x[j]!;
    x[k] = x[k]! / matrix[k]![k]!;
  }
  return x;
}

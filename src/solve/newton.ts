/**
 * Newton's method for the equilibrium, with a line search that never lets a triangle turn over. Near the solution the
 * factors are kept as long as they serve, corrected by what the steps taken with them have shown.
 */
import { flowStress, type PlasticLaw, REST_SMOOTHING } from '../material/law.ts';
import { type Derivatives, EASED, EXACT, NONE } from './constitutive.ts';
import { Corrections, dot } from './corrections.ts';
import type { Equilibrium } from './system.ts';
import { refuseLate } from './timeLimit.ts';

export interface NewtonOptions {
  /** Out-of-balance force over the sum of magnitudes of element forces, in the Euclidean norm. */
  readonly tolerance: number;
  readonly maximumSteps: number;
  /** Largest move of a node, mm, in the last step of a flat that counts as solved; any when left out. */
  readonly largestMove?: number;
  /** Growth of the stress-free state per integration point, or null. */
  readonly growth: Float64Array | null;
  /** Asked between the steps: true when the equilibrium is not wanted any more. */
  readonly cancelled?: (() => boolean) | null;
}

/** That a solve was ended because nobody wants it any more. */
export class Cancelled extends Error {}

export interface NewtonResult {
  readonly converged: boolean;
  /** x y per node, mm. */
  readonly flat: Float64Array;
  /** Even hold over the base along x, along y and turning, N/mm³ per flat thickness; empty when nothing is pinned. */
  readonly hold: Float64Array;
  readonly residual: number;
  /** Steps with factors of their own; those repeated with old factors, at a fifth of the price, are not counted. */
  readonly steps: number;
}

/** Old factors go on serving as long as a step with them leaves no more of the residual than this. */
const KEEP_FACTORS = 0.8;
/**
 * They are not tried above this relative residual. Chosen with `KEEP_FACTORS` by the operations that 45 random trays took:
 * 0.05 took a fifth more, and with 1 nearly all such steps failed.
 */
const NEAR = 0.3;
/** The same where the law is a dual, whose tangent changes sooner: with 0.3 solves took a tenth longer. */
const NEAR_WITH_STRENGTHS = 0.05;
/** Most steps with one set of factors. */
const MOST_CORRECTIONS = 12;
const SMALLEST_STEP = 1 / 256;
/**
 * A whole step with new factors that leaves more of the force than this is held against half of it, where the law is a
 * dual: its tangent changes fast with the direction of strain, and whole steps overshoot.
 */
const OVERSHOT = 0.75;
/** The residual must fall at least to this share within so many steps, or there is no way down. */
const STAGNATION = 0.9;
const STAGNATION_STEPS = 15;
/**
 * Relative residual above which the derivatives are eased (see constitutive.ts), and the strain of that as a part of it.
 * Chosen by counting factorisations in random trays; a constant strain took a sixth more of them.
 */
const EASED_ABOVE = 0.02;
const EASED_SHARE = 0.04;

const derivativesAt = (residual: number): Derivatives =>
  residual > EASED_ABOVE ? Math.min(EASED, EASED_SHARE * residual) : EXACT;

/**
 * @param start x y per node, no triangle turned over; not changed
 * @throws GatherpanError TIMEOUT, see `timeLimit.ts`
 * @throws Cancelled
 */
export function newton(
  system: Equilibrium,
  law: PlasticLaw,
  start: Float64Array,
  options: NewtonOptions,
): NewtonResult {
  const { structure } = system;
  const { unknownCount } = structure;
  const { largestMove = Infinity } = options;
  const holdCount = structure.pinned.length;
  let flat: Float64Array = start.slice();
  let hold: Float64Array = new Float64Array(holdCount);
  let steps = 0;
  const finish = (converged: boolean, residual: number): NewtonResult => ({
    converged,
    flat,
    hold,
    residual,
    steps,
  });
  if (!system.assembler(system, law, flat, options.growth, EASED)) return finish(false, Infinity);
  let balance = balanceOf(system, law, hold);
  let norm = balance.force / balance.measure;
  let tangentIsHere = true;
  let haveFactors = false;
  const held: Float64Array[] = [];
  const corrections = new Corrections();
  const step = new Float64Array(unknownCount + holdCount);
  const alongUnknowns = step.subarray(0, unknownCount);
  const alongHolds = step.subarray(unknownCount);
  const history: number[] = [];
  let move = 0;
  while (!(norm <= options.tolerance && move <= largestMove)) {
    if (options.cancelled?.() === true) throw new Cancelled();
    refuseLate();
    if (steps >= options.maximumSteps) return finish(false, norm);
    if (!haveFactors) {
      if (!tangentIsHere) system.assembler(system, law, flat, options.growth, derivativesAt(norm));
      if (!system.factors.factorise()) return finish(false, norm);
      steps++;
      haveFactors = true;
      corrections.clear();
      held.length = 0;
      for (const { free } of system.holds) {
        const column = free.slice();
        system.factors.solve(column);
        held.push(column);
      }
    }
    tangentIsHere = false;
    for (let i = 0; i < unknownCount; i++) step[i] = -system.residual[i]!;
    for (let m = 0; m < holdCount; m++) {
      const { free } = system.holds[m]!;
      for (let i = 0; i < unknownCount; i++) step[i] = step[i]! - hold[m]! * free[i]!;
    }
    system.factors.solve(alongUnknowns);
    if (holdCount > 0) {
      const change = solveHolds(system, hold, held, alongUnknowns);
      if (change === null) return finish(false, norm);
      alongHolds.set(change);
    }
    const old = corrections.count > 0;
    corrections.apply(step);

    let accepted = false;
    const tried = (scale: number, derivatives: Derivatives): Tried | null => {
      const trial = moved(system, flat, alongUnknowns, scale);
      if (!system.assembler(system, law, trial, options.growth, derivatives)) return null;
      const trialHold = Float64Array.from(hold, (value, m) => value + scale * alongHolds[m]!);
      return { flat: trial, hold: trialHold, balance: balanceOf(system, law, trialHold) };
    };
    // Old factors that do not serve in full are replaced; new ones must lead down, if only a little.
    for (let scale = 1; scale >= (old ? 1 : SMALLEST_STEP); scale /= 2) {
      // The factors stay only beside a residual alone; far away the tangent is wanted next anyway.
      let near = norm < (law.dual === null ? NEAR : NEAR_WITH_STRENGTHS) && scale === 1;
      let after = tried(scale, near ? NONE : derivativesAt(norm));
      // The force itself, not its share: where a sheet only bends, the measure goes to nothing along with it.
      const limit = (old ? KEEP_FACTORS : 1 - 1e-3 * scale) * balance.force;
      if (after === null || !(after.balance.force < limit)) continue;
      if (law.dual !== null && !old && scale === 1 && after.balance.force > OVERSHOT * balance.force) {
        const half = tried(0.5, derivativesAt(norm));
        if (half !== null && half.balance.force < after.balance.force) {
          after = half;
          near = false;
        } else {
          after = tried(1, near ? NONE : derivativesAt(norm))!;
        }
      }
      if (largestMove < Infinity) move = largestDifference(flat, after.flat);
      ({ flat, hold, balance } = after);
      haveFactors = near && corrections.count < MOST_CORRECTIONS;
      if (haveFactors) corrections.add(step);
      tangentIsHere = !near;
      norm = balance.force / balance.measure;
      history.push(balance.force);
      accepted = true;
      break;
    }
    if (old && !accepted) {
      haveFactors = false;
      continue;
    }
    if (
      !accepted ||
      balance.force > STAGNATION * (history[history.length - 1 - STAGNATION_STEPS] ?? Infinity)
    ) {
      // Stalled at rounding, or no way down from here.
      return finish(norm <= options.tolerance || balance.force <= roundingForce(system, law), norm);
    }
  }
  return finish(true, norm);
}

interface Tried {
  readonly flat: Float64Array;
  readonly hold: Float64Array;
  readonly balance: Balance;
}

/** Change of the holds, and the part of the step that they cause (added to `step`). */
function solveHolds(
  system: Equilibrium,
  hold: Float64Array,
  held: readonly Float64Array[],
  step: Float64Array,
): Float64Array | null {
  const count = held.length;
  const matrix: number[][] = [];
  for (let p = 0; p < count; p++) {
    const row: number[] = [];
    let right = -system.pinnedResidual[p]!;
    for (let m = 0; m < count; m++) right -= hold[m]! * system.holds[m]!.pinned[p]!;
    right -= dot(system.pinnedRows[p]!, step);
    for (let m = 0; m < count; m++) {
      row.push(system.holds[m]!.pinned[p]! - dot(system.pinnedRows[p]!, held[m]!));
    }
    row.push(right);
    matrix.push(row);
  }
  const change = solveSmall(matrix);
  if (change === null) return null;
  for (let m = 0; m < count; m++) {
    for (let i = 0; i < step.length; i++) step[i] = step[i]! - change[m]! * held[m]![i]!;
  }
  return change;
}

/** Gaussian elimination with partial pivoting on a small augmented matrix. */
function solveSmall(matrix: number[][]): Float64Array | null {
  const size = matrix.length;
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let i = k + 1; i < size; i++) {
      if (Math.abs(matrix[i]![k]!) > Math.abs(matrix[best]![k]!)) best = i;
    }
    [matrix[k], matrix[best]] = [matrix[best]!, matrix[k]!];
    const pivot = matrix[k]![k]!;
    if (!(Math.abs(pivot) > 0)) return null;
    for (let i = k + 1; i < size; i++) {
      const factor = matrix[i]![k]! / pivot;
      for (let j = k; j <= size; j++) matrix[i]![j] = matrix[i]![j]! - factor * matrix[k]![j]!;
    }
  }
  const solution = new Float64Array(size);
  for (let k = size - 1; k >= 0; k--) {
    let sum = matrix[k]![size]!;
    for (let j = k + 1; j < size; j++) sum -= matrix[k]![j]! * solution[j]!;
    solution[k] = sum / matrix[k]![k]!;
  }
  return solution;
}

/** Largest difference of a coordinate, mm. */
function largestDifference(a: Float64Array, b: Float64Array): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!));
  return most;
}

/** Flat positions after a step along the unknowns. */
function moved(system: Equilibrium, flat: Float64Array, step: Float64Array, scale: number): Float64Array {
  const { direction } = system.geometry;
  const { unknownOf } = system.structure;
  const out = flat.slice();
  for (let node = 0; node < out.length / 2; node++) {
    const first = unknownOf[2 * node]!;
    const second = unknownOf[2 * node + 1]!;
    const a = first < 0 ? 0 : scale * step[first]!;
    const b = second < 0 ? 0 : scale * step[second]!;
    const c = direction[2 * node]!;
    const s = direction[2 * node + 1]!;
    out[2 * node] = out[2 * node]! + c * a - s * b;
    out[2 * node + 1] = out[2 * node + 1]! + s * a + c * b;
  }
  return out;
}

/** Out-of-balance force, and what it is measured by to say how far from equilibrium that is. */
interface Balance {
  /** Euclidean norm of the out-of-balance forces. */
  readonly force: number;
  /**
   * Norm of the element forces' magnitudes. Where a tray has no strain at all (a trough) those vanish as well; a
   * thousandth of the forces at yield is then the measure.
   */
  readonly measure: number;
}

function balanceOf(system: Equilibrium, law: PlasticLaw, hold: Float64Array): Balance {
  const { residual, pinnedResidual, magnitude, holds } = system;
  const atYield = 1e-3 * system.unitMagnitude * flowStress(law, REST_SMOOTHING);
  let square = 0;
  let scale = 0;
  for (let i = 0; i < residual.length; i++) {
    let value = residual[i]!;
    for (let m = 0; m < holds.length; m++) value += hold[m]! * holds[m]!.free[i]!;
    square += value * value;
    scale += magnitude[i]! * magnitude[i]!;
  }
  for (let p = 0; p < pinnedResidual.length; p++) {
    let value = pinnedResidual[p]!;
    for (let m = 0; m < holds.length; m++) value += hold[m]! * holds[m]!.pinned[p]!;
    square += value * value;
    scale += magnitude[residual.length + p]! ** 2;
  }
  return { force: Math.sqrt(square), measure: Math.max(Math.sqrt(scale), atYield) };
}

/**
 * Force below which nothing is left but rounding. It counts where a sheet only bends: at rest it is as stiff as its
 * flow stress over the smoothing, and no other forces are there to measure by.
 */
const roundingForce = (system: Equilibrium, law: PlasticLaw): number =>
  (system.unitRounding * flowStress(law, REST_SMOOTHING)) / REST_SMOOTHING;

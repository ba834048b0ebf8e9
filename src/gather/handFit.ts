/**
 * The hand of a person from what was measured on one trial corner.
 *
 * Every measurement gives one equation, predicted(hand, spread) = measured (`trial.ts`). One unknown is found by
 * bracketing and bisection with a closing secant; with several measurements the weighted squares of the misfits
 * are made least (Gauss and Newton), over the hand alone or, where the measurements tell the two apart, over hand
 * and spread. The uncertainty is that of the measuring errors carried through the derivatives: the covariance is
 * the inverse of the weighted normal matrix (least squares, any textbook of data analysis).
 */
import { GatherpanError, isUnsolved } from '../errors.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words as spoken } from '../words/language.ts';
import { type Statement, statement } from '../words/statement.ts';
import { handOf } from './hand.ts';
import type { Measurements } from './measurements.ts';
import { type CornerPlace, type MarkPair, type Trial, TrialCorner } from './trial.ts';
import { resolvedTrim } from './trimBand.ts';

/** A fitted value and one standard error. */
export interface Estimate {
  readonly value: number;
  readonly error: number;
}

export interface HandFit {
  readonly hand: Estimate;
  /** Per cent; null when the measurements do not tell it apart and the tray file's was kept. */
  readonly spread: Estimate | null;
  /** The sheet's own hand and the one the blank was cut for. */
  readonly blankHand: number;
  /** Each measurement with what the fit predicts for it. */
  readonly measurements: readonly {
    readonly what: string;
    readonly measured: number;
    readonly predicted: number;
    readonly error: number;
  }[];
  readonly sentences: readonly Statement[];
}

/** Hands between which the fit looks; beyond them the law is at its end (`hand.ts`). */
const RANGE = [0.01, 0.95] as const;
/** Hands tried first. */
const SCAN = [0.01, 0.25, 0.5, 0.75, 0.95];
/** A misfit of more than this many measuring errors is no accident. */
const MOST_ERRORS = 3;
/** Both unknowns are given only when their errors stay below these: hand, and per cent of area. */
const HAND_RESOLVED = 0.2;
const SPREAD_RESOLVED = 5;
const MOST_CORRELATION = 0.98;
const SPREAD_RANGE = [0, 50] as const;

interface Equation {
  readonly what: string;
  readonly measured: number;
  readonly error: number;
  readonly predict: (trial: Trial) => number;
}

/**
 * Finds the hand.
 *
 * @param given the tray file with which the blank was cut
 * @throws GatherpanError BAD_INPUT when no hand gives what was measured, or there is no such corner; NOT_SOLVED
 */
export function fitHand(given: TraySpec, measurements: Measurements): HandFit {
  const { spec } = resolvedTrim(given);
  const corner = new TrialCorner(spec, measurements.corner);
  const equations = equationsOf(measurements);
  const kept = spec.forming.spread ?? 0;
  const misfits = (hand: number, spread: number): number[] => {
    const trial = corner.worked(hand, spread);
    return equations.map(({ predict, measured, error }) => (predict(trial) - measured) / error);
  };
  let unsolved: unknown;
  const scan = SCAN.flatMap((hand) => {
    try {
      return [{ hand, misfit: misfits(hand, kept) }];
    } catch (error) {
      // At an end of the range the tray may have no flat, which says nothing of the hands between.
      if (!isUnsolved(error)) throw error;
      unsolved = error;
      return [];
    }
  });
  if (scan.length === 0) throw unsolved;
  const alone = fitHandAlone(scan, (hand) => misfits(hand, kept));
  const both = equations.length > 1 ? fitBoth(alone.hand, kept, misfits) : null;
  const [hand, spread] = both === null ? [alone.hand, kept] : [both.hand.value, both.spread.value];
  const final = both === null ? alone.misfit : both.misfit;
  refuseImpossible(equations, final, scan);
  const fitted: Estimate = both === null ? { value: alone.hand, error: alone.error } : both.hand;
  return {
    hand: fitted,
    spread: both === null ? null : both.spread,
    blankHand: handOf(spec, corner.sheet.material),
    measurements: equations.map(({ what, measured, error }, i) => ({
      what,
      measured,
      predicted: measured + final[i]! * error,
      error,
    })),
    sentences: sentences(fitted, both?.spread ?? null, kept, hand, spread),
  };
}

function equationsOf({ rimHeight, rimThickness, marks }: Measurements): Equation[] {
  const out: Equation[] = [];
  const height = (what: string, place: CornerPlace, measured: number): void => {
    out.push({ what, measured, error: rimHeight!.error, predict: (trial) => trial.rimHeight(place) });
  };
  if (rimHeight?.middle !== undefined) height('rimHeight.middle', 'middle', rimHeight.middle);
  for (const place of ['start', 'end'] as const) {
    const measured = rimHeight?.[place];
    if (measured !== undefined) height(`rimHeight.${place}`, place, measured);
  }
  if (rimThickness !== undefined) {
    const { middle, error } = rimThickness;
    out.push({ what: 'rimThickness.middle', measured: middle, error, predict: (t) => t.rimThickness() });
  }
  for (const [i, { after, error, ...pair }] of (marks ?? []).entries()) {
    const at: MarkPair = pair;
    out.push({ what: `marks.${i}.after`, measured: after, error, predict: (t) => t.markDistance(at) });
  }
  return out;
}

const square = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0);

/** Least squares over the hand alone: Gauss–Newton from the best hand of the scan, kept between its neighbours. */
function fitHandAlone(
  scan: readonly { hand: number; misfit: readonly number[] }[],
  misfits: (hand: number) => number[],
): { hand: number; error: number; misfit: readonly number[] } {
  let best = 0;
  for (let i = 1; i < scan.length; i++) if (square(scan[i]!.misfit) < square(scan[best]!.misfit)) best = i;
  let low = scan[Math.max(0, best - 1)]!.hand;
  let high = scan[Math.min(scan.length - 1, best + 1)]!.hand;
  let hand = scan[best]!.hand;
  let misfit: readonly number[] = scan[best]!.misfit;
  let slope: number[] = [];
  for (let step = 0; step < 20; step++) {
    const near = hand + DIFFERENCE > RANGE[1] ? hand - DIFFERENCE : hand + DIFFERENCE;
    slope = misfits(near).map((value, i) => (value - misfit[i]!) / (near - hand));
    const gradient = slope.reduce((sum, value, i) => sum + value * misfit[i]!, 0);
    if (gradient > 0) high = Math.min(high, hand);
    else low = Math.max(low, hand);
    let next = hand - gradient / square(slope);
    if (!(next >= low && next <= high)) next = (low + high) / 2;
    const moved = Math.abs(next - hand);
    if (moved < HAND_TOLERANCE) break;
    hand = next;
    misfit = misfits(hand);
  }
  return { hand, error: 1 / Math.sqrt(square(slope)), misfit };
}

/** Step of the difference quotients, in hand and in per cent of spread. */
const DIFFERENCE = 0.005;
const SPREAD_DIFFERENCE = 0.25;
const HAND_TOLERANCE = 1e-4;

interface Both {
  readonly hand: Estimate;
  readonly spread: Estimate;
  readonly misfit: readonly number[];
}

/** Least squares over hand and spread, or null where the measurements do not tell them apart. */
function fitBoth(
  startHand: number,
  startSpread: number,
  misfits: (hand: number, spread: number) => number[],
): Both | null {
  let hand = Math.min(startHand, RANGE[1] - 2 * DIFFERENCE);
  let spread = startSpread;
  let misfit = misfits(hand, spread);
  for (let step = 0; step < 15; step++) {
    const byHand = misfits(hand + DIFFERENCE, spread).map((value, i) => (value - misfit[i]!) / DIFFERENCE);
    const bySpread = misfits(hand, spread + SPREAD_DIFFERENCE).map(
      (value, i) => (value - misfit[i]!) / SPREAD_DIFFERENCE,
    );
    const a = square(byHand);
    const c = square(bySpread);
    const b = byHand.reduce((sum, value, i) => sum + value * bySpread[i]!, 0);
    const det = a * c - b * b;
    const correlation = Math.abs(b) / Math.sqrt(a * c);
    const errors = [Math.sqrt(c / det), Math.sqrt(a / det)] as const;
    // Judged where the fit begins: a far-off start must not be mistaken for a fit.
    if (!(correlation < MOST_CORRELATION && errors[0] < HAND_RESOLVED && errors[1] < SPREAD_RESOLVED))
      return null;
    const g = byHand.reduce((sum, value, i) => sum + value * misfit[i]!, 0);
    const h = bySpread.reduce((sum, value, i) => sum + value * misfit[i]!, 0);
    const nextHand = clamp(hand - (c * g - b * h) / det, [RANGE[0], RANGE[1] - 2 * DIFFERENCE]);
    const nextSpread = clamp(spread - (a * h - b * g) / det, SPREAD_RANGE);
    const settled =
      Math.abs(nextHand - hand) < HAND_TOLERANCE && Math.abs(nextSpread - spread) < 100 * HAND_TOLERANCE;
    hand = nextHand;
    spread = nextSpread;
    misfit = misfits(hand, spread);
    if (settled) {
      return {
        hand: { value: hand, error: errors[0] },
        spread: { value: spread, error: errors[1] },
        misfit,
      };
    }
  }
  return null;
}

const clamp = (value: number, [low, high]: readonly [number, number]): number =>
  Math.min(high, Math.max(low, value));

/** Refuses a measurement that is farther from what the fit gives than its error can explain. */
function refuseImpossible(
  equations: readonly Equation[],
  misfit: readonly number[],
  scan: readonly { misfit: readonly number[] }[],
): void {
  const say = spoken().messages.gather;
  const faults = equations.flatMap(({ what, measured, error }, i) => {
    if (Math.abs(misfit[i]!) <= MOST_ERRORS) return [];
    const values = scan.map((each) => measured + each.misfit[i]! * error);
    const low = Math.min(...values);
    const high = Math.max(...values);
    const outside = measured < low - MOST_ERRORS * error || measured > high + MOST_ERRORS * error;
    const [found, wanted] = [String(measured), (measured + misfit[i]! * error).toFixed(2)];
    const message = outside
      ? say.beyondAnyHand(what, found, low.toFixed(2), high.toFixed(2))
      : say.againstTheOthers(what, found, wanted);
    return [{ path: what, message }];
  });
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults);
}

function sentences(
  fitted: Estimate,
  spreadFit: Estimate | null,
  kept: number,
  hand: number,
  spread: number,
): Statement[] {
  const percent = (100 * fitted.value).toFixed(0);
  const found = statement('hand.found', fitted.value.toFixed(2), fitted.error.toFixed(2), percent);
  if (spreadFit !== null) {
    return [
      found,
      statement('hand.spread', spreadFit.value.toFixed(1), spreadFit.error.toFixed(1)),
      statement('hand.forFile', `"forming": { "hand": ${hand.toFixed(3)}, "spread": ${spread.toFixed(1)} }`),
    ];
  }
  return [
    found,
    kept === 0 ? statement('hand.noSpread') : statement('hand.spreadKept', String(kept)),
    statement('hand.forFile', `"forming": { "hand": ${hand.toFixed(3)} }`),
  ];
}

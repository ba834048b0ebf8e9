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
import { lengthText } from '../tray/checks.ts';
import type { Units } from '../tray/fields.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words as spoken } from '../words/language.ts';
import { type Statement, statement } from '../words/statement.ts';
import { handOf } from './hand.ts';
import { type Measurements, MICROMETER_ERROR, RULE_ERROR } from './measurements.ts';
import { type CornerPlace, type MarkPair, type Trial, TrialCorner } from './trial.ts';
import { resolvedTrim } from './trimBand.ts';

/** Standard errors to each side that hold 95 of 100 of a normal distribution. */
const NINETY_FIVE = 1.96;

const estimate = (value: number, error: number, [least, most]: readonly [number, number]): Estimate => ({
  value,
  error,
  low: Math.max(least, value - NINETY_FIVE * error),
  high: Math.min(most, value + NINETY_FIVE * error),
});

/** A fitted value, one standard error, and the interval that holds the truth in 95 of 100 such trials. */
export interface Estimate {
  readonly value: number;
  readonly error: number;
  readonly low: number;
  readonly high: number;
}

/** A measurement that has not been taken, and the standard error of the hand with it. */
export interface NextMeasurement {
  readonly what: 'rimHeight.middle' | 'rimHeight.start' | 'rimHeight.end' | 'rimThickness.middle';
  readonly error: number;
}

export interface HandFit {
  readonly hand: Estimate;
  /** Per cent; null when the measurements do not tell it apart and the tray file's was kept. */
  readonly spread: Estimate | null;
  /** The one the blank was cut for. */
  readonly blankHand: number;
  /** What is still to be measured and would tell most; null where all has been. */
  readonly next: NextMeasurement | null;
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
/** A misfit of more than this many measuring errors is no accident: three come once in some hundred trials. */
const MOST_ERRORS = 4;
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
  return fitTrial(spec, new TrialCorner(spec, measurements.corner), measurements);
}

/** The same, of a corner whose trials are at hand. */
export function fitTrial(
  spec: TraySpec,
  corner: Pick<TrialCorner, 'worked' | 'sheet'>,
  measurements: Measurements,
): HandFit {
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
  refuseImpossible(equations, final, scan, spec.shownIn ?? 'mm');
  const fitted: Estimate = both === null ? estimate(alone.hand, alone.error, [0, 1]) : both.hand;
  const blankHand = handOf(spec, corner.sheet.material);
  const next = nextMeasurement(corner, measurements, equations, [hand, spread], fitted.error);
  return {
    hand: fitted,
    spread: both === null ? null : both.spread,
    blankHand,
    next,
    measurements: equations.map(({ what, measured, error }, i) => ({
      what,
      measured,
      predicted: measured + final[i]! * error,
      error,
    })),
    sentences: sentences(fitted, both?.spread ?? null, kept, blankHand, next),
  };
}

function equationsOf({ rimHeight, rimThickness, marks }: Measurements): Equation[] {
  const out: Equation[] = [];
  const height = (what: string, place: CornerPlace, measured: number): void => {
    const { error, from } = rimHeight!;
    out.push({ what, measured, error, predict: (trial) => trial.rimHeight(place, from) });
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
    // Judged where the fit begins: a far-off start must not be mistaken for a fit.
    const { errors, toldApart } = resolution(byHand.map((value, i) => [value, bySpread[i]!] as const));
    if (!toldApart) return null;
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
        hand: estimate(hand, errors[0], [0, 1]),
        spread: estimate(spread, errors[1], [0, Infinity]),
        misfit,
      };
    }
  }
  return null;
}

const clamp = (value: number, [low, high]: readonly [number, number]): number =>
  Math.min(high, Math.max(low, value));

/** What nobody measures more closely than. */
const hundredths = (mm: number): number => Math.round(100 * mm) / 100;

/** Refuses a measurement that is farther from what the fit gives than its error can explain. */
function refuseImpossible(
  equations: readonly Equation[],
  misfit: readonly number[],
  scan: readonly { misfit: readonly number[] }[],
  shownIn: Units,
): void {
  const say = spoken().messages.gather;
  const { exact } = lengthText(shownIn);
  const faults = equations.flatMap(({ what, measured, error }, i) => {
    if (Math.abs(misfit[i]!) <= MOST_ERRORS) return [];
    const values = scan.map((each) => measured + each.misfit[i]! * error);
    const low = Math.min(...values);
    const high = Math.max(...values);
    const outside = measured < low - MOST_ERRORS * error || measured > high + MOST_ERRORS * error;
    const [found, wanted] = [exact(measured), exact(hundredths(measured + misfit[i]! * error))];
    const message = outside
      ? say.beyondAnyHand(what, found, exact(hundredths(low)), exact(hundredths(high)))
      : say.againstTheOthers(what, found, wanted);
    return [{ path: what, message }];
  });
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults);
}

/** What may still be measured, with what it may be off (as `measurements.ts` has it). */
const MEASURABLE: readonly {
  readonly what: NextMeasurement['what'];
  readonly error: number;
  readonly predict: (trial: Trial) => number;
}[] = [
  ...(['middle', 'start', 'end'] as const).map((place) => ({
    what: `rimHeight.${place}` as const,
    error: RULE_ERROR,
    predict: (trial: Trial) => trial.rimHeight(place),
  })),
  { what: 'rimThickness.middle', error: MICROMETER_ERROR, predict: (trial) => trial.rimThickness() },
];

/** Of what has not been measured, that which makes the hand known best, by a fit of it and what has been measured. */
function nextMeasurement(
  corner: Pick<TrialCorner, 'worked'>,
  { rimHeight, rimThickness }: Measurements,
  equations: readonly Equation[],
  [hand, spread]: readonly [number, number],
  error: number,
): NextMeasurement | null {
  const taken = (what: string): boolean => {
    const [group, place] = what.split('.') as ['rimHeight' | 'rimThickness', CornerPlace];
    return group === 'rimThickness' ? rimThickness !== undefined : rimHeight?.[place] !== undefined;
  };
  const side = hand + DIFFERENCE > RANGE[1] ? -DIFFERENCE : DIFFERENCE;
  const here = corner.worked(hand, spread);
  const byHand = corner.worked(hand + side, spread);
  const bySpread = corner.worked(hand, spread + SPREAD_DIFFERENCE);
  const slopes = ({ predict, error: own }: Pick<Equation, 'predict' | 'error'>): [number, number] => [
    (predict(byHand) - predict(here)) / side / own,
    (predict(bySpread) - predict(here)) / SPREAD_DIFFERENCE / own,
  ];
  const known = equations.map(slopes);
  let best: NextMeasurement | null = null;
  for (const { what, ...measurable } of MEASURABLE) {
    if (taken(what)) continue;
    const { errors, toldApart } = resolution([...known, slopes(measurable)]);
    const after = toldApart ? errors[0] : errors[2];
    if (after < (best?.error ?? error)) best = { what, error: after };
  }
  return best;
}

/** What rows of slopes (by hand, by spread, over the measuring error) tell of both unknowns. */
function resolution(rows: readonly (readonly [number, number])[]): {
  /** Of hand and spread fitted together, and of the hand alone. */
  readonly errors: readonly [number, number, number];
  readonly toldApart: boolean;
} {
  const sum = (pick: (row: readonly [number, number]) => number): number =>
    rows.reduce((total, row) => total + pick(row), 0);
  const [a, b, c] = [sum(([x]) => x * x), sum(([x, y]) => x * y), sum(([, y]) => y * y)];
  const det = a * c - b * b;
  const errors = [Math.sqrt(c / det), Math.sqrt(a / det), 1 / Math.sqrt(a)] as const;
  const toldApart =
    Math.abs(b) / Math.sqrt(a * c) < MOST_CORRELATION &&
    errors[0] < HAND_RESOLVED &&
    errors[1] < SPREAD_RESOLVED;
  return { errors, toldApart };
}

function sentences(
  hand: Estimate,
  spread: Estimate | null,
  kept: number,
  blankHand: number,
  next: NextMeasurement | null,
): Statement[] {
  const percent = (share: number): string => (100 * share).toFixed(0);
  const off = hand.value - blankHand;
  const compared = hand.low <= blankHand && blankHand <= hand.high ? 'same' : off > 0 ? 'more' : 'less';
  return [
    statement(`hand.${compared}`, percent(hand.value), percent(blankHand)),
    statement('hand.found', hand.value.toFixed(2), percent(hand.low), percent(hand.high)),
    ...(spread !== null
      ? [statement('hand.spread', spread.value.toFixed(1), spread.low.toFixed(1), spread.high.toFixed(1))]
      : [kept === 0 ? statement('hand.noSpread') : statement('hand.spreadKept', String(kept))]),
    ...(next === null
      ? []
      : [
          statement(
            `hand.next.${NEXT[next.what]}`,
            (100 * hand.error).toFixed(0),
            (100 * next.error).toFixed(0),
          ),
        ]),
    statement(
      'hand.forFile',
      spread === null
        ? `"forming": { "hand": ${hand.value.toFixed(3)} }`
        : `"forming": { "hand": ${hand.value.toFixed(3)}, "spread": ${spread.value.toFixed(1)} }`,
    ),
  ];
}

const NEXT = {
  'rimHeight.middle': 'heightMiddle',
  'rimHeight.start': 'heightStart',
  'rimHeight.end': 'heightEnd',
  'rimThickness.middle': 'thickness',
} as const;

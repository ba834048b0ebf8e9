/** Lengths as a person reads them: millimetres, decimal inches, or inches with fractions down to 1/64. */

import type { TraySpec } from '../tray/spec.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import { asGiven, inMillimetres, type LengthWriter } from '../words/statement.ts';

/** How lengths are printed; inside everything stays in mm. */
export type LengthUnit = 'mm' | 'inch' | 'fraction';

export const LENGTH_UNITS: readonly LengthUnit[] = ['mm', 'inch', 'fraction'];

/** The unit in which a tray is shown when nobody asks for another. */
export const ownUnit = ({ shownIn }: Pick<TraySpec, 'shownIn'>): LengthUnit =>
  shownIn === 'in' ? 'inch' : 'mm';

/** Finest fraction of an inch on a workshop rule. */
const FINEST = 64;

/**
 * A length without its unit's name (inches carry their mark).
 *
 * @param mm       length, mm
 * @param decimals decimals of the mm; inches get one more, because a tenth of an inch is coarse; more than one keeps
 *                 a length from being rounded to a fraction
 */
export function lengthText(mm: number, unit: LengthUnit, decimals = 1): string {
  switch (unit) {
    case 'mm':
      return plus(mm.toFixed(decimals));
    case 'inch':
      return `${plus((mm / MILLIMETRES_PER_INCH).toFixed(decimals + 1))}″`;
    case 'fraction':
      // Thicknesses, gauge radii and sagittas are finer than any fraction.
      if (decimals > 1) return lengthText(mm, 'inch', decimals);
      return `${fraction(mm / MILLIMETRES_PER_INCH)}″`;
  }
}

/**
 * Decimals (of the mm) for lengths that somebody gave: none for whole mm on a paper in mm, otherwise one, because a
 * whole mm is no round number of inches.
 */
export const givenDecimals = (unit: LengthUnit, ...values: readonly number[]): number =>
  unit === 'mm' && values.every((value) => Math.abs(value - Math.round(value)) < 1e-9) ? 0 : 1;

/** Decimals of the mm with which a length is not rounded again: tenths of a mm, thousandths of an inch. */
export const fine = (unit: LengthUnit): number => (unit === 'mm' ? 1 : 2);

/** Two lengths as a size. */
export const sizeText = (a: number, b: number, unit: LengthUnit, decimals = 1): string =>
  `${lengthText(a, unit, decimals)} × ${lengthText(b, unit, decimals)}${unit === 'mm' ? '\u00a0mm' : ''}`;

/** A length with its unit. */
export const withUnit = (mm: number, unit: LengthUnit, decimals = 1): string =>
  `${lengthText(mm, unit, decimals)}${unit === 'mm' ? '\u00a0mm' : ''}`;

/** By how much a rule of thumb may be off where a unit has no round number, as a share. */
const THUMB = 0.1;
/** Decimals of an inch, and parts of one, that a round number has; the coarsest that is near enough. */
const ROUND_DECIMALS = [0, 1, 2];
const ROUND_PARTS = [1, 2, 4, 8, 16, 32];

/** A length of a rule of thumb with its unit: in mm as it is, in inches a round number near it. */
export function roundText(mm: number, unit: LengthUnit): string {
  if (unit === 'mm') return `${asGiven(mm)}\u00a0mm`;
  const inches = mm / MILLIMETRES_PER_INCH;
  const near = (round: number): boolean => Math.abs(round - inches) <= THUMB * inches;
  if (unit === 'inch') {
    const decimals = ROUND_DECIMALS.find((each) => near(Number(inches.toFixed(each)))) ?? 3;
    return `${inches.toFixed(decimals)}″`;
  }
  const parts = ROUND_PARTS.find((each) => near(Math.round(inches * each) / each)) ?? FINEST;
  return `${fraction(Math.round(inches * parts) / parts)}″`;
}

/** Writes the lengths in sentences. */
export const lengthWriter =
  (unit: LengthUnit): LengthWriter =>
  ({ mm, decimals, given }) =>
    unit === 'mm' && given === true ? `${asGiven(mm)}\u00a0mm` : withUnit(mm, unit, decimals);

/** Writes the lengths in sentences for a screen. */
export const writerOf = (unit: LengthUnit): LengthWriter =>
  unit === 'mm' ? inMillimetres : lengthWriter(unit);

/** The same in the unit in which a tray is shown. */
export const ownWriter = (tray: Pick<TraySpec, 'shownIn'>): LengthWriter => writerOf(ownUnit(tray));

/** Inches as whole number and fraction, rounded to 1/64 and in lowest terms: 1.515625 → `1 33/64`; no line breaks between. */
function fraction(inches: number): string {
  const parts = Math.round(Math.abs(inches) * FINEST);
  const sign = inches < 0 && parts > 0 ? '-' : '';
  const whole = Math.floor(parts / FINEST);
  let over = parts % FINEST;
  let under = FINEST;
  while (over > 0 && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  if (over === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${over}/${under}` : `${sign}${whole}\u00a0${over}/${under}`;
}

const plus = (text: string): string => (/^-0(\.0+)?$/.test(text) ? text.slice(1) : text);

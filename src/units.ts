/**
 * Conventions of the whole project, in one place.
 *
 * Lengths are mm, stresses N/mm² (MPa), areas mm², masses kg, times ms.
 * Angles are degrees where a person writes or reads them and radians everywhere inside.
 * The plan's x axis points right, y up, z towards the viewer (up, out of the base into the tray).
 * Closed outlines run counter-clockwise, holes clockwise.
 * Strains are logarithmic inside and per cent (engineering) on paper and screen; tension is positive.
 * "Flat" is the blank, "formed" is the finished tray; a stretch is formed length over flat length.
 */

/** One inch in mm, exact by definition (international yard and pound agreement, 1959). */
export const MILLIMETRES_PER_INCH = 25.4;

/** One foot of twelve inches in mm, exact. */
export const MILLIMETRES_PER_FOOT = 304.8;

/** mm of each unit of length that people draw and write in. */
export const MILLIMETRES = {
  mm: 1,
  cm: 10,
  dm: 100,
  m: 1000,
  in: MILLIMETRES_PER_INCH,
  ft: MILLIMETRES_PER_FOOT,
} as const;

/** One pound in kg, exact by definition (the same agreement). */
export const KILOGRAMS_PER_POUND = 0.45359237;

/** Degrees to radians. */
export const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Radians to degrees. */
export const degrees = (angle: number): number => (angle * 180) / Math.PI;

/** Logarithmic strain to engineering per cent: ln 1.1 → 10. */
export const percentFromLogStrain = (strain: number): number => 100 * Math.expm1(strain);

/** Engineering per cent to logarithmic strain: 10 → ln 1.1. */
export const logStrainFromPercent = (percent: number): number => Math.log1p(percent / 100);

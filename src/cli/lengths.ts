/** How a command writes the lengths of a tray: in the unit that the tray is shown in. */
import { type LengthUnit, lengthText, ownUnit, ownWriter } from '../papers/lengths.ts';
import type { TraySpec } from '../tray/spec.ts';
import { KILOGRAMS_PER_POUND, MILLIMETRES_PER_FOOT, MILLIMETRES_PER_INCH } from '../units.ts';
import type { Words } from '../words/english.ts';
import type { LengthWriter } from '../words/statement.ts';

export interface Lengths {
  readonly unit: LengthUnit;
  /** Those in sentences. */
  readonly sentence: LengthWriter;
  /** With its unit. @param decimals of the mm */
  readonly whole: (mm: number, decimals?: number) => string;
  /** Where one with its unit follows. */
  readonly bare: (mm: number, decimals?: number) => string;
  /** mm². */
  readonly blankArea: (area: number) => string;
  readonly zoneArea: (area: number) => string;
  /** kg. */
  readonly mass: (mass: number, decimals?: number) => string;
  /** Of a cut, mm. */
  readonly cut: (length: number, decimals?: number) => string;
}

export function lengthsOf(spec: Pick<TraySpec, 'shownIn'>, words: Words['terminal']): Lengths {
  const unit = ownUnit(spec);
  const bare = (mm: number, decimals = 1): string => lengthText(mm, unit, decimals);
  const common = { unit, sentence: ownWriter(spec), bare };
  if (unit === 'mm')
    return {
      ...common,
      whole: (mm, decimals) => `${bare(mm, decimals)} mm`,
      blankArea: (area) => words.squareMetres((area / 1e6).toFixed(4)),
      zoneArea: (area) => words.squareCentimetres((area / 100).toFixed(1)),
      mass: (mass, decimals = 3) => words.kilograms(mass.toFixed(decimals)),
      cut: (length, decimals = 3) => words.metres((length / 1000).toFixed(decimals)),
    };
  // Inches carry their mark.
  return {
    ...common,
    whole: bare,
    blankArea: (area) => words.squareFeet((area / MILLIMETRES_PER_FOOT ** 2).toFixed(3)),
    zoneArea: (area) => words.squareInches((area / MILLIMETRES_PER_INCH ** 2).toFixed(1)),
    mass: (mass) => words.pounds((mass / KILOGRAMS_PER_POUND).toFixed(2)),
    cut: (length) => bare(length, 0),
  };
}

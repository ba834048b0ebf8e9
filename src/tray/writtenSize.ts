/**
 * Sizes as a person writes them: `12"`, `12 in`, `1 1/4`, `30 cm`, `25,4`, `18 ga`. What cannot be read is null here, and
 * whoever asked leaves the text to the reader of tray files, which says what would be accepted.
 */
import type { Coating, Family } from '../material/families.ts';
import { MILLIMETRES, MILLIMETRES_PER_INCH } from '../units.ts';
import type { Units } from './fields.ts';

/** Ways to write a unit, in lower case. Foot and inch by their marks too, straight, curly and true ones. */
const WRITTEN = {
  mm: ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
  cm: ['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'],
  m: ['m'],
  in: ['in', 'in.', 'inch', 'inches', '"', '″', '”', '“', "''"],
  ft: ['ft', 'ft.', 'foot', 'feet', "'", '′', '’'],
} as const;
/** The mm of a unit, by each way to write it. */
const BY_NAME: ReadonlyMap<string, number> = new Map(
  Object.entries(WRITTEN).flatMap(([unit, names]) =>
    names.map((name) => [name, MILLIMETRES[unit as keyof typeof WRITTEN]] as const),
  ),
);

/** `1 1/4` and `1-1/4`, `3/8`, `25`, `25.4`, `25,4`, `.5`; a sign so that what is refused is refused as a number. */
const NUMBER =
  /[+-]?(?:\d{1,9}(?:\s+|-)\d{1,5}\/\d{1,5}|\d{1,5}\/\d{1,5}|\d{1,15}(?:[.,]\d{0,15})?|[.,]\d{1,15})/;
const UNIT = /[a-z]+\.?|''|["″”“'′’]/;
const ONE = new RegExp(`^(${NUMBER.source})\\s*(${UNIT.source})?$`);
const FIRST = new RegExp(`^(${NUMBER.source})(?:\\s*(${UNIT.source}))?(?=[\\s;,|]|$)`);

/** Longest text that is looked at. */
const LONGEST = 200;

/** Halves, quarters and eighths as one letter become figures: ¼ → 1/4, 1¼ → 1 1/4. */
const plain = (text: string): string =>
  text
    .slice(0, LONGEST + 1)
    .replace(/[¼½¾⅐-⅞]/g, (letter) => ` ${letter.normalize('NFKC').replace('⁄', '/')}`)
    .replace('⁄', '/')
    .trim()
    .toLowerCase();

/** Away with the digits that only binary fractions have: 12 in are 304.8 mm, not 304.79999999999995. */
const decimal = (value: number, digits = 12): number => Number(value.toPrecision(digits));

export const millimetresFrom = (length: number, units: Units): number =>
  units === 'mm' ? length : decimal(length * MILLIMETRES_PER_INCH);

/** A length of one unit in the other. */
export function converted(length: number, from: Units, to: Units): number {
  if (from === to) return length;
  const mm = millimetresFrom(length, from);
  // Two digits more, so that the way back ends where it began.
  return to === 'mm' ? mm : decimal(mm / MILLIMETRES_PER_INCH, 14);
}

function value(text: string): number | null {
  const [, sign, whole, over, under] = /^([+-]?)(?:(\d+)(?:\s+|-))?(\d+)\/(\d+)$/.exec(text) ?? [];
  if (under === undefined) return Number(text.replace(',', '.'));
  const size = Number(whole ?? 0) + Number(over) / Number(under);
  return Number.isFinite(size) ? (sign === '-' ? -size : size) : null;
}

function inUnits(number: string, unit: string | undefined, units: Units): number | null {
  const size = value(number);
  if (size === null || unit === undefined) return size;
  const mm = BY_NAME.get(unit);
  if (mm === undefined) return null;
  if (mm === (units === 'mm' ? 1 : MILLIMETRES_PER_INCH)) return size;
  return converted(decimal(size * mm), 'mm', units);
}

/** A number without a unit, or an angle with its sign. */
export function numberFrom(text: string): number | null {
  const [, number] = ONE.exec(plain(text).replace(/\s*(°|deg|degrees?|%)$/, '')) ?? [];
  return number === undefined || plain(text).length > LONGEST ? null : value(number);
}

/** @param units of a length that names none, and of the answer */
export function lengthFrom(text: string, units: Units): number | null {
  const [, number, unit] = ONE.exec(plain(text)) ?? [];
  return number === undefined ? null : inUnits(number, unit, units);
}

/**
 * Lengths with any separator between them: spaces, semicolons, bars, line ends, and commas where they cannot be
 * decimal ones (`40, 50, 60, 70` and `40,50,60,70`; `25,4` is one length).
 */
export function lengthsFrom(text: string, units: Units): readonly number[] | null {
  let rest = plain(text);
  if (rest.length > LONGEST) return null;
  if (!/[\s;|]/.test(rest) && rest.split(',').length > 2) rest = rest.replaceAll(',', ' ');
  const found: number[] = [];
  while (rest !== '') {
    const whole = FIRST.exec(rest);
    if (whole === null) return null;
    const size = inUnits(whole[1]!, whole[2], units);
    if (size === null) return null;
    found.push(size);
    rest = rest.slice(whole[0].length).replace(/^[\s;,|]+/, '');
  }
  return found.length === 0 ? null : found;
}

/** What a gauge number is counted by, where only the metal is known; null where more than one is in use. */
export function gaugeSystemFor(family: Family, coating: Coating): string | null {
  switch (family) {
    case 'steel':
      return coating === 'zinc' ? 'Galvanized Sheet' : 'Manufacturers Standard';
    case 'stainless steel':
      return 'US Standard';
    case 'aluminium':
    case 'copper':
    case 'brass':
      return 'Brown and Sharpe';
    default:
      return null;
  }
}

/** Ways to name a system behind its number. */
const SYSTEMS: Readonly<Record<string, string>> = { swg: 'SWG', bg: 'BG', msg: 'Manufacturers Standard' };

/** `18 ga`, `18ga.`, `18 gauge`, `#18`, `ga 18`, `18 swg`. */
export function gaugeFrom(text: string): { readonly gauge: number; readonly system?: string } | null {
  const [, before, number, behind] =
    /^(#|no\.?|ga(?:u?ge)?\.?)?\s*(\d{1,2})\s*(ga(?:u?ge)?\.?|g\.?|swg|bg|msg)?$/.exec(plain(text)) ?? [];
  if (number === undefined || (before === undefined && behind === undefined)) return null;
  const system = SYSTEMS[behind ?? ''];
  return { gauge: Number(number), ...(system === undefined ? {} : { system }) };
}

/**
 * The kinds of field a tray file has, as schemas.
 *
 * The message of every rule is what would be accepted, as a noun phrase: "a number from 10 to 5000 mm". Schemas are
 * built once and outlive a change of language, so they hold functions that say things and never the text itself.
 */
import * as z from 'zod';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import { words } from '../words/language.ts';
import type { Range } from './limits.ts';

/** Units of length a tray file may be written in. */
export type Units = 'mm' | 'in';

export const UNITS: readonly Units[] = ['mm', 'in'];

/** Says something, in the language of the moment. */
export type Said = () => string;

/** Of what a number is; empty for a plain number. */
export type UnitSign = '' | 'mm' | 'in' | 'degrees' | '%' | '°C' | 'N/mm²' | 'kg/dm³';

const accepted = () => words().messages.tray.fields.accepted;

/** Longest name of a tray, in characters. */
const LONGEST_NAME = 80;

/** Marks what is wrong with the name of a field, and not with its value. */
export const UNKNOWN_NAME = { unknownName: true } as const;

/** Longest text taken for a material's name. */
const LONGEST_TEXT = 200;

/** Something that shows, and no line ends or other control characters: the text ends up in drawings. */
const ONE_LINE = /^(?=.*\S)\P{C}+$/u;

/** What a schema keeps for editors. The text is made when it is read. */
export const meaning = (description?: Said): { readonly description?: string } =>
  description === undefined
    ? {}
    : {
        get description() {
          return description();
        },
      };

/**
 * What would be accepted, where a number is: a person who has put one between quotation marks, or written a comma
 * in it, is told so.
 */
export const numberWanted =
  (wanted: Said) =>
  ({ input }: { readonly input?: unknown }): string => {
    if (typeof input !== 'string') return wanted();
    if (/^\s*[+-]?\d+,\d+\s*$/.test(input)) return accepted().withPoint(wanted());
    return input.trim() !== '' && Number.isFinite(Number(input))
      ? accepted().withoutMarks(wanted())
      : wanted();
  };

const unitText = (unit: UnitSign): string => (unit === 'degrees' ? accepted().degrees : unit);

function rangeAccepted(least: number, most: number, unit: UnitSign): string {
  const [from, to] = [String(least), String(most)];
  return unit === '' ? accepted().range(from, to) : accepted().rangeOf(from, to, unitText(unit));
}

function ranged([minimum, maximum]: Range, unit: UnitSign, wanted: Said, description?: Said) {
  const error = numberWanted(wanted);
  const withUnit =
    description === undefined || unit === ''
      ? description
      : (): string => words().messages.tray.fields.described.withUnit(description(), unitText(unit));
  return z.number({ error }).min(minimum, { error }).max(maximum, { error }).meta(meaning(withUnit));
}

/** A number in a range, both ends included. */
export const number = (range: Range, unit: UnitSign, description?: Said) =>
  ranged(range, unit, () => rangeAccepted(range[0], range[1], unit), description);

/** A length whose range is known in mm, in the file's units. */
export function length(units: Units, range: Range, description: Said) {
  if (units === 'mm') return number(range, 'mm', description);
  const [minimum, maximum] = range.map((limit) => limit / MILLIMETRES_PER_INCH) as [number, number];
  return ranged([minimum, maximum], 'in', () => lengthAccepted(units, range), description);
}

/** `a number from 10 to 5000 mm`: the lengths of a range known in mm, in the file's units. */
export function lengthAccepted(units: Units, range: Range): string {
  if (units === 'mm') return rangeAccepted(range[0], range[1], 'mm');
  const [minimum, maximum] = range.map((limit) => limit / MILLIMETRES_PER_INCH) as [number, number];
  // The limits as a person reads them: four figures, rounded so that both are themselves accepted.
  return rangeAccepted(inwards(minimum, Math.ceil), inwards(maximum, Math.floor), 'in');
}

function inwards(value: number, round: (value: number) => number): number {
  if (value === 0) return 0;
  const scale = 10 ** (3 - Math.floor(Math.log10(Math.abs(value))));
  return round(value * scale) / scale;
}

/** One of a few words. @param named the words to name in the sentence, when they are others */
export function choice<const T extends readonly [string, ...string[]]>(
  values: T,
  description?: Said,
  named = values as readonly string[],
) {
  const list = named.map((value) => JSON.stringify(value));
  const error = (): string =>
    list.length === 1 ? list[0]! : accepted().oneOf(list.slice(0, -1).join(', '), list.at(-1)!);
  return z.enum(values, { error }).meta(meaning(description));
}

/** A text of one line. */
export const text = (wanted: Said, description: Said) =>
  z
    .string({ error: wanted })
    .min(1, { error: wanted })
    .max(LONGEST_TEXT, { error: () => accepted().atMostCharacters(wanted(), String(LONGEST_TEXT)) })
    .regex(ONE_LINE, { error: () => accepted().shownCharacters(wanted()) })
    .meta(meaning(description));

/** The name of a tray: any letters, on one line. Its files' names are made from it, see `fileName.ts`. */
export function trayName(description: Said) {
  const error = (): string => accepted().name;
  return z
    .string({ error })
    .max(LONGEST_NAME, { error })
    .regex(ONE_LINE, { error })
    .meta(meaning(description));
}

/**
 * An object whose fields are named by the letters of corners or sides, or are those of `shape`. How many corners and
 * sides there are is not known here.
 */
export function byLetters<T extends z.ZodType, S extends z.ZodRawShape>(
  pattern: RegExp,
  value: T,
  shape: S,
  wanted: Said,
  description: Said,
) {
  const names = [pattern.source, ...Object.keys(shape)].join('|');
  return z
    .object(shape, { error: wanted })
    .catchall(value)
    .superRefine((given, context) => {
      for (const key of Object.keys(given)) {
        if (!Object.hasOwn(shape, key) && !pattern.test(key))
          context.addIssue({ code: 'custom', path: [key], message: wanted(), params: UNKNOWN_NAME });
      }
    })
    .meta({ ...meaning(description), propertyNames: { pattern: names } });
}

/**
 * An object with these fields and no others.
 *
 * @param wanted      what to write in its place when something else stands there
 * @param description what it means, for a schema that is published
 */
export function object<T extends z.ZodRawShape>(shape: T, wanted: Said, description?: Said) {
  return z.strictObject(shape, { error: wanted }).meta(meaning(description));
}

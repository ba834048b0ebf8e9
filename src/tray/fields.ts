/**
 * The kinds of field a tray file has, as schemas.
 *
 * The message of every rule is what would be accepted, as a noun phrase: "a number from 10 to 5000 mm".
 */
import { z } from 'zod';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import type { Range } from './limits.ts';

/** Units of length a tray file may be written in. */
export type Units = 'mm' | 'in';

export const UNITS: readonly Units[] = ['mm', 'in'];

/** What a file's `name` may look like: it becomes the name of a file on any system. */
const NAME_PATTERN = /^[A-Za-z0-9](?:[A-Za-z0-9._-]{0,78}[A-Za-z0-9_-])?$/;

/** The same in words. */
export const NAME_ACCEPTED =
  'a name of letters (a to z), digits, - _ and . with a letter or digit first, no . at the end, and at most 80 characters';

/** Longest text taken for a material's name. */
const LONGEST_TEXT = 200;

/** Something that shows, and no line ends or other control characters: the text ends up in drawings. */
const ONE_LINE = /^(?=.*\S)\P{C}+$/u;

/** A number in a range, both ends included. */
export function number(range: Range, unit: string, description: string) {
  const [minimum, maximum] = range;
  const error = `a number from ${minimum} to ${maximum}${unit === '' ? '' : ` ${unit}`}`;
  return z
    .number({ error })
    .min(minimum, { error })
    .max(maximum, { error })
    .meta({ description: unit === '' ? description : `${description} Unit: ${unit}.` });
}

/** A length whose range is known in mm, in the file's units. */
export function length(units: Units, range: Range, description: string) {
  if (units === 'mm') return number(range, 'mm', description);
  const [minimum, maximum] = range.map((limit) => limit / MILLIMETRES_PER_INCH) as [number, number];
  const error = lengthAccepted(units, range);
  return z
    .number({ error })
    .min(minimum, { error })
    .max(maximum, { error })
    .meta({ description: `${description} Unit: in.` });
}

/** `a number from 10 to 5000 mm`: the lengths of a range known in mm, in the file's units. */
export function lengthAccepted(units: Units, range: Range): string {
  if (units === 'mm') return `a number from ${range[0]} to ${range[1]} mm`;
  const [minimum, maximum] = range.map((limit) => limit / MILLIMETRES_PER_INCH) as [number, number];
  // The limits as a person reads them: four figures, rounded so that both are themselves accepted.
  return `a number from ${inwards(minimum, Math.ceil)} to ${inwards(maximum, Math.floor)} in`;
}

function inwards(value: number, round: (value: number) => number): number {
  if (value === 0) return 0;
  const scale = 10 ** (3 - Math.floor(Math.log10(Math.abs(value))));
  return round(value * scale) / scale;
}

/** One of a few words. @param accepted the words to name in the sentence, when they are others */
export function choice<const T extends readonly [string, ...string[]]>(
  values: T,
  description: string,
  accepted = values as readonly string[],
) {
  const list = accepted.map((value) => JSON.stringify(value));
  const error = list.length === 1 ? list[0]! : `${list.slice(0, -1).join(', ')} or ${list.at(-1)}`;
  return z.enum(values, { error }).meta({ description });
}

/** A text of one line. */
export const text = (accepted: string, description: string) =>
  z
    .string({ error: accepted })
    .min(1, { error: accepted })
    .max(LONGEST_TEXT, { error: `${accepted}, at most ${LONGEST_TEXT} characters long` })
    .regex(ONE_LINE, { error: `${accepted}, in characters that show` })
    .meta({ description });

/** A text that can be the name of a file on any system. */
export const fileName = (description: string) =>
  z.string({ error: NAME_ACCEPTED }).regex(NAME_PATTERN, { error: NAME_ACCEPTED }).meta({ description });

/**
 * An object with these fields and no others.
 *
 * @param accepted what to write in its place when something else stands there
 */
export function object<T extends z.ZodRawShape>(shape: T, accepted: string, description: string) {
  return z.strictObject(shape, { error: accepted }).meta({ description });
}

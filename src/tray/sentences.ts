/**
 * Turns what a schema finds wrong into sentences for the person who wrote the file: the field, the value
 * found, and what would be accepted.
 */
import type { z } from 'zod';
import type { Fault } from '../errors.ts';
import { nearest } from '../spelling.ts';
import { words } from '../words/language.ts';
import { cornerLetter, sideLetters } from './cornerLetter.ts';
import { UNKNOWN_NAME } from './fields.ts';
import { allFields, formsAt, keysOf, type Path } from './forms.ts';
import { SIDES } from './planSchema.ts';
import type { TraySpec } from './spec.ts';

type Issue = z.core.$ZodIssue;

/** More faults than this in one file are no help to anybody. */
export const MOST_FAULTS = 20;

/** Names of fields that say which of several forms an object has. */
const DECIDING: readonly string[] = ['kind', 'on'];

/**
 * One fault for every field that `schema` refuses in `root`, in the order of the schema, at most 20.
 *
 * A missing field whose name stands there misspelt gives one fault, not two.
 *
 * @param issues what zod reported; every message must be what would be accepted, as a noun phrase
 * @param ofFile the sentence for a file that is something else as a whole, from the value found and what would be
 *   accepted; that of a tray file when left out
 */
export function faultsFromIssues(
  issues: readonly Issue[],
  root: unknown,
  schema: z.core.$ZodType,
  ofFile: (value: string, accepted: string) => string = words().messages.tray.file,
): Fault[] {
  const faults = new Map<string, Fault>();
  const misspelt = new Set<string>();
  const add = (path: string, message: string): void => {
    // The first rule a value breaks says enough.
    if (!faults.has(path)) faults.set(path, { path, message });
  };
  for (const issue of issues.flatMap((each) => branchIssues(each, root, schema))) {
    if (faults.size >= MOST_FAULTS) break;
    if (issue.code === 'custom' && issue.params === UNKNOWN_NAME) {
      const [parent, key] = [issue.path.slice(0, -1), shortKey(String(issue.path.at(-1)))];
      const near = nearest(key, formsAt(schema, parent).flatMap(keysOf));
      const where = dotted([...parent, key]);
      add(
        where,
        near === undefined
          ? words().messages.tray.unnamed(where, issue.message)
          : words().messages.tray.unknownNear(where, dotted([...parent, near])),
      );
    } else if (issue.code === 'unrecognized_keys') {
      for (const key of issue.keys.slice(0, MOST_FAULTS)) {
        const { message, meant } = unknownKey(issue.path, key, root, schema);
        add(dotted([...issue.path, shortKey(key)]), message);
        if (meant !== undefined) misspelt.add(meant);
      }
    } else {
      const value = valueAt(root, issue.path);
      add(
        dotted(issue.path),
        issue.path.length === 0
          ? ofFile(shown(value), issue.message)
          : ofField(issue.path, value, issue.message),
      );
    }
  }
  for (const path of misspelt) {
    if (valueAt(root, path.split('.')) === undefined) faults.delete(path);
  }
  return [...faults.values()].slice(0, MOST_FAULTS);
}

/** Lists of a tray file that go by corners. */
const BY_CORNERS = /^(?:plan\.vertices|plan\.cornerRadius|forming\.corners)\.(\d{1,3})(?=\.|$)/;

/** A field as a sentence names it: with the letter of the corner where it is one of a list of corners. */
export function fieldName(path: string): string {
  const corner = BY_CORNERS.exec(path)?.[1];
  return corner === undefined ? path : words().messages.tray.ofCorner(path, cornerLetter(Number(corner)));
}

/** A side by its letters, one of a rectangle by its name too. */
export function edgeName({ plan }: Pick<TraySpec, 'plan'>, edge: number): string {
  const say = words().messages.tray;
  if ('vertices' in plan) return say.side(sideLetters(edge, plan.vertices.length));
  return say.sideOfRectangle[SIDES[edge]!](sideLetters(edge, SIDES.length));
}

/** `plan.length is "12"; give a number from 10 to 5000 mm, without quotation marks.` */
function ofField(path: Path, value: unknown, accepted: string): string {
  const say = words().messages.tray;
  return value === undefined
    ? say.missing(fieldName(dotted(path)), accepted)
    : say.notAccepted(fieldName(dotted(path)), shown(value), accepted);
}

/**
 * A value as it may stand in a sentence and on a terminal: text quoted and cut short, characters that do not
 * show escaped, lists and objects only named.
 */
export function shown(value: unknown): string {
  const { found } = words().messages.tray;
  switch (typeof value) {
    case 'string':
      return quoted(value);
    case 'number':
    case 'boolean':
      return String(value);
    case 'undefined':
      return found.nothing;
    case 'object':
      if (value === null) return 'null';
      return Array.isArray(value) ? found.list(String(value.length)) : found.object;
    default:
      return found.other[typeof value as keyof typeof found.other];
  }
}

const quoted = (text: string): string =>
  JSON.stringify(text.length > 40 ? `${text.slice(0, 40)}...` : text).replace(
    /[^\P{C}\n]/gu,
    (character) => `\\u${character.codePointAt(0)!.toString(16).padStart(4, '0')}`,
  );

/** A key as it may stand in a path. */
const shortKey = (key: string): string => (/^[\w$-]{1,40}$/.test(key) ? key : quoted(key));

/** `plan.vertices.2.radius`; list positions count from 0. */
export const dotted = (path: Path): string => path.map(String).join('.');

function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const key of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/** Of a value that fits none of several forms, what is wrong with it as the form it comes nearest to. */
function branchIssues(issue: Issue, root: unknown, schema: z.core.$ZodType): Issue[] {
  if (issue.code !== 'invalid_union') return [issue];
  const forms = formsAt(schema, issue.path);
  const value = valueAt(root, issue.path);
  const ofOtherKind = ({ code, path }: Issue): boolean =>
    path.length === 0 && (code === 'invalid_type' || (code === 'invalid_value' && typeof value === 'object'));
  const candidates = issue.errors
    .map((errors, position) => ({ errors, keys: keysOf(forms[position]) }))
    .filter(({ errors }) => !errors.some(ofOtherKind));
  const present = typeof value === 'object' && value !== null ? Object.keys(value).slice(0, MOST_FAULTS) : [];
  const likeness = (keys: readonly string[]): number =>
    present.reduce(
      (sum, key) => sum + (keys.includes(key) ? 2 : nearest(key, keys) === undefined ? 0 : 1),
      0,
    );
  let best: (typeof candidates)[number] | undefined;
  for (const candidate of candidates) {
    if (best === undefined || likeness(candidate.keys) > likeness(best.keys)) best = candidate;
  }
  if (best === undefined) return [issue];
  return best.errors.flatMap((inner) =>
    branchIssues({ ...inner, path: [...issue.path, ...inner.path] }, root, schema),
  );
}

function unknownKey(
  path: Path,
  key: string,
  root: unknown,
  schema: z.core.$ZodType,
): { message: string; meant?: string } {
  const say = words().messages.tray;
  const where = dotted([...path, shortKey(key)]);
  const forms = formsAt(schema, path).map(keysOf);
  const known = [...new Set(forms.flat())].filter((name) => !name.startsWith('$'));
  if (known.includes(key)) {
    const others = Object.keys(valueAt(root, path) as object).filter(
      (name) => known.includes(name) && !forms.some((form) => form.includes(key) && form.includes(name)),
    );
    return {
      message:
        others.length > 0
          ? say.fieldsThatExclude(where, others.join(', '))
          : say.fieldOfOtherKind(where, decidingField(path, root)),
    };
  }
  const near = nearest(key, known);
  if (near !== undefined) {
    const meant = dotted([...path, near]);
    return { message: say.unknownNear(where, meant), meant };
  }
  const elsewhere = allFields(schema, '').find(({ path: field }) => field.split('.').at(-1) === key);
  return {
    message:
      elsewhere === undefined ? say.unknown(where, known.join(', ')) : say.unknownHere(where, elsewhere.path),
  };
}

/** The field that says which of several forms an object has, with its value. */
function decidingField(path: Path, root: unknown): string {
  const value = valueAt(root, path) as Record<string, unknown>;
  const name = DECIDING.find((each) => Object.hasOwn(value, each)) ?? '';
  return `${dotted([...path, name])} ${shown(value[name])}`;
}

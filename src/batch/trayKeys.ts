/**
 * The dotted keys of a tray file and what may stand under each, read from its schema, so that a new field of
 * the tray file is a new column of a batch without a change here.
 */
import { nearest } from '../spelling.ts';
import { allFields, formsAt, kindsOf, type ValueKind } from '../tray/forms.ts';
import { schemaFor } from '../tray/readTray.ts';

/** Characters of a key that are told, at most; no key of a tray file has as many. */
const LONGEST_KEY = 80;

/** Keys are the same in both units; only limits differ, and those are checked when the tray is read. */
const schema = () => schemaFor('mm');

/** What may stand under a dotted key; empty for a key that a tray file does not have or that holds no value. */
export function cellKinds(key: string): ReadonlySet<ValueKind> {
  return new Set(formsAt(schema(), key.split('.')).flatMap(kindsOf));
}

/** Every key that holds a value; a place in a list is written 0. */
const knownKeys = (): readonly string[] => [
  ...new Set(
    allFields(schema(), '0')
      .filter(({ path, form }) => path !== '$schema' && kindsOf(form).length > 0)
      .map(({ path }) => path),
  ),
];

const lastName = (key: string): string => key.slice(key.lastIndexOf('.') + 1);

/** The known key that is nearest to a misspelt one, or to one without the part of the tray that it is of; if one is near. */
export function nearestKey(key: string, others: readonly string[] = []): string | undefined {
  const keys = [...knownKeys(), ...others];
  const named = (name: string | undefined) =>
    keys.find((each) => lastName(each).toLowerCase() === name?.toLowerCase());
  return named(key.trim()) ?? nearest(key, keys) ?? named(nearest(key, keys.map(lastName)));
}

/** A key that may be no key, as the path of a fault. */
export const faultPath = (key: string): string => key.slice(0, LONGEST_KEY);

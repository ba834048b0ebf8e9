/** A table of words that tells which of its entries are asked for. */
import { strange } from './strange.mjs';

/**
 * A table in strange letters that leaves alone what a sentence is given, so that a piece of English which is handed
 * to a sentence shows. The path of an entry that is asked for is added to `said`.
 */
export function telling(entry: unknown, path: string, said: Set<string>): unknown {
  if (typeof entry === 'string') {
    said.add(path);
    return strange(entry);
  }
  if (typeof entry === 'function') {
    return (...values: string[]) => {
      said.add(path);
      // Signs for private use stand in for the values while the letters of the sentence are replaced.
      const text = strange((entry as (...places: string[]) => string)(...values.map(place)));
      return text.replace(/[\uE000-\uE0FF]/g, (sign) => values[sign.charCodeAt(0) - 0xe000]!);
    };
  }
  const made = {};
  for (const key of Object.keys(entry as object)) {
    Object.defineProperty(made, key, {
      enumerable: true,
      get: () => telling((entry as Record<string, unknown>)[key], `${path}.${key}`, said),
    });
  }
  return made;
}

const place = (_: string, position: number): string => String.fromCharCode(0xe000 + position);

/** All entries below a part of the table. */
export function entriesOf(entry: unknown, path: string): string[] {
  if (typeof entry !== 'object') return [path];
  return Object.entries(entry as object).flatMap(([key, inner]) => entriesOf(inner, `${path}.${key}`));
}

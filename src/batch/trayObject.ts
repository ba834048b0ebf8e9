/** Plain objects in the shape of a tray file: set a value by its dotted key, lay one object over another. */

export type PlainObject = Record<string, unknown>;

export const isPlainObject = (value: unknown): value is PlainObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Names that reach an object's prototype instead of its own properties. */
const FORBIDDEN: ReadonlySet<string> = new Set(['__proto__', 'prototype', 'constructor']);

/**
 * Sets `value` under a dotted key; what stands in the way (a number where an object is needed) is replaced, a
 * whole-number segment makes a list.
 *
 * @param target changed
 */
export function setKey(target: PlainObject, key: string, value: unknown): void {
  const segments = key.split('.');
  if (segments.some((segment) => FORBIDDEN.has(segment))) return;
  let at: PlainObject | unknown[] = target;
  for (const [i, segment] of segments.entries()) {
    const name = Array.isArray(at) ? Number(segment) : segment;
    const holder = at as Record<string | number, unknown>;
    if (i === segments.length - 1) {
      holder[name] = value;
      return;
    }
    const wantsList = /^\d+$/.test(segments[i + 1]!);
    const next = Object.hasOwn(holder, name) ? holder[name] : undefined;
    if (wantsList ? !Array.isArray(next) : !isPlainObject(next)) holder[name] = wantsList ? [] : {};
    at = holder[name] as PlainObject | unknown[];
  }
}

/** A copy of `base` with everything of `over` laid over it: objects key by key, all else replaced. */
export function overlay(base: unknown, over: unknown): unknown {
  if (!isPlainObject(base) || !isPlainObject(over)) return copied(over);
  const result = copied(base) as PlainObject;
  for (const [key, value] of Object.entries(over)) {
    if (FORBIDDEN.has(key)) continue;
    result[key] = Object.hasOwn(result, key) ? overlay(result[key], value) : copied(value);
  }
  return result;
}

/** A copy of what JSON can hold. */
function copied(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(copied);
  if (!isPlainObject(value)) return value;
  const out: PlainObject = {};
  for (const [key, each] of Object.entries(value)) if (!FORBIDDEN.has(key)) out[key] = copied(each);
  return out;
}

/** The page's sentences: texts of the service's table of words, with figures in their places. */
import { words } from './words.js';

const plural = new Intl.PluralRules(words.language);

/**
 * @param {string | Record<string, string>} entry  a text, or its forms by the plural category of `count`
 * @param {Record<string, string | number>} values what stands where the text has `{name}`
 */
export function sentence(entry, values) {
  const text = typeof entry === 'string' ? entry : (entry[plural.select(values.count)] ?? entry.other);
  return text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
}

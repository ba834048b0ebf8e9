/** A language that nobody speaks: English with every letter of the table's own text replaced, so that text from elsewhere shows. */
import { english, type Words } from '../../src/words/english.ts';

/** Latin letters become Cyrillic ones; figures, signs and spaces stay, so that lines break alike. */
export const strange = (text: string): string =>
  text.replace(/[A-Za-z]/g, (letter) => {
    const lower = letter.toLowerCase().charCodeAt(0) - 97;
    const sign = String.fromCharCode(0x430 + lower);
    return letter === letter.toLowerCase() ? sign : sign.toUpperCase();
  });

function translated(entry: unknown): unknown {
  if (typeof entry === 'string') return strange(entry);
  if (typeof entry === 'function') {
    const say = entry as (...values: string[]) => string;
    return (...values: string[]) => strange(say(...values));
  }
  if (Array.isArray(entry)) return entry.map(translated);
  return Object.fromEntries(Object.entries(entry as object).map(([key, value]) => [key, translated(value)]));
}

export const pseudo = translated(english) as Words;

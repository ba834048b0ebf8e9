/** A table of words in a language that nobody speaks. In plain JavaScript, so that a thread can make it too. */

/**
 * Latin letters become Cyrillic ones; figures, signs and spaces stay, so that lines break alike, and so do the
 * places of figures in the texts of the page (`{count}`).
 */
export const strange = (text) =>
  text.replace(/\{\w+\}|[A-Za-z]/g, (letter) => {
    if (letter.length > 1) return letter;
    const lower = letter.toLowerCase().charCodeAt(0) - 97;
    const sign = String.fromCharCode(0x430 + lower);
    return letter === letter.toLowerCase() ? sign : sign.toUpperCase();
  });

function translated(entry) {
  if (typeof entry === 'string') return strange(entry);
  if (typeof entry === 'function') {
    return (...values) => {
      const said = entry(...values);
      return said instanceof Promise ? said.then(translated) : translated(said);
    };
  }
  if (Array.isArray(entry)) return entry.map(translated);
  return Object.fromEntries(Object.entries(entry).map(([key, value]) => [key, translated(value)]));
}

/** The table with every text replaced. Its tag is one for private use (BCP 47). */
export function strangeTable(table) {
  const made = translated(table);
  return { ...made, page: { ...made.page, language: 'qaa' } };
}

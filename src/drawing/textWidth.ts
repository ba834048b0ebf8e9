/**
 * How wide a line of text gets, without a font at hand: needed to set text in the browser and on paper alike.
 *
 * Advance widths of the font Arimo (version 1.33, regular and bold), read from its hmtx table, in thousandths
 * of the em, for the signs from space to tilde. Arimo has the widths of the fonts a browser takes in its place
 * when it is not installed (it is made to be so: its own description).
 */
const REGULAR = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
  556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
  500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
  556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
  278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
] as const;
const BOLD = [
  278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
  556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278,
  556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584,
  556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556,
  333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
] as const;
/** Other signs we write; what is in neither table counts as a wide letter. */
const OTHERS: Readonly<Record<string, number>> = {
  '\u00a0': 278,
  '±': 549,
  '×': 584,
  '°': 400,
  '²': 333,
  '³': 333,
  '–': 556,
  '—': 1000,
  '•': 350,
  '≤': 549,
  '≥': 549,
  '″': 479,
  '′': 240,
  '⁄': 167,
  ß: 611,
};
const WIDE = 722;

/** Height of a capital over the em, from the font's OS/2 table. */
export const CAP_HEIGHT = 0.688;

/** The font size (em) that gives capitals of a height; same unit. */
export const fontSize = (height: number): number => height / CAP_HEIGHT;

/** Width of a line of text whose capitals are `height` high; same unit. */
export function textWidth(text: string, height: number, bold = false): number {
  const widths = bold ? BOLD : REGULAR;
  let sum = 0;
  for (const sign of text.normalize('NFC')) {
    const code = sign.codePointAt(0)!;
    const plain = sign.normalize('NFD').codePointAt(0)!; // a letter with a mark is as wide as without
    sum += widths[code - 32] ?? OTHERS[sign] ?? widths[plain - 32] ?? WIDE;
  }
  return (sum / 1000) * fontSize(height);
}

/**
 * Breaks text into lines no wider than `width`; a word that is longer than that gets a line of its own. A
 * no-break space does not break.
 *
 * @param breakWords words longer than a line are broken, after a hyphen where there is one
 */
export function wrapText(
  text: string,
  width: number,
  height: number,
  bold = false,
  breakWords = false,
): string[] {
  const lines: string[] = [];
  let line = '';
  const words = text.split(/[ \n\t]+/).filter((part) => part !== '');
  const pieces = breakWords ? words.flatMap((word) => brokenWord(word, width, height, bold)) : words;
  for (const word of pieces) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, height, bold) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  if (line !== '') lines.push(line);
  return lines;
}

/** A word in pieces that each fit a line. */
function brokenWord(word: string, width: number, height: number, bold: boolean): string[] {
  if (textWidth(word, height, bold) <= width) return [word];
  const pieces: string[] = [];
  let rest = [...word];
  while (rest.length > 0) {
    let fits = 1;
    while (fits < rest.length && textWidth(rest.slice(0, fits + 1).join(''), height, bold) <= width) fits++;
    const hyphen = rest.slice(0, fits).lastIndexOf('-');
    const end = fits === rest.length || hyphen < 1 ? fits : hyphen + 1;
    pieces.push(rest.slice(0, end).join(''));
    rest = rest.slice(end);
  }
  return pieces;
}

/** The height at which a line is no wider than `width`, `height` at most. */
export const fittingHeight = (text: string, width: number, height: number, bold = false): number =>
  Math.min(height, (height * width) / Math.max(textWidth(text, height, bold), 1e-9));

/** Text cut short, with a mark, so that it is no wider than `width`. */
export function fitText(text: string, width: number, height: number, bold = false): string {
  if (textWidth(text, height, bold) <= width) return text;
  const signs = [...text];
  while (signs.length > 1 && textWidth(`${signs.join('')}...`, height, bold) > width) signs.pop();
  return `${signs.join('').trimEnd()}...`;
}

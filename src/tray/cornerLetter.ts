/**
 * What a person calls the corners and sides of a plan: corners have letters, A, B, C … and after Z AA, AB …,
 * counter-clockwise in the order of the tray file, and a side those of its two ends, A–B.
 *
 * Inside, corner and side i have the number i: side i begins at corner i.
 */

/** Longest letters there can be: a plan has 200 vertices at most, and ZZ is corner 701. */
const LETTERS = '[A-Za-z]{1,2}';

/** The letters of a corner, in capitals or not. */
export const CORNER_PATTERN = new RegExp(`^${LETTERS}$`);

/** The letters of a side, with a dash or a hyphen. */
export const SIDE_PATTERN = new RegExp(`^${LETTERS} ?[–-] ?${LETTERS}$`);

/** @param corner from 0 */
export function cornerLetter(corner: number): string {
  const before = corner < 26 ? '' : cornerLetter(Math.floor(corner / 26) - 1);
  return before + String.fromCharCode(65 + (corner % 26));
}

/**
 * @param side  from 0
 * @param count corners of the plan
 */
export const sideLetters = (side: number, count: number): string =>
  `${cornerLetter(side)}–${cornerLetter((side + 1) % count)}`;

/** Number of the corner that has these letters, or undefined where a plan of `count` corners has none such. */
export function cornerOf(letters: string, count: number): number | undefined {
  if (!CORNER_PATTERN.test(letters)) return undefined;
  const number = [...letters.toUpperCase()].reduce((sum, each) => 26 * sum + each.charCodeAt(0) - 64, 0) - 1;
  return number < count ? number : undefined;
}

/** Number of the side between these two corners, whichever comes first; undefined where the plan has none such. */
export function sideOf(letters: string, count: number): number | undefined {
  if (!SIDE_PATTERN.test(letters)) return undefined;
  const [one, other] = letters.split(/ ?[–-] ?/).map((each) => cornerOf(each, count));
  if (one === undefined || other === undefined) return undefined;
  if (other === (one + 1) % count) return one;
  return one === (other + 1) % count ? other : undefined;
}

/**
 * What a report's corner is called: a corner by its letter, a curved side, whose number is `count` and more, by its two.
 *
 * @param count corners of the plan
 */
export const turnName = (index: number, count: number): string =>
  index < count ? cornerLetter(index) : sideLetters(index - count, count);

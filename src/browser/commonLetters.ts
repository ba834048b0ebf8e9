/**
 * The letters that the small fonts have: Latin, Greek and Cyrillic without their rarer blocks, signs and symbols (blocks
 * of Unicode 15). Any other letter takes the fonts in full.
 */
const BLOCKS: readonly (readonly [first: number, last: number])[] = [
  [0x0000, 0x024f],
  [0x0370, 0x052f],
  [0x2000, 0x2bff],
];

export const isCommon = (code: number): boolean =>
  BLOCKS.some(([first, last]) => code >= first && code <= last);

export const hasCommonOnly = (text: string): boolean =>
  [...text].every((letter) => isCommon(letter.codePointAt(0)!));

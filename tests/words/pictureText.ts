/** All text that a picture shows. */
import type { Item, Picture } from '../../src/drawing/picture.ts';

export const textsOf = (items: readonly Item[]): string[] =>
  items.flatMap((item) =>
    item.kind === 'text' ? [item.text] : item.kind === 'group' ? textsOf(item.items) : [],
  );

/** Titles and text of pictures, a line each, with plain spaces. */
export const said = (pictures: readonly Picture[]): string =>
  pictures
    .flatMap(({ title, items }) => [title, ...textsOf(items)])
    .join('\n')
    .replaceAll('\u00a0', ' ');

/** Units and signs of drawings are the same in every language; corners and joining marks are letters and numbers. */
const INTERNATIONAL = /\b(?:mm|R|x|y|[AB]\d+[ab]|[A-Z](?:–[A-Z])?)\b/g;

/** What is left of the Latin alphabet. */
export const untranslated = (text: string): string[] =>
  text
    .replaceAll('\u00a0', ' ')
    .replace(INTERNATIONAL, '')
    .match(/[A-Za-z][A-Za-z ,.:]*/g) ?? [];

/** The formed tray on the page, from an angle; apart from the blank, since the page draws it only when it is asked for. */
import { svgText } from '../drawing/svg.ts';
import { shapeView } from '../papers/formedView.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { type FormedShape, formedShape } from '../pattern/formedShape.ts';
import { english, type Words } from '../words/english.ts';

/** Size on the paper, mm; the page scales the whole to the room it has. */
const VIEW = { width: 112, height: 80 };
const EDGE = 2;

export const formedSvg = (pattern: FlatPattern, words: Words = english): string =>
  shapeSvg(formedShape(pattern), pattern, words.service.pictures.formed(pattern.name));

/** The same of a shape on the way. @param dark by how much a node is darker than the light makes it, 0 to 1 */
export function shapeSvg(
  shape: FormedShape,
  pattern: FlatPattern,
  title: string,
  dark?: ArrayLike<number>,
): string {
  const { items, width, height } = shapeView(shape, {
    ...VIEW,
    coarse: true,
    ...(dark === undefined ? {} : { dark }),
    corner: (index) => cornerName(pattern, index),
  });
  return svgText(
    {
      width: width + 2 * EDGE,
      height: height + 2 * EDGE,
      title,
      items: [{ kind: 'group', at: { x: EDGE, y: EDGE }, scale: 1, items }],
    },
    { paper: false },
  );
}

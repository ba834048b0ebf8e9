/** The formed tray on the page, from an angle; apart from the blank, since the page draws it only when it is asked for. */
import { svgText } from '../drawing/svg.ts';
import { formedView } from '../papers/formedView.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type Words } from '../words/english.ts';

/** Size on the paper, mm; the page scales the whole to the room it has. */
const VIEW = { width: 112, height: 80 };
const EDGE = 2;

export function formedSvg(pattern: FlatPattern, words: Words = english): string {
  const { items, width, height } = formedView(pattern, {
    ...VIEW,
    coarse: true,
    corner: (index) => cornerName(pattern, index),
  });
  return svgText(
    {
      width: width + 2 * EDGE,
      height: height + 2 * EDGE,
      title: words.service.pictures.formed(pattern.name),
      items: [{ kind: 'group', at: { x: EDGE, y: EDGE }, scale: 1, items }],
    },
    { paper: false },
  );
}

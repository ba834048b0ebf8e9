/** The foot of the shop card: lines for what was measured, day, name and version. */
import { drawn, type Item, level } from '../drawing/picture.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINES } from '../drawing/weights.ts';
import type { Path } from '../geometry/path.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';
import { cornerNames } from './cornerNames.ts';
import { type Block, heading, text } from './marks.ts';

/** Lines for more corners would be too short to write on. */
const MOST_CORNERS = 6;
const PITCH = 5.2;
const NAME_WIDTH = 84;

/** Corners there are lines for: all, or those that gather most, as these tell a hand best; by number. */
export function measuredCorners({ report }: FlatPattern): number[] {
  return [...report.corners]
    .sort((a, b) => (b.rimToLose ?? 0) - (a.rimToLose ?? 0) || a.index - b.index)
    .slice(0, MOST_CORNERS)
    .map(({ index }) => index)
    .sort((a, b) => a - b);
}

/**
 * @param place lower left corner, width and height of the letters, mm
 */
export function measuredBlock(
  pattern: FlatPattern,
  words: PaperWords,
  said: { readonly version?: string; readonly date?: string },
  place: { readonly x: number; readonly y: number; readonly width: number; readonly size: number },
): Block {
  const { x, y, width, size } = place;
  const list = [...words.trial.rows, words.trial.dotsAfter];
  const height = 4 + list.length * PITCH + PITCH + 7;
  const items: Item[] = [];
  const head = heading({ x, y: y + height, width }, words.measured, size);
  items.push(...head.items);
  const lines: Path[] = [];
  const corners = measuredCorners(pattern);
  // A tray without corners is measured at one place.
  const columns = Math.max(1, corners.length);
  const each = (width - NAME_WIDTH) / columns;
  let base = y + height - head.height - 3.2;
  const names = corners.map((corner) => cornerNames(pattern, [corner], words));
  const wide = names.some((name) => textWidth(name, size) > each - 2);
  for (const [i, corner] of corners.entries()) {
    const at = { x: x + NAME_WIDTH + (i + 0.5) * each, y: base };
    // As on the picture, where there is no room for the whole name.
    items.push(text(at, size, wide ? cornerName(pattern, corner) : names[i]!, { align: 'center' }));
  }
  for (const row of list) {
    base -= PITCH;
    items.push(text({ x, y: base }, size, row));
    for (let i = 0; i < columns; i++) {
      const from = x + NAME_WIDTH + i * each + 3;
      lines.push(level(base - 0.6, from, from + each - 5));
    }
  }
  items.push(drawn(lines, LINES.thin));
  const date = said.date === undefined ? `${words.date} ____________` : `${words.date} ${said.date}`;
  items.push(
    text({ x, y }, size, date),
    text({ x: x + 60, y }, size, `${words.worker} ________________________`),
    text({ x: x + width, y }, size, said.version === undefined ? '' : words.madeWith(said.version), {
      align: 'right',
    }),
  );
  return { items, height };
}

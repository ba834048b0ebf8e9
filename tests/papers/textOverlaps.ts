/** Where a page has text on text, or text beyond its edge: what nobody could read. */
import type { Item, Picture } from '../../src/drawing/picture.ts';
import { textWidth } from '../../src/drawing/textWidth.ts';

interface Line {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** Level and upright lines of text on the paper; groups with names in `without` are left out. */
function linesOf(items: readonly Item[], without: readonly string[], x = 0, y = 0, scale = 1): Line[] {
  return items.flatMap((item): Line[] => {
    if (item.kind === 'group') {
      if (item.angle !== undefined || without.includes(item.id ?? '')) return [];
      return linesOf(item.items, without, x + scale * item.at.x, y + scale * item.at.y, scale * item.scale);
    }
    if (item.kind !== 'text') return [];
    const upright = Math.abs((item.angle ?? 0) - Math.PI / 2) < 1e-9;
    if (!upright && (item.angle ?? 0) !== 0) return [];
    const width = textWidth(item.text, item.height, item.bold);
    const at = { x: x + scale * item.at.x, y: y + scale * item.at.y };
    const before = item.align === 'left' ? 0 : item.align === 'right' ? width : width / 2;
    if (upright) {
      // Read from the right: the line runs up, its letters stand to the left of it.
      const low = at.y - before;
      return [{ text: item.text, left: at.x - item.height, right: at.x, low, high: low + width }];
    }
    const left = at.x - before;
    return [{ text: item.text, left, right: left + width, low: at.y, high: at.y + item.height }];
  });
}

/** Pairs of lines that share paper, and lines that leave it. A hair's breadth is let pass, mm. */
export function textOverlaps(page: Picture, without: readonly string[] = []): string[] {
  const hair = 0.05;
  const lines = linesOf(page.items, without).filter(({ text }) => text.trim() !== '');
  const wrong = lines
    .filter(({ left, right, low, high }) => left < 0 || right > page.width || low < 0 || high > page.height)
    .map(({ text }) => `${text}: off the page`);
  lines.forEach((a, i) => {
    for (const b of lines.slice(i + 1)) {
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const high = Math.min(a.high, b.high) - Math.max(a.low, b.low);
      if (wide > hair && high > hair) wrong.push(`${a.text} | ${b.text}`);
    }
  });
  return wrong;
}

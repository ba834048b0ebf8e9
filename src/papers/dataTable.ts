/** A table of the card: names at the left, columns of figures as wide as they have to be. */
import { drawn, type Item, level } from '../drawing/picture.ts';
import { textWidth, wrapText } from '../drawing/textWidth.ts';
import { LINE_PITCH, LINES } from '../drawing/weights.ts';
import type { Path } from '../geometry/path.ts';
import { type Block, type Column, text } from './marks.ts';

/** Heads of the columns, and rows of a name and a cell for each. */
export interface DataTable {
  readonly heads: readonly string[];
  readonly rows: readonly { readonly name: string; readonly cells: readonly string[] }[];
}

/** Longer names may go over several lines, mm. */
const WIDEST_NAME = 24;
/** Between the columns, mm. */
const GAP = 2;

/** Alike rows share one: theirs is the name that `name` gives to all of them. */
export function groupedRows<T>(
  each: readonly (readonly [cells: readonly string[], what: T])[],
  name: (whats: readonly T[]) => string,
): DataTable['rows'] {
  const groups = new Map<string, { cells: readonly string[]; whats: T[] }>();
  for (const [cells, what] of each) {
    const known = groups.get(cells.join('|'));
    if (known === undefined) groups.set(cells.join('|'), { cells, whats: [what] });
    else known.whats.push(what);
  }
  return [...groups.values()].map(({ cells, whats }) => ({ name: name(whats), cells }));
}

/** A table in so many pieces, each with its heads: a long one can go on in another column. */
export function inPieces({ heads, rows }: DataTable, count: number): DataTable[] {
  const each = Math.ceil(rows.length / count);
  return Array.from({ length: count }, (_, i) => ({ heads, rows: rows.slice(i * each, (i + 1) * each) }));
}

/** The table drawn, its upper left corner at `top`; more columns than fit beside each other go under the first ones. */
export function dataTable(top: Column, { heads, rows }: DataTable, height: number): Block {
  const { width } = top;
  const pitch = LINE_PITCH * height;
  // A head may go over several lines, but its words stay whole.
  const widths = heads.map((head, i) =>
    Math.max(
      ...rows.map(({ cells }) => textWidth(cells[i] ?? '', height)),
      ...head.split(' ').map((word) => textWidth(word, height, true)),
    ),
  );
  const whole = GAP + Math.max(...rows.map(({ name }) => textWidth(name, height)), 10);
  const blocks = (names: number): number[] => counts(widths, width - names);
  const narrow = Math.min(WIDEST_NAME, whole);
  // Names stay on one line where that costs no block.
  const wide = whole < width / 2 && blocks(whole).length <= blocks(narrow).length;
  const nameWidth = wide ? whole : narrow;
  const items: Item[] = [];
  const lines: Path[] = [];
  let y = top.y;
  let first = 0;
  for (const count of blocks(nameWidth)) {
    const own = widths.slice(first, first + count);
    const slack = (width - nameWidth - own.reduce((sum, each) => sum + each, 0)) / count;
    const right = (i: number): number =>
      top.x + nameWidth + own.slice(0, i + 1).reduce((sum, each) => sum + each + slack, 0);
    const wrapped = own.map((each, i) =>
      wrapText(heads[first + i]!, each + Math.max(0, slack - GAP) + 0.01, height, true),
    );
    const deepest = Math.max(...wrapped.map((each) => each.length));
    wrapped.forEach((each, i) => {
      each.forEach((line, l) => {
        const base = y - height - (deepest - each.length + l) * pitch;
        items.push(text({ x: right(i), y: base }, height, line, { align: 'right', bold: true }));
      });
    });
    y -= deepest * pitch;
    lines.push(level(y, top.x, top.x + width));
    y -= 0.6 * height;
    for (const { name, cells } of rows) {
      const names = wrapText(name, nameWidth - 1.5, height);
      names.forEach((line, l) => {
        items.push(text({ x: top.x, y: y - height - l * pitch }, height, line, { colour: '#444444' }));
      });
      cells.slice(first, first + count).forEach((each, i) => {
        items.push(text({ x: right(i), y: y - height }, height, each, { align: 'right' }));
      });
      y -= names.length * pitch;
    }
    y -= 0.4 * height;
    first += count;
  }
  items.push(drawn(lines, LINES.thin));
  return { items, height: top.y - y };
}

/** How many columns stand beside each other, from the first on: in as few blocks as there can be, and those even where they fit. */
function counts(widths: readonly number[], room: number): number[] {
  const fits = (from: number, to: number): boolean =>
    widths.slice(from, to).reduce((sum, each) => sum + each + GAP, 0) <= room;
  const filled: number[] = [];
  for (let first = 0; first < widths.length; first += filled.at(-1)!) {
    let count = 1;
    while (first + count < widths.length && fits(first, first + count + 1)) count++;
    filled.push(count);
  }
  const each = Math.ceil(widths.length / filled.length);
  const even = filled.map((_, i) => Math.min(each, widths.length - i * each));
  return even.every((count, i) => count > 0 && fits(i * each, i * each + count)) ? even : filled;
}

/** Tables of the card: as few blocks of columns as there can be, and names on one line where there is room. */
import { expect, it } from 'vitest';
import { textWidth } from '../../src/drawing/textWidth.ts';
import { type DataTable, dataTable } from '../../src/papers/dataTable.ts';

const HEIGHT = 2.5;
const WIDTH = 90;

/** The lines of a table from above, each with its texts and where they are held. */
function linesOf(table: DataTable): { text: string; x: number; right: boolean }[][] {
  const { items } = dataTable({ x: 0, y: 0, width: WIDTH }, table, HEIGHT);
  const texts = items.flatMap((item) => (item.kind === 'text' ? [item] : []));
  const levels = [...new Set(texts.map(({ at }) => at.y.toFixed(6)))].sort((a, b) => Number(b) - Number(a));
  return levels.map((level) =>
    texts
      .filter(({ at }) => at.y.toFixed(6) === level)
      .map(({ text, at, align }) => ({ text, x: at.x, right: align === 'right' })),
  );
}

const wide = 'lose 34.7 mm (C + D + D–E)';
const row = (name: string, first: string) => ({ name, cells: [first, '24 %', '20 %', '0.80–0.89'] });
const heads = ['rim', 'gather', 'stretch', 'thickness'];

it('one wide column does not send every other one under it', () => {
  const table = { heads, rows: [row('Corner C', wide), row('Corner D', wide)] };
  const headLines = linesOf(table).filter((line) => line.some(({ text }) => heads.includes(text)));
  expect(headLines.map((line) => line.map(({ text }) => text))).toEqual([
    ['rim', 'gather'],
    ['stretch', 'thickness'],
  ]);
});

it('columns that all have room stand beside each other, and no two texts of a line meet', () => {
  for (const first of ['12.3', wide, `${wide} and more`]) {
    const lines = linesOf({ heads, rows: [row('Corner C', first), row('Curved side D–E', first)] });
    for (const line of lines) {
      const spans = line
        .map(({ text, x, right }) => {
          const width = textWidth(text, HEIGHT);
          return right ? [x - width, x] : [x, x + width];
        })
        .sort((a, b) => a[0]! - b[0]!);
      for (let i = 1; i < spans.length; i++) expect(spans[i]![0]).toBeGreaterThan(spans[i - 1]![1]!);
      expect(spans.at(-1)![1]).toBeLessThanOrEqual(WIDTH + 1e-9);
    }
    // Every cell is there once.
    const texts = lines.flatMap((line) => line.map(({ text }) => text));
    expect(texts.filter((text) => text === '0.80–0.89')).toHaveLength(2);
  }
});

it('a long name stays on one line where that costs no block of columns, else it goes over several', () => {
  const long = 'Curved side D–E';
  expect(textWidth(long, HEIGHT)).toBeGreaterThan(24);
  const said = (cells: readonly string[]) =>
    linesOf({ heads: heads.slice(0, cells.length), rows: [{ name: long, cells }] }).flatMap((line) =>
      line.map(({ text }) => text),
    );
  expect(said(['12.3'])).toContain(long);
  // So wide that the room of the long name would part the two.
  const filling = '0'.repeat(
    Math.floor((WIDTH - 24 - 4 - textWidth('gather', HEIGHT, true)) / textWidth('0', HEIGHT)),
  );
  expect(said([filling, '1'])).not.toContain(long);
});

/** Tilings: windows cover the drawing, neighbours overlap by what is asked, no page more than needed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle } from '../../src/drawing/picture.ts';
import { PAGE_SIZES } from '../../src/papers/pageSizes.ts';
import { tilingOf, wholeOnPage } from '../../src/papers/tilePage.ts';
import { tiling, withoutEmpty } from '../../src/papers/tiling.ts';
import { english } from '../../src/words/english.ts';

const PAPER = { ...PAGE_SIZES.A4, margin: 10, overlap: 12, footer: 7 };

describe('a tiling', () => {
  it('covers the drawing with windows that overlap', () => {
    const size = fc.double({ min: 20, max: 1500, noNaN: true });
    fc.assert(
      fc.property(size, size, fc.double({ min: -500, max: 500, noNaN: true }), (width, height, at) => {
        const bounds = { minX: at, minY: -at, maxX: at + width, maxY: -at + height };
        const { tiles, window, overlap, rows, columns, page } = tiling(bounds, PAPER);
        expect(tiles).toHaveLength(rows * columns);
        expect(Math.min(...tiles.map((tile) => tile.x))).toBeLessThanOrEqual(bounds.minX + 1e-9);
        expect(Math.min(...tiles.map((tile) => tile.y))).toBeLessThanOrEqual(bounds.minY + 1e-9);
        expect(Math.max(...tiles.map((tile) => tile.x + window.width))).toBeGreaterThanOrEqual(
          bounds.maxX - 1e-9,
        );
        expect(Math.max(...tiles.map((tile) => tile.y + window.height))).toBeGreaterThanOrEqual(
          bounds.maxY - 1e-9,
        );
        for (const tile of tiles) {
          const next = tiles.find((other) => other.row === tile.row && other.column === tile.column + 1);
          if (next !== undefined) expect(tile.x + window.width - next.x).toBeCloseTo(overlap, 9);
          const above = tiles.find((other) => other.row === tile.row + 1 && other.column === tile.column);
          if (above !== undefined) expect(tile.y + window.height - above.y).toBeCloseTo(overlap, 9);
        }
        // One column or row less would not reach.
        if (columns > 1) expect((columns - 1) * (window.width - overlap) + overlap).toBeLessThan(width);
        if (rows > 1) expect((rows - 1) * (window.height - overlap) + overlap).toBeLessThan(height);
        expect(window.x + window.width).toBeLessThanOrEqual(page.width - PAPER.margin + 1e-9);
        expect(window.y + window.height).toBeLessThanOrEqual(page.height - PAPER.margin + 1e-9);
      }),
    );
  });

  it('turns the paper when that saves pages', () => {
    const { page, tiles } = tiling({ minX: 0, minY: 0, maxX: 260, maxY: 150 }, PAPER);
    expect(tiles).toHaveLength(1);
    expect(page).toEqual({ width: 297, height: 210 });
  });

  it('takes one page off a roll that is wide enough, whichever way the part fits across', () => {
    const roll = { width: 610, height: null, margin: 10, overlap: 12, footer: 7 };
    const along = tiling({ minX: 0, minY: 0, maxX: 1200, maxY: 560 }, roll);
    expect(along.tiles).toHaveLength(1);
    expect(along.page.height).toBe(610);
    expect(along.page.width).toBeGreaterThanOrEqual(1220);
    const across = tiling({ minX: 0, minY: 0, maxX: 560, maxY: 1200 }, roll);
    expect(across.tiles).toHaveLength(1);
    expect(across.page.width).toBe(610);
    expect(tiling({ minX: 0, minY: 0, maxX: 1200, maxY: 800 }, roll).tiles).toHaveLength(2);
  });
});

describe('pages with nothing on them', () => {
  const whole = tiling({ minX: 0, minY: 0, maxX: 1300, maxY: 900 }, PAPER);

  it('are left out, and every point is on a page that is printed', () => {
    const ring = circle({ x: 650, y: 450 }, 430);
    const layout = tilingOf('ring', [ring], { ...PAPER, name: 'A4' }, english.papers);
    expect(layout.tiles.length).toBeLessThan(layout.rows * layout.columns);
    const { window, overlap } = layout;
    for (let k = 0; k < 720; k++) {
      const at = { x: 650 + 430 * Math.cos(k / 114.59), y: 450 + 430 * Math.sin(k / 114.59) };
      const on = layout.tiles.filter(
        ({ x, y }) => at.x >= x && at.x <= x + window.width && at.y >= y && at.y <= y + window.height,
      );
      expect(on.length, `at ${k}`).toBeGreaterThan(0);
    }
    // What is left out has nothing but what a neighbour shows too.
    for (let row = 1; row <= layout.rows; row++)
      for (let column = 1; column <= layout.columns; column++) {
        if (layout.tiles.some((tile) => tile.row === row && tile.column === column)) continue;
        const x = layout.start.x + (column - 1) * (window.width - overlap);
        const y = layout.start.y + (row - 1) * (window.height - overlap);
        for (let k = 0; k < 720; k++) {
          const at = { x: 650 + 430 * Math.cos(k / 114.59), y: 450 + 430 * Math.sin(k / 114.59) };
          const inside =
            at.x > x && at.x < x + window.width - overlap && at.y > y && at.y < y + window.height - overlap;
          expect(inside).toBe(false);
        }
      }
  });

  it('stay where those left would not hang together', () => {
    const [first, last] = [whole.tiles[0]!, whole.tiles.at(-1)!];
    const middles = [first, last].map(({ x, y }) => ({ x: x + 60, y: y + 60 }));
    expect(withoutEmpty(whole, middles).tiles).toEqual(whole.tiles);
  });

  it('leave a label whole on one page', () => {
    const size = { width: 90, height: 30 };
    const wanted = { x: whole.tiles[1]!.x + 3, y: 450 };
    const at = wholeOnPage(whole, wanted, size, () => true);
    const { window, overlap } = whole;
    const on = whole.tiles.filter(
      ({ x, y }) =>
        at.x - 45 >= x + overlap - 1e-9 &&
        at.x + 45 <= x + window.width - overlap + 1e-9 &&
        at.y - 15 >= y + overlap - 1e-9 &&
        at.y + 15 <= y + window.height - overlap + 1e-9,
    );
    expect(on).toHaveLength(1);
    expect(wholeOnPage(whole, wanted, size, () => false)).toEqual(wanted);
  });
});

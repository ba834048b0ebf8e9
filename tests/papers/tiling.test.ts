/** Tilings: windows cover the drawing, neighbours overlap by what is asked, no page more than needed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PAGE_SIZES } from '../../src/papers/pageSizes.ts';
import { tiling } from '../../src/papers/tiling.ts';

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

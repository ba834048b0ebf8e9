/**
 * The template as poppler reads it: page boxes, the length of lines that are to be measured, and the outline
 * put together again from its pages.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { nodeFonts } from '../../src/drawing/nodeFonts.ts';
import { pdfBytes } from '../../src/drawing/pdf.ts';
import type { Picture } from '../../src/drawing/picture.ts';
import { TEXT } from '../../src/drawing/weights.ts';
import { distanceToPath, pathBounds, pathLength, pointAlong } from '../../src/geometry/measure.ts';
import type { Point } from '../../src/geometry/path.ts';
import { PAGE_SIZES } from '../../src/papers/pageSizes.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS, type TemplateOptions } from '../../src/papers/templateOptions.ts';
import { tiling } from '../../src/papers/tiling.ts';
import { english } from '../../src/words/english.ts';
import { some } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import { said } from '../words/pictureText.ts';
import { type ReadPath, readPages, readPaths, readText } from './poppler.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, ROUND_PAN, UPRIGHT, withManyCorners } from './trays.ts';

/** A line of known length has to come out to 0.05 mm. */
const ACCURACY = 0.05;
/** Line weight of the cut line, see `weights.ts`. */
const CUT = 0.5;

const pdf = (options: Partial<TemplateOptions> = {}, spec = NESTING): Promise<Uint8Array> =>
  pdfBytes(templatePages(solved(spec), { ...TEMPLATE_DEFAULTS, ...options }), spec.name, nodeFonts);

/** Distance from a point to a piece of line. */
function distanceToLine(p: Point, a: Point, b: Point): number {
  const length2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  const along = length2 === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length2;
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
}

const isCut = (path: ReadPath): boolean => Math.abs(path.weight - CUT) < 0.01;

describe('the template of a tray on A4', () => {
  let bytes: Uint8Array;
  const layout = () => {
    const box = pathBounds(solved(NESTING).outline);
    return tiling(
      { minX: box.minX - 4, minY: box.minY - 4, maxX: box.maxX + 4, maxY: box.maxY + 4 },
      { ...PAGE_SIZES.A4, margin: 10, overlap: 12, footer: 7 },
    );
  };
  beforeAll(async () => {
    bytes = await pdf({ markingOut: false, rehearsal: false });
  });

  it('has a cover and a page for each tile, all of the size of the paper', () => {
    const pages = readPages(bytes);
    expect(pages).toHaveLength(1 + layout().tiles.length);
    for (const page of pages) {
      const sizes = [page.width, page.height].sort((a, b) => a - b);
      expect(Math.abs(sizes[0]! - 210)).toBeLessThan(ACCURACY);
      expect(Math.abs(sizes[1]! - 297)).toBeLessThan(ACCURACY);
    }
  });

  it('says to measure first, and what is to be measured is true', () => {
    expect(readText(bytes, 1)).toContain('Measure this before you trust it.');
    const paths = readPaths(bytes, 1);
    const square = paths.filter(
      (path) => Math.abs(path.length - 200) < 4 * ACCURACY && path.points.length >= 4,
    );
    expect(square).toHaveLength(1);
    const [a, b, c] = square[0]!.points as [Point, Point, Point];
    expect(Math.abs(Math.hypot(b.x - a.x, b.y - a.y) - 50)).toBeLessThan(ACCURACY);
    expect(Math.abs(Math.hypot(c.x - b.x, c.y - b.y) - 50)).toBeLessThan(ACCURACY);
    for (let page = 1; page <= 1 + layout().tiles.length; page++) {
      const rules = readPaths(bytes, page).filter(
        ({ points: [p, q, ...more], length }) =>
          more.length === 0 && q !== undefined && p!.y === q.y && Math.abs(length - 100) < ACCURACY,
      );
      expect(rules.length, `rules on page ${page}`).toBe(1);
    }
  });

  it('joins again to the outline: every page shows it in place, all of it is on some page', () => {
    const { outline } = solved(NESTING);
    const { tiles, window } = layout();
    const shown: (readonly [Point, Point])[] = [];
    tiles.forEach((tile, i) => {
      const cut = readPaths(bytes, i + 2).filter(isCut);
      expect(cut, `page ${i + 2}`).toHaveLength(1);
      const back = cut[0]!.fine.map(({ x, y }) => ({ x: x - window.x + tile.x, y: y - window.y + tile.y }));
      for (const point of back) expect(distanceToPath(point, outline)).toBeLessThan(ACCURACY);
      // Poppler gives the whole line; what lies outside the window is not printed.
      const inside = ({ x, y }: Point): boolean =>
        x >= tile.x && x <= tile.x + window.width && y >= tile.y && y <= tile.y + window.height;
      for (let k = 1; k < back.length; k++) {
        const [a, b] = [back[k - 1]!, back[k]!];
        const parts = Math.ceil(Math.hypot(b.x - a.x, b.y - a.y));
        const at = (part: number): Point => ({
          x: a.x + ((b.x - a.x) * part) / parts,
          y: a.y + ((b.y - a.y) * part) / parts,
        });
        for (let part = 0; part < parts; part++) {
          const piece = [at(part), at(part + 1)] as const;
          if (piece.every(inside)) shown.push(piece);
        }
      }
      expect(Math.abs(cut[0]!.length - pathLength(outline))).toBeLessThan(ACCURACY);
    });
    const length = pathLength(outline);
    for (let k = 0; k < 100; k++) {
      const at = pointAlong(outline, (k / 100) * length);
      const nearest = Math.min(...shown.map(([a, b]) => distanceToLine(at, a, b)));
      // The read line is a row of short chords.
      expect(nearest, `station ${k}`).toBeLessThan(2 * ACCURACY);
    }
  });

  it('has joining marks at one place of the drawing on both pages', () => {
    const { tiles, window, columns } = layout();
    expect(columns).toBe(2);
    /** Middles of the small circles of a page, in the drawing. */
    const marks = (page: number): Point[] =>
      readPaths(bytes, page)
        .filter((path) => Math.abs(path.weight - 0.13) < 0.01 && path.fine.length > 40)
        .map(({ fine }) => ({
          x:
            (Math.min(...fine.map((p) => p.x)) + Math.max(...fine.map((p) => p.x))) / 2 -
            window.x +
            tiles[page - 2]!.x,
          y:
            (Math.min(...fine.map((p) => p.y)) + Math.max(...fine.map((p) => p.y))) / 2 -
            window.y +
            tiles[page - 2]!.y,
        }));
    const [left, right] = [marks(2), marks(3)];
    const shared = left.filter((mark) =>
      right.some((other) => Math.hypot(mark.x - other.x, mark.y - other.y) < ACCURACY),
    );
    expect(shared).toHaveLength(2);
    // They lie on the line where the right page is cut.
    for (const { x } of shared) expect(x).toBeCloseTo(tiles[1]!.x, 1);
  });
});

describe('the words of the template and the tables', () => {
  it.each(some(['mm', 'inch', 'fraction'] as const, 2))('lie clear of each other in %s', (unit) => {
    const named = {
      ...solved(UPRIGHT),
      name: 'seedling-bench-tray-for-the-long-propagation-house-at-the-gate',
    };
    for (const pattern of [solved(NESTING), named]) {
      for (const paper of ['A4', 'Letter'] as const) {
        const pages = templatePages(pattern, { ...TEMPLATE_DEFAULTS, paper, unit });
        // On a tile the blank lies behind everything else.
        const [cover, ...rest] = pages;
        expect(textOverlaps(cover!)).toEqual([]);
        for (const page of rest) expect(textOverlaps(page, ['drawing'])).toEqual([]);
      }
    }
  });
});

describe('the rehearsal in the template', () => {
  const pages = (spec: typeof NESTING, options: Partial<TemplateOptions> = {}) =>
    templatePages(solved(spec), { ...TEMPLATE_DEFAULTS, ...options });
  const paperOnly = english.papers.rehearsal.paperOnly;
  /** Without the ends of lines. */
  const text = (of: readonly Picture[]): string => said(of).replace(/\s+/g, ' ');

  it.each(['A4', 'roll'] as const)('is the last page, and nobody takes it for the cut: %s', async (paper) => {
    const bytes = await pdf({ paper }, UPRIGHT);
    const without = readPages(await pdf({ paper, rehearsal: false }, UPRIGHT)).length;
    expect(readPages(bytes)).toHaveLength(without + 1);
    for (let page = 1; page <= without; page++) expect(readText(bytes, page)).not.toContain(paperOnly);
    const last = readText(bytes, without + 1).replace(/\s+/g, ' ');
    expect(last).toContain(paperOnly);
    expect(last).toContain('This is no template to cut metal by.');
    expect(readPaths(bytes, without + 1).filter(isCut)).toEqual([]);
    const most = Math.max(...solved(UPRIGHT).gather.zones.map(({ rim }) => rim?.toLose ?? 0));
    expect(last).toContain(`${most.toFixed(1)} mm of rim to lose`);
  });

  it('comes on larger sheets, too, where one has room for it', () => {
    const large = { paper: 'A3' } as const;
    expect(pages(NESTING, large)).toHaveLength(pages(NESTING, { ...large, rehearsal: false }).length + 1);
  });

  it('is left out where its sheets would have to be joined as those of the blank, and the cover says so', () => {
    const without = pages(ROUND_PAN, { rehearsal: false });
    expect(pages(ROUND_PAN)).toHaveLength(without.length);
    const { apart } = english.papers.rehearsal;
    expect(text(pages(ROUND_PAN).slice(0, 1))).toContain(apart);
    expect(text(without)).not.toContain(apart);
    expect(text(pages(NESTING, { paper: 'A3' }))).not.toContain(apart);
  });

  it('is left out where nothing is gathered', () => {
    const { nothing, apart } = english.papers.rehearsal;
    const flat = { ...solved(NESTING), gather: { ...solved(NESTING).gather, zones: [], tucks: [] } };
    const all = text(templatePages(flat, TEMPLATE_DEFAULTS));
    expect(all).not.toContain(nothing);
    expect(all).not.toContain(apart);
  });
});

describe('the template on other papers', () => {
  it('fits a roll in one page', async () => {
    const bytes = await pdf({ paper: 'roll', markingOut: false, rehearsal: false });
    const pages = readPages(bytes);
    expect(pages).toHaveLength(2);
    expect(Math.min(pages[1]!.width, pages[1]!.height)).toBeLessThanOrEqual(610 + ACCURACY);
    const cut = readPaths(bytes, 2).filter(isCut);
    const xs = cut[0]!.fine.map((point) => point.x);
    const { blank } = solved(NESTING).report;
    expect(Math.abs(Math.max(...xs) - Math.min(...xs) - blank.length)).toBeLessThan(ACCURACY);
  });

  it('has rules of 4 inches and fractions for those who ask for inches', async () => {
    const bytes = await pdf({ paper: 'Letter', unit: 'fraction', markingOut: false });
    const [cover] = readPages(bytes);
    expect(cover!.width).toBeCloseTo(215.9, 1);
    expect(readText(bytes, 1)).toContain('This square is 2″ on each side.');
    const rules = readPaths(bytes, 2).filter(
      ({ points, length }) => points.length === 2 && Math.abs(length - 101.6) < ACCURACY,
    );
    expect(rules).toHaveLength(1);
  });

  it('refuses more pages than anybody tapes together, and says what helps', () => {
    const huge = solved(NESTING);
    const outline = {
      ...huge.outline,
      vertices: huge.outline.vertices.map((vertex) => ({ ...vertex, x: 12 * vertex.x, y: 12 * vertex.y })),
    };
    expect(() => templatePages({ ...huge, outline }, TEMPLATE_DEFAULTS)).toThrow(/larger paper or a roll/);
  });

  it('goes on behind the cover where the figures of a blank are too many for it', () => {
    const pattern = solved(NESTING);
    const many = withManyCorners(pattern);
    const { corners } = many.report;
    const pages = templatePages(many, { ...TEMPLATE_DEFAULTS, markingOut: false });
    const plain = templatePages(pattern, { ...TEMPLATE_DEFAULTS, markingOut: false });
    const more = pages.length - plain.length;
    expect(more).toBeGreaterThan(1);
    const covers = pages.slice(0, 1 + more);
    expect(said([covers[0]!])).toContain('Cut edges are sharp');
    const text = said(covers);
    for (const { rimToLose } of corners)
      expect(text).toContain(`to lose ${rimToLose!.toFixed(1)} mm from mark to mark;`);
    for (const page of [...covers, plain[0]!]) {
      expect(textOverlaps(page)).toEqual([]);
      for (const item of page.items)
        if (item.kind === 'text') expect(item.height).toBeGreaterThanOrEqual(TEXT.small);
    }
  });

  it('warns of cut edges, and of fumes where a laser or plasma cuts', async () => {
    expect(readText(await pdf(), 1)).toContain('Cut edges are sharp');
    expect(readText(await pdf(), 1)).not.toContain('extract at the cut');
    expect(readText(await pdf({}, UPRIGHT), 1)).toContain('extract at the cut');
  });
});

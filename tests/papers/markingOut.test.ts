/** The tables for marking out: enough to draw the outline again, by square and dividers, to 0.1 mm. */
import { describe, expect, it } from 'vitest';
import { nodeFonts } from '../../src/drawing/nodeFonts.ts';
import { pdfBytes } from '../../src/drawing/pdf.ts';
import { distanceToPath, pathBounds, pathLength } from '../../src/geometry/measure.ts';
import { datum, markedPieces, stations } from '../../src/papers/markingOut.ts';
import { markingPages } from '../../src/papers/markingPages.ts';
import { english } from '../../src/words/english.ts';
import { readPages, readText } from './poppler.ts';
import { NESTING, solved, UPRIGHT } from './solved.ts';

for (const spec of [NESTING, UPRIGHT]) {
  const pattern = solved(spec);
  const { outline } = pattern;
  const origin = datum(pattern);

  describe(`marking out ${spec.name}`, () => {
    it('measures from two datum edges that the blank touches', () => {
      const list = stations(outline, origin);
      const { blank } = pattern.report;
      for (const { x, y } of list) {
        expect(x).toBeGreaterThan(-1e-9);
        expect(y).toBeGreaterThan(-1e-9);
        expect(x).toBeLessThan(blank.length + 1e-9);
        expect(y).toBeLessThan(blank.width + 1e-9);
        expect(distanceToPath({ x: x + origin.x, y: y + origin.y }, outline)).toBeLessThan(1e-9);
      }
      expect(list.map(({ number }) => number)).toEqual(list.map((_, i) => i + 1));
      const box = pathBounds(outline);
      expect([origin.x, origin.y]).toEqual([box.minX, box.minY]);
    });

    it('has stations so close that a rule between them is within 0.1 mm, or 1 mm on arcs struck from a centre', () => {
      const list = stations(outline, origin);
      list.forEach((from, i) => {
        const to = list[(i + 1) % list.length]!;
        const middle = { x: (from.x + to.x) / 2 + origin.x, y: (from.y + to.y) / 2 + origin.y };
        const off = distanceToPath(middle, outline);
        // Chords of 15 mm: their sagitta tells the radius they stand on.
        const chord = Math.hypot(to.x - from.x, to.y - from.y);
        expect(off).toBeLessThan(chord > 15.01 ? 0.1001 : 1);
      });
    });

    it('gives arcs by centre and radius: both ends lie on the circle, the lengths add up', () => {
      const pieces = markedPieces(outline, origin);
      for (const { from, to, arc, length } of pieces) {
        if (arc === null) {
          expect(Math.hypot(to.x - from.x, to.y - from.y)).toBeCloseTo(length, 9);
          continue;
        }
        const { centre, radius, rise } = arc;
        // The sagitta from radius and half chord.
        const half = Math.hypot(to.x - from.x, to.y - from.y) / 2;
        expect(Math.abs(rise - half ** 2 / (radius + Math.sqrt(radius ** 2 - half ** 2)))).toBeLessThan(1e-6);
        expect(Math.abs(Math.hypot(from.x - centre.x, from.y - centre.y) - radius)).toBeLessThan(
          1e-6 * radius,
        );
        expect(Math.abs(Math.hypot(to.x - centre.x, to.y - centre.y) - radius)).toBeLessThan(1e-6 * radius);
        const chord = Math.hypot(to.x - from.x, to.y - from.y);
        expect(2 * radius * Math.asin(chord / (2 * radius))).toBeCloseTo(length, 6);
      }
      expect(pieces.reduce((sum, piece) => sum + piece.length, 0)).toBeCloseTo(pathLength(outline), 9);
      pieces.forEach((piece, i) => {
        expect(piece.to).toEqual(pieces[(i + 1) % pieces.length]!.from);
      });
    });

    it('prints every figure', async () => {
      const pages = markingPages(pattern, { paper: 'A4', unit: 'mm', words: english.papers });
      const bytes = await pdfBytes(pages, spec.name, nodeFonts);
      expect(readPages(bytes)).toHaveLength(pages.length);
      const words = new Set(readText(bytes).split(/\s+/));
      for (const { number, x, y } of stations(outline, origin)) {
        for (const said of [String(number), x.toFixed(1), y.toFixed(1)]) expect(words, said).toContain(said);
      }
      for (const { arc } of markedPieces(outline, origin)) {
        if (arc === null) continue;
        // What no trammel reaches is given by its rise.
        expect(words).toContain((arc.radius > 10_000 ? arc.rise : arc.radius).toFixed(1));
      }
    });
  });
}

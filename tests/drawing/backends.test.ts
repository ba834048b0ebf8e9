/** One picture through each backend, read back by programs that are not ours. */
import { Resvg } from '@resvg/resvg-js';
import { create, type Font } from 'fontkit';
import { SVGPathData } from 'svg-pathdata';
import { describe, expect, it } from 'vitest';
import { nodeFonts } from '../../src/drawing/nodeFonts.ts';
import { NO_FEATURES, pdfBytes, standApart } from '../../src/drawing/pdf.ts';
import { drawn, type Picture, rectangle } from '../../src/drawing/picture.ts';
import { pngBytes } from '../../src/drawing/png.ts';
import { svgText } from '../../src/drawing/svg.ts';
import { fitText, textWidth, wrapText } from '../../src/drawing/textWidth.ts';
import { LINES } from '../../src/drawing/weights.ts';
import type { Path } from '../../src/geometry/path.ts';
import { readPages, readPaths, readText, readWords } from '../papers/poppler.ts';

const BLACK = { weight: 0.5, colour: '#000000' };

/** Three quarters of a circle of radius 400 about (500, 450), counter-clockwise from the right. */
const ARC: Path = {
  vertices: [
    { x: 900, y: 450, bulge: Math.tan((3 * Math.PI) / 8) },
    { x: 500, y: 50, bulge: 0 },
  ],
  closed: false,
};

const picture = (items: Picture['items']): Picture => ({
  width: 1000,
  height: 900,
  title: 'test <&> "sheet"',
  items,
});

describe('SVG', () => {
  const numbers = (svg: string): SVGPathData => new SVGPathData(/ d="([^"]+)"/.exec(svg)![1]!).toAbs();

  it('keeps arcs as arcs, the right way round in y downwards', () => {
    const [move, arc] = numbers(svgText(picture([drawn([ARC], BLACK)]))).commands;
    expect(move).toMatchObject({ x: 900, y: -450 });
    expect(arc).toMatchObject({
      type: SVGPathData.ARC,
      rX: 400,
      rY: 400,
      lArcFlag: 1,
      sweepFlag: 0,
      x: 500,
      y: -50,
    });
  });

  it('is sound XML whatever a name holds, and the same each time', () => {
    const make = (): string =>
      svgText(
        picture([
          {
            kind: 'text',
            at: { x: 5, y: 5 },
            height: 3,
            text: 'a < b & "c" \u0007 é',
            align: 'left',
            halo: true,
          },
          {
            kind: 'group',
            at: { x: 10, y: 10 },
            scale: 0.5,
            angle: 1,
            clip: { x: 0, y: 0, width: 5, height: 5 },
            items: [drawn([ARC], LINES.scribe)],
          },
        ]),
      );
    expect(make()).toBe(make());
    // resvg refuses what is not well-formed.
    expect(new Resvg(make()).width).toBeGreaterThan(100);
    expect(() => new Resvg(make().replace('&lt;', '<'))).toThrow();
  });

  it('draws lines of the weight on the paper at any scale', () => {
    const group = (scale: number): string =>
      svgText(picture([{ kind: 'group', at: { x: 0, y: 0 }, scale, items: [drawn([ARC], LINES.scribe)] }]));
    for (const scale of [0.1, 1, 4]) {
      const svg = group(scale);
      expect(Number(/stroke-width="([\d.]+)"/.exec(svg)![1]) * scale).toBeCloseTo(0.25, 4);
      expect(Number(/stroke-dasharray="([\d.]+)/.exec(svg)![1]) * scale).toBeCloseTo(3, 3);
    }
  });
});

describe('PDF', () => {
  it('letters that stand apart are set as the font itself would have them, whatever stands beside them', async () => {
    const { regular, bold } = await nodeFonts('');
    for (const bytes of [regular, bold]) {
      const font = create(bytes as Buffer) as Font;
      const letters = font.characterSet.map((code) => String.fromCodePoint(code)).filter(standApart);
      expect(letters.length).toBeGreaterThan(1_000);
      // Every letter beside the next one, and beside one far away.
      for (const step of [1, 61]) {
        const text = letters.map((letter, i) => letter + letters[(i + step) % letters.length]!).join('');
        const { glyphs, positions } = font.layout(text, NO_FEATURES as unknown as string[]);
        const alone = font.glyphsForString(text);
        expect(glyphs.map(({ id }) => id).join()).toBe(alone.map(({ id }) => id).join());
        expect(
          positions.map(({ xAdvance, xOffset, yOffset }) => `${xAdvance} ${xOffset} ${yOffset}`).join(),
        ).toBe(alone.map(({ advanceWidth }) => `${advanceWidth} 0 0`).join());
      }
    }
    for (const text of ['e\u0301', '1\u20442', 'صينية', 'a\u00adb', '植木鉢'])
      expect(standApart(text), text).toBe(false);
  });

  it('has the page and the arc, within 0.001 mm at a radius of 400 mm', async () => {
    const bytes = await pdfBytes([picture([drawn([ARC], BLACK)])], 'arc', nodeFonts);
    const [page] = readPages(bytes);
    expect(page!.width).toBeCloseTo(1000, 1);
    expect(page!.height).toBeCloseTo(900, 1);
    const [path] = readPaths(bytes, 1);
    expect(path!.weight).toBeCloseTo(0.5, 3);
    for (const { x, y } of path!.fine)
      expect(Math.abs(Math.hypot(x - 500, y - 450) - 400)).toBeLessThan(1e-3);
    expect(path!.fine[0]!.x).toBeCloseTo(900, 3);
    expect(path!.fine.at(-1)!.y).toBeCloseTo(50, 3);
    expect(path!.fine.some(({ y }) => y > 849)).toBe(true);
  });

  it('places groups: scaled, then turned, then moved', async () => {
    const bytes = await pdfBytes(
      [
        picture([
          {
            kind: 'group',
            at: { x: 200, y: 100 },
            scale: 2,
            angle: Math.PI / 2,
            items: [drawn([rectangle({ x: 10, y: 0, width: 20, height: 5 })], BLACK)],
          },
        ]),
      ],
      'group',
      nodeFonts,
    );
    const { points } = readPaths(bytes, 1)[0]!;
    // (10, 0) → (20, 0) → turned (0, 20) → (200, 120); (30, 5) → (60, 10) → (−10, 60) → (190, 160).
    expect(points[0]!.x).toBeCloseTo(200, 3);
    expect(points[0]!.y).toBeCloseTo(120, 3);
    expect(points[2]!.x).toBeCloseTo(190, 3);
    expect(points[2]!.y).toBeCloseTo(160, 3);
  });

  it('is the same each time, and holds letters beyond ASCII', async () => {
    const make = (): Promise<Uint8Array> =>
      pdfBytes(
        [
          picture([
            { kind: 'text', at: { x: 20, y: 20 }, height: 3, text: 'Gießkanne № 5, 1 33/64″', align: 'left' },
          ]),
        ],
        'text',
        nodeFonts,
      );
    const bytes = await make();
    expect(await make()).toEqual(bytes);
    expect(readText(bytes)).toContain('Gießkanne');
    expect(readText(bytes)).toContain('33/64″');
  });

  it('refuses a page that PDF does not have', async () => {
    await expect(pdfBytes([{ ...picture([]), width: 6000 }], 'long', nodeFonts)).rejects.toMatchObject({
      code: 'TOO_LARGE',
    });
  });
});

describe('PNG', () => {
  it('has the size asked for and the ink where it should be', async () => {
    const bytes = await pngBytes(
      {
        width: 50.8,
        height: 25.4,
        title: 'png',
        items: [{ kind: 'text', at: { x: 5, y: 5 }, height: 10, text: 'H', align: 'left' }],
      },
      100,
    );
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    // PNG specification: signature, then IHDR with width and height.
    expect([...bytes.subarray(1, 4)]).toEqual([...Buffer.from('PNG')]);
    expect([view.getUint32(16), view.getUint32(20)]).toEqual([200, 100]);
    // With no font at all, the picture would be blank and much smaller.
    const blank = await pngBytes({ width: 50.8, height: 25.4, title: 'png', items: [] }, 100);
    expect(bytes.length).toBeGreaterThan(blank.length * 1.2);
  });
});

describe('text widths', () => {
  it('agree with the width poppler measures', async () => {
    const words = ['Nursery', 'QUADRANT', '0123456789', 'W.i;l(l)', '×½°'];
    for (const bold of [false, true]) {
      const bytes = await pdfBytes(
        [
          picture(
            words.map((text, i) => ({
              kind: 'text',
              at: { x: 20, y: 20 + 30 * i },
              height: 10,
              text,
              align: 'left',
              bold,
            })),
          ),
        ],
        'widths',
        nodeFonts,
      );
      const read = readWords(bytes, 1);
      for (const text of words.slice(0, 4)) {
        const found = read.find(({ word }) => word === text);
        expect(found, text).toBeDefined();
        expect(Math.abs(found!.width - textWidth(text, 10, bold))).toBeLessThan(0.05);
      }
    }
  });

  it('break and shorten lines to a width', () => {
    const sentence = 'Cut edges are sharp: break all edges before the sheet is handled.';
    const lines = wrapText(sentence, 60, 2.5);
    expect(lines.join(' ')).toBe(sentence);
    expect(lines.length).toBeGreaterThan(1);
    for (const line of lines) expect(textWidth(line, 2.5)).toBeLessThanOrEqual(60);
    expect(textWidth(fitText(sentence, 30, 2.5), 2.5)).toBeLessThanOrEqual(30);
    expect(fitText('short', 30, 2.5)).toBe('short');
  });
});

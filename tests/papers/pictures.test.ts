/** The picture of the blank and the shop card: true to scale, small enough, saying what they have to say. */
import { beforeAll, describe, expect, it } from 'vitest';
import { nodeFonts } from '../../src/drawing/nodeFonts.ts';
import { pdfBytes } from '../../src/drawing/pdf.ts';
import type { GroupItem } from '../../src/drawing/picture.ts';
import { svgText } from '../../src/drawing/svg.ts';
import type { ExportContext } from '../../src/exporters/contract.ts';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import type { Course } from '../../src/gather/workingPlan.ts';
import { containsPoint, pathBounds } from '../../src/geometry/measure.ts';
import type { Point } from '../../src/geometry/path.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { depthMap } from '../../src/papers/depthMap.ts';
import { formedView } from '../../src/papers/formedView.ts';
import { plainScale, scaleText } from '../../src/papers/plainScale.ts';
import { shopCard } from '../../src/papers/shopCard.ts';
import { skinOffset } from '../../src/papers/skins.ts';
import { stageColumns } from '../../src/papers/stageTable.ts';
import { stripRows } from '../../src/papers/strip.ts';
import { formedShape } from '../../src/pattern/formedShape.ts';
import { cornerLetter } from '../../src/tray/cornerLetter.ts';
import { radians } from '../../src/units.ts';
import { english } from '../../src/words/english.ts';
import { solved, solvedCourse } from '../support/solved.ts';
import { toolCommand } from '../support/tools.ts';
import { readPages, readPaths, readText } from './poppler.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, STRIP, UPRIGHT } from './trays.ts';

const registry = createRegistry(nodeExporters);
const write = (id: string, given: Record<string, unknown> = {}): Promise<Uint8Array> => {
  const exporter = registry.get(id);
  return exporter.write(solved(NESTING), registry.values(exporter, given));
};

/** Largest SVG a page should have to load. */
const LARGEST = 400_000;

describe('the picture of the blank', () => {
  it('is A4 across with figures beside, or as wide as a phone shows with figures below', () => {
    const wide = blankPicture(solved(NESTING), { form: 'wide' });
    expect([wide.width, wide.height]).toEqual([297, 210]);
    const narrow = blankPicture(solved(NESTING), { form: 'narrow' });
    expect(narrow.width).toBe(100);
    expect(narrow.height).toBeGreaterThan(100);
  });

  it('is true to the scale it states, and so is its scale bar', async () => {
    const pattern = solved(NESTING);
    const picture = blankPicture(pattern, { form: 'wide' });
    const bytes = await pdfBytes([picture], 'picture', nodeFonts);
    const cut = readPaths(bytes, 1)
      .filter((path) => Math.abs(path.weight - 0.5) < 0.01)
      .sort((a, b) => b.length - a.length)[0]!;
    const stated = /1:([\d.]+)\./.exec(readText(bytes))![1]!;
    const box = pathBounds(pattern.outline);
    const width = Math.max(...cut.fine.map((p) => p.x)) - Math.min(...cut.fine.map((p) => p.x));
    expect(Math.abs(width * Number(stated) - (box.maxX - box.minX))).toBeLessThan(0.1);
    // The bar's boxes are the closed thin paths of height 1.4 mm.
    const boxes = readPaths(bytes, 1).filter(({ points, length }) => {
      if (points.length < 4) return false;
      const high = Math.max(...points.map((p) => p.y)) - Math.min(...points.map((p) => p.y));
      return Math.abs(high - 1.4) < 0.01 && length < 60;
    });
    const xs = boxes.flatMap(({ points }) => points.map((p) => p.x));
    const bar = (Math.max(...xs) - Math.min(...xs)) * Number(stated);
    expect(readText(bytes).replaceAll('\u00a0', ' ')).toContain(`${Math.round(bar)} mm`);
    expect(Math.abs(bar - Math.round(bar))).toBeLessThan(0.05);
  });

  it('says the figures that matter', async () => {
    const text = readText(
      await pdfBytes([blankPicture(solved(NESTING), { form: 'wide' })], 'x', nodeFonts),
    ).replaceAll('\u00a0', ' ');
    const { report } = solved(NESTING);
    for (const said of [
      `${report.blank.length.toFixed(1)} × ${report.blank.width.toFixed(1)} mm`,
      'Gather, % of length',
      'scribe, do not cut',
      'grain',
    ]) {
      expect(text).toContain(said);
    }
    expect(text.replaceAll(/\s+/g, ' ')).toContain(`lose ${report.corners[0]!.rimToLose!.toFixed(1)} mm`);
  });

  it('is at most 400 kB, wide and narrow, and the same each time', async () => {
    for (const form of ['wide', 'narrow']) {
      const bytes = await write('svg', { form });
      expect(bytes.length).toBeLessThan(LARGEST);
      expect(Buffer.compare(await write('svg', { form }), bytes)).toBe(0);
    }
  });

  it('is drawn as PNG with any setting', async () => {
    const small = await write('png', { dotsPerInch: 50, form: 'narrow', figures: false });
    const large = await write('png', { dotsPerInch: 200 });
    expect([...large.subarray(1, 4)]).toEqual([...Buffer.from('PNG')]);
    const view = new DataView(large.buffer, large.byteOffset);
    expect(view.getUint32(16)).toBe(Math.round((297 / 25.4) * 200));
    expect(small.length).toBeLessThan(large.length);
  });

  it('leaves out what is not asked for', () => {
    const svg = (options: object): string =>
      svgText(blankPicture(solved(UPRIGHT), { form: 'wide', ...options }));
    const [all, plain] = [svg({}), svg({ figures: false })];
    expect(all).toContain('>equal gather, %<');
    expect(svg({ contours: false })).not.toContain('>equal gather, %<');
    expect(plain.length).toBeLessThan(all.length);
    expect(plain).not.toContain('rim over the arc');
    expect(svg({ unit: 'fraction' })).toMatch(/\d+\/\d+″/);
  });

  it('takes scales that are easily said', () => {
    expect([plainScale(0.33), plainScale(0.9), plainScale(3), plainScale(0.001)]).toEqual([
      0.25, 0.5, 2, 0.001,
    ]);
    expect([scaleText(0.4), scaleText(2)]).toEqual(['1:2.5', '2:1']);
  });

  it('takes its words from the table', () => {
    const words = {
      ...english,
      papers: { ...english.papers, legendCut: 'schneiden', grain: 'Walzrichtung' },
    };
    const svg = svgText(blankPicture(solved(UPRIGHT), { form: 'wide', words }));
    expect(svg).toContain('>schneiden<');
    expect(svg).toContain('>Walzrichtung<');
    expect(svg).not.toContain('>cut<');
  });
});

describe('the view of the formed tray', () => {
  it('has no trim: its rim is as high above the measured skin of the base as the tray file says', () => {
    for (const spec of [UPRIGHT, NESTING]) {
      const { formed, rimNodes, rimCorner } = formedShape(solved(spec));
      const top = formed.reduce((most, value, i) => (i % 3 === 2 ? Math.max(most, value) : most), 0);
      // The edge is square to the wall, which leans.
      const off = skinOffset(spec, spec.measured) * (1 - Math.sin(radians(spec.section.draft)));
      expect(top).toBeCloseTo(spec.section.height + off, 9);
      expect(new Set(rimCorner)).toEqual(new Set([-1, 0, 1, 2, 3]));
      expect(rimNodes.length).toBe(rimCorner.length);
      expect(Math.max(...solved(spec).field.formed.filter((_, i) => i % 3 === 2))).toBeGreaterThan(top + 3);
    }
  });

  it("fills the room and keeps the tray's proportions", () => {
    const { width, height } = formedView(solved(UPRIGHT), {
      width: 90,
      height: 60,
      around: 0,
      above: 0,
    });
    // Straight from the front one sees the length and the height of the neutral surface.
    const { formed } = formedShape(solved(UPRIGHT));
    const span = (axis: number): number => {
      const list = Array.from({ length: formed.length / 3 }, (_, i) => formed[3 * i + axis]!);
      return Math.max(...list) - Math.min(...list);
    };
    expect(width).toBeCloseTo(90, 9);
    expect(height / width).toBeCloseTo(span(2) / span(0), 9);
    const above = formedView(solved(UPRIGHT), { width: 90, height: 90, around: 0, above: 90 });
    expect(above.height / above.width).toBeCloseTo(span(1) / span(0), 9);
  });

  it('letters the corners outside the tray', () => {
    const room = { width: 90, height: 60 };
    const { items } = formedView(solved(UPRIGHT), { ...room, corner: cornerLetter });
    const [group] = items as [GroupItem];
    const letters = group.items.filter((item) => item.kind === 'text');
    expect(letters.map(({ text }) => text)).toEqual(['A', 'B', 'C', 'D']);
    // From −y and a little from +x, corner A (+x +y) is at the right, B at the back, C at the left, D before.
    const [right, back, left, front] = letters.map(({ at }) => at) as [Point, Point, Point, Point];
    expect(right.x).toBeGreaterThan(Math.max(back.x, left.x, front.x));
    expect(left.x).toBeLessThan(Math.min(back.x, front.x));
    expect(back.y).toBeGreaterThan(Math.max(right.y, left.y));
    expect(front.y).toBeLessThan(Math.min(right.y, left.y));
    const shaded = group.items.flatMap((item) => (item.kind === 'path' ? item.paths : []));
    for (const { at } of letters) {
      expect(at.y).toBeGreaterThan(0);
      for (const path of shaded.filter(({ closed }) => closed)) expect(containsPoint(path, at)).toBe(false);
    }
  });

  it('is the same shape seen from the other side of a symmetric tray', () => {
    const square = { width: 80, height: 80 };
    const a = formedView(solved(NESTING), { ...square, around: 20 });
    const b = formedView(solved(NESTING), { ...square, around: 200 });
    expect(a.width).toBeCloseTo(b.width, 6);
    expect(a.height).toBeCloseTo(b.height, 6);
  });
});

describe('what hides what in a view', () => {
  // Two squares that face the eye, 10 by 10 mm at depth 0 and 4 by 4 mm before its middle.
  const x = Float64Array.from([0, 10, 10, 0, 3, 7, 7, 3]);
  const y = Float64Array.from([0, 0, 10, 10, 3, 3, 7, 7]);
  const depth = Float64Array.from([0, 0, 0, 0, 5, 5, 5, 5]);
  const map = depthMap({ x, y, depth, width: 10, height: 10 }, [0, 1, 2, 0, 2, 3, 4, 5, 6, 4, 6, 7]);

  it('is what lies nearer to the eye', () => {
    expect(map.visible(5, 5, 0)).toBe(false);
    expect(map.visible(5, 5, 5)).toBe(true);
    expect(map.visible(1, 5, 0)).toBe(true);
    expect(map.visible(1, 5, -3)).toBe(false);
  });

  it('leaves the edge of what is nearer in sight, and what lies beside the part', () => {
    expect(map.visible(3, 5, 5)).toBe(true);
    expect(map.visible(10, 5, 0)).toBe(true);
    expect(map.visible(12, 5, -20)).toBe(true);
  });
});

describe.skipIf(toolCommand('poppler') === null)('the shop card', () => {
  let bytes: Uint8Array;
  let text: string;
  beforeAll(async () => {
    bytes = await write('card-pdf', { strip: 25 });
    text = readText(bytes).replaceAll('\u00a0', ' ').replaceAll(/\s+/g, ' ');
  });

  it('has two sides of the paper; a strip to be welded on takes another sheet', async () => {
    const pages = readPages(bytes);
    expect(pages.length).toBeLessThanOrEqual(3);
    expect(pages[0]!.width).toBeCloseTo(210, 1);
    expect(readPages(await write('card-pdf'))).toHaveLength(2);
    const letter = readPages(await write('card-pdf', { paper: 'Letter', plan: false }));
    expect(letter).toHaveLength(2);
    expect(letter[0]!.height).toBeCloseTo(279.4, 1);
  });

  it('says what the bench needs', () => {
    for (const said of [
      NESTING.name,
      'Section across the wall',
      '3: wall at 78°',
      '3: wall at 78°',
      'Annealing',
      'Tucks',
      'Verdict',
      'Checks on the way',
      'Measured before the rim is trimmed (how: the sheet of the trial corner; `hand` finds your hand from it)',
      'Hammering is loud',
      'Welding fume can cause cancer',
      'Date',
      'gatherpan 0.',
    ]) {
      expect(text).toContain(said);
    }
  });

  it('keeps everything on the page, above the lines for what was measured', () => {
    for (const spec of [NESTING, UPRIGHT]) {
      const card = shopCard(solved(spec), { paper: 'Letter', unit: 'fraction' });
      const lowest: number[] = [];
      for (const item of card.items) {
        if (item.kind !== 'text') continue;
        expect(item.at.x).toBeGreaterThan(5);
        expect(item.at.x).toBeLessThan(card.width - 5);
        lowest.push(item.at.y);
      }
      expect(Math.min(...lowest)).toBeGreaterThan(5);
    }
  });

  it('bears the day it is given, or a line for it', async () => {
    const exporter = registry.get('card-svg');
    const values = registry.values(exporter, { plan: false });
    const text = async (context?: ExportContext): Promise<string> =>
      new TextDecoder().decode(await exporter.write(solved(NESTING), values, context));
    expect(await text({ date: '2031-04-05' })).toContain('Date 2031-04-05');
    expect(await text()).toMatch(/Date _+</);
    expect(await text()).toBe(await text({}));
  });

  it('has the stages of the plan: what the rim loses adds up to what the zone has to lose', async () => {
    const pattern = solved(UPRIGHT);
    const { stages } = solvedCourse(pattern);
    const { heads, rows } = stageColumns(
      pattern,
      { stages, anneals: {} as Course['anneals'] },
      english.papers,
      'mm',
    );
    expect(heads).toEqual(stages.map(({ angle }, i) => `${i + 1}: wall at ${angle}°`));
    expect(stages.every(({ angle }) => Number.isInteger(angle))).toBe(true);
    expect(rows.map(({ name }) => name)).toEqual(['Corner A', 'Corner B', 'Corner C', 'Corner D']);
    for (const [i, { cells }] of rows.entries()) {
      const zone = pattern.gather.zones.find(({ corners }) => corners[0] === i)!;
      const lost = cells.reduce((sum, cell) => sum + Number(/^−([\d.]+) \//.exec(cell)![1]), 0);
      // Each cell is rounded to a tenth.
      expect(Math.abs(lost - zone.rim!.toLose)).toBeLessThan(0.2);
      expect(cells.at(-1)).toContain(` / ${zone.thickness.value.toFixed(2)}`);
    }
  });

  it('has no sign where the rim keeps its length to the last figure told', () => {
    const pattern = solved(UPRIGHT);
    const [first] = solvedCourse(pattern).stages;
    const cellOf = (rimToLose: number, unit: 'mm' | 'inch'): string => {
      const stages = [{ ...first!, zones: first!.zones.map((zone) => ({ ...zone, rimToLose })) }];
      const plan = { stages, anneals: {} as Course['anneals'] };
      return stageColumns(pattern, plan, english.papers, unit).rows[0]!.cells[0]!.split(' / ')[0]!;
    };
    expect([0, 0.04, -0.04].map((mm) => cellOf(mm, 'mm'))).toEqual(['0.0', '0.0', '0.0']);
    expect([0.06, -0.06].map((mm) => cellOf(mm, 'mm'))).toEqual(['−0.1', '+0.1']);
    expect(cellOf(0.1, 'inch')).toBe('0.00″');
  });

  it('keeps its words apart: no two lines of text lie on each other', () => {
    const long = 'seedling-bench-tray-for-the-long-propagation-house-at-the-gate';
    for (const pattern of [solved(NESTING), { ...solved(NESTING), name: long }, solved(UPRIGHT)]) {
      const plan = solvedCourse(pattern);
      for (const unit of ['mm', 'inch', 'fraction'] as const) {
        const strip = stripRows(pattern, STRIP, unit, english.papers);
        expect(textOverlaps(shopCard(pattern, { unit, plan, strip }))).toEqual([]);
        for (const form of ['wide', 'narrow'] as const)
          expect(textOverlaps(blankPicture(pattern, { form, unit }), ['blank'])).toEqual([]);
      }
    }
  });

  it('leaves the plan out where there is none, and still is a card', () => {
    const svg = svgText(shopCard(solved(UPRIGHT)));
    expect(svg).not.toContain('>Stages<');
    expect(svg).toContain('>Checks on the way<');
  });

  it('is at most 400 kB as SVG', async () => {
    expect((await write('card-svg')).length).toBeLessThan(LARGEST);
  });
});

/** The shop card of trays of every kind: letters that can be read, nothing on top of something else, nothing left out. */
import { describe, expect, it } from 'vitest';
import { nodeFonts } from '../../src/drawing/nodeFonts.ts';
import { pdfBytes } from '../../src/drawing/pdf.ts';
import type { Item, Picture } from '../../src/drawing/picture.ts';
import { CAP_HEIGHT } from '../../src/drawing/textWidth.ts';
import { containsPoint } from '../../src/geometry/measure.ts';
import type { Point } from '../../src/geometry/path.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { measuredCorners } from '../../src/papers/cardMeasured.ts';
import { Columns } from '../../src/papers/columns.ts';
import { cornerMarks, textBoxes } from '../../src/papers/cornerNames.ts';
import { dataTable } from '../../src/papers/dataTable.ts';
import { cornerTable } from '../../src/papers/figureRows.ts';
import type { Placed } from '../../src/papers/marks.ts';
import { type ShopCardOptions, shopCard, shopCardPages } from '../../src/papers/shopCard.ts';
import { stripRows } from '../../src/papers/strip.ts';
import { cornerName } from '../../src/pattern/cornerName.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { sentences, statement } from '../../src/words/statement.ts';
import { LONG, some } from '../support/long.ts';
import { SAMPLE_NAMES, sample, solved, solvedCourse } from '../support/solved.ts';
import { said, untranslated } from '../words/pictureText.ts';
import { pseudo } from '../words/pseudoLanguage.ts';
import { readText } from './poppler.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, ROUND_PAN, STRIP, UPRIGHT, WITH_LIP, withManyCorners } from './trays.ts';

/** Twelve unlike corners, five of them inward, and a note to mind. */
const TWELVE: TraySpec = {
  ...NESTING,
  name: '0012',
  plan: {
    vertices: [
      [0, 0, 30],
      [600, 0, 34],
      [600, 150, 38],
      [480, 150, 72],
      [480, 350, 76],
      [620, 350, 50],
      [620, 520, 32],
      [400, 520, 36],
      [400, 400, 74],
      [190, 400, 70],
      [190, 540, 39],
      [0, 540, 44],
    ].map(([x, y, radius]) => ({ x: x!, y: y!, radius: radius! })),
  },
  section: { bottomRadius: 8, height: 13, draft: 0, rim: { kind: 'plain' } },
  cut: { process: 'laser', kerf: 0.2, compensate: true },
};
const ROUND: TraySpec = { ...ROUND_PAN, name: '0002' };
const LIP: TraySpec = { ...WITH_LIP, name: '0003', sheet: { material: 'DX51D+Z', thickness: 1, grain: 30 } };

function options(spec: TraySpec, unit: 'mm' | 'inch' | 'fraction'): ShopCardOptions {
  const pattern = solved(spec);
  return {
    unit,
    plan: solvedCourse(pattern),
    version: '1',
    ...(spec === LIP ? {} : { strip: stripRows(pattern, STRIP, unit, english.papers) }),
  };
}

const cards = new Map<string, readonly Picture[]>();

/** The pages of a card, put together once. */
function pagesOf(spec: TraySpec, unit: 'mm' | 'inch' | 'fraction'): readonly Picture[] {
  const key = `${spec.name} ${unit}`;
  const found = cards.get(key) ?? shopCardPages(solved(spec), options(spec, unit));
  cards.set(key, found);
  return found;
}

/** Size of type of ten points, mm: a point is 1/72 of an inch. */
const TEN_POINTS = (10 / 72) * 25.4;

/** Heights of all letters, mm on the paper in a group of any scale. */
const heights = (items: readonly Item[]): number[] =>
  items.flatMap((item) =>
    item.kind === 'text'
      ? item.text === ''
        ? []
        : [item.height]
      : item.kind === 'group'
        ? heights(item.items)
        : [],
  );

const PLAIN: TraySpec = { ...NESTING, name: '0001', section: { ...NESTING.section, draft: 0, height: 26 } };

describe.each(some([PLAIN, UPRIGHT, TWELVE, ROUND, LIP], 3))('the card of $name', (spec) => {
  it.each(some(['mm', 'inch', 'fraction'] as const, spec === TWELVE ? 1 : 2))(
    'can be read, and nothing lies on another in %s',
    (unit) => {
      // By default each unit on the paper that goes with it.
      const papers = LONG ? (['A4', 'Letter'] as const) : ([unit === 'mm' ? 'A4' : 'Letter'] as const);
      for (const paper of papers) {
        const pages = shopCardPages(solved(spec), { ...options(spec, unit), paper });
        // Two sides, unless twelve unlike corners, or a strip to be welded on with its cautions, take another sheet.
        const most = spec === TWELVE ? 6 : 4;
        expect(pages.length).toBeLessThanOrEqual(most);
        expect(pages.length).toBeGreaterThanOrEqual(2);
        for (const page of pages) {
          expect(Math.min(...heights(page.items)) / CAP_HEIGHT).toBeGreaterThanOrEqual(TEN_POINTS);
          expect(textOverlaps(page)).toEqual([]);
        }
      }
    },
  );

  it('has a front of no more than 250 words, with what to cut, the stages and the anneals in large figures', async () => {
    const pattern = solved(spec);
    const [front, ...backs] = pagesOf(spec, 'mm') as [Picture, ...Picture[]];
    const bytes = await pdfBytes([front], spec.name, nodeFonts);
    expect(readText(bytes, 1).split(/\s+/).length).toBeLessThanOrEqual(250);
    const text = said([front]);
    const { blank } = pattern.report;
    expect(text).toContain(`Cut ${blank.length.toFixed(1)} × ${blank.width.toFixed(1)} mm`);
    const plan = solvedCourse(pattern);
    if (spec !== TWELVE)
      for (const { zones } of plan.stages)
        for (const { rimToLose, thickness } of zones)
          expect(text).toContain(
            `${rimToLose >= 0 ? '−' : '+'}${Math.abs(rimToLose).toFixed(1)} / ${thickness.toFixed(2)}`,
          );
    for (const { stage, when } of plan.anneals.steps)
      expect(text).toContain(
        when === 'before' ? 'before stage 1' : `${when === 'after' ? 'after' : 'in'} stage ${stage + 1}`,
      );
    for (const corner of pattern.report.corners) expect(text.split('\n')).toContain(corner.letter);
    // What the sides are bent to is what the back says too.
    expect(text).toMatch(/Sides: bend over a radius of \d+\.\d mm to \d+°/);
    expect(said(backs)).toContain('Springback');
  });

  it('has a line for every kind of corner, and all sections', () => {
    const pattern = solved(spec);
    const text = said(pagesOf(spec, 'mm'));
    const { heads, rows } = cornerTable(pattern, english.papers, 'mm');
    for (const { name, cells } of rows) {
      // A long name goes over two lines.
      expect(text.replaceAll('\n', ' ')).toContain(name);
      if (rows.length > 1) for (const cell of cells) expect(text).toContain(cell.replaceAll('\u00a0', ' '));
    }
    expect(heads).toHaveLength(4);
    for (const title of ['Corners', 'Verdict', 'Stages', 'Tucks', 'Annealing', 'Checks on the way'])
      expect(text.split('\n').filter((line) => line === title)).toHaveLength(1);
    // They go on in another column where one has no room for all.
    expect(text.split('\n')).toContain('Cautions');
  });
});

describe('the cards of demo trays', () => {
  const crowded = ['bench-corner-drip-tray', 'column-side-tray', 'downpipe-sump'];
  it.each(LONG ? SAMPLE_NAMES : crowded)('%s: two sides, in mm', async (name) => {
    const pattern = solved(await sample(name));
    const pages = shopCardPages(pattern, { unit: 'mm', plan: solvedCourse(pattern), version: '1' });
    expect(pages).toHaveLength(2);
    for (const page of pages) expect(textOverlaps(page)).toEqual([]);
  });
});

/** A cross with arms so narrow that letters of their ends have no room beside each other in full size. */
const cross = (span: number, arm: number): TraySpec => {
  const [low, high] = [(span - arm) / 2, (span + arm) / 2];
  const places = [
    [low, 0],
    [high, 0],
    [high, low],
    [span, low],
    [span, high],
    [high, high],
    [high, span],
    [low, span],
    [low, high],
    [0, high],
    [0, low],
    [low, low],
  ];
  return {
    ...NESTING,
    name: `cross-${span}-${arm}`,
    measured: 'inside',
    plan: { vertices: places.map(([x, y]) => ({ x: x!, y: y!, radius: 19 })) },
    section: { bottomRadius: 8, height: 10, draft: 0, rim: { kind: 'plain' } },
    sheet: { material: 'DC04', thickness: 1, grain: 0 },
    cut: { process: 'laser', kerf: 0, compensate: false },
    shownIn: 'in',
  };
};

describe('letters of corners', () => {
  const crosses = [cross(254, 76), cross(355, 51), cross(305, 102)];
  it.each(LONG ? crosses : crosses.slice(0, 1))(
    '$name: lie on nothing, each nearest to its own corner',
    (spec) => {
      const pattern = solved(spec);
      for (const unit of ['mm', 'inch'] as const) expect(textOverlaps(pagesOf(spec, unit)[0]!)).toEqual([]);
      for (const form of ['wide', 'narrow'] as const)
        expect(textOverlaps(blankPicture(pattern, { form }))).toEqual([]);
      // On the front of a card, on a picture of the page, and in full size.
      for (const [scale, height] of [
        [0.21, 5],
        [0.3, 2.5],
        [1, 3.5],
      ] as const) {
        const marks = cornerMarks(pattern, scale, height);
        expect(marks.map(({ text }) => text).sort()).toEqual([...'ABCDEFGHIJKL']);
        const boxes = textBoxes(marks, scale);
        const { vertices } = spec.plan as { vertices: readonly Point[] };
        marks.forEach(({ text, at }, i) => {
          const middle = { x: at.x, y: at.y + marks[i]!.height / scale / 2 };
          const off = vertices.map(({ x, y }) => Math.hypot(x - middle.x, y - middle.y));
          expect(cornerName(pattern, off.indexOf(Math.min(...off))), text).toBe(text);
          for (const { x, y } of boxes[i]!.vertices) {
            expect(containsPoint(pattern.outline, { x, y }), text).toBe(true);
          }
        });
      }
    },
  );

  it('have their full size and their place inside the corner wherever there is room', () => {
    const marks = cornerMarks(solved(UPRIGHT), 0.5, 5);
    expect(marks.map(({ height }) => height)).toEqual([5, 5, 5, 5]);
    // Corner A, above and right: its bend begins at 45° on the circle of its own radius.
    const start = 45 * (1 - Math.SQRT1_2) + 15 * Math.SQRT1_2;
    const [a] = marks;
    expect(a!.at.x).toBeCloseTo(120 - start - (1.6 * 5 * Math.SQRT1_2) / 0.5, 6);
  });
});

describe('a card of several pages', () => {
  it('numbers them, and is one picture where a format has one page', () => {
    const pages = pagesOf(TWELVE, 'mm');
    expect(said([pages[0]!])).toContain('Shop card, front');
    expect(said([pages[1]!])).toContain(`Shop card, back, page 1 of ${pages.length - 1}`);
    const whole = shopCard(solved(TWELVE), options(TWELVE, 'mm'));
    expect(whole.height).toBeCloseTo(pages.length * pages[0]!.height, 9);
    expect(said([whole]).split('\n').slice(1)).toEqual(
      pages.flatMap((page) => said([page]).split('\n').slice(1)),
    );
    expect(textOverlaps(whole)).toEqual([]);
  });

  it('are in the language asked for', () => {
    const plan = solvedCourse(solved(TWELVE));
    expect(untranslated(said(shopCardPages(solved(TWELVE), { words: pseudo, plan })))).toEqual([]);
  });

  it('has room for as many corners as a plan may have', () => {
    const pattern = withManyCorners(solved(NESTING));
    const { corners } = pattern.report;
    const warnings = Array.from({ length: 90 }, (_, i) =>
      statement('pattern.holeDistorts', `number ${i}`, '5'),
    );
    const many = { ...pattern, report: { ...pattern.report, warnings } };
    const pages = shopCardPages(many);
    const lines = said(pages).split('\n');
    for (const { rimToLose } of corners) expect(lines).toContain(`lose ${rimToLose!.toFixed(1)} mm`);
    const text = lines.join(' ');
    for (const warning of sentences(warnings, english)) expect(text).toContain(warning);
    for (const page of pages) {
      expect(textOverlaps(page)).toEqual([]);
      expect(lowest(page)).toBeGreaterThan(11);
    }
  });

  const lowest = ({ items }: Picture): number =>
    Math.min(...items.flatMap((item) => (item.kind === 'text' ? [item.at.y] : [])));
});

describe('lines for what was measured', () => {
  it('are there for the corners that gather most, by number, where there are too many', () => {
    const pattern = solved(TWELVE);
    const chosen = measuredCorners(pattern);
    expect(chosen).toHaveLength(6);
    expect(chosen).toEqual([...chosen].sort((a, b) => a - b));
    const { corners } = pattern.report;
    const least = Math.min(
      ...chosen.map((index) => corners.find((each) => each.index === index)!.rimToLose!),
    );
    for (const { index, rimToLose } of corners)
      if (!chosen.includes(index)) expect(rimToLose).toBeLessThanOrEqual(least);
    expect(measuredCorners(solved(UPRIGHT))).toEqual([0, 1, 2, 3]);
  });
});

describe('columns', () => {
  const high =
    (height: number): Placed =>
    ({ x, y }) => ({
      height,
      items: [{ kind: 'text', at: { x, y }, height: 2, text: String(height), align: 'left' }],
    });
  const columns = (): Columns =>
    new Columns({ left: 0, right: 50 }, 45, 2, { top: 100, bottom: 40 }, { top: 100, bottom: 0 });
  const places = (set: Columns, name: string): string[] =>
    set.sheets.flatMap((items, i) =>
      items.flatMap((item) =>
        item.kind === 'text' && item.text === name ? [`${i} ${item.at.x === 0 ? 'left' : 'right'}`] : [],
      ),
    );

  it('take the wanted one where it has room, else the other, else a new sheet', () => {
    const set = columns();
    for (const title of ['a', 'b', 'c', 'd']) set.add({ title, blocks: [high(40)] }, 'left');
    expect(['a', 'b', 'c', 'd'].map((title) => places(set, title))).toEqual([
      ['0 left'],
      ['0 right'],
      ['1 left'],
      ['1 left'],
    ]);
    set.add({ title: 'e', blocks: [] });
    expect(places(set, 'e')).toEqual([]);
  });

  it('break a section that is longer than a sheet, under its heading again', () => {
    const set = columns();
    set.add({ title: 'long', blocks: Array.from({ length: 9 }, () => high(30)) });
    expect(places(set, 'long')).toEqual(['0 right', '0 left', '1 left', '1 right', '2 left']);
    expect(places(set, '30')).toHaveLength(9);
    const tall = columns();
    tall.add({ title: 'tall', blocks: [high(500)] });
    expect(places(tall, '500')).toEqual(['1 left']);
  });
});

describe('a table', () => {
  it('puts columns that do not fit under the first ones, evenly', () => {
    const cells = ['0.031″ to 0.035″', '0.031″ to 0.035″', '0.031″ to 0.035″', '0.031″ to 0.035″'];
    const table = { heads: ['a', 'b', 'c', 'd'], rows: [{ name: 'Corner 0', cells }] };
    const heads = (width: number): number[] =>
      dataTable({ x: 0, y: 0, width }, table, 2.3)
        .items.flatMap((item) => (item.kind === 'text' && table.heads.includes(item.text) ? [item.at.y] : []))
        .map((y) => Math.round(y));
    expect(new Set(heads(150)).size).toBe(1);
    const [a, b, c, d] = heads(95);
    expect([a, c]).toEqual([b, d]);
    expect(c).toBeLessThan(a!);
  });
});

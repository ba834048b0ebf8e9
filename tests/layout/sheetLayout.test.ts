/** Blanks on sheets: figures against closed forms, the grain, refusals, and the drawing read by other readers. */

import { parseString } from 'dxf';
import DxfParserModule, { type IInsertEntity, type ILwpolylineEntity } from 'dxf-parser';
import { beforeAll, describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { DXF_VERSIONS, SHEET_MARKS } from '../../src/exporters/dxf/choices.ts';
import { distanceToPath, pathArea, pathBounds } from '../../src/geometry/measure.ts';
import type { Path } from '../../src/geometry/path.ts';
import { layoutDrawing, movedPath } from '../../src/layout/layoutDrawing.ts';
import { layoutDocument } from '../../src/layout/layoutReport.ts';
import type { Stock } from '../../src/layout/packing.ts';
import { type GrainRule, type Part, partOf } from '../../src/layout/parts.ts';
import {
  type LaidSheet,
  type LayoutOptions,
  layOut,
  type SheetLayout,
} from '../../src/layout/sheetLayout.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { english } from '../../src/words/english.ts';
import { speak } from '../../src/words/language.ts';
import { linesOf, rings } from '../exporters/chains.ts';
import { readWithDxf, readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import {
  roundedRectangle,
  SAMPLE,
  SAMPLE_AREA,
  SAMPLE_LENGTH,
  samplePattern,
} from '../exporters/samplePattern.ts';

const DxfParser = DxfParserModule as unknown as typeof DxfParserModule.DxfParser;

const STOCK: Stock = { length: 2000, width: 1000, spacing: 5, edge: 10 };

/** The sample tray with another grain (degrees), size or thickness. */
function pattern(
  over: { name?: string; grain?: number; outline?: Path; thickness?: number } = {},
): FlatPattern {
  const sample = samplePattern();
  return {
    ...sample,
    name: over.name ?? sample.name,
    outline: over.outline ?? sample.outline,
    holes: over.outline === undefined ? sample.holes : [],
    sheet: {
      ...sample.sheet,
      grain: ((over.grain ?? 0) * Math.PI) / 180,
      thickness: over.thickness ?? sample.sheet.thickness,
    },
  };
}

const part = (quantity: number, of = pattern(), grain: GrainRule = 'along'): Part =>
  partOf(of, quantity, grain);

const lay = (parts: readonly Part[], over: Partial<LayoutOptions> = {}) =>
  layOut(parts, { stock: STOCK, grain: 'along', effort: 0, rates: {}, ...over });

describe('a layout', () => {
  it('has the figures of its blanks and of the sheet', async () => {
    const rates = { metre: 2, pierce: 0.5, kg: 3 };
    const { sheets, leastSheets } = await lay([part(6)], { rates });
    expect(sheets).toHaveLength(1);
    const [sheet] = sheets;
    const { density } = samplePattern().sheet.material;
    const { thickness } = samplePattern().sheet;
    // Closed forms of a rounded rectangle and a round hole.
    const hole = Math.PI * (SAMPLE.holeDiameter / 2) ** 2;
    const cut = 6 * (SAMPLE_LENGTH + Math.PI * SAMPLE.holeDiameter);
    const mass = 2000 * 1000 * thickness * density * 1e-6;
    expect(sheet!.partsArea).toBeCloseTo(6 * (SAMPLE_AREA - hole), 4);
    expect(sheet!.utilisation).toBeCloseTo((6 * (SAMPLE_AREA - hole)) / 2e6, 9);
    expect(sheet!.cutLength).toBeCloseTo(cut, 4);
    expect(sheet!.pierces).toBe(12);
    expect(sheet!.mass).toBeCloseTo(mass, 9);
    expect(sheet!.cost).toBeCloseTo((cut / 1000) * 2 + 12 * 0.5 + mass * 3, 6);
    // Three rows of 300 mm do fit 1000 less the edges, so two columns of 420 mm are enough.
    expect(sheet!.usedLength).toBeCloseTo(10 + 420 + 5 + 420, 6);
    expect(sheet!.offcut!.length).toBeCloseTo(2000 - 855 - 5, 6);
    expect(leastSheets).toBe(1);
  });

  it('without rates has no cost', async () => {
    expect((await lay([part(1)])).sheets[0]!.cost).toBeNull();
  });

  it('keeps spacing and edge between the true outlines, arcs and all', async () => {
    const round = pattern({ name: 'round', outline: roundedRectangle(260, 260, 129) });
    const { sheets } = await lay([part(5), part(9, round)], { effort: 0.2 });
    for (const sheet of sheets) {
      const outlines = sheet.parts.map((placed) => movedPath(placed.part.blank().outline, placed));
      outlines.forEach((outline, i) => {
        const { minX, minY, maxX, maxY } = pathBounds(outline);
        expect(Math.min(minX, minY, 2000 - maxX, 1000 - maxY)).toBeGreaterThan(10 - 1e-6);
        for (let j = 0; j < i; j++) {
          for (const vertex of outline.vertices) {
            expect(distanceToPath(vertex, outlines[j]!)).toBeGreaterThan(5 - 1e-6);
          }
        }
      });
    }
  });

  it('nests round corners closer than their boxes', async () => {
    const disc = pattern({ name: 'disc', outline: roundedRectangle(300, 300, 149.9) });
    const stock: Stock = { length: 3000, width: 560, spacing: 0, edge: 0 };
    const [sheet] = (await lay([part(9, disc)], { stock, effort: 0.5 })).sheets;
    // Boxes of 300 mm stand one beside the other: 2700 mm. Discs interlock.
    expect(sheet!.usedLength).toBeLessThan(2000);
  });

  it('each material and thickness has sheets of its own', async () => {
    const { sheets } = await lay([part(2), part(2, pattern({ name: 'thick', thickness: 2 }))]);
    expect(sheets.map((sheet) => [sheet.thickness, sheet.parts.length])).toEqual([
      [samplePattern().sheet.thickness, 2],
      [2, 2],
    ]);
  });

  it('never needs fewer sheets than the bare area does', async () => {
    const { sheets, leastSheets } = await lay([part(40)]);
    expect(sheets.length).toBeGreaterThanOrEqual(leastSheets);
    expect(sheets.reduce((sum, sheet) => sum + sheet.parts.length, 0)).toBe(40);
    expect(leastSheets).toBe(3); // 40 · 0.1225 m² on 1.94 m² of usable sheet
  });
});

describe('the grain', () => {
  it.each([0, 30, 90, 120, -45])('of %d degrees comes to lie along the sheet', async (grain) => {
    const { sheets } = await lay([part(3, pattern({ grain }))]);
    for (const { angle } of sheets.flatMap((sheet) => sheet.parts)) {
      expect(Math.abs(Math.sin(angle + (grain * Math.PI) / 180))).toBeLessThan(1e-9);
    }
  });

  it('left free lets a blank lie across where that saves sheet', async () => {
    const long = pattern({ name: 'long', outline: roundedRectangle(900, 300, 60) });
    const used = async (grain: GrainRule): Promise<number> =>
      (await lay([part(6, long, grain)], { grain })).sheets[0]!.usedLength;
    expect(await used('free')).toBeLessThan((await used('along')) + 1e-6);
    const tall = { length: 700, width: 1000, spacing: 5, edge: 10 };
    await expect(lay([part(1, long)], { stock: tall })).rejects.toThrow(GatherpanError);
    expect((await lay([part(2, long, 'free')], { stock: tall, grain: 'free' })).sheets).toHaveLength(1);
  });

  it('a symmetric blank is tried in one of two like turns', () => {
    expect(part(1, pattern({ outline: roundedRectangle(400, 300, 60) })).turns).toEqual([0]);
    expect(part(1, pattern({ outline: roundedRectangle(400, 300, 60) }), 'free').turns).toHaveLength(2);
    expect(part(1, pattern({ outline: roundedRectangle(300, 300, 60) }), 'free').turns).toHaveLength(1);
  });
});

it('a blank that is too large is told with its size and the sheet’s', async () => {
  await expect(lay([part(1, pattern({ outline: roundedRectangle(1990, 300, 60) }))])).rejects.toThrow(
    /is 1990\.0 x 300\.0 mm as it has to lie, and the sheet within its edge is 1980 x 980 mm/,
  );
});

describe('the drawing', () => {
  const other = pattern({ name: 'other', grain: 90, outline: roundedRectangle(260, 180, 50) });
  let layout: SheetLayout;
  let sheet: LaidSheet | undefined;
  beforeAll(async () => {
    layout = await lay([part(3), part(4, other)]);
    [sheet] = layout.sheets;
  });
  const area = (vertices: readonly { x: number; y: number; bulge: number }[]): number =>
    Math.abs(pathArea({ vertices, closed: true }));

  it.each([
    ['dxf-parser', readWithDxfParser],
    ['dxf', readWithDxf],
  ])('copies: every loop is there, closed, in its place, as %s reads it', (_name, read) => {
    const bytes = layoutDrawing(sheet!, STOCK, 'copy');
    const { unit, loops } = read(bytes);
    expect(unit).toBe('mm');
    expect(loops).toHaveLength(3 * 2 + 4);
    expect(loops.every((loop) => loop.closed)).toBe(true);
    const expected = sheet!.parts.flatMap((placed) =>
      [placed.part.blank().outline, ...placed.part.blank().holes.map((hole) => hole.path)].map((path) =>
        movedPath(path, placed),
      ),
    );
    loops.forEach((loop, i) => {
      expect(area(loop.vertices)).toBeCloseTo(Math.abs(pathArea(expected[i]!)), 1);
      const [is, wanted] = [pathBounds({ ...loop, vertices: loop.vertices }), pathBounds(expected[i]!)];
      for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const)
        expect(is[side]).toBeCloseTo(wanted[side], 4);
    });
  });

  it('blocks: each kind once, shown where the copies are', () => {
    const read = (bytes: Uint8Array) => new DxfParser().parseSync(new TextDecoder().decode(bytes))!;
    const blocks = read(layoutDrawing(sheet!, STOCK, 'block'));
    const inserts = blocks.entities.filter((entity) => entity.type === 'INSERT') as IInsertEntity[];
    expect(inserts).toHaveLength(7);
    expect(Object.keys(blocks.blocks)).toEqual(expect.arrayContaining(['potting-bench-drip-tray', 'other']));
    const outlines = inserts.map((insert) => {
      const [outline] = blocks.blocks[insert.name]!.entities.filter(
        (entity) => entity.layer === 'CUT',
      ) as ILwpolylineEntity[];
      const vertices = outline!.vertices.map(({ x, y, bulge }) => ({ x, y, bulge: bulge ?? 0 }));
      const angle = (insert.rotation * Math.PI) / 180;
      return pathBounds(
        movedPath({ vertices, closed: true }, { x: insert.position.x, y: insert.position.y, angle }),
      );
    });
    const expected = sheet!.parts.map((placed) => pathBounds(movedPath(placed.part.blank().outline, placed)));
    outlines.forEach((is, i) => {
      for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const) {
        expect(is[side]).toBeCloseTo(expected[i]![side], 4);
      }
    });
  });

  it.each(['copy', 'block'] as const)(
    '%s: labels are in the language spoken, layers keep their names',
    (parts) => {
      const read = (): { texts: Set<string>; layers: string[] } => {
        const document = new DxfParser().parseSync(
          new TextDecoder().decode(layoutDrawing(sheet!, STOCK, parts, { marks: SHEET_MARKS })),
        )!;
        const entities = [
          ...document.entities,
          ...Object.values(document.blocks).flatMap((block) => block.entities ?? []),
        ];
        return {
          texts: new Set(entities.flatMap((entity) => (entity as { text?: string }).text ?? [])),
          layers: Object.keys(document.tables.layer.layers),
        };
      };
      const inEnglish = read();
      const { drawings } = english;
      const before = speak({
        ...english,
        drawings: {
          ...drawings,
          sheet: (material, mm, grain) => `${material}, ${mm} mm, Walzrichtung ${grain}`,
          blank: (length, width) => `Platine ${length} x ${width}`,
        },
      });
      try {
        const other = read();
        expect(inEnglish.texts).toContain('blank 260.0 x 180.0 mm');
        expect(other.texts).toContain('Platine 260.0 x 180.0');
        expect([...other.texts].filter((text) => /blank|grain/.test(text))).toEqual([]);
        expect(other.texts.size).toBe(inEnglish.texts.size);
        expect(other.layers).toEqual(inEnglish.layers);
      } finally {
        speak(before);
      }
    },
  );

  it.each(['copy', 'block'] as const)('%s: the same bytes twice, true arcs', (parts) => {
    const bytes = layoutDrawing(sheet!, STOCK, parts);
    expect(layoutDrawing(sheet!, STOCK, parts)).toEqual(bytes);
    expect(new TextDecoder().decode(bytes)).toContain('\n42\n0.414213562373\n');
  });

  it.each(['copy', 'block'] as const)(
    '%s: holds the cut alone, and its box is that of the blanks',
    (parts) => {
      const document = new DxfParser().parseSync(
        new TextDecoder().decode(layoutDrawing(sheet!, STOCK, parts)),
      )!;
      expect(Object.keys(document.tables.layer.layers)).toEqual(['0', 'CUT']);
      const blocks = Object.values(document.blocks).flatMap((block) => block.entities ?? []);
      const drawn = parts === 'copy' ? document.entities : blocks;
      expect(drawn.every(({ type, layer }) => type === 'LWPOLYLINE' && layer === 'CUT')).toBe(true);
      expect(drawn.every((entity) => (entity as ILwpolylineEntity).shape)).toBe(true);
      expect(drawn).toHaveLength(parts === 'copy' ? 10 : 3);
      const boxes = sheet!.parts.map((placed) => pathBounds(movedPath(placed.part.blank().outline, placed)));
      const { $EXTMIN: least, $EXTMAX: most } = document.header as Record<string, { x: number; y: number }>;
      expect(least!.x).toBeCloseTo(Math.min(...boxes.map((box) => box.minX)), 5);
      expect(most!.y).toBeCloseTo(Math.max(...boxes.map((box) => box.maxY)), 5);
    },
  );

  it.each(DXF_VERSIONS)(
    'with marks: the edge of the sheet is there too, and nothing is closed but the cut, %s',
    (version) => {
      const bytes = layoutDrawing(sheet!, STOCK, 'copy', { marks: SHEET_MARKS, version });
      const plain = layoutDrawing(sheet!, STOCK, 'copy', { version });
      for (const read of [readWithDxf, readWithDxfParser]) expect(read(bytes)).toEqual(read(plain));
      const others = parseString(new TextDecoder().decode(bytes)).entities.filter(
        ({ layer }) => layer !== 'CUT',
      );
      expect(new Set(others.map(({ layer }) => layer))).toEqual(
        new Set(['SHEET', 'SCRIBE', 'GRAIN', 'TEXT']),
      );
      expect(rings(linesOf(others), 0.1)).toBe(0);
      const edge = others.filter(({ layer }) => layer === 'SHEET').flatMap(({ vertices = [] }) => vertices);
      for (const [x, y] of [
        [0, 0],
        [2000, 0],
        [2000, 1000],
        [0, 1000],
      ])
        expect(edge.some((vertex) => vertex.x === x && vertex.y === y)).toBe(true);
    },
  );

  it('has no blocks in R12, and says so', () => {
    expect(() => layoutDrawing(sheet!, STOCK, 'block', { version: 'R12' })).toThrow(
      /^Blocks are not drawn in R12/,
    );
  });

  it('names of blocks differ where those of the trays differ in signs only', async () => {
    const [one] = (await lay([part(1, pattern({ name: 'a b' })), part(1, pattern({ name: 'a-b' }))])).sheets;
    const document = new DxfParser().parseSync(
      new TextDecoder().decode(layoutDrawing(one!, STOCK, 'block')),
    )!;
    expect(Object.keys(document.blocks)).toEqual(expect.arrayContaining(['a-b', 'a-b-2']));
  });

  it('the report adds up', () => {
    const files = layout.sheets.map((each) => ({ sheet: each, file: 'a.dxf' }));
    const document = layoutDocument(layout, files, STOCK, {}, []) as {
      total: { parts: number; sheets: number; cost: number | null };
      sheets: { parts: unknown[] }[];
    };
    expect(document.total).toMatchObject({ parts: 7, sheets: 1, cost: null });
    expect(document.sheets[0]!.parts).toHaveLength(7);
  });
});

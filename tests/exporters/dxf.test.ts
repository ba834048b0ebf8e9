/**
 * The DXF drawing, read back by readers that are not ours.
 *
 * The rules come from the DXF Reference: LWPOLYLINE, TEXT, LAYER, HEADER, common group codes for entities.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseString } from 'dxf';
import { describe, expect, it } from 'vitest';
import type { ParameterValues } from '../../src/exporters/contract.ts';
import { ACADVER, DXF_VERSIONS, MARKS } from '../../src/exporters/dxf/choices.ts';
import { dxfExporter } from '../../src/exporters/dxf/dxfExporter.ts';
import { cutLayer, markLayers } from '../../src/exporters/dxf/layers.ts';
import { plainText } from '../../src/exporters/dxf/plainText.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { pathArea } from '../../src/geometry/measure.ts';
import type { Vertex } from '../../src/geometry/path.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { english } from '../../src/words/english.ts';
import { needed } from '../support/needs.ts';
import { loopArea, relativeError } from './loopGeometry.ts';
import { readWithDxf, readWithDxfParser } from './readers/dxfReaders.ts';
import { concavePattern, moved, SAMPLE, SAMPLE_AREA, samplePattern } from './samplePattern.ts';

const registry = createRegistry([dxfExporter]);
/** The marks of a drawing for marking out. */
const MARKED = { marks: 'scribe,grain,text' };
const write = (pattern: FlatPattern, given: Partial<ParameterValues> = {}): Promise<Uint8Array> =>
  dxfExporter.write(pattern, registry.values(dxfExporter, given));
const decoded = async (
  pattern = samplePattern(),
  given: Partial<ParameterValues> = MARKED,
): Promise<string> => new TextDecoder().decode(await write(pattern, given));

/** Pairs of group code and value, split here and not by the writer. */
const pairs = (text: string): [number, string][] => {
  const lines = text.split('\n');
  expect(lines.pop()).toBe(''); // the last line has its line feed too
  expect(lines.length % 2).toBe(0);
  return Array.from({ length: lines.length / 2 }, (_, i) => [Number(lines[2 * i]), lines[2 * i + 1]!]);
};

/** The pairs of each record, from a pair of code 0 to the next. */
const records = (text: string): [number, string][][] => {
  const list: [number, string][][] = [];
  for (const pair of pairs(text)) {
    if (pair[0] === 0) list.push([]);
    list.at(-1)!.push(pair);
  }
  return list;
};

const value = (record: readonly [number, string][], code: number): string | undefined =>
  record.find((pair) => pair[0] === code)?.[1];

describe('what is cut', () => {
  it.each([
    ['dxf-parser', readWithDxfParser],
    ['dxf', readWithDxf],
  ])('encloses the area of the outline, as %s reads it', async (_, read) => {
    const pattern = samplePattern();
    const loops = read(await write(pattern)).loops;
    // Closed form of a rectangle with round corners, and the project's own measure of the path.
    expect(relativeError(loopArea(loops[0]!.vertices), SAMPLE_AREA)).toBeLessThan(1e-9);
    expect(relativeError(loopArea(loops[0]!.vertices), pathArea(pattern.outline))).toBeLessThan(1e-6);
    // Holes run the other way round: their area is negative.
    const hole = (-Math.PI * SAMPLE.holeDiameter ** 2) / 4;
    expect(relativeError(loopArea(loops[1]!.vertices), hole)).toBeLessThan(1e-9);
  });

  it('has the bulge tan(90°/4) at a quarter circle, and none at a line', async () => {
    // DXF Reference, LWPOLYLINE, group code 42: tangent of a quarter of the included angle.
    const outline = records(await decoded()).find((record) => record[0]![1] === 'LWPOLYLINE')!;
    const bulges = outline.filter(([code]) => code === 42).map(([, text]) => text);
    expect(bulges).toEqual(Array(4).fill('0.414213562373'));
  });

  it('is one closed polyline a loop, without a repeated first vertex', async () => {
    const cut = records(await decoded()).filter((record) => value(record, 8) === 'CUT');
    const loops = cut.filter((record) => record[0]![1] === 'LWPOLYLINE');
    expect(loops.length).toBe(2);
    expect(loops.map((record) => value(record, 70))).toEqual(['1', '1']);
    expect(loops.map((record) => value(record, 90))).toEqual(['8', '2']);
    expect(cut.length).toBe(2); // nothing else on the layer
  });
});

describe('the file', () => {
  it('is ASCII whatever the tray is called, without a code hidden in a name', async () => {
    const text = await decoded({ ...concavePattern(), name: 'Töpfe\r\n0\nEOF %%c ^J \\U+00E9 „ß“ 鉢' });
    expect(text).toMatch(/^[\n -~]*$/);
    const strings = parseString(text).entities.flatMap(({ string }) => string ?? []);
    expect(strings[0]).toBe('Topfe 0 EOF %c \'J /U+00E9 "ss" ?');
  });

  it('writes reals with a point, at most six decimals for coordinates, never an exponent', async () => {
    const text = await decoded(moved(samplePattern(), 1e-3, 0));
    for (const [code, number] of pairs(text)) {
      if (code >= 10 && code < 60) {
        expect(number).toMatch(code < 40 ? /^-?\d+\.\d{1,6}$/ : /^-?\d+\.\d{1,12}$/);
        expect(number).not.toBe('-0.0');
      }
    }
  });

  it('declares version, units and extents', async () => {
    const all = pairs(await decoded());
    const variable = (name: string, count: number): string[] => {
      const at = all.findIndex(([code, text]) => code === 9 && text === name);
      return all.slice(at + 1, at + 1 + count).map(([, text]) => text);
    };
    expect(variable('$ACADVER', 1)).toEqual(['AC1015']);
    expect(variable('$INSUNITS', 1)).toEqual(['4']); // millimetres
    expect(variable('$MEASUREMENT', 1)).toEqual(['1']); // metric
    expect(variable('$EXTMIN', 3)).toEqual(['-210.0', '-150.0', '0.0']);
    expect(variable('$EXTMAX', 3)).toEqual(['210.0', '150.0', '0.0']);
  });

  it('counts the bow of an arc into the extents', async () => {
    const outline = { closed: true, vertices: [-1, 1].map((side) => ({ x: 50 * side, y: 0, bulge: 1 })) };
    const all = pairs(await decoded({ ...samplePattern(), outline, holes: [], scribeLines: [] }));
    const at = all.findIndex(([, text]) => text === '$EXTMAX');
    expect(all[at + 2]).toEqual([20, '50.0']);
  });

  it('gives every object a handle of its own, below the seed, and an owner that exists', async () => {
    const text = await decoded();
    const list = records(text).filter((record) => value(record, 5) !== undefined);
    const handles = list.filter((record) => record[0]![1] !== 'SECTION').map((record) => value(record, 5)!);
    expect(new Set(handles).size).toBe(handles.length);
    const seed = Number.parseInt(pairs(text).find(([code]) => code === 5)![1], 16);
    expect(Math.max(...handles.map((handle) => Number.parseInt(handle, 16)))).toBeLessThan(seed);
    // Common group codes for entities, 330: the BLOCK_RECORD that owns the object.
    const modelSpace = list.find(
      (record) => record[0]![1] === 'BLOCK_RECORD' && value(record, 2) === '*Model_Space',
    )!;
    const entities = list.filter((record) => ['LWPOLYLINE', 'TEXT'].includes(record[0]![1]));
    expect(entities.length).toBeGreaterThan(5);
    for (const entity of entities) expect(value(entity, 330)).toBe(value(modelSpace, 5));
    const owners = new Set(['0', ...handles]);
    for (const record of list.slice(1)) expect(owners).toContain(value(record, 330));
  });

  it('keeps the layer before the second subclass mark', async () => {
    for (const record of records(await decoded())) {
      if (!['LWPOLYLINE', 'TEXT', 'BLOCK', 'ENDBLK'].includes(record[0]![1])) continue;
      const codes = record.map(([code]) => code);
      const marks = codes.flatMap((code, i) => (code === 100 ? [i] : []));
      expect(record[marks[0]!]![1]).toBe('AcDbEntity');
      expect(codes.indexOf(8)).toBeLessThan(marks[1]!);
    }
  });

  it('refuses a coordinate that is no number', async () => {
    const pattern = samplePattern();
    const outline = {
      closed: true,
      vertices: pattern.outline.vertices.with(2, { x: Number.NaN, y: 0, bulge: 0 }),
    };
    await expect(write({ ...pattern, outline })).rejects.toMatchObject({
      code: 'BAD_INPUT',
      message: expect.stringContaining('Layer CUT, path 1, vertex 3: x is NaN'),
    });
  });

  it('refuses a path that cannot be drawn', async () => {
    const scribeLines = [{ kind: 'bend-end' as const, path: { closed: false, vertices: [] } }];
    await expect(write({ ...samplePattern(), scribeLines }, MARKED)).rejects.toThrow(
      'Layer SCRIBE, path 1 has 0 vertices',
    );
  });
});

describe('a drawing in R12', () => {
  const text = (): Promise<string> => decoded(samplePattern(), { ...MARKED, version: 'R12' });

  it('has nothing that came after it', async () => {
    const all = records(await text());
    const kinds = new Set(all.map((record) => record[0]![1]));
    for (const later of ['LWPOLYLINE', 'BLOCK_RECORD', 'DICTIONARY', 'CLASS'])
      expect(kinds).not.toContain(later);
    const sections = all.filter((record) => record[0]![1] === 'SECTION').map((record) => value(record, 2));
    expect(sections).toEqual(['HEADER', 'TABLES', 'BLOCKS', 'ENTITIES']);
    // Subclass marks, owners, line weights, plot styles and handles (DXF Reference, common group codes).
    const codes = new Set(all.flatMap((record) => record.map(([code]) => code)));
    for (const later of [5, 100, 330, 370, 390]) expect(codes).not.toContain(later);
  });

  it('has polylines with the vertices and bulges of the later version', async () => {
    const inR12 = parseString(await text()).entities;
    const later = parseString(await decoded()).entities;
    const plain = (entities: typeof later) =>
      entities.map(({ type, layer, closed, vertices, string }) => ({
        type: type.replace(/^LW/, ''),
        layer,
        closed: closed === true,
        string,
        vertices: vertices?.map(({ x, y, bulge }) => [x, y, bulge ?? 0]),
      }));
    expect(plain(inR12)).toEqual(plain(later));
  });
});

describe('layers and options', () => {
  const layersOf = async (given: Partial<ParameterValues>): Promise<string[]> =>
    records(await decoded(samplePattern(), given))
      .filter((record) => record[0]![1] === 'LAYER')
      .map((record) => value(record, 2)!)
      .filter((name) => name !== '0'); // the layer every drawing has
  const used = async (given: Partial<ParameterValues>): Promise<string[]> => [
    ...new Set(parseString(await decoded(samplePattern(), given)).entities.map(({ layer }) => layer)),
  ];

  it('has names and colours that no reader stumbles over, each its own', () => {
    const layers = [cutLayer(english), ...markLayers(english)];
    for (const { name, colour } of layers) {
      expect(name).toMatch(/^[A-Z0-9_-]+$/);
      expect(Number.isInteger(colour) && colour >= 1 && colour <= 255).toBe(true);
    }
    expect(new Set(layers.map(({ name }) => name)).size).toBe(layers.length);
    expect(new Set(layers.map(({ colour }) => colour)).size).toBe(layers.length);
  });

  it('has nothing but the cut when nothing is asked for, not even the names of other layers', async () => {
    expect(await layersOf({})).toEqual(['CUT']);
    expect(await used({})).toEqual(['CUT']);
    const { entities } = parseString(await decoded(samplePattern(), {}));
    expect(entities.map(({ type }) => type)).toEqual(['LWPOLYLINE', 'LWPOLYLINE']);
  });

  it('has the layers of the marks that are asked for, and of no others', async () => {
    // The hand-made pattern has no gather, so there is nothing to draw of it and no layer either.
    const named = {
      scribe: ['SCRIBE'],
      grain: ['GRAIN'],
      text: ['TEXT'],
      gather: [],
      tucks: [],
      dots: ['DOTS'],
    };
    for (let mixture = 1; mixture < 1 << MARKS.length; mixture++) {
      const marks = MARKS.filter((_, i) => (mixture & (1 << i)) !== 0);
      const expected = new Set(['CUT', ...marks.flatMap((mark) => named[mark])]);
      expect(new Set(await used({ marks: marks.join(',') }))).toEqual(expected);
      expect(new Set(await layersOf({ marks: marks.join(' , ') }))).toEqual(expected);
    }
  });

  it.each([
    [{ cutOnly: true }, ['CUT'], 'Leave it out'],
    [{ cutOnly: true, tucks: true, text: 'inside' }, ['CUT'], 'Leave it out'],
    [{ cutOnly: false }, ['CUT', 'SCRIBE', 'GRAIN', 'TEXT'], 'dxf.marks=scribe,grain,text'],
    [{ text: 'none' }, ['CUT', 'SCRIBE', 'GRAIN'], 'dxf.marks=scribe,grain instead'],
    [{ text: 'outside' }, ['CUT', 'SCRIBE', 'GRAIN', 'TEXT'], 'then stands on the blank'],
    [{ contours: true }, ['CUT', 'SCRIBE', 'GRAIN', 'TEXT'], 'dxf.marks=scribe,grain,text,gather instead'],
    [
      { tucks: true, contours: true, text: 'none' },
      ['CUT', 'SCRIBE', 'GRAIN'],
      'dxf.marks=scribe,grain,gather,tucks instead',
    ],
  ])('still takes %j of version 0.1, with a note', async (given, layers, note) => {
    const notes: string[] = [];
    const values = registry.values(dxfExporter, given, (sentence) => notes.push(sentence));
    const bytes = await dxfExporter.write(samplePattern(), values);
    expect([
      ...new Set(parseString(new TextDecoder().decode(bytes)).entities.map(({ layer }) => layer)),
    ]).toEqual(layers);
    expect(notes).toHaveLength(1);
    for (const name of Object.keys(given)) expect(notes[0]).toContain(`dxf.${name}`);
    expect(notes[0]).toContain(note);
  });

  it('takes no setting of version 0.1 beside marks, and has no note without one', () => {
    expect(() => registry.values(dxfExporter, { marks: 'scribe', tucks: true })).toThrow(
      'dxf.tucks is from version 0.1, and dxf.marks has taken its place; give dxf.marks alone.',
    );
    const notes: string[] = [];
    registry.values(dxfExporter, { marks: 'scribe' }, (sentence) => notes.push(sentence));
    expect(notes).toEqual([]);
  });

  it('scribes open lines: a closed one in pieces', async () => {
    const scribed = (pattern: FlatPattern) =>
      decoded(pattern).then((text) => parseString(text).entities.filter(({ layer }) => layer === 'SCRIBE'));
    expect((await scribed(samplePattern())).map(({ closed }) => closed === true)).toEqual(
      Array(8).fill(false),
    );
    expect((await scribed(concavePattern())).map(({ closed }) => closed === true)).toEqual([false]);
  });

  it('lays the arrow along the grain', async () => {
    const [shaft] = parseString(await decoded(concavePattern())).entities.filter(
      ({ layer }) => layer === 'GRAIN',
    );
    const [from, to] = [shaft!.vertices![0]!, shaft!.vertices![1]!];
    expect(Math.atan2(to.y - from.y, to.x - from.x)).toBeCloseTo(Math.PI / 6, 6);
  });

  it('names tray, sheet and size', async () => {
    const texts = parseString(await decoded()).entities.flatMap(({ string }) => string ?? []);
    expect(texts).toEqual(
      ['potting-bench-drip-tray', 'DC04  1.2 mm  grain 0 deg', 'blank 420.0 x 300.0 mm'].map(plainText),
    );
  });

  it('writes no empty text', async () => {
    const texts = parseString(await decoded({ ...samplePattern(), name: ' \n ' })).entities;
    expect(texts.filter(({ type }) => type === 'TEXT').map(({ string }) => string?.[0])).toEqual(['D', 'b']);
  });
});

/** Corners of each text's box, one height a character: wider than any reader's font. */
function textBoxes(
  text: string,
): { minX: number; minY: number; maxX: number; maxY: number; height: number }[] {
  return records(text)
    .filter((record) => record[0]![1] === 'TEXT')
    .map((record) => {
      const [height, x, y] = [40, 10, 20].map((code) => Number(value(record, code)));
      const width = value(record, 1)!.length * height!;
      const left = value(record, 72) === '1' ? x! - width / 2 : x!;
      return { minX: left, maxX: left + width, minY: y!, maxY: y! + height!, height: height! };
    });
}

describe('the text', () => {
  it.each([
    ['plain tray', samplePattern()],
    ['plain tray on its side', moved(samplePattern(), 1, 1)],
    ['thimble', moved(samplePattern(), 1e-3, 0)],
    ['barn floor', moved(samplePattern(), 1e3, 0)],
  ])('stays inside the bend and clear of the hole: %s', async (tray, pattern) => {
    const boxes = textBoxes(await decoded(pattern));
    expect(boxes.length).toBe(3);
    const [from, to] = pattern.holes[0]!.path.vertices as [Vertex, Vertex];
    const radius = Math.hypot(to.x - from.x, to.y - from.y) / 2;
    const scale = radius / (SAMPLE.holeDiameter / 2);
    // Half sizes of the inner scribe line; see samplePattern.
    const [a, b] = tray.includes('side') ? [105, 165] : [165, 105];
    const [cx, cy] = [(from.x + to.x) / 2, (from.y + to.y) / 2];
    for (const { minX, minY, maxX, maxY } of boxes) {
      expect(Math.max(-minX, maxX)).toBeLessThan(a * scale);
      expect(Math.max(-minY, maxY)).toBeLessThan(b * scale);
      const dx = Math.max(minX - cx, cx - maxX, 0);
      const dy = Math.max(minY - cy, cy - maxY, 0);
      expect(Math.hypot(dx, dy)).toBeGreaterThan(radius);
    }
  });

  it('finds room in an L whose middle is outside', async () => {
    for (const { minX, minY, maxX, maxY } of textBoxes(await decoded(concavePattern()))) {
      // The L is the union of two rectangles; see concavePattern.
      const inFoot = minX > 0 && maxX < 380 && minY > 0 && maxY < 150;
      const inLeg = minX > 0 && maxX < 150 && minY > 0 && maxY < 300;
      expect(inFoot || inLeg).toBe(true);
    }
  });

  it('has a height that suits the part, from 3 to 10 mm where there is room', async () => {
    expect(textBoxes(await decoded())[0]!.height).toBeCloseTo(420 / 60, 9);
    expect(textBoxes(await decoded(moved(samplePattern(), 20, 0)))[0]!.height).toBe(10);
    const small = textBoxes(await decoded(moved(samplePattern(), 0.35, 0)))[0]!.height;
    expect(small).toBeLessThanOrEqual(3);
  });

  it('stands below the blank when it is to be outside', async () => {
    for (const { maxY, minX } of textBoxes(await decoded(samplePattern(), { text: 'outside' }))) {
      expect(maxY).toBeLessThan(-150);
      expect(minX).toBe(-210);
    }
  });
});

describe('an auditing reader', () => {
  // ezdxf is Debian's python3-ezdxf; without it the two npm readers above still read every file.
  it('finds neither errors nor anything to repair (ezdxf)', async () => {
    const python = needed('ezdxf');
    const folder = mkdtempSync(join(tmpdir(), 'gatherpan-dxf-'));
    try {
      const script = `
import sys, ezdxf
for name in sys.argv[1:]:
    document = ezdxf.readfile(name)
    auditor = document.audit()
    print(document.dxfversion, document.units, len(auditor.errors), len(auditor.fixes))
`;
      const settings = DXF_VERSIONS.flatMap((version) =>
        ['', MARKED.marks, MARKS.join(',')].map((marks) => ({ version, marks })),
      );
      const files = await Promise.all(
        settings.flatMap(({ version, marks }, i) =>
          [samplePattern(), concavePattern()].map(async (pattern, k) => {
            const file = join(folder, `${i}-${k}.dxf`);
            writeFileSync(file, await write(pattern, { version, marks }));
            return { file, expected: `${ACADVER[version]} 4 0 0` };
          }),
        ),
      );
      const answer = execFileSync(python, ['-c', script, ...files.map(({ file }) => file)], {
        encoding: 'utf8',
      });
      expect(answer.trim().split('\n')).toEqual(files.map(({ expected }) => expected));
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

/** Runs the conformance suite over every exporter, and proves that the suite can fail. */
import { describe, expect, it } from 'vitest';
import type { Exporter } from '../../src/exporters/contract.ts';
import { jsonExporter } from '../../src/exporters/json/jsonExporter.ts';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { statement } from '../../src/words/statement.ts';
import { conformanceCases, runConformance, type Subject } from './conformance.ts';
import { readWithDxf, readWithDxfParser } from './readers/dxfReaders.ts';
import { readReport } from './readers/jsonReader.ts';
import { readStep } from './readers/stepReader.ts';
import { readSvg } from './readers/svgReader.ts';
import { moved } from './samplePattern.ts';
import { readStations } from './thirdParty/readStations.ts';
import stations from './thirdParty/stations.ts';

/** Cases that ask for the blank's own lines; a format that holds something else skips them with a reason. */
const BLANK_CASES = [
  'declares millimetres',
  'keeps every loop closed',
  'keeps area and length',
  'keeps arcs as arcs',
  'turns with the pattern',
  'keeps its accuracy scaled by 0.001',
  'keeps its accuracy scaled by 1000',
  'writes a readable file for every setting of every parameter',
] as const;

/** A format without the blank's lines in a form a reader could give back. */
const without = (reason: string): Omit<Subject, 'exporter'> => ({
  readers: {},
  tolerance: 0,
  skip: Object.fromEntries(BLANK_CASES.map((name) => [name, reason])),
});

const PIXELS = 'pixels have no lines; tests/papers looks at its size and that it is drawn';
const PAGES = 'pages of many drawings, tiles and tables; tests/papers reads them back with poppler';
const PLATES = 'gauges, plies or strips instead of the blank; tests/papers measures them';
const CARD = 'views and figures instead of the blank; tests/papers reads them';

const FORMED = 'the finished tray instead of the blank; tests/step has the kernel read and measure it';

/** How each format is read back. A new built-in exporter without an entry fails the test below. */
const SUBJECTS: Readonly<Record<string, Omit<Subject, 'exporter'>>> = {
  dxf: {
    readers: { 'dxf-parser': readWithDxfParser, dxf: readWithDxf },
    tolerance: 1e-6, // six decimals, in x and in y
  },
  json: { readers: { 'JSON.parse': readReport }, tolerance: 0 },
  svg: {
    readers: { 'svg-pathdata': readSvg },
    tolerance: 1e-7, // seven decimals, in x and in y
  },
  step: {
    readers: { 'opencascade.js': readStep },
    tolerance: 1e-6, // ten decimals, and the kernel's own rounding
  },
  'formed-step': without(FORMED),
  png: without(PIXELS),
  'template-pdf': without(PAGES),
  'marking-pdf': without(PAGES),
  'rehearsal-pdf': without(PAGES),
  'trial-pdf': without(PAGES),
  'bench-pdf': without(PAGES),
  'card-pdf': without(PAGES),
  'card-svg': without(CARD),
  'gauges-dxf': without(PLATES),
  'gauges-pdf': without(PLATES),
  'former-dxf': without(PLATES),
  'former-pdf': without(PLATES),
  'strip-dxf': without(PLATES),
  'strip-pdf': without(PLATES),
};

it('has a reader for every built-in exporter', () => {
  expect(Object.keys(SUBJECTS).sort()).toEqual(nodeExporters.map(({ id }) => id).sort());
});

for (const exporter of nodeExporters) {
  describe(`the exporter ${exporter.id}`, () => {
    runConformance({ exporter, ...SUBJECTS[exporter.id]! });
  });
}

describe("a third party's exporter", () => {
  runConformance({ exporter: stations, readers: { stations: readStations }, tolerance: 0 });
});

describe('the suite itself', () => {
  const subject = (changes: Partial<Exporter>, skip: Subject['skip'] = {}): Subject => ({
    exporter: { ...jsonExporter, ...changes },
    readers: { 'JSON.parse': readReport },
    tolerance: 0,
    skip,
  });
  const write =
    (change: (pattern: FlatPattern) => FlatPattern): Exporter['write'] =>
    (pattern, values) =>
      jsonExporter.write(change(pattern), values);

  let count = 0;
  /** Ways to break the report, and the case that must notice. */
  const BROKEN: readonly [string, Partial<Exporter>, string][] = [
    ['an id in capitals', { id: 'JSON' }, 'is well formed'],
    [
      'a running number in the file',
      {
        write: write((pattern) => ({
          ...pattern,
          notes: [statement('pattern.kerfCompensated', `${++count}`)],
        })),
      },
      'writes the same bytes twice',
    ],
    [
      'something kept from the drawing before',
      {
        write: (() => {
          let before = '';
          return write((pattern) => {
            const marked = { ...pattern, notes: [statement('pattern.kerfCompensated', before)] };
            before = pattern.name;
            return marked;
          });
        })(),
      },
      'writes the same bytes after and beside another drawing',
    ],
    ['an answer that never changes', { write: async () => new Uint8Array(1) }, 'tells two patterns apart'],
    [
      'a changed pattern',
      {
        write: (pattern, values) => {
          pattern.field.flat[0] = 99;
          return jsonExporter.write(pattern, values);
        },
      },
      'leaves the pattern and the values unchanged',
    ],
    [
      'another unit',
      {
        write: async (pattern, values) => {
          const text = new TextDecoder().decode(await jsonExporter.write(pattern, values));
          return new TextEncoder().encode(text.replace('"length": "mm"', '"length": "in"'));
        },
      },
      'declares millimetres',
    ],
    [
      'a repeated first vertex',
      {
        write: write((pattern) => ({
          ...pattern,
          report: { ...pattern.report, outline: [...pattern.report.outline, pattern.report.outline[0]!] },
        })),
      },
      'keeps every loop closed',
    ],
    ['a lost hole', { write: write((pattern) => ({ ...pattern, holes: [] })) }, 'keeps every loop closed'],
    [
      'a size that is wrong by 2 millionths',
      { write: write((pattern) => moved(pattern, 1 + 2e-6, 0)) },
      'keeps area and length',
    ],
    [
      'chords for arcs',
      {
        write: write((pattern) => ({
          ...pattern,
          report: {
            ...pattern.report,
            outline: pattern.report.outline.map((vertex) => ({ ...vertex, bulge: 0 })),
          },
        })),
      },
      'keeps arcs as arcs',
    ],
    ['a drawing on its side', { write: write((pattern) => moved(pattern, 1, 1)) }, 'turns with the pattern'],
    [
      'coordinates to a thousandth',
      {
        write: write((pattern) => ({
          ...pattern,
          report: {
            ...pattern.report,
            outline: pattern.report.outline.map(({ x, y, bulge }) => ({
              x: Number(x.toFixed(3)),
              y: Number(y.toFixed(3)),
              bulge: bulge * 1.0001,
            })),
          },
        })),
      },
      'keeps its accuracy scaled by 0.001',
    ],
    [
      'a setting that breaks the file',
      {
        write: async (pattern, values) =>
          values.compact === true ? new TextEncoder().encode('{') : jsonExporter.write(pattern, values),
      },
      'writes a readable file for every setting of every parameter',
    ],
  ];

  for (const [fault, changes, name] of BROKEN) {
    it(`notices ${fault}`, async () => {
      const { run } = conformanceCases.find((one) => one.name === name)!;
      await expect(run(subject({}))).resolves.toBeUndefined();
      await expect(run(subject(changes))).rejects.toThrow();
    });
  }

  it('wants a reason for every skip, and a case that exists', () => {
    expect(() => runConformance(subject({}, { 'declares millimetres': ' ' }))).toThrow('needs a reason');
    expect(() => runConformance(subject({}, { 'declares inches': 'none' }))).toThrow('no such case');
  });
});

/**
 * Drawings damaged in every way: each is read or refused in one sentence, says nothing on its own, and costs no more
 * than its size allows. 100 of them by default, 5,000 in the long form.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { planFromDxf } from '../../src/tray/planDxf.ts';
import { circle, drawnWithBlocks, dxf, line, type Tag } from '../support/drawnTags.ts';
import { LONG } from '../support/long.ts';

const RUNS = LONG ? 5000 : 100;

/** A stranger's text, which must show up nowhere but between quotation marks. */
const STRANGE = 'STRANGE <b>$(x)</b>';

const sources = [
  readFileSync(new URL('../../samples/column-side-tray.dxf', import.meta.url), 'utf8'),
  dxf(
    [
      line(0, 0, 300, 0),
      [
        [0, 'ARC'],
        [8, STRANGE],
        [10, 300],
        [20, 50],
        [40, 50],
        [50, 270],
        [51, 90],
      ],
      line(300, 100, 0, 100),
      line(0, 100, 0, 0),
      circle(100, 50, 8),
      [
        [0, 'TEXT'],
        [8, '0'],
        [10, 5],
        [20, 5],
        [40, 2],
        [1, STRANGE],
      ],
    ],
    1,
  ),
  dxf([
    [
      [0, 'SPLINE'],
      [8, '0'],
      [70, 8],
      [71, 3],
      [72, 8],
      [73, 4],
      ...[0, 0, 0, 0, 1, 1, 1, 1].map((knot): Tag => [40, knot]),
      ...(
        [
          [200, 0],
          [200, 200],
          [-200, 200],
          [-200, 0],
        ] as const
      ).flatMap(([x, y]): Tag[] => [
        [10, x],
        [20, y],
      ]),
    ],
    [
      [0, 'ELLIPSE'],
      [8, '0'],
      [10, 0],
      [20, 0],
      [11, -200],
      [21, 0],
      [40, 0.5],
      [41, 0],
      [42, Math.PI],
    ],
  ]),
  drawnWithBlocks(
    [
      [
        [0, 'INSERT'],
        [8, 'A'],
        [2, STRANGE],
        [10, 5],
        [20, 5],
        [41, -2],
        [42, 2],
        [50, 30],
        [70, 1],
        [71, 1],
      ],
    ],
    {
      [STRANGE]: {
        base: [1, 2],
        entities: [
          [
            [0, 'LWPOLYLINE'],
            [8, '0'],
            [90, 3],
            [70, 1],
            [10, 0],
            [20, 0],
            [10, 90],
            [20, 0],
            [42, 0.4],
            [10, 90],
            [20, 60],
          ],
        ],
      },
    },
  ),
].map((text) => text.trimEnd().split(/\r?\n/));

const VALUES = [
  ...[
    '0',
    '-1',
    '1',
    '2',
    '3',
    '8',
    '64',
    '4e9',
    '-1e308',
    '1e-308',
    'NaN',
    'Infinity',
    '',
    ' ',
    '0x10',
    '1,5',
  ],
  ...[
    'SECTION',
    'ENDSEC',
    'EOF',
    'LINE',
    'INSERT',
    'SPLINE',
    'ELLIPSE',
    'VERTEX',
    'POLYLINE',
    'SEQEND',
    'BLOCK',
  ],
  ...[STRANGE, '\u0000', '99999999999999999999', '$INSUNITS'],
];

type Change = (lines: string[], at: number, other: number, value: string) => void;

/** A number a little off, as rounding or a slip of the hand leaves it. */
function shaken(lines: string[], at: number, other: number): void {
  const number = Number(lines[at]);
  if (at % 2 === 1 && Number.isFinite(number)) lines[at] = String(number * 1.0001 + (other % 7) * 0.01);
}

const changes: readonly Change[] = [
  (lines, at, _, value) => lines.splice(at, 1, value),
  (lines, at) => lines.splice(at, 1),
  (lines, at) => lines.splice(at - (at % 2), 2),
  (lines, at, other) =>
    lines.splice(at - (at % 2), 0, ...lines.slice(other - (other % 2), other - (other % 2) + 2)),
  (lines, at, other) => {
    [lines[at], lines[other]] = [lines[other]!, lines[at]!];
  },
  (lines, at) => lines.splice(at),
  (lines, at, other) => lines.splice(at, Math.abs(other - at)),
  (lines, at, other) => lines.splice(at, 0, ...lines.slice(other, other + 40)),
  shaken,
  shaken,
  shaken,
];

const printed: unknown[] = [];
beforeEach(() => {
  const catches = (...values: unknown[]): boolean => {
    printed.push(values);
    return true;
  };
  for (const method of ['log', 'info', 'debug', 'warn', 'error', 'trace'] as const) {
    vi.spyOn(console, method).mockImplementation(catches);
  }
  vi.spyOn(process.stdout, 'write').mockImplementation(catches);
  vi.spyOn(process.stderr, 'write').mockImplementation(catches);
});
afterEach(() => vi.restoreAllMocks());

test('a damaged drawing is read or refused in one sentence, and nothing is printed', () => {
  let [read, refused] = [0, 0];
  printed.length = 0;
  fc.assert(
    fc.property(
      fc.constantFrom(...sources),
      fc.array(fc.tuple(fc.constantFrom(...changes), fc.nat(), fc.nat(), fc.constantFrom(...VALUES)), {
        minLength: 1,
        maxLength: 4,
      }),
      (source, steps) => {
        const lines = [...source];
        for (const [change, at, other, value] of steps) {
          if (lines.length > 0) change(lines, at % lines.length, other % lines.length, value);
        }
        try {
          const { vertices, notes } = planFromDxf(`${lines.join('\n')}\n`, {
            layer: undefined,
            unit: undefined,
            unitless: 'mm',
          });
          for (const { x, y, bulge = 0 } of vertices) expect(Number.isFinite(x + y + bulge)).toBe(true);
          for (const note of notes) expect(note).toMatch(/^[A-Z].*[^.]\.$/s);
          read++;
        } catch (error) {
          if (!(error instanceof GatherpanError)) throw error;
          expect(error.faults).toHaveLength(1);
          const { message } = error.faults[0]!;
          expect(message).toMatch(/^[^\n]{10,900}\.$/);
          expect(message.replace(/"(?:[^"\\]|\\.)*"/g, '')).not.toContain('<b>');
          refused++;
        }
      },
    ),
    { seed: 21, numRuns: RUNS },
  );
  expect(printed).toEqual([]);
  // Both ways are taken, or the damage proves nothing.
  expect(read).toBeGreaterThan(RUNS / 10);
  expect(refused).toBeGreaterThan(RUNS / 10);
});

test('what is left out is told by its kind, which a stranger may have made up', () => {
  const odd: Tag[] = [
    [0, STRANGE],
    [8, STRANGE],
  ];
  expect(() =>
    planFromDxf(dxf([circle(0, 0, 90), odd]), { layer: undefined, unit: 'mm', unitless: 'mm' }),
  ).toThrow(`an entity "${STRANGE}" on layer "${STRANGE}"`);
});

/** What a drawing leaves open, and what drawing programs leave in it: said, joined, followed or refused. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distanceToPath, pathArea } from '../../src/geometry/measure.ts';
import type { Path } from '../../src/geometry/path.ts';
import { drawnRectangle } from '../../src/tray/drawnRectangle.ts';
import { type DrawnPlan, planFromDxf } from '../../src/tray/planDxf.ts';
import { DRAWING_UNITS } from '../../src/tray/planSchema.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { PolygonPlan } from '../../src/tray/spec.ts';
import { circle, drawnWithBlocks, dxf, line, polyline, type Tag } from '../support/drawnTags.ts';
import { LONG } from '../support/long.ts';
import { changed } from './trayFiles.ts';

const RUNS = LONG ? 2000 : 60;

const plan = (text: string, more: object = {}): DrawnPlan =>
  planFromDxf(text, { layer: undefined, unit: 'mm', unitless: 'mm', ...more });
const pathOf = ({ vertices }: DrawnPlan): Path => ({
  vertices: vertices.map(({ x, y, bulge = 0 }) => ({ x, y, bulge })),
  closed: true,
});
const box = (x: number, y: number, length: number, width: number): Tag[] =>
  polyline([
    [x, y],
    [x + length, y],
    [x + length, y + width],
    [x, y + width],
  ]);
const rounded = (length: number, width: number, r: number, x = 0, y = 0): [number, number, number][] => {
  const b = Math.tan(Math.PI / 8);
  return [
    [x + r, y, 0],
    [x + length - r, y, b],
    [x + length, y + r, 0],
    [x + length, y + width - r, b],
    [x + length - r, y + width, 0],
    [x + r, y + width, b],
    [x, y + width - r, 0],
    [x, y + r, b],
  ];
};

describe('the unit of a drawing', () => {
  const read = (text: string, more: object, rest: Record<string, unknown> = {}) => {
    const notes: string[] = [];
    const tray = readTray(
      changed({
        plan: { dxf: 'plan.dxf', cornerRadius: 2, ...more },
        section: { bottomRadius: 2, height: 10 },
        'sheet.thickness': 1,
        ...rest,
      }),
      { planDxf: () => text, note: (sentence) => notes.push(sentence) },
    );
    return { tray, notes, vertices: (tray.plan as PolygonPlan).vertices };
  };

  test('is taken as that of the tray file only with a note that tells both sizes and what to type', () => {
    const { notes, vertices } = read(dxf([box(0, 0, 59, 39)]), {});
    expect(vertices[2]).toMatchObject({ x: 59, y: 39 });
    expect(notes).toEqual([
      'The drawing names no unit; it was taken to be in millimetres, which makes the plan 59 × 39 mm. If it is in inches, the plan is 1498.6 × 990.6 mm: give the unit in plan.units, or with --units on the command line (mm, cm, dm, m, in, ft).',
    ]);
    const inches = read(
      dxf([box(0, 0, 59, 39)]),
      { cornerRadius: 0.5 },
      { units: 'in', section: { bottomRadius: 0.2, height: 1 }, 'sheet.thickness': 0.04 },
    );
    expect(inches.vertices[2]!.x).toBeCloseTo(59 * 25.4, 9);
    expect(inches.notes[0]).toContain(
      'taken to be in inches, which makes the plan 59 × 39 in. If it is in millimetres, the plan is 2.3 × 1.5 in',
    );
  });

  test.each([
    ['mm', 1, 4],
    ['cm', 10, 5],
    ['dm', 100, 14],
    ['m', 1000, 6],
    ['in', 25.4, 1],
    ['ft', 304.8, 2],
  ] as const)('%s, given or its own, is taken without a note', (unit, scale, number) => {
    expect(DRAWING_UNITS).toContain(unit);
    const drawn = (own?: number) => dxf([box(0, 0, 300 / scale, 200 / scale)], own);
    for (const found of [
      read(drawn(), { units: unit }),
      read(drawn(number), {}),
      read(drawn(number), { units: unit }),
    ]) {
      expect(found.notes).toEqual([]);
      expect(Math.hypot(found.vertices[2]!.x - 300, found.vertices[2]!.y - 200)).toBeLessThan(1e-9);
    }
    const other = unit === 'mm' ? 'in' : 'mm';
    expect(() => read(drawn(number), { units: other })).toThrow(/^plan\.units .* but the drawing itself/);
  });

  test('that is none of a tray is refused, whatever is given', () => {
    for (const number of [3, 7, 8, 9, 10, 11, 12, 13, 15, 21, 24, 99, -4, 4.5]) {
      expect(() => read(dxf([box(0, 0, 300, 200)], number), { units: 'mm' })).toThrow(/of \$INSUNITS; give/);
    }
  });
});

describe('far from the origin', () => {
  const seeded = { seed: 11, numRuns: RUNS };
  test('a plan is moved by whole millimetres, with a note, and is the same plan', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3e7, max: 3e7, noNaN: true }),
        fc.double({ min: -3e7, max: 3e7, noNaN: true }),
        (x, y) => {
          const found = plan(dxf([polyline(rounded(300, 200, 40, x, y)), circle(x + 150, y + 100, 10)]));
          const near = plan(dxf([polyline(rounded(300, 200, 40)), circle(150, 100, 10)]));
          const isFar = Math.max(Math.abs(x + 150), Math.abs(y + 100)) > 5000;
          const said = found.notes.find((note) => note.startsWith('The drawing lies far'));
          if (isFar) {
            expect(said).toBeDefined();
            const [dx, dy] = [...said!.matchAll(/-?\d+(?:\.\d+)?(?:e\+\d+)?/g)].map(Number);
            expect(Math.abs(found.vertices[0]!.x - (x + 40 + dx!))).toBeLessThan(1e-6);
            expect(Math.abs(found.vertices[0]!.y - (y + dy!))).toBeLessThan(1e-6);
          }
          const by = [
            found.vertices[0]!.x - near.vertices[0]!.x,
            found.vertices[0]!.y - near.vertices[0]!.y,
          ] as const;
          for (const [i, vertex] of found.vertices.entries()) {
            expect(Math.abs(vertex.x - near.vertices[i]!.x - by[0])).toBeLessThan(1e-6);
            expect(Math.abs(vertex.y - near.vertices[i]!.y - by[1])).toBeLessThan(1e-6);
            expect(Math.max(Math.abs(vertex.x), Math.abs(vertex.y))).toBeLessThanOrEqual(5500);
          }
          const hole = found.holes[0]!.place as { x: number; y: number };
          expect(Math.hypot(hole.x - 150 - by[0], hole.y - 100 - by[1])).toBeLessThan(1e-6);
        },
      ),
      seeded,
    );
  });
});

describe('edges that nearly meet', () => {
  test('are joined up to 0.1 mm, in any order and direction, and refused beyond', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 16, maxLength: 16 }),
        fc.boolean(),
        fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4, maxLength: 4 }),
        fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
        (by, tooWide, order, backwards) => {
          const corners = [
            [0, 0],
            [300, 0],
            [300, 200],
            [0, 200],
          ] as const;
          // Of two ends that meet each is off by at most half the gap.
          const off = (k: number): number => by[k]! * 0.033;
          const lines = order.map((i) => {
            const [from, to] = [corners[i]!, corners[(i + 1) % 4]!];
            const ends = [
              from[0] + off(4 * i),
              from[1] + off(4 * i + 1),
              to[0] + off(4 * i + 2),
              to[1] + off(4 * i + 3),
            ];
            if (tooWide && i === 0) ends[0] = 0.3;
            const [a, b, c, d] = ends as [number, number, number, number];
            return backwards[i]! ? line(c, d, a, b) : line(a, b, c, d);
          });
          if (tooWide) {
            expect(() => plan(dxf(lines))).toThrow(/the chain is open: .* mm apart/);
            return;
          }
          const found = plan(dxf(lines));
          expect(found.vertices).toHaveLength(4);
          for (const [x, y] of corners) {
            expect(found.vertices.some((vertex) => Math.hypot(vertex.x - x, vertex.y - y) < 0.05)).toBe(true);
          }
          expect(pathArea(pathOf(found))).toBeGreaterThan(59_900);
        },
      ),
      { seed: 12, numRuns: RUNS },
    );
  });

  test('with a gap worth knowing are told of', () => {
    const lines = [line(0, 0, 300, 0), line(300, 0.06, 300, 200), line(300, 200, 0, 200), line(0, 200, 0, 0)];
    expect(plan(dxf(lines)).notes).toEqual([
      "The drawing's edges do not quite meet (1 times; the widest gap is 0.060 mm, at x 300, y 0.03 mm); they were joined.",
    ]);
  });

  test('and a vertex a hair before a corner is that corner', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.0005, max: 0.035, noNaN: true }),
        fc.nat(3),
        fc.nat(2),
        (hair, corner, side) => {
          const points = [
            [0, 0],
            [300, 0],
            [300, 200],
            [0, 200],
          ] as [number, number][];
          const [x, y] = points[corner]!;
          const [bx, by] = points[(corner + 3) % 4]!;
          const length = Math.hypot(x - bx, y - by);
          const [ux, uy] = [(x - bx) / length, (y - by) / length];
          // On the edge before the corner, or a little to one side of it.
          const extra: [number, number] = [
            x - hair * ux - (side - 1) * hair * uy,
            y - hair * uy + (side - 1) * hair * ux,
          ];
          points.splice(corner, 0, extra);
          for (const drawing of [
            dxf([polyline(points)]),
            dxf(points.map(([px, py], i) => line(px, py, ...points[(i + 1) % 5]!))),
          ]) {
            const found = plan(drawing);
            expect(found.vertices).toHaveLength(4);
            for (const [k, vertex] of found.vertices.entries()) {
              expect(
                [
                  [0, 0],
                  [300, 0],
                  [300, 200],
                  [0, 200],
                ].some(([px, py]) => Math.hypot(vertex.x - px!, vertex.y - py!) < 0.07),
                String(k),
              ).toBe(true);
            }
          }
        },
      ),
      { seed: 13, numRuns: RUNS },
    );
  });
});

const ellipse = (
  [x, y]: readonly [number, number],
  [ax, ay]: readonly [number, number],
  ratio: number,
  from = 0,
  to = 2 * Math.PI,
  below = false,
): Tag[] => [
  [0, 'ELLIPSE'],
  [8, '0'],
  [10, x],
  [20, y],
  [11, ax],
  [21, ay],
  ...(below
    ? ([
        [210, 0],
        [220, 0],
        [230, -1],
      ] as Tag[])
    : []),
  [40, ratio],
  [41, from],
  [42, to],
];
const splineTags = (
  degree: number,
  knots: readonly number[],
  points: readonly (readonly [number, number])[],
  weights: readonly number[] = [],
): Tag[] => [
  [0, 'SPLINE'],
  [8, '0'],
  [70, 8],
  [71, degree],
  [72, knots.length],
  [73, points.length],
  ...knots.map((knot): Tag => [40, knot]),
  ...weights.map((weight): Tag => [41, weight]),
  ...points.flatMap(([x, y]): Tag[] => [
    [10, x],
    [20, y],
  ]),
];

describe('ellipses and splines', () => {
  test('an ellipse is followed by arcs within 0.05 mm, smoothly, and its area is right', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 40, max: 1500, noNaN: true }),
        fc.double({ min: 0.2, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.boolean(),
        (a, ratio, turn, below) => {
          const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
          const found = plan(dxf([ellipse([30, -20], [a * c, a * s], ratio, 0, 2 * Math.PI, below)]));
          const path = pathOf(found);
          for (let k = 0; k < 97; k++) {
            const t = (2 * Math.PI * k) / 97;
            const [u, v] = [a * Math.cos(t), a * ratio * Math.sin(t)];
            expect(distanceToPath({ x: 30 + c * u - s * v, y: -20 + s * u + c * v }, path)).toBeLessThan(
              0.051,
            );
          }
          // Off by no more than the tolerance all round.
          expect(Math.abs(pathArea(path) - Math.PI * a * a * ratio)).toBeLessThan(2 * Math.PI * a * 0.05);
          expect(found.vertices.length).toBeLessThanOrEqual(80);
          expect(found.notes[0]).toMatch(
            /^Splines and ellipses \(1\) became \d+ arcs and lines, within 0\.05 mm/,
          );
        },
      ),
      { seed: 14, numRuns: RUNS },
    );
  });

  test('a rational spline that is a circle is followed as one', () => {
    // Nine points of a square, weights 1 and cos 45°: a full circle (L. Piegl, W. Tiller, The NURBS Book, 2nd ed. 1997, 7.3).
    const w = Math.SQRT1_2;
    const square = [
      [1, 0],
      [1, 1],
      [0, 1],
      [-1, 1],
      [-1, 0],
      [-1, -1],
      [0, -1],
      [1, -1],
      [1, 0],
    ].map(([x, y]) => [80 * x! + 5, 80 * y!] as const);
    const found = plan(
      dxf([splineTags(2, [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4], square, [1, w, 1, w, 1, w, 1, w, 1])]),
    );
    for (const { x, y } of found.vertices) expect(Math.hypot(x - 5, y)).toBeCloseTo(80, 6);
    expect(pathArea(pathOf(found))).toBeCloseTo(Math.PI * 6400, 3);
  });

  test('a spline of any degree is followed within 0.05 mm of Bézier’s own formula', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: -60, max: 60, noNaN: true }),
            fc.double({ min: 30, max: 160, noNaN: true }),
          ),
          {
            minLength: 1,
            maxLength: 4,
          },
        ),
        (inner) => {
          const points = [[200, 0], [200, 80], ...inner, [-200, 80], [-200, 0]] as [number, number][];
          const degree = points.length - 1;
          const knots = [...points.map(() => 0), ...points.map(() => 1)];
          const found = plan(dxf([splineTags(degree, knots, points), line(-200, 0, 200, 0)]));
          const path = pathOf(found);
          for (let k = 0; k <= 40; k++) {
            // De Casteljau's halving, which knows nothing of knots.
            let row = points.map(([x, y]) => [x, y] as const);
            const t = k / 40;
            while (row.length > 1) {
              row = row
                .slice(1)
                .map(([x, y], i) => [(1 - t) * row[i]![0] + t * x, (1 - t) * row[i]![1] + t * y] as const);
            }
            expect(distanceToPath({ x: row[0]![0], y: row[0]![1] }, path)).toBeLessThan(0.051);
          }
        },
      ),
      { seed: 15, numRuns: RUNS },
    );
  });
});

describe('blocks', () => {
  const block = rounded(100, 60, 20);
  test('are drawn where they are inserted: moved, turned, scaled, mirrored, within one another', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -800, max: 800, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.double({ min: 0.5, max: 3, noNaN: true }),
        fc.boolean(),
        fc.boolean(),
        (x, turn, scale, mirror, below) => {
          const insert = (name: string, more: Tag[]): Tag[] => [
            [0, 'INSERT'],
            [8, 'PLAN'],
            [2, name],
            ...more,
          ];
          const drawing = drawnWithBlocks(
            [
              insert('OUTER', [
                [10, x],
                [20, 5],
                [50, turn],
                ...(below
                  ? ([
                      [210, 0],
                      [220, 0],
                      [230, -1],
                    ] as Tag[])
                  : []),
              ]),
            ],
            {
              outer: {
                base: [7, 0],
                entities: [
                  insert('Inner', [
                    [10, 7],
                    [20, 0],
                    [41, mirror ? -scale : scale],
                    [42, scale],
                  ]),
                ],
              },
              INNER: { base: [50, 30], entities: [polyline(block)] },
            },
          );
          const found = plan(drawing, { layer: 'plan' });
          expect(found.vertices).toHaveLength(8);
          const area = 100 * 60 - (4 - Math.PI) * 400;
          expect(pathArea(pathOf(found)) / (area * scale * scale)).toBeCloseTo(1, 9);
          // The base point comes to the place of the insert: the middle of the plan.
          const side = below ? -1 : 1;
          const middle = found.vertices.reduce((sum, v) => [sum[0] + v.x / 8, sum[1] + v.y / 8] as const, [
            0, 0,
          ] as readonly [number, number]);
          expect(Math.hypot(middle[0] - side * x, middle[1] - 5)).toBeLessThan(1e-6);
        },
      ),
      { seed: 16, numRuns: RUNS },
    );
  });

  test('that are stretched in one direction have their arcs followed', () => {
    const insert: Tag[] = [
      [0, 'INSERT'],
      [8, '0'],
      [2, 'A'],
      [10, 0],
      [20, 0],
      [41, 3],
      [42, 1],
    ];
    const found = plan(drawnWithBlocks([insert], { A: { base: [0, 0], entities: [circle(0, 0, 50)] } }));
    expect(pathArea(pathOf(found)) / (Math.PI * 50 * 150)).toBeCloseTo(1, 3);
    for (let k = 0; k < 60; k++) {
      const at = { x: 150 * Math.cos(k), y: 50 * Math.sin(k) };
      expect(distanceToPath(at, pathOf(found))).toBeLessThan(0.051);
    }
  });

  test('without end, or that multiply without end, are refused at once', () => {
    const insert = (name: string, more: Tag[] = []): Tag[] => [[0, 'INSERT'], [8, '0'], [2, name], ...more];
    expect(() =>
      plan(drawnWithBlocks([insert('A')], { A: { base: [0, 0], entities: [insert('A')] } })),
    ).toThrow('within itself');
    const many = Object.fromEntries(
      Array.from({ length: 12 }, (_, k) => [
        `B${k}`,
        { base: [0, 0] as const, entities: Array.from({ length: 50 }, () => insert(`B${k + 1}`)) },
      ]),
    );
    expect(() =>
      plan(drawnWithBlocks([insert('B0')], { ...many, B12: { base: [0, 0], entities: [] } })),
    ).toThrow('more than 200000 entities');
    expect(() =>
      plan(
        drawnWithBlocks(
          [
            insert('A', [
              [70, 30_000],
              [71, 30_000],
            ]),
          ],
          { A: { base: [0, 0], entities: [] } },
        ),
      ),
    ).toThrow('more than 200000 entities');
    expect(() => plan(drawnWithBlocks([insert('B')], {}))).toThrow('the block "B", which is not in the file');
  });
});

describe('loops inside the plan', () => {
  test('become holes of the base, in the shapes a tray file has', () => {
    const slot: [number, number, number][] = [
      [100, 60, 0],
      [140, 60, 1],
      [140, 72, 0],
      [100, 72, 1],
    ];
    const tray = readTray(
      changed({
        plan: { dxf: 'plan.dxf', units: 'mm' },
        section: { bottomRadius: 10, height: 30 },
        holes: [{ shape: { kind: 'round', diameter: 5 }, place: { on: 'base', x: 60, y: 120 } }],
      }),
      {
        planDxf: () =>
          dxf([
            circle(80, 100, 9),
            polyline(rounded(300, 200, 40)),
            polyline(slot),
            polyline([
              [180, 90],
              [220, 90],
              [200, 120],
            ]),
          ]),
      },
    );
    expect(tray.holes).toEqual([
      { name: 'hole-1', shape: { kind: 'round', diameter: 5 }, place: { on: 'base', x: 60, y: 120 } },
      {
        name: 'drawn-1',
        shape: { kind: 'round', diameter: expect.closeTo(18, 9) },
        place: { on: 'base', x: expect.closeTo(80, 9), y: expect.closeTo(100, 9) },
      },
      {
        name: 'drawn-2',
        shape: { kind: 'slot', length: 52, width: 12, angle: 0 },
        place: { on: 'base', x: 120, y: 66 },
      },
      {
        name: 'drawn-3',
        shape: {
          kind: 'polygon',
          points: [
            { x: -20, y: -15 },
            { x: 20, y: -15 },
            { x: 0, y: 15 },
          ],
        },
        place: { on: 'base', x: 200, y: 105 },
      },
    ]);
    expect(readTray(tray)).toEqual(tray);
  });
});

describe('curves broken into short lines', () => {
  test('a round corner of facets is its arc again, with a note, wherever the drawing begins', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 6, max: 40 }),
        fc.double({ min: 10, max: 60, noNaN: true }),
        fc.nat(200),
        (facets, r, begin) => {
          const points: [number, number][] = [];
          for (const [k, [x, y]] of (
            [
              [300 - r, 200 - r],
              [r, 200 - r],
              [r, r],
              [300 - r, r],
            ] as const
          ).entries()) {
            for (let i = 0; i <= facets; i++) {
              const angle = (Math.PI / 2) * (k + i / facets);
              points.push([x + r * Math.cos(angle), y + r * Math.sin(angle)]);
            }
          }
          const at = begin % points.length;
          const found = plan(dxf([polyline([...points.slice(at), ...points.slice(0, at)])]));
          expect(found.vertices).toHaveLength(8);
          const rectangle = drawnRectangle({
            vertices: found.vertices.map((vertex) => ({ ...vertex, radius: 0 })),
          });
          expect(rectangle?.plan).toEqual({
            length: 300,
            width: 200,
            cornerRadius: expect.closeTo(Number(r.toFixed(3)), 3),
          });
          expect(found.notes.filter((note) => note.includes('became an arc of radius'))).toHaveLength(4);
        },
      ),
      { seed: 17, numRuns: RUNS },
    );
  });

  test('a wheel of them is a circle; one of few long sides stays what it is', () => {
    const wheel = (count: number): Tag[] =>
      polyline(
        Array.from({ length: count }, (_, k) => [
          90 * Math.cos((2 * Math.PI * k) / count),
          90 * Math.sin((2 * Math.PI * k) / count),
        ]),
      );
    for (const count of [24, 36, 100, 720]) {
      const found = plan(dxf([wheel(count)]));
      expect(found.vertices.map(({ bulge }) => bulge)).toEqual([1, 1]);
      expect(found.notes).toEqual([
        expect.stringMatching(new RegExp(`^The ${count} short lines about .* became an arc of radius 90 mm`)),
      ]);
    }
    for (const count of [3, 6, 8, 12, 20]) expect(plan(dxf([wheel(count)])).vertices).toHaveLength(count);
  });
});

test('a rectangle with round corners is found, and nothing else', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 100, max: 900 }),
      fc.integer({ min: 100, max: 900 }),
      fc.integer({ min: 1, max: 49 }),
      fc.integer({ min: -400, max: 400 }),
      (length, width, r, x) => {
        const points = rounded(length, width, r, x, -x);
        const found = (from: readonly (readonly [number, number, number])[]) =>
          drawnRectangle({
            vertices: plan(dxf([polyline(from)])).vertices.map((vertex) => ({ ...vertex, radius: 0 })),
          });
        expect(found(points)).toEqual({
          plan: { length, width, cornerRadius: r },
          x: expect.closeTo(x + length / 2, 9),
          y: expect.closeTo(-x + width / 2, 9),
        });
        // Turned a little, with a corner cut off, or with a corner turned in: no rectangle.
        const turned = points.map(([px, py, b]) => [px - 0.01 * py, py + 0.01 * px, b] as const);
        const cut = points.map(([px, py, b], i) => [px, py, i === 1 ? 0 : b] as const);
        const turnedIn = points.map(([px, py, b], i) => [px, py, i === 1 ? -b : b] as const);
        for (const other of [turned, cut, turnedIn]) expect(found(other)).toBeNull();
      },
    ),
    { seed: 18, numRuns: RUNS },
  );
});

test('what shows no edges is left out with a note', () => {
  const text: Tag[] = [
    [0, 'TEXT'],
    [8, '0'],
    [10, 5],
    [20, 5],
    [40, 2],
    [1, 'tray'],
  ];
  const hatch: Tag[] = [
    [0, 'HATCH'],
    [8, '0'],
    [10, 0],
    [20, 0],
  ];
  expect(plan(dxf([polyline(rounded(300, 200, 40)), text, hatch, text])).notes).toEqual([
    'These show no edges and were left out: 2 TEXT, 1 HATCH.',
  ]);
});

/** Plans from drawings; the drawings are written here, tag by tag. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { PolygonPlan } from '../../src/tray/spec.ts';
import { circle, dxf, line, polyline, type Tag } from '../support/drawnTags.ts';
import { orRefusal, refusal } from '../support/refusal.ts';
import { changed } from './trayFiles.ts';

const arc = (x: number, y: number, radius: number, from: number, to: number, layer = '0'): Tag[] => [
  [0, 'ARC'],
  [8, layer],
  [10, x],
  [20, y],
  [40, radius],
  [50, from],
  [51, to],
];

const rectangle = (layer = '0'): Tag[][] => [
  line(0, 0, 300, 0, layer),
  line(300, 200, 300, 0, layer),
  line(300, 200, 0, 200, layer),
  line(0, 0, 0, 200, layer),
];

const file = (plan: object = {}, more: Record<string, unknown> = {}): unknown =>
  changed({
    plan: { dxf: 'plan.dxf', cornerRadius: 30, ...plan },
    section: { bottomRadius: 10, height: 30 },
    'sheet.thickness': 1,
    ...more,
  });
const read = (drawing: string, plan: object = {}, more: Record<string, unknown> = {}) =>
  readTray(file(plan, more), { planDxf: () => drawing });
const vertices = (drawing: string, plan: object = {}) => (read(drawing, plan).plan as PolygonPlan).vertices;
const places = (drawing: string, plan: object = {}) =>
  vertices(drawing, plan).map(({ x, y }) => [Number(x.toFixed(6)), Number(y.toFixed(6))]);

describe('a drawing', () => {
  test('of lines in any order and direction is one counter-clockwise chain from the first', () => {
    const corners = [
      [0, 0],
      [300, 0],
      [300, 200],
      [0, 200],
    ];
    expect(places(dxf(rectangle()))).toEqual(corners);
    expect(vertices(dxf(rectangle())).every(({ radius }) => radius === 30)).toBe(true);
    const [a, b, c, d] = rectangle() as [Tag[], Tag[], Tag[], Tag[]];
    expect(places(dxf([a, d, c, b]))).toEqual(corners);
    // Drawn the other way round, the first line is still the first edge.
    expect(places(dxf([line(300, 0, 0, 0), b, c, d]))).toEqual(corners);
  });

  test('of several outlines is the one that is asked for, with the holes in it', () => {
    const two = dxf([
      ...rectangle(),
      polyline([
        [400, 0],
        [640, 0],
        [640, 160],
        [400, 160],
      ]),
      circle(150, 100, 10),
      circle(500, 80, 12),
      circle(560, 80, 12),
    ]);
    expect(places(two, { loop: 1 })[0]).toEqual([0, 0]);
    expect(places(two, { loop: 2 })[0]).toEqual([400, 0]);
    expect(read(two, { loop: 1 }).holes).toHaveLength(1);
    expect(read(two, { loop: 2 }).holes).toHaveLength(2);
    expect(refusal(() => read(two, { loop: 3 })).message).toBe(
      'plan.loop is 3, and the drawing shows 2 outlines; give the number of the plan, the largest being 1 (300 × 200, 240 × 160 mm).',
    );
  });

  test('of lines and arcs has smooth joints and the bulges of the arcs', () => {
    const slot = dxf([
      line(-100, -50, 100, -50),
      arc(100, 0, 50, 270, 90),
      line(100, 50, -100, 50),
      arc(-100, 0, 50, 90, 270),
    ]);
    const found = vertices(slot, { cornerRadius: undefined });
    expect(found.map(({ bulge = 0 }) => Number(bulge.toFixed(9)))).toEqual([0, 1, 0, 1]);
    expect(found.every(({ radius }) => radius === 0)).toBe(true);
  });

  test('as a polyline, a circle or an old polyline says the same', () => {
    const points = [
      [0, 0],
      [300, 0],
      [300, 200],
      [0, 200],
    ] as const;
    expect(places(dxf([polyline(points)]))).toEqual(places(dxf(rectangle())));
    // Vertex numbers, which newer drawings have, change nothing.
    expect(places(dxf([polyline(points, true, [[91, 0]])]))).toEqual(places(dxf(rectangle())));
    const old: Tag[] = [
      [0, 'POLYLINE'],
      [8, '0'],
      [66, 1],
      [70, 1],
      ...points.flatMap(([x, y]): Tag[] => [
        [0, 'VERTEX'],
        [8, '0'],
        [10, x],
        [20, y],
      ]),
      [0, 'SEQEND'],
    ];
    expect(places(dxf([old]))).toEqual(places(dxf(rectangle())));
    expect(vertices(dxf([circle(20, 10, 80)]))).toEqual([
      { x: expect.closeTo(100, 9), y: expect.closeTo(10, 9), radius: 0, bulge: expect.closeTo(1, 9) },
      { x: expect.closeTo(-60, 9), y: expect.closeTo(10, 9), radius: 0, bulge: expect.closeTo(1, 9) },
    ]);
  });

  test('a three-quarter arc and a large one are arcs', () => {
    const found = vertices(
      dxf([arc(0, 0, 100, 30, 330), line(100 * Math.cos(Math.PI / 6), -50, 100 * Math.cos(Math.PI / 6), 50)]),
    );
    expect(found).toHaveLength(3);
    expect(found.reduce((sum, { bulge = 0 }) => sum + 4 * Math.atan(bulge), 0)).toBeCloseTo(
      (300 * Math.PI) / 180,
      9,
    );
  });

  test('drawn on a plane seen from below is turned over', () => {
    const below: Tag[] = [
      ...polyline([
        [0, 0],
        [-300, 0],
        [-300, 200],
        [0, 200],
      ]),
      [210, 0],
      [220, 0],
      [230, -1],
    ];
    expect(places(dxf([below])).sort()).toEqual(places(dxf(rectangle())).sort());
  });

  test.each([
    ['mm', 4, 1],
    ['cm', 5, 10],
    ['m', 6, 1000],
    ['inches', 1, 25.4],
    ['feet', 2, 304.8],
  ])('in %s comes out in mm', (_, unit, scale) => {
    const scaled = dxf(
      [
        polyline([
          [0, 0],
          [300 / scale, 0],
          [300 / scale, 200 / scale],
          [0, 200 / scale],
        ]),
      ],
      unit,
    );
    for (const [i, vertex] of vertices(scaled).entries()) {
      expect(Math.hypot(vertex.x - [0, 300, 300, 0][i]!, vertex.y - [0, 0, 200, 200][i]!)).toBeLessThan(1e-9);
    }
  });

  test('without a unit has the unit of the tray file', () => {
    const inches = { units: 'in', section: { bottomRadius: 0.5, height: 1.5 }, 'sheet.thickness': 0.04 };
    const spec = read(
      dxf([
        polyline([
          [0, 0],
          [12, 0],
          [12, 8],
          [0, 8],
        ]),
      ]),
      { cornerRadius: 1 },
      inches,
    );
    expect((spec.plan as PolygonPlan).vertices[2]).toEqual({
      x: expect.closeTo(304.8, 9),
      y: expect.closeTo(203.2, 9),
      radius: 25.4,
    });
  });

  test('is read from one layer, whatever its capitals', () => {
    const both = dxf([...rectangle('PLAN'), circle(500, 0, 20, 'PIPE')]);
    expect(places(both, { layer: 'plan' })).toEqual(places(dxf(rectangle())));
    expect(vertices(both, { layer: 'PIPE', cornerRadius: undefined })).toHaveLength(2);
  });

  test('leaves out texts, and points on a straight line', () => {
    const text: Tag[] = [
      [0, 'TEXT'],
      [8, '0'],
      [10, 5],
      [20, 5],
      [40, 2],
      [1, 'tray'],
    ];
    const halves = [line(0, 0, 120, 0), line(120, 0, 300, 0), ...rectangle().slice(1), text];
    expect(places(dxf(halves))).toEqual(places(dxf(rectangle())));
  });

  test('gives its edges to openEdges in the order of the chain', () => {
    const plan = read(dxf(rectangle()), { openEdges: [0] }).plan as PolygonPlan;
    expect(plan.openEdges).toEqual([0]);
    expect(plan.vertices.map(({ radius }) => radius)).toEqual([0, 0, 30, 30]);
  });

  test('whose ends miss one another by less than a hundredth is joined', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -0.0035, max: 0.0035, noNaN: true }), { minLength: 16, maxLength: 16 }),
        (by) => {
          const jitter = (k: number): number => by[k]!;
          const lines = [
            [0, 0, 300, 0],
            [300, 0, 300, 200],
            [300, 200, 0, 200],
            [0, 200, 0, 0],
          ].map((ends, i) =>
            line(...(ends.map((value, k) => value + jitter(4 * i + k)) as [number, number, number, number])),
          );
          const found = vertices(dxf(lines));
          expect(found).toHaveLength(4);
          expect(Math.hypot(found[2]!.x - 300, found[2]!.y - 200)).toBeLessThan(0.006);
        },
      ),
      { seed: 1, numRuns: 100 },
    );
  });

  test('is a tray whose spec reads to itself', () => {
    const spec = read(dxf(rectangle()));
    expect(readTray(spec)).toEqual(spec);
  });
});

describe('a drawing that cannot be taken', () => {
  const spline: Tag[] = [
    [0, 'SPLINE'],
    [8, '0'],
    [70, 8],
    [71, 3],
    [72, 8],
    [73, 4],
  ];
  test.each([
    [
      'an empty one',
      dxf([]),
      {},
      'plan.dxf is "plan.dxf": the drawing is empty; give one with a closed chain of lines and arcs.',
    ],
    [
      'a gap',
      dxf([...rectangle().slice(0, 3), line(0, 0.25, 0, 200)]),
      {},
      'plan.dxf is "plan.dxf": the chain is open: x 0, y 0 mm and x 0, y 0.25 mm are 0.25 mm apart; give a closed chain, with ends that meet within 0.1 mm.',
    ],
    [
      'a branch',
      dxf([...rectangle(), line(0, 0, 50, 50)]),
      {},
      'plan.dxf is "plan.dxf": 3 edges meet at x 0, y 0 mm; give one closed chain, or name its layer in plan.layer.',
    ],
    [
      'an edge drawn twice',
      dxf([...rectangle(), line(300, 0, 0, 0)]),
      {},
      'plan.dxf is "plan.dxf": an edge is drawn more than once at x 0, y 0 mm; give one closed chain, or name its layer in plan.layer.',
    ],
    [
      'two chains beside each other',
      dxf([...rectangle(), circle(450, 100, 20)]),
      {},
      'plan.loop is missing, and the drawing shows 2 outlines beside each other; give the number of the plan, the largest being 1 (300 × 200, 40 × 40 mm).',
    ],
    [
      'a hole in a hole',
      dxf([...rectangle(), circle(150, 100, 40), circle(150, 100, 20)]),
      {},
      'plan.dxf is "plan.dxf": the closed chain at x 170, y 100 mm lies within another one that is a hole; leave one of them out.',
    ],
    [
      'a hole that is neither round nor straight',
      dxf([
        ...rectangle(),
        polyline([
          [100, 80, 0.3],
          [180, 80],
          [180, 120],
          [100, 120],
        ]),
      ]),
      {},
      'plan.dxf is "plan.dxf": the closed chain about x 140, y 94 mm inside the plan would be a hole, and is neither a circle, a slot with round ends nor straight all round; draw it as one of them, or leave it out.',
    ],
    [
      'two chains on two layers',
      dxf([...rectangle('A'), circle(150, 100, 20, 'B')]),
      {},
      'plan.layer is missing, and the drawing shows 2 closed chains on several layers; give the layer of the plan ("A", "B"), and draw the holes of the base on the same one.',
    ],
    [
      'a layer that is not there',
      dxf([...rectangle('PLAN')]),
      { layer: 'PLN' },
      'plan.layer is "PLN", on which nothing is drawn (the nearest is "PLAN"); give one of "PLAN".',
    ],
    [
      'a spline of nothing',
      dxf([...rectangle().slice(1), spline]),
      {},
      'plan.dxf is "plan.dxf": an entity has no sound coordinates; give a drawing that is whole.',
    ],
    [
      'a solid',
      dxf([...rectangle(), [[0, '3DSOLID'] as Tag, [8, 'PARTS'] as Tag]]),
      {},
      'plan.dxf is "plan.dxf": it shows an entity "3DSOLID" on layer "PARTS"; give lines, arcs, circles, ellipses, splines, polylines and blocks of them only, or name the layer of the plan in plan.layer.',
    ],
    [
      'a unit against that of the drawing',
      dxf(rectangle(), 4),
      { units: 'in' },
      'plan.units (--units on the command line) is "in", but the drawing itself is in millimetres ($INSUNITS); leave plan.units out, or correct the drawing.',
    ],
    [
      'a unit nobody builds in',
      dxf(rectangle(), 10),
      {},
      'plan.dxf is "plan.dxf": its unit is number 10 of $INSUNITS; give a drawing in mm, cm, dm, m, inches or feet.',
    ],
    [
      'a plane that is not flat',
      dxf([
        [
          ...polyline([
            [0, 0],
            [1, 0],
            [1, 1],
          ]),
          [210, 1],
          [220, 0],
          [230, 0],
        ],
      ]),
      {},
      'plan.dxf is "plan.dxf": it is not drawn flat; give a drawing in the plane of x and y.',
    ],
    [
      'no DXF',
      'a picture of a tray',
      {},
      'plan.dxf is "plan.dxf": it is not a drawing that can be read; give a DXF file in text form.',
    ],
    [
      'sharp corners',
      dxf(rectangle()),
      { cornerRadius: undefined },
      'plan.cornerRadius is missing, but the drawing has corners that are not round (4: x 0, y 0 mm; x 300, y 0 mm; x 300, y 200 mm; x 0, y 200 mm); give one radius for them in plan.cornerRadius, or draw them round.',
    ],
    [
      'a crossing',
      dxf([
        polyline([
          [0, 0],
          [300, 200],
          [300, 0],
          [0, 200],
        ]),
      ]),
      {},
      'plan.vertices crosses itself: side A–B meets side C–D; give the corners in the order one walks around the plan.',
    ],
  ] as const)('%s', (_, drawing, plan, message) => {
    const error = refusal(() => read(drawing, plan));
    expect(error.faults.map((fault) => fault.message)).toEqual([message]);
  });

  test('one that nothing can be read from here', () => {
    expect(refusal(() => readTray(file())).message).toBe(
      'plan.dxf is "plan.dxf", but no drawing can be read from here; give length, width and cornerRadius, or vertices.',
    );
    const planDxf = (): string => {
      throw new GatherpanError('NOT_FOUND', 'There is no such file.');
    };
    expect(refusal(() => readTray(file(), { planDxf })).message).toBe(
      'plan.dxf is "plan.dxf": there is no such file.',
    );
  });

  test.each([
    [
      'a polyline without an end',
      `${dxf([
        [
          [0, 'POLYLINE'],
          [8, '0'],
          [66, 1],
        ],
      ])}`,
    ],
    [
      'a count that is far too large',
      dxf([
        polyline([
          [0, 0],
          [300, 0],
          [300, 200],
          [0, 200],
        ]),
      ]).replace('90\n4', '90\n999999999'),
    ],
    [
      'a count that is missing',
      dxf([
        polyline([
          [0, 0],
          [300, 0],
          [300, 200],
          [0, 200],
        ]),
      ]).replace('90\n4\n', ''),
    ],
    ['half a file', dxf(rectangle()).slice(0, 200)],
    [
      'coordinates that are no numbers',
      dxf([line(0, 0, 300, 0), ...rectangle().slice(1)]).replace('300', 'x'),
    ],
  ])('harmless: %s', (_, drawing) => {
    orRefusal(() => read(drawing));
  });

  test('harmless: any text, and any tags', () => {
    const tag = fc.tuple(
      fc.constantFrom(0, 2, 8, 9, 10, 20, 40, 42, 50, 51, 66, 70, 90, 91, 210, 230),
      fc.constantFrom(
        'SECTION',
        'ENDSEC',
        'ENTITIES',
        'EOF',
        'LINE',
        'ARC',
        'CIRCLE',
        'POLYLINE',
        'VERTEX',
        'SEQEND',
        'LWPOLYLINE',
        'INSERT',
        '0',
        '1',
        '5',
        '1e400',
        '-3',
      ),
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(tag, { maxLength: 60 }).map((tags) => dxf([tags])),
        ),
        (drawing) => {
          orRefusal(() => read(drawing));
        },
      ),
      { seed: 2, numRuns: 1500 },
    );
  });
});

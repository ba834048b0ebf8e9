/** Drawings that no plan can be taken from, written tag by tag. */
import { GatherpanError } from '../../../src/errors.ts';
import { readTray } from '../../../src/tray/readTray.ts';
import { circle, drawnWithBlocks, dxf, line, type Tag } from '../../support/drawnTags.ts';
import { withPlan } from './plans.ts';
import type { Work } from './work.ts';

const drawn = (layer = '0'): Tag[][] => [
  line(0, 0, 300, 0, layer),
  line(300, 0, 300, 200, layer),
  line(300, 200, 0, 200, layer),
  line(0, 200, 0, 0, layer),
];
/** A wheel of many short lines. */
const wheel = (count: number): Tag[][] =>
  Array.from({ length: count }, (_, i) => {
    const at = (k: number): [number, number] => [
      500 * Math.cos((2 * Math.PI * k) / count),
      500 * Math.sin((2 * Math.PI * k) / count),
    ];
    return line(...at(i), ...at((i + 1) % count));
  });
const oldCurve: Tag[] = [
  [0, 'POLYLINE'],
  [8, '0'],
  [66, 1],
  [70, 4],
  [0, 'VERTEX'],
  [8, '0'],
  [10, 0],
  [20, 0],
  [0, 'SEQEND'],
];

/** A spline that never leaves its place. */
const standing: Tag[] = [
  [0, 'SPLINE'],
  [8, '0'],
  [71, 3],
  ...[0, 0, 0, 0, 1, 1, 1, 1].map((knot): Tag => [40, knot]),
  ...[0, 1, 2, 3].flatMap((): Tag[] => [
    [10, 7],
    [20, 7],
  ]),
];
/** A star of many points. */
const star = (points: number): Tag[][] =>
  Array.from({ length: 2 * points }, (_, i) => {
    const at = (k: number): [number, number] => {
      const [angle, radius] = [(Math.PI * k) / points, k % 2 === 0 ? 500 : 400];
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    };
    return line(...at(i), ...at((i + 1) % (2 * points)));
  });
const insert = (name: string): Tag[] => [
  [0, 'INSERT'],
  [8, '0'],
  [2, name],
];

const texts = [
  [dxf([])],
  [dxf([line(0, 0, 0, 0)])],
  [dxf([...drawn().slice(0, 3), line(0, 0.25, 0, 200)])],
  [dxf([...drawn(), line(0, 0, 50, 50)])],
  [dxf([...drawn(), line(300, 0, 0, 0)])],
  // Loops: beside the plan, in one another, too many, and of no shape a hole may have.
  [dxf([...drawn(), circle(450, 100, 20)])],
  [dxf([...drawn(), circle(450, 100, 20)]), { loop: 5 }],
  [dxf([...drawn(), circle(150, 100, 40), circle(150, 100, 20)])],
  [dxf([...drawn(), ...Array.from({ length: 201 }, (_, i) => circle(10 + i, 100, 0.2))])],
  [
    dxf([
      ...drawn(),
      [
        [0, 'ELLIPSE'],
        [8, '0'],
        [10, 150],
        [20, 100],
        [11, 30],
        [21, 0],
        [40, 0.5],
      ],
    ]),
  ],
  [dxf([...drawn('A'), circle(150, 100, 20, 'B')])],
  [dxf(drawn('PLAN')), { layer: 'PLN' }],
  [dxf(drawn('PLAN')), { layer: 'quite another' }],
  [dxf(Array.from({ length: 12 }, (_, i) => circle(0, 0, 20, `L${i}`))), { layer: 'quite another' }],
  [dxf([...drawn(), [[0, 'SPLINE'] as Tag, [8, '0'] as Tag, [70, 8] as Tag, [71, 3] as Tag]])],
  [dxf([...drawn(), oldCurve])],
  [dxf([...drawn(), [[0, '3DSOLID'] as Tag, [8, '0'] as Tag]])],
  [dxf([[[0, 'SPLINE'] as Tag, [8, '0'] as Tag, [71, 3] as Tag, [11, 0] as Tag, [21, 0] as Tag]])],
  [dxf([standing])],
  [drawnWithBlocks([insert('A')], {})],
  [drawnWithBlocks([insert('A')], { A: { base: [0, 0], entities: [insert('A')] } })],
  [drawnWithBlocks([[...insert('A'), [70, 3000], [71, 3000]]], { A: { base: [0, 0], entities: [] } })],
  // A long text in a block that is put down over and over: few entities, many values.
  [
    drawnWithBlocks([[...insert('A'), [70, 40], [71, 40]]], {
      A: {
        base: [0, 0],
        entities: [[[0, 'MTEXT'], [8, '0'], ...Array.from({ length: 2_000 }, (): Tag => [3, 'x'])]],
      },
    }),
  ],
  [dxf(drawn(), 10)],
  ...[1, 2, 5, 6, 14].map((unit) => [dxf(drawn(), unit), { units: 'mm' }] as const),
  [dxf(drawn(), 4), { units: 'in' }],
  [dxf([[...circle(0, 0, 20), [210, 1], [220, 0], [230, 0]]])],
  [dxf([[...line(0, 0, 20, 0), [210, 1], [220, 0], [230, 0]]])],
  [
    dxf([
      [
        [0, 'LWPOLYLINE'],
        [8, '0'],
        [90, 2],
        [70, 1],
        [10, 0],
        [20, 0],
        [10, 9],
        [20, 0],
        [210, 1],
        [220, 0],
        [230, 0],
      ],
    ]),
  ],
  [dxf([[[0, 'CIRCLE'] as Tag, [8, '0'] as Tag]])],
  ['a picture of a tray'],
  ['x'.repeat(9_000_000)],
  [dxf(star(200))],
  [dxf(wheel(6000))],
  [dxf(drawn()), { cornerRadius: undefined }],
  [dxf(wheel(10)), { cornerRadius: undefined }],
] as const;

/** All there is to know of a drawing, in a tray that is then refused. */
const untidy = dxf([
  line(4e5, 0, 4e5 + 300, 0),
  line(4e5 + 300, 0.05, 4e5 + 300, 200),
  ...Array.from({ length: 8 }, (_, i) => {
    const at = (k: number): [number, number] => [
      4e5 + 150 + 150 * Math.cos((Math.PI * k) / 16),
      200 + 150 * Math.sin((Math.PI * k) / 16),
    ];
    return line(...at(i), ...at(i + 1));
  }),
  [
    [0, 'ELLIPSE'],
    [8, '0'],
    [10, 4e5 + 150],
    [20, 200],
    [11, 150],
    [21, 0],
    [40, 1],
    [41, Math.PI / 2],
    [42, Math.PI],
  ],
  line(4e5, 200, 4e5, 0.03),
  line(4e5, 0.03, 4e5, 0),
  circle(4e5 + 150, 100, 20),
  [
    [0, 'TEXT'],
    [8, '0'],
    [10, 4e5],
    [20, 0],
    [1, 'x'],
  ],
]);

const planned = (plan: object): unknown => withPlan({ dxf: 'plan.dxf', cornerRadius: 30, ...plan });

export const drawings: readonly Work[] = [
  ...texts.map(
    ([text, plan = {}]) =>
      () =>
        readTray(planned(plan), { planDxf: () => text }),
  ),
  () => readTray(planned({})),
  () => readTray(planned({ loop: 1.5 })),
  () => {
    const notes: string[] = [];
    readTray(planned({}), { planDxf: () => untidy, note: (sentence) => notes.push(sentence) });
    // Notes are no fault; they are looked at as if they were.
    throw new GatherpanError(
      'BAD_INPUT',
      notes.map((message) => ({ path: '', message })),
    );
  },
];

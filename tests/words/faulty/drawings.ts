/** Drawings that no plan can be taken from, written tag by tag. */
import { readTray } from '../../../src/tray/readTray.ts';
import { withPlan } from './plans.ts';
import type { Work } from './work.ts';

type Tag = readonly [code: number, value: string | number];

/** DXF Reference, HEADER and ENTITIES sections. */
const dxf = (entities: readonly (readonly Tag[])[], unit?: number): string =>
  [
    [0, 'SECTION'],
    [2, 'HEADER'],
    ...(unit === undefined ? [] : [[9, '$INSUNITS'] as Tag, [70, unit] as Tag]),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...entities.flat(),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ]
    .map(([code, value]) => `${code}\n${value}\n`)
    .join('');
const line = (x0: number, y0: number, x1: number, y1: number, layer = '0'): Tag[] => [
  [0, 'LINE'],
  [8, layer],
  [10, x0],
  [20, y0],
  [11, x1],
  [21, y1],
];
const circle = (x: number, y: number, radius: number, layer = '0'): Tag[] => [
  [0, 'CIRCLE'],
  [8, layer],
  [10, x],
  [20, y],
  [40, radius],
];
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

const texts = [
  [dxf([])],
  [dxf([line(0, 0, 0, 0)])],
  [dxf([...drawn().slice(0, 3), line(0, 0.25, 0, 200)])],
  [dxf([...drawn(), line(0, 0, 50, 50)])],
  [dxf([...drawn(), line(300, 0, 0, 0)])],
  [dxf([...drawn(), circle(150, 100, 20)])],
  [dxf([...drawn('A'), circle(150, 100, 20, 'B')])],
  [dxf(drawn('PLAN')), { layer: 'PLN' }],
  [dxf(drawn('PLAN')), { layer: 'quite another' }],
  [dxf(Array.from({ length: 12 }, (_, i) => circle(0, 0, 20, `L${i}`))), { layer: 'quite another' }],
  [dxf([...drawn(), [[0, 'SPLINE'] as Tag, [8, '0'] as Tag, [70, 8] as Tag, [71, 3] as Tag]])],
  [dxf([...drawn(), oldCurve])],
  [dxf(drawn(), 10)],
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
  [dxf(wheel(400))],
  [dxf(wheel(6000))],
  [dxf(drawn()), { cornerRadius: undefined }],
] as const;

const planned = (plan: object): unknown => withPlan({ dxf: 'plan.dxf', cornerRadius: 30, ...plan });

export const drawings: readonly Work[] = [
  ...texts.map(
    ([text, plan = {}]) =>
      () =>
        readTray(planned(plan), { planDxf: () => text }),
  ),
  () => readTray(planned({})),
];

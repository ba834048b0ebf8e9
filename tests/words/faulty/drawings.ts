/** Drawings that no plan can be taken from, written tag by tag. */
import { readTray } from '../../../src/tray/readTray.ts';
import { circle, dxf, line, type Tag } from '../../support/drawnTags.ts';
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

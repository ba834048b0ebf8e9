/** Figures that materials, limits and outlines do not take. */

import { fitClosedPath, fitPath } from '../../../src/geometry/fit.ts';
import { offsetPath } from '../../../src/geometry/offset.ts';
import { offsetEach } from '../../../src/geometry/offsetEach.ts';
import type { Path } from '../../../src/geometry/path.ts';
import {
  bucklingCoefficient,
  criticalEdgeStrain,
  formingLimitPlaneStrain,
  naturalWaves,
} from '../../../src/material/neckingAndBuckling.ts';
import { neutralFactor } from '../../../src/material/neutralFactor.ts';
import { resolveSheet } from '../../../src/material/sheets.ts';
import { correctedByTrial, fibreLaw } from '../../../src/material/springback.ts';
import { customMaterial } from '../../tray/trayFiles.ts';
import type { Work } from './work.ts';

const steel = { material: 'DC04', thickness: 1, grain: 0 };
const unlikely = { ...customMaterial, K: -1, tensileStrength: 100, uniformElongation: 0, strainBudget: 9 };
export const materials: readonly Work[] = [
  () => resolveSheet({ ...steel, material: 'tin' }),
  () => resolveSheet({ ...steel, material: '1008' }),
  () => resolveSheet({ ...steel, thickness: 90 }),
  () => resolveSheet({ ...steel, grain: Number.NaN }),
  () => resolveSheet({ ...steel, material: { ...unlikely, n: 7, annealTemperature: [700, 600] } }),
  () => neutralFactor(1, 0),
  () => neutralFactor(0, 1),
  () => correctedByTrial(fibreLaw(resolveSheet(steel).material), 1, 24, 79),
  () => bucklingCoefficient(0.001, 'hinged'),
  () => bucklingCoefficient(2, 'hinged', { poisson: 2, tangentRatio: 1 }),
  () => bucklingCoefficient(2, 'hinged', { poisson: 0.3, tangentRatio: 7 }),
  () => criticalEdgeStrain(0, 1, 'hinged'),
  () => criticalEdgeStrain(1, 0, 'hinged'),
  () => naturalWaves(0, 1, 'hinged'),
  () => formingLimitPlaneStrain(1, 0),
];

const points = (...values: number[]): Float64Array => Float64Array.from(values);
const closed = (vertices: readonly (readonly [x: number, y: number, bulge?: number])[]): Path => ({
  closed: true,
  vertices: vertices.map(([x, y, bulge = 0]) => ({ x, y, bulge })),
});
export const box = (width: number, height: number): Path =>
  closed([
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ]);
const fine = { tolerance: 0.02 };
const loop = points(0, 0, 50, 0, 50, 50, 0, 50);
export const outlines: readonly Work[] = [
  () => fitPath(points(0, 0), fine),
  () => fitPath(points(0, 0, 1, Number.NaN), fine),
  () => fitPath(points(0, 0, 1, 1, 1, 1), fine),
  () => fitPath(points(0, 0, 1, 0), { tolerance: 0 }),
  () => fitPath(points(0, 0, 1, 0), { ...fine, startTangent: Number.NaN }),
  () => fitPath(points(0, 0, 1, 0), { ...fine, between: 'quadratic' }),
  () => fitClosedPath(points(0, 0, 1, 0, 1, 1), { ...fine, between: 'quadratic' }),
  () => fitClosedPath(loop, { ...fine, corners: [7] }),
  () => fitClosedPath(loop, { ...fine, corners: [1], between: 'quadratic' }),
  // Square on, with no corner given there.
  () =>
    fitPath(
      points(
        ...Array.from({ length: 61 }, (_, i) => [Math.min(i, 30) / 10, Math.max(i - 30, 0) / 10]).flat(),
      ),
      fine,
    ),
  () => offsetPath(box(60, 40), Number.NaN),
  () => offsetPath(box(60, 40), -31),
  () => offsetPath({ ...box(60, 40), vertices: [...box(60, 40).vertices].reverse() }, 31),
  () =>
    offsetEach(
      closed([
        [0, 0],
        [100, 0],
        [100, 50],
        [60, 50, -Math.tan(Math.PI / 8)],
        [50, 60],
        [50, 100],
        [0, 100],
      ]),
      [12, 12, 12, 12, 12, 12, 12],
    ),
  // A cleft that closes, and pieces that are left behind.
  () =>
    offsetEach(
      closed([
        [0, 0],
        [40, 0, -1],
        [60, 0],
        [100, 0],
        [50, 80],
      ]),
      [12, 12, 12, 12, 12],
    ),
  () =>
    offsetEach(
      closed([
        [0, 0],
        [100, 0],
        [100, 40],
        [30, 45],
        [100, 50],
        [100, 90],
        [0, 90],
      ]),
      [15, 15, 15, 15, 15, 15, 15],
    ),
  () =>
    offsetEach(
      closed([
        [0, 0],
        [50, 0],
        [100, 0],
        [50, 80],
      ]),
      [3, 9, 3, 3],
    ),
];

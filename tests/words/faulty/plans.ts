/** Plans to make faulty trays of. */
import { readTray } from '../../../src/tray/readTray.ts';
import { changed } from '../../tray/trayFiles.ts';
import type { Work } from './work.ts';

export const reads = (files: readonly unknown[]): Work[] => files.map((file) => () => readTray(file));

export type Corner = Record<string, number>;

const small = { 'section.bottomRadius': 10, 'section.height': 30, 'sheet.thickness': 1 };
export const withPlan = (plan: object, more: Record<string, unknown> = {}): unknown =>
  changed({ ...small, plan: structuredClone(plan), ...more });
export const rectangle = { length: 300, width: 200, cornerRadius: 40 };
export const polygon = (places: readonly (readonly number[])[]): { vertices: Corner[] } => ({
  vertices: places.map(([x, y, radius, bulge]) => ({
    x: x!,
    y: y!,
    ...(radius === undefined ? {} : { radius }),
    ...(bulge === undefined ? {} : { bulge }),
  })),
});
export const ell = (outer: number, inner: number): { vertices: Corner[] } =>
  polygon([
    [0, 0, outer],
    [300, 0, outer],
    [300, 150, outer],
    [150, 150, inner],
    [150, 300, outer],
    [0, 300, outer],
  ]);
export const dee = (bulge: number, radius = 0): { vertices: Corner[] } =>
  polygon([
    [100, 0, radius, bulge],
    [-100, 0, radius],
    [-100, -50, 30],
    [100, -50, 30],
  ]);
export const disc = (radius: number): { vertices: Corner[] } =>
  polygon([
    [radius, 0, 0, 1],
    [-radius, 0, 0, 1],
  ]);

/** A cleft that widens inwards. */
export const mouth = polygon([
  [0, 0, 25],
  [300, 0, 25],
  [300, 115, 5],
  [120, 60, 32],
  [120, 180, 32],
  [300, 125, 5],
  [300, 240, 25],
  [0, 240, 25],
]);

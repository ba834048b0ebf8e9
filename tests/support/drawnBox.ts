/** The published rule for the blanks of rectangular drawn boxes, and what a solved tray has in their place. */
import type { TraySolution } from '../../src/solve/solveTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { flatAreaByOutline, rimPoints } from './measures.ts';
import { rectangle } from './trays.ts';

/** A box with plan radius = bottom radius = r, straight wall h, straight lengths a and b. */
export interface Box {
  readonly r: number;
  readonly h: number;
  readonly a: number;
  readonly b: number;
}

/**
 * H. Tschätsch, Metal Forming Practice (Springer 2006), section 14.4.3.1, p. 149, case 1: the blank's corner
 * radius R1 and side lengths Ha (over the side of length a) and Hb, measured from where the bend begins.
 */
export function tschaetsch({ r, h, a, b }: Box) {
  const R = 1.42 * Math.sqrt(r * h + r * r);
  const x = 0.074 * (R / (2 * r)) ** 2 + 0.982;
  const taken = 0.785 * (x * x - 1) * R * R;
  return { R, x, R1: x * R, Ha: 1.57 * r + h - taken / a, Hb: 1.57 * r + h - taken / b };
}

/** Blank of that rule before its steps are smoothed (smoothing keeps the area). */
export const tschaetschArea = (box: Box): number => {
  const { Ha, Hb, R1 } = tschaetsch(box);
  return box.a * box.b + 2 * box.a * Ha + 2 * box.b * Hb + Math.PI * R1 * R1;
};

/** Area of the box: base, sides unrolled, four quarter spheres and quarter cylinders (Pappus and Guldin). */
export const partArea = ({ r, h, a, b }: Box): number =>
  a * b + 2 * (a + b) * (h + (Math.PI / 2) * r) + 2 * Math.PI * r * r + 2 * Math.PI * r * h;

export const boxTray = ({ r, h, a, b }: Box): TraySpec =>
  rectangle(a + 2 * r, b + 2 * r, r, { bottomRadius: r, height: h + r });

/** Solved counterparts of R1 (on the diagonal of the corner), Ha, Hb and the blank's area. */
export function solvedBox(box: Box, solution: TraySolution) {
  const { a, b } = box;
  const rim = rimPoints(solution);
  const from = rim.map(([x, y]) => [x - a / 2, y - b / 2] as const);
  const next = from.findIndex(([x, y]) => y > x);
  const [[x0, y0], [x1, y1]] = [from[next - 1]!, from[next]!];
  const share = (x0 - y0) / (x0 - y0 - (x1 - y1));
  return {
    corner: Math.SQRT2 * (x0 + share * (x1 - x0)),
    Hb: rim[0]![0] - a / 2,
    Ha: rim[rim.length - 1]![1] - b / 2,
    area: 4 * flatAreaByOutline(solution),
  };
}

export const DEEP_BOXES: readonly Box[] = [
  { r: 10, h: 40, a: 80, b: 40 },
  { r: 20, h: 30, a: 100, b: 60 },
];

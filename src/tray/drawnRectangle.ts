/** A rectangle that was drawn edge by edge, found again, so that its sizes can be changed. */
import { edgeBounds } from '../geometry/edgeMeasures.ts';
import { planEdgesOf } from './planChecks.ts';
import type { PolygonPlan, RectanglePlan } from './spec.ts';

/** How far a drawn edge may be from the rectangle's, mm. */
const NEAR = 0.01;

/** Bulge of a quarter circle. */
const QUARTER = Math.tan(Math.PI / 8);

export interface DrawnRectangle {
  readonly plan: RectanglePlan;
  /** Middle of the drawn plan, which is the rectangle's origin. */
  readonly x: number;
  readonly y: number;
}

/**
 * The rectangle, along x and y, that a plan is: straight sides, and corners that are quarter circles or have a
 * radius. Null when it is none, or has open edges.
 */
export function drawnRectangle({ vertices, openEdges }: PolygonPlan): DrawnRectangle | null {
  if (openEdges !== undefined || vertices.length < 4 || vertices.length > 8) return null;
  const [[minX, maxX], [minY, maxY]] = edgeBounds(planEdgesOf(vertices));
  const corners = [
    [maxX, maxY],
    [minX, maxY],
    [minX, minY],
    [maxX, minY],
  ] as const;
  const radii: (number | undefined)[] = [undefined, undefined, undefined, undefined];
  const isAt = (x: number, y: number, k: number): boolean =>
    Math.abs(x - corners[k]![0]) <= NEAR && Math.abs(y - corners[k]![1]) <= NEAR;
  for (const [i, from] of vertices.entries()) {
    const to = vertices[(i + 1) % vertices.length]!;
    const [dx, dy] = [Math.abs(to.x - from.x), Math.abs(to.y - from.y)];
    const bulge = from.bulge ?? 0;
    if (bulge === 0) {
      const upright = dx <= NEAR && (near(from.x, minX) || near(from.x, maxX));
      const level = dy <= NEAR && (near(from.y, minY) || near(from.y, maxY));
      if (!upright && !level) return null;
    } else {
      const k = corners.findIndex((_, at) => isAt(from.x, to.y, at) || isAt(to.x, from.y, at));
      if (k < 0 || radii[k] !== undefined) return null;
      if (Math.abs(dx - dy) > NEAR || (Math.abs(bulge - QUARTER) * dx) / 2 > NEAR) return null;
      radii[k] = (dx + dy) / 2;
    }
    const sharp = corners.findIndex((_, at) => isAt(from.x, from.y, at));
    if (sharp >= 0) {
      if (radii[sharp] !== undefined) return null;
      radii[sharp] = from.radius;
    } else if (from.radius > 0) return null;
  }
  const [a, b, c, d] = radii.map((radius) => (radius === undefined ? undefined : settled(radius)));
  if (a === undefined || b === undefined || c === undefined || d === undefined) return null;
  const alike = a === b && b === c && c === d;
  return {
    plan: {
      length: settled(maxX - minX),
      width: settled(maxY - minY),
      cornerRadius: alike ? a : [a, b, c, d],
    },
    x: (minX + maxX) / 2,
    y: (minY + maxY) / 2,
  };
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= NEAR;

/** Sizes as they were meant: figures behind the thousandth are rounding of the drawing. */
const settled = (size: number): number => Math.round(size * 1e3) / 1e3;

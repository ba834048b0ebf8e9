/** What the layout needs to know of a blank: its shape, what cutting it takes, and how it may lie. */
import type { Blank } from '../batch/blank.ts';
import { pathArea, pathLength } from '../geometry/measure.ts';
import { exactTurn, hullAround, type Polygon, turned } from './convex.ts';

/** A kind of blank and how many are wanted. Lengths mm, areas mm². */
export interface Part {
  readonly name: string;
  readonly sheet: Blank['sheet'];
  /** What is drawn. */
  readonly blank: () => Blank;
  readonly quantity: number;
  /** A convex polygon around the outline. */
  readonly hull: Polygon;
  /** Turns in which it may lie, radians. */
  readonly turns: readonly number[];
  /** Of metal: without the holes. */
  readonly area: number;
  readonly cutLength: number;
  readonly pierces: number;
}

/** Whether the rolling direction has to run along the sheet, or does not matter. */
export type GrainRule = 'along' | 'free';

/**
 * @param grain `along`: the blank's rolling direction comes to lie along the sheet's length, either way round;
 *   `free`: quarter turns of the plan
 * @param again gives the blank when it is drawn; with it the part does not hold on to `blank`
 */
export function partOf(
  blank: Blank,
  quantity: number,
  grain: GrainRule,
  again: () => Blank = () => blank,
): Part {
  const hull = hullAround(blank.outline);
  const along = -blank.sheet.grain;
  const turns = grain === 'along' ? [along, along + Math.PI] : [0, Math.PI / 2, Math.PI, (3 * Math.PI) / 2];
  const loops = [blank.outline, ...blank.holes.map((hole) => hole.path)];
  return {
    name: blank.name,
    sheet: blank.sheet,
    blank: again,
    quantity,
    hull,
    turns: withoutLikes(hull, turns.map(wrapped)),
    area: loops.reduce((sum, path, i) => sum + (i === 0 ? 1 : -1) * Math.abs(pathArea(path)), 0),
    cutLength: loops.reduce((sum, path) => sum + pathLength(path), 0),
    pierces: loops.length,
  };
}

/** From 0 up to a full turn, quarter turns to the last digit. */
function wrapped(angle: number): number {
  const [c, s] = exactTurn(angle);
  const at = Math.atan2(s, c);
  return at < -1e-12 ? at + 2 * Math.PI : Math.max(0, at);
}

/** Two turns are alike when the hull covers the same place but for this, mm. */
const ALIKE = 0.01;

/** Leaves out turns of a symmetric blank that lead to the same shape. */
function withoutLikes(hull: Polygon, turns: readonly number[]): number[] {
  const kept: { angle: number; shape: Polygon }[] = [];
  for (const angle of turns) {
    const shape = atOrigin(turned(hull, angle));
    if (!kept.some((other) => sameShape(other.shape, shape))) kept.push({ angle, shape });
  }
  return kept.map(({ angle }) => angle);
}

function atOrigin(polygon: Polygon): Polygon {
  let [minX, minY] = [Infinity, Infinity];
  for (let i = 0; i < polygon.length; i += 2) {
    minX = Math.min(minX, polygon[i]!);
    minY = Math.min(minY, polygon[i + 1]!);
  }
  return polygon.map((value, i) => value - (i % 2 === 0 ? minX : minY));
}

/** Every corner of one lies at a corner of the other. */
function sameShape(a: Polygon, b: Polygon): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i += 2) {
    let near = false;
    for (let j = 0; j < b.length && !near; j += 2) {
      near = Math.abs(a[i]! - b[j]!) < ALIKE && Math.abs(a[i + 1]! - b[j + 1]!) < ALIKE;
    }
    if (!near) return false;
  }
  return true;
}

/** Places on the solved rim: which of its quadratic edges, and how far along. */

import type { FlatField } from '../../geometry/flatField.ts';
import type { EdgePart, FreeEdge } from '../../geometry/levelSet.ts';
import { alongEdge } from '../../geometry/shapeFunctions.ts';

export interface RimPlace {
  /** Number of the edge plus the fraction of it, from 0 to the number of edges. */
  readonly along: number;
  /** Formed, in the tray's frame. */
  readonly x: number;
  readonly y: number;
}

const POINTS = 8;

/** A quadratic edge of the rim by its number, which may go round. */
const rimEdge = (rimNodes: Uint32Array, number: number): FreeEdge => {
  const node = (k: number): number => rimNodes[(2 * number + k) % rimNodes.length]!;
  return { from: node(0), middle: node(1), to: node(2) };
};

/**
 * A nodal value at a fraction of a quadratic edge.
 *
 * @param size numbers a node has
 * @param axis which of them
 */
export function onEdge(
  values: Float64Array,
  size: number,
  axis: number,
  { from, middle, to }: FreeEdge,
  s: number,
): number {
  const at = (node: number): number => values[size * node + axis]!;
  return alongEdge(s, at(from), at(middle), at(to));
}

/** The place of the formed rim nearest to a point (x y z). */
export function rimPlace(
  { formed, rimNodes }: Pick<FlatField, 'formed' | 'rimNodes'>,
  point: readonly [number, number, number],
): RimPlace {
  const count = rimNodes.length / 2;
  const at = (number: number, s: number): [number, number, number] => {
    const edge = rimEdge(rimNodes, number);
    return [0, 1, 2].map((axis) => onEdge(formed, 3, axis, edge, s)) as [number, number, number];
  };
  const away = (edge: number, s: number): number => {
    const [x, y, z] = at(edge, s);
    return Math.hypot(x - point[0], y - point[1], z - point[2]);
  };
  let [best, edge, s] = [Infinity, 0, 0];
  for (let e = 0; e < count; e++) {
    for (let k = 0; k < 2; k++) {
      const d = away(e, k / 2);
      if (d < best) [best, edge, s] = [d, e, k / 2];
    }
  }
  // From the nearest node along both edges beside it, finer and finer.
  let middle = edge + s;
  for (let reach = 0.5; reach > 1e-7; reach /= POINTS / 2) {
    let found = middle;
    for (let k = -POINTS; k <= POINTS; k++) {
      const place = (middle + (k * reach) / POINTS + count) % count;
      const d = away(Math.floor(place), place % 1);
      if (d < best) [best, found] = [d, place];
    }
    middle = found;
  }
  const [x, y] = at(Math.floor(middle), middle % 1);
  return { along: middle, x, y };
}

/** The parts of the rim's edges from one place to another, counter-clockwise; all of it when they are the same. */
export function edgePartsBetween(begin: RimPlace, end: RimPlace, rimNodes: Uint32Array): EdgePart[] {
  const count = rimNodes.length / 2;
  const length = (end.along - begin.along + count) % count;
  const to = begin.along + (length < 1e-6 ? count : length);
  const out: EdgePart[] = [];
  for (let edge = Math.floor(begin.along); edge < to; edge++) {
    const [start, stop] = [Math.max(0, begin.along - edge), Math.min(1, to - edge)];
    if (!(stop - start > 1e-9)) continue;
    out.push({ edge: rimEdge(rimNodes, edge), start, end: stop });
  }
  return out;
}

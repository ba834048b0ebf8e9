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
  const away = (number: number, s: number): number => {
    const edge = rimEdge(rimNodes, number);
    const dx = onEdge(formed, 3, 0, edge, s) - point[0];
    const dy = onEdge(formed, 3, 1, edge, s) - point[1];
    const dz = onEdge(formed, 3, 2, edge, s) - point[2];
    return Math.sqrt(dx * dx + dy * dy + dz * dz);
  };
  let best = Infinity;
  let middle = 0;
  for (let e = 0; e < count; e++) {
    for (let k = 0; k < 2; k++) {
      const d = away(e, k / 2);
      if (d < best) {
        best = d;
        middle = e + k / 2;
      }
    }
  }
  // From the nearest node along both edges beside it, finer and finer.
  for (let reach = 0.5; reach > 1e-7; reach /= POINTS / 2) {
    let found = middle;
    for (let k = -POINTS; k <= POINTS; k++) {
      const place = (middle + (k * reach) / POINTS + count) % count;
      const d = away(Math.floor(place), place % 1);
      if (d < best) [best, found] = [d, place];
    }
    middle = found;
  }
  const edge = rimEdge(rimNodes, Math.floor(middle));
  const at = (axis: number): number => onEdge(formed, 3, axis, edge, middle % 1);
  return { along: middle, x: at(0), y: at(1) };
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

/** Places on the solved rim: which of its quadratic edges, and how far along. */
import type { EdgePart } from '../../gather/levelSet.ts';
import type { FlatField } from '../../solve/flatField.ts';

export interface RimPlace {
  /** Number of the edge plus the fraction of it, from 0 to the number of edges. */
  readonly along: number;
  /** Formed, in the tray's frame. */
  readonly x: number;
  readonly y: number;
}

const POINTS = 8;

/** The place of the formed rim nearest to a point (x y z). */
export function rimPlace(
  { formed, rimNodes }: Pick<FlatField, 'formed' | 'rimNodes'>,
  point: readonly [number, number, number],
): RimPlace {
  const count = rimNodes.length / 2;
  const at = (edge: number, s: number): [number, number, number] => {
    const nodes = [0, 1, 2].map((k) => rimNodes[(2 * edge + k) % rimNodes.length]!);
    const weights = [(1 - s) * (1 - 2 * s), 4 * s * (1 - s), s * (2 * s - 1)];
    return [0, 1, 2].map((axis) =>
      nodes.reduce((sum, node, k) => sum + weights[k]! * formed[3 * node + axis]!, 0),
    ) as [number, number, number];
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
    const node = (k: number): number => rimNodes[(2 * edge + k) % rimNodes.length]!;
    out.push({ edge: { from: node(0), middle: node(1), to: node(2) }, start, end: stop });
  }
  return out;
}

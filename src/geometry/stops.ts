/**
 * The fewest pieces along a rim, by way of its straight stretches.
 *
 * Between two stops (the ends of the rim, the lines) the arcs are found by `arcChain`. A line that is short may
 * cost more arcs beside it than it saves: such a line may be left out, and the way with the fewest pieces over
 * all is taken, the one with more lines among equals.
 */

import { arcChain } from './arcChain.ts';
import { endOf, type Piece } from './biarc.ts';
import type { ChainLimits, Target } from './chainEnd.ts';
import { hypotenuse } from './hypotenuse.ts';
import { footOn } from './pencil.ts';
import type { RimCurve } from './rimCurve.ts';

/** An end of the rim, or a line that follows it. */
export interface Stop {
  readonly target: Target;
  /** A line that may be left out. */
  readonly optional: boolean;
}

/** So many lines in a row may be left out. */
const LEFT_OUT = 1;

/** The best way to a stop. */
interface Way {
  readonly count: number;
  readonly from: number;
  readonly pieces: readonly Piece[];
}

/**
 * @param stops the rim's beginning, the lines in order, the rim's end
 * @returns or the rim point that no way gets past
 */
export function piecesAlong(
  rim: RimCurve,
  stops: readonly Stop[],
  limits: ChainLimits,
): Piece[] | { readonly stuckAt: number } {
  const ways: (Way | null)[] = [{ count: 0, from: -1, pieces: [] }];
  let stuckAt = 0;
  for (let j = 1; j < stops.length; j++) {
    let best: Way | null = null;
    for (let i = j - 1; i >= 0 && i >= j - 1 - LEFT_OUT; i--) {
      const before = ways[i];
      if (before) {
        const pieces = between(rim, entered(stops[i]!.target, before), stops[j]!.target, limits);
        if (!Array.isArray(pieces)) stuckAt = Math.max(stuckAt, pieces.stuckAt);
        else if (!best || before.count + pieces.length < best.count)
          best = { count: before.count + pieces.length, from: i, pieces };
      }
      if (!stops[i]!.optional) break;
    }
    ways.push(best);
  }
  const chains: (readonly Piece[])[] = [];
  for (let j = stops.length - 1; j > 0; ) {
    const way = ways[j];
    if (!way) return { stuckAt };
    chains.push(way.pieces);
    j = way.from;
  }
  return chains.reverse().flat();
}

/** A line from where the pieces before it arrive on it. */
function entered(target: Target, { pieces }: Way): Target {
  const arriving = pieces[pieces.length - 1];
  if (target.kind !== 'line' || !arriving) return target;
  const { x, y } = endOf(arriving);
  return { ...target, start: { x, y, angle: target.start.angle } };
}

/** The pieces from one stop to the next: the first one's line if it is one, and the arcs. */
function between(
  rim: RimCurve,
  from: Target,
  to: Target,
  limits: ChainLimits,
): Piece[] | { readonly stuckAt: number } {
  const last = rim.s.length - 1;
  if (from.kind !== 'line' && to.kind === 'line' && to.from === 0) return [];
  if (from.kind === 'line' && to.kind !== 'line' && from.to === last) {
    const end = footOn(from.start, rim, last);
    const length = hypotenuse(end.x - from.start.x, end.y - from.start.y);
    return [{ ...from.start, curvature: 0, length }];
  }
  return arcChain(rim, from, to, limits);
}

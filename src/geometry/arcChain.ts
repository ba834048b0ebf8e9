/**
 * The fewest arcs that follow a stretch of rim without a break in direction.
 *
 * From a point and a direction on, the arcs that hold are known in one walk along the rim (see `pencil.ts`).
 * Each of them is a way to a new point and a new direction, one arc more, and so on: a breadth-first search.
 * Its states are the rim point, the offset from it, and the direction against the rim's; of states with
 * about the same offset and direction only the one furthest along goes on. The chain is ended, exactly at
 * the end point and in its direction, as `chainEnd.ts` says.
 *
 * Why direction and offset are left free: where the curvature changes at the rate c, arcs of length p that
 * meet the rim's own points and directions (biarcs) err by c p³ / 40.5; the best chain errs by c p³ / 124.7.
 * Its joints are on the rim too, but turned against it by c p² / 12. (Both follow from the offset e with
 * e'' = constant - c s on every arc; the second is periodic with the mean of e' nought.)
 *
 * Shortest paths over all arcs within a tolerance: R. L. S. Drysdale, G. Rote, A. Sturm, "Approximation of an
 * open polygonal curve with a minimum number of circular arcs and biarcs", Computational Geometry 41 (2008).
 * There points and directions are given and the number is the least; here they are sampled, and the number
 * comes within one or two of it.
 */

import type { Piece } from './biarc.ts';
import { type ChainLimits, earliestLast, earliestOnto, endings, slides, type Target } from './chainEnd.ts';
import { type Chain, chainOf, Frontier, OFFSETS, onRim, SLOTS, type State } from './frontier.ts';
import { hypotenuse } from './hypotenuse.ts';
import { follow, footOn, type PencilWalk, pencilWalk, throughThree, walkPencil } from './pencil.ts';
import { near, type RimCurve } from './rimCurve.ts';

/**
 * Where a chain begins: at a pose; on a line that follows the rim from point `from` to `to`, to be left near
 * its end; or at a rim point, in any direction.
 */
export type Source = Target;

/** Rim points at which a line may be left. */
const EXITS = 12;

/** A search that needs more pieces than this is not a search for an outline. */
const MOST_PIECES = 400;

/**
 * The pieces from source to target. The source's line, cut to length, comes first; the target's line is not
 * included, the last piece ends on it.
 *
 * @returns or the rim point that no chain gets past
 */
export function arcChain(
  rim: RimCurve,
  source: Source,
  target: Target,
  limits: ChainLimits,
): Piece[] | { readonly stuckAt: number } {
  const last = target.kind === 'line' ? target.from : target.index;
  const earliest = earliestLast(rim, target, limits.tolerance);
  const onto = earliestOnto(rim, target, limits.tolerance);
  let best: { chain: Chain; deviation: number } | null = null;
  let fewest = Number.POSITIVE_INFINITY;
  const offer = (chain: Chain, count: number, deviation: number) => {
    if (count > fewest || (count === fewest && deviation >= best!.deviation)) return;
    fewest = count;
    best = { chain, deviation };
  };

  const search: Search = {
    rim,
    last,
    limits,
    walk: pencilWalk(rim.s.length),
    cosine: rim.angle.map(Math.cos),
    sine: rim.angle.map(Math.sin),
    index: new Int32Array(SLOTS),
    curvature: new Float64Array(SLOTS),
  };
  let furthest = source.kind === 'line' ? source.to : source.index;
  let states = firstStates(search, source, (piece) => {
    if (target.kind === 'free') offer({ piece, before: null }, 1, 0);
  });
  for (let count = source.kind === 'free' ? 1 : 0; count < Math.min(fewest, MOST_PIECES); count++) {
    const next = new Frontier(limits.tolerance);
    for (const state of states) {
      const reached = extend(search, state, next, (piece) => {
        if (target.kind === 'free') offer({ piece, before: chainOf(state) }, count + 1, 0);
        return target.kind === 'free';
      });
      furthest = Math.max(furthest, state.index);
      // An arc from here and the one that ends at the target must meet.
      if (reached < onto) continue;
      const most = reached < earliest ? 1 : fewest - count;
      for (const { chain, pieces, deviation } of endings(rim, state, target, limits, most))
        offer(chain, count + pieces, deviation);
    }
    states = next.states();
  }
  if (best === null) return { stuckAt: furthest };
  const pieces: Piece[] = [];
  for (let c: Chain | null = (best as { chain: Chain }).chain; c; c = c.before) pieces.push(c.piece);
  return pieces.reverse();
}

/** What all steps of one search share. */
interface Search {
  readonly rim: RimCurve;
  /** The rim point that no arc goes beyond. */
  readonly last: number;
  readonly limits: ChainLimits;
  /** Direction of the rim at its points. */
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
  /** Workspace: the arcs that leave one state. */
  readonly walk: PencilWalk;
  /** Workspace: rim point of the furthest of them by slot, -1 for none, and its curvature. */
  readonly index: Int32Array;
  readonly curvature: Float64Array;
}

/**
 * Puts the furthest of the arcs that leave the state and hold into the next frontier, for each slot.
 *
 * @param atLast called with an arc that ends at the last rim point; true when it is dealt with
 * @returns the furthest rim point that an arc reaches
 */
function extend(search: Search, state: State, next: Frontier, atLast: (piece: Piece) => boolean): number {
  const { rim, last, walk, cosine, sine } = search;
  const { tolerance, minimumLength } = search.limits;
  const from = rim.s[state.index]!;
  search.index.fill(-1);
  const reached = walkPencil(rim, state, state.index, last, tolerance, walk);
  const c = Math.cos(state.angle);
  const s = Math.sin(state.angle);
  for (let index = state.index + 1; index <= reached; index++) {
    const u = walk.u[index]!;
    const length = rim.s[index]! - from;
    if (Number.isNaN(u) || length < minimumLength) continue;
    const v = walk.v[index]!;
    const square = u * u + v * v;
    // The rim's direction in the frame of the state.
    const along = c * cosine[index]! + s * sine[index]!;
    const across = c * sine[index]! - s * cosine[index]!;
    for (let which = 0; which < OFFSETS.length; which++) {
      const o = OFFSETS[which]! * tolerance;
      const curvature = (2 * (v + o)) / (square - o * o);
      if (curvature < walk.low[index]! || curvature > walk.high[index]!) continue;
      // The arc ends in the direction (1 - k v, k u): the tangent of its angle against the rim stands for the angle.
      const ahead = 1 - curvature * v;
      const aside = curvature * u;
      const off = (along * aside - across * ahead) / Math.max(1e-9, along * ahead + across * aside);
      const slot = next.slot(off, length, which);
      search.index[slot] = index;
      search.curvature[slot] = curvature;
    }
  }
  for (let slot = 0; slot < SLOTS; slot++) {
    const index = search.index[slot]!;
    if (index < 0 || !next.takes(slot, index)) continue;
    const curvature = search.curvature[slot]!;
    const length = arcLengthTo(walk.u[index]!, walk.v[index]!, curvature);
    if (length < minimumLength) continue;
    if (index === last && onRim(slot)) {
      const { x, y, angle } = state;
      if (atLast({ x, y, angle, curvature, length })) continue;
    }
    next.put(slot, index, state, curvature, length);
  }
  return reached;
}

/** Length of the arc that ends beside a point at (u, v) in the frame of its start. */
function arcLengthTo(u: number, v: number, curvature: number): number {
  const turn = Math.atan2(curvature * u, 1 - curvature * v);
  // A line, or nearly: the turn is too small to tell the length.
  return Math.abs(turn) < 1e-7 ? u : turn / curvature;
}

function firstStates(search: Search, source: Source, atLast: (piece: Piece) => void): State[] {
  const { rim, limits } = search;
  if (source.kind === 'pose')
    return slides(source, limits.tolerance).map((pose) => ({
      ...pose,
      index: source.index,
      piece: null,
      pieceIndex: source.index,
      before: null,
    }));
  const states: State[] = [];
  if (source.kind === 'line') {
    const { start } = source;
    for (let i = source.to; i > source.from && states.length < EXITS; i--) {
      const at = footOn(start, rim, i);
      const length = (at.x - start.x) * Math.cos(start.angle) + (at.y - start.y) * Math.sin(start.angle);
      if (length < limits.minimumLength) break;
      const piece = { ...start, curvature: 0, length };
      states.push({ ...at, index: i, piece, pieceIndex: source.from, before: null });
    }
    return states;
  }
  return firstArcs(search, source.index, atLast);
}

/** In any direction: the arcs through the first rim point and two more. */
function firstArcs({ rim, last, limits }: Search, first: number, atLast: (piece: Piece) => void): State[] {
  const { s } = rim;
  const x = rim.x[first]!;
  const y = rim.y[first]!;
  const next = new Frontier(limits.tolerance);
  for (let index = first + 2; index <= last; index++) {
    let middle = first + 1;
    while (middle < index - 1 && s[middle]! < (s[first]! + s[index]!) / 2) middle++;
    const circle = throughThree(rim, first, middle, index);
    if (follow(rim, circle, middle, -1, limits.tolerance) > first) break;
    if (follow(rim, circle, middle, 1, limits.tolerance) < index) break;
    const dx = rim.x[index]! - x;
    const dy = rim.y[index]! - y;
    const sine = (circle.curvature * hypotenuse(dx, dy)) / 2;
    if (Math.abs(sine) > 0.95) break;
    const half = Math.asin(sine);
    const length = Math.abs(half) < 1e-9 ? hypotenuse(dx, dy) : (2 * half) / circle.curvature;
    if (length < limits.minimumLength) continue;
    const angle = near(Math.atan2(dy, dx) - half, rim.angle[first]!);
    const piece = { x, y, angle, curvature: circle.curvature, length };
    if (index === last) atLast(piece);
    const slot = next.slot(angle + 2 * half - rim.angle[index]!, length, 0);
    const origin = { x, y, angle, index: first, piece: null, pieceIndex: first, before: null };
    next.put(slot, index, origin, circle.curvature, length);
  }
  return next.states();
}

/**
 * The last two pieces of a chain of arcs: exactly to the end, in the right direction.
 *
 * Either the last piece so far is cut, or runs on, and one arc more leads from it to the end; or a biarc
 * leads there from where the chain has got to. The end is a pose, or a line that may be met anywhere.
 */

import { biarc, leftOf, leftOfArc, type Piece, type Pose, tangentArc } from './biarc.ts';
import { type Chain, chainOf, type State } from './frontier.ts';
import { hypotenuse } from './hypotenuse.ts';
import { footOn, reach } from './pencil.ts';
import type { RimCurve } from './rimCurve.ts';

/**
 * Where a chain ends: at a pose, which may slide square to its direction within the tolerance (along a mirror
 * line); on a line that follows the rim from point `from` to `to`; or at a rim point, in any direction.
 */
export type Target =
  | { readonly kind: 'pose'; readonly index: number; readonly pose: Pose; readonly slides: boolean }
  | { readonly kind: 'line'; readonly from: number; readonly to: number; readonly start: Pose }
  | { readonly kind: 'free'; readonly index: number };

type PoseTarget = Extract<Target, { kind: 'pose' }>;
type LineTarget = Extract<Target, { kind: 'line' }>;

export interface ChainLimits {
  /** How far a rim point may lie from its piece, mm. */
  readonly tolerance: number;
  /** Shortest piece, mm. */
  readonly minimumLength: number;
}

/** A whole chain and how many pieces it took from the state on. */
export interface Ending {
  readonly chain: Chain;
  readonly pieces: 1 | 2;
  /** Largest distance of the rim from the last two pieces, mm. */
  readonly deviation: number;
}

/** Rim points at which a biarc tries to meet a line. */
const ENTRIES = 10;

/** How far a pose that may slide is moved, in tolerances. */
const SLIDES = [0, 0.4, -0.4, 0.8, -0.8];

/** The poses that a source or target stands for. */
export function slides({ pose, slides: may }: PoseTarget, tolerance: number): Pose[] {
  const { x, y, angle } = pose;
  return (may ? SLIDES : [0]).map((share) => ({
    x: x - share * tolerance * Math.sin(angle),
    y: y + share * tolerance * Math.cos(angle),
    angle,
  }));
}

/** First rim point from which a single arc can end at the target. */
export function earliestLast(rim: RimCurve, target: Target, tolerance: number): number {
  if (target.kind === 'free') return target.index;
  if (target.kind === 'pose')
    return Math.min(
      ...slides(target, tolerance).map((pose) => reach(rim, pose, target.index, -1, tolerance)),
    );
  let earliest = target.from;
  for (let i = target.from; i <= lastEntry(target); i++)
    earliest = Math.min(earliest, reach(rim, footOn(target.start, rim, i), i, -1, tolerance));
  return earliest;
}

/**
 * The same for an arc that may meet the target's line between rim points: its start moves as much as its end
 * at most, so some point of entry reaches as far within that much more.
 */
export function earliestOnto(rim: RimCurve, target: Target, tolerance: number): number {
  if (target.kind !== 'line') return earliestLast(rim, target, tolerance);
  let apart = 0;
  for (let i = target.from; i < lastEntry(target); i++) apart = Math.max(apart, rim.s[i + 1]! - rim.s[i]!);
  return earliestLast(rim, target, tolerance + apart);
}

function lastEntry({ from, to }: LineTarget): number {
  return Math.min(to, from + ENTRIES);
}

/** The ways to end the chain at the target from a state; at most `most` pieces more. */
export function endings(
  rim: RimCurve,
  state: State,
  target: Target,
  limits: ChainLimits,
  most: number,
): Ending[] {
  const found: Ending[] = [];
  const take = (ending: Ending | null) => {
    if (ending) found.push(ending);
  };
  if (target.kind === 'pose') {
    const poses = slides(target, limits.tolerance);
    for (const pose of poses) take(runOn(rim, state, pose, target.index, limits));
    if (most >= 2 && found.length === 0)
      for (const pose of poses) take(byBiarc(rim, state, pose, target.index, limits));
  } else if (target.kind === 'line') {
    take(ontoLine(rim, state, target, limits));
    if (most >= 2 && found.length === 0)
      for (let i = target.from; i <= lastEntry(target); i++)
        take(byBiarc(rim, state, footOn(target.start, rim, i), i, limits));
  }
  return found;
}

/** Last piece cut or run on, and one arc more. */
function runOn(rim: RimCurve, state: State, pose: Pose, index: number, limits: ChainLimits): Ending | null {
  if (!state.piece) return null;
  const pair = tangentArc(state.piece, pose);
  const deviation = pair && judge(rim, pair, state.pieceIndex, index, limits);
  return pair && deviation !== null
    ? { chain: { piece: pair[1], before: { piece: pair[0], before: state.before } }, pieces: 1, deviation }
    : null;
}

function byBiarc(rim: RimCurve, state: State, pose: Pose, index: number, limits: ChainLimits): Ending | null {
  const pair = biarc(state, pose);
  const deviation = pair && judge(rim, pair, state.index, index, limits);
  return pair && deviation !== null
    ? { chain: { piece: pair[1], before: { piece: pair[0], before: chainOf(state) } }, pieces: 2, deviation }
    : null;
}

/**
 * Last piece, one arc, the target's line. Where the line is met is free: it is chosen so that the arc goes
 * through the rim half-way. This is what finds the exact radius of a rounded corner between two lines.
 */
function ontoLine(rim: RimCurve, state: State, target: LineTarget, limits: ChainLimits): Ending | null {
  if (!state.piece) return null;
  const piece = state.piece;
  const start = footOn(target.start, rim, target.from);
  const stop = footOn(target.start, rim, target.to);
  const room = hypotenuse(stop.x - start.x, stop.y - start.y);
  const at = (t: number): Pose => ({
    x: start.x + t * Math.cos(start.angle),
    y: start.y + t * Math.sin(start.angle),
    angle: start.angle,
  });
  const half = (rim.s[state.index]! + rim.s[target.from]!) / 2;
  let middle = state.index;
  while (rim.s[middle]! < half) middle++;
  const miss = (t: number): number => {
    const pair = tangentArc(piece, at(t));
    return pair ? leftOf(pair[1], rim.x[middle]!, rim.y[middle]!) : Number.NaN;
  };
  const t = root(miss, room, 200 * limits.tolerance);
  if (t === null) return null;
  let index = target.from;
  while (index < target.to && rim.s[index]! - rim.s[target.from]! < t) index++;
  return runOn(rim, state, at(t), index, limits);
}

/**
 * A root of f between 0 and `room`, or 0 when there is none. f is NaN beyond some point. Null when f(0) is
 * larger than `hopeless`.
 */
function root(f: (t: number) => number, room: number, hopeless: number): number | null {
  let a = 0;
  let fa = f(a);
  if (!(Math.abs(fa) <= hopeless)) return null;
  let b = room;
  let fb = f(b);
  for (let i = 0; Number.isNaN(fb) && i < 30; i++) {
    b /= 2;
    fb = f(b);
  }
  if (!(fa * fb < 0)) return 0;
  for (let i = 0; i < 60 && fa !== 0 && b - a > 1e-13 * room; i++) {
    // The secant makes it quick, the bisection every third time keeps it sure.
    const t = i % 3 === 2 ? (a + b) / 2 : a - (fa * (b - a)) / (fb - fa);
    const ft = f(t);
    if (Math.abs(ft) < 1e-12) return t;
    if (ft * fa > 0) {
      a = t;
      fa = ft;
    } else {
      b = t;
      fb = ft;
    }
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}

/** Largest distance of the rim from the two pieces, mm, or null when they will not do. */
function judge(
  rim: RimCurve,
  pair: readonly [Piece, Piece],
  from: number,
  to: number,
  limits: ChainLimits,
): number | null {
  const [first, second] = pair;
  const { minimumLength, tolerance } = limits;
  if (first.length < minimumLength || second.length < minimumLength) return null;
  const rimLength = rim.s[to]! - rim.s[from]!;
  if (Math.abs(first.length + second.length - rimLength) > 0.1 * rimLength + 10 * tolerance) return null;
  const c1 = Math.cos(first.angle);
  const s1 = Math.sin(first.angle);
  const c2 = Math.cos(second.angle);
  const s2 = Math.sin(second.angle);
  let most = 0;
  // A coarse pass first: most pairs that fail do so by a lot.
  for (const step of [8, 1]) {
    for (let i = from + 1; i < to; i += step) {
      const dx = rim.x[i]! - second.x;
      const dy = rim.y[i]! - second.y;
      const u = c2 * dx + s2 * dy;
      let left: number;
      if (u > 0) left = leftOfArc(second.curvature, u, c2 * dy - s2 * dx);
      else {
        const ex = rim.x[i]! - first.x;
        const ey = rim.y[i]! - first.y;
        left = leftOfArc(first.curvature, c1 * ex + s1 * ey, c1 * ey - s1 * ex);
      }
      most = Math.max(most, Math.abs(left));
      if (most > tolerance) return null;
    }
  }
  return most;
}

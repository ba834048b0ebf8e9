/**
 * Samples of a solved rim to lines and arcs that follow each other without a break in direction.
 *
 * Straight stretches are found first (`straights.ts`) and become one line each; what lies between them is
 * followed by the fewest arcs (`arcChain.ts`). The rim between the samples is the curve of `rimCurve.ts`.
 * Deterministic; turning or moving the samples turns or moves the path.
 *
 * mm, radians, counter-clockwise positive.
 */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { endOf, type Piece, type Pose } from './biarc.ts';
import type { ChainLimits, Target } from './chainEnd.ts';
import { type Path, SHORTEST_PIECE, type Vertex } from './path.ts';
import { follow, footOn, poseAt, throughThree } from './pencil.ts';
import { type Between, begunAt, closedRim, openRim, type RimCurve } from './rimCurve.ts';
import { piecesAlong, type Stop } from './stops.ts';
import { type KnownEnd, type Straight, straights } from './straights.ts';

export interface FitOptions {
  /** Largest distance between the rim and the path, mm. */
  readonly tolerance: number;
  /** Shortest line or arc, mm; `SHORTEST_PIECE` when not given. */
  readonly minimumLength?: number;
  /**
   * Shortest line or arc where the rim has bends too short for those, mm; `minimumLength` when not given: what
   * turns sharper is then taken for a corner that was not given as one.
   */
  readonly leastLength?: number;
  /**
   * What lies between the samples: a smooth curve (when not given), or the parabolas of quadratic element
   * edges, when the samples are their nodes: corner, middle, corner, …
   */
  readonly between?: Between;
}

export interface OpenFitOptions extends FitOptions {
  /** Direction of travel at the first sample, radians, where it is known: on a mirror line. */
  readonly startTangent?: number;
  /** The same at the last sample. */
  readonly endTangent?: number;
}

export interface ClosedFitOptions extends FitOptions {
  /** Numbers of the samples at which the rim has a real corner; everywhere else the path is smooth. */
  readonly corners?: readonly number[];
}

/**
 * Share of the tolerance that the fit uses up. The rest is for what the samples leave open: two good curves
 * through them differ by some thousandths of a millimetre. Parabolas leave nothing open.
 */
const WORKING_SHARE: Readonly<Record<Between, number>> = { smooth: 0.85, quadratic: 0.95 };

/** A straight stretch becomes a line when it has this share of an open rim, and 8 shortest pieces. */
const STRAIGHT_SHARE = 0.05;

/** A straight stretch of this share is a line whatever that costs in arcs beside it. */
const LONG_SHARE = 0.2;

/** A closed rim is taken as four open ones when it comes to shares. */
const OPEN_IN_CLOSED = 4;

/**
 * An open path through an open row of samples.
 *
 * An end whose direction is not known is the first or last sample itself. An end whose direction is known is
 * taken to lie on a mirror line square to it: it has exactly that direction, and may slide along the mirror
 * line within the tolerance.
 *
 * @param points mm, x y per sample, length 2·n, at least two samples, no two neighbours equal; not changed
 * @throws GatherpanError BAD_INPUT for samples or options that make no sense, NOT_MAKEABLE when the rim turns
 *   too sharply for pieces of the shortest length: where it has a corner that was not given as one
 */
export function fitPath(points: Float64Array, options: OpenFitOptions): Path {
  checkSamples(points, options, 2);
  const { startTangent, endTangent } = options;
  const limits = limitsOf(options);
  const rim = openRim(points, betweenOf(options), limits.tolerance / 10, startTangent, endTangent);
  const known = (tangent: number | undefined): KnownEnd => (tangent === undefined ? 'free' : 'slides');
  return toPath(fitRim(rim, lengthOf(rim), limits, known(startTangent), known(endTangent)), false);
}

/**
 * A closed path through a closed row of samples; it runs the way the samples do.
 *
 * @param points mm, x y per sample, length 2·n, at least three samples, the first one not repeated, no two
 *   neighbours equal; not changed
 * @throws GatherpanError as `fitPath`
 */
export function fitClosedPath(points: Float64Array, options: ClosedFitOptions): Path {
  checkSamples(points, options, 3);
  const corners = [...new Set(options.corners ?? [])].sort((a, b) => a - b);
  return corners.length > 0 ? fitBetweenCorners(points, corners, options) : fitSmoothLoop(points, options);
}

function fitBetweenCorners(points: Float64Array, corners: readonly number[], options: FitOptions): Path {
  const say = words().messages.outline;
  const n = points.length / 2;
  const limits = limitsOf(options);
  const pieces: Piece[] = [];
  for (const [k, first] of corners.entries()) {
    if (!(Number.isInteger(first) && first >= 0 && first < n))
      throw new GatherpanError('BAD_INPUT', say.cornerNoSample(String(first), String(n - 1)));
    if (betweenOf(options) === 'quadratic' && first % 2 === 1)
      throw new GatherpanError('BAD_INPUT', say.cornerMidEdge(String(first)));
    const next = corners[(k + 1) % corners.length]!;
    const count = ((next - first + n - 1) % n) + 2;
    const part = new Float64Array(2 * count);
    for (let i = 0; i < count; i++) {
      part[2 * i] = points[2 * ((first + i) % n)]!;
      part[2 * i + 1] = points[2 * ((first + i) % n) + 1]!;
    }
    const rim = openRim(part, betweenOf(options), limits.tolerance / 10);
    pieces.push(...fitRim(rim, lengthOf(rim), limits, 'free', 'free'));
  }
  return toPath(pieces, true);
}

/** The seam is put in the middle of the longest straight stretch, so that it leaves no trace. */
function fitSmoothLoop(points: Float64Array, options: FitOptions): Path {
  const limits = limitsOf(options);
  const around = closedRim(points, betweenOf(options), limits.tolerance / 10);
  const whole = lengthOf(around) / OPEN_IN_CLOSED;
  const length = ({ from, to }: Straight) => around.s[to]! - around.s[from]!;
  const lines = straights(around, {
    tolerance: limits.tolerance,
    shortest: shortestLine(whole, limits),
    start: 'free',
    end: 'free',
  });
  const longest = lines.reduce<Straight | null>((a, b) => (a && length(a) >= length(b) ? a : b), null);
  let seam: Pose;
  let index: number;
  if (longest) {
    const half = (around.s[longest.from]! + around.s[longest.to]!) / 2;
    index = longest.from;
    while (around.s[index]! < half) index++;
    seam = footOn(longest.start, around, index);
  } else {
    index = Math.floor(around.s.length / 2);
    seam = directionAt(around, index, limits.tolerance);
  }
  const rim = begunAt(around, index, seam.x, seam.y, seam.angle);
  const pieces = fitRim(rim, whole, limits, 'fixed', 'fixed');
  const first = pieces[0]!;
  const last = pieces[pieces.length - 1]!;
  if (longest && pieces.length > 2 && first.curvature === 0 && last.curvature === 0) {
    pieces.pop();
    pieces[0] = { ...last, length: last.length + first.length };
  }
  return toPath(pieces, true);
}

/** The direction of the largest circle piece about a rim point that follows the rim closely. */
function directionAt(rim: RimCurve, index: number, tolerance: number): Pose {
  let best = poseAt(rim, index);
  for (let reach = 1; index - reach >= 0 && index + reach < rim.s.length; reach++) {
    const circle = throughThree(rim, index - reach, index, index + reach);
    const holds =
      follow(rim, circle, index, -1, tolerance / 3) <= index - reach &&
      follow(rim, circle, index, 1, tolerance / 3) >= index + reach;
    if (!holds || Math.abs(rim.angle[index + reach]! - rim.angle[index - reach]!) > Math.PI / 2) break;
    best = { x: circle.x, y: circle.y, angle: circle.angle };
  }
  return best;
}

/** Shorter than this, in mm, is rounding. */
const NO_LENGTH = 1e-6;

/** The pieces along a rim: lines where it is straight, arcs between them. `whole`: the length for shares. */
function fitRim(rim: RimCurve, whole: number, given: FitLimits, start: KnownEnd, end: KnownEnd): Piece[] {
  // A rim between two corners may be shorter than the shortest piece wanted.
  const most = lengthOf(rim) / 4;
  const least = Math.min(given.leastLength, most);
  for (let minimumLength = Math.min(given.minimumLength, most); ; minimumLength /= 2) {
    const pieces = piecesOf(rim, whole, { ...given, minimumLength }, start, end);
    // Where an arc happens to end just at a corner, the line behind it has no length.
    if (Array.isArray(pieces)) return pieces.filter((piece) => piece.length > NO_LENGTH);
    if (minimumLength / 2 >= least) continue;
    const x = rim.x[pieces.stuckAt]!.toFixed(2);
    const y = rim.y[pieces.stuckAt]!.toFixed(2);
    throw new GatherpanError(
      'NOT_MAKEABLE',
      words().messages.outline.turnsTooSharply(x, y, String(minimumLength)),
    );
  }
}

/** @returns or the rim point that no pieces get past */
function piecesOf(
  rim: RimCurve,
  whole: number,
  limits: ChainLimits,
  start: KnownEnd,
  end: KnownEnd,
): Piece[] | { readonly stuckAt: number } {
  const lines = straights(rim, {
    tolerance: limits.tolerance,
    shortest: shortestLine(whole, limits),
    start,
    end,
  });
  const long = LONG_SHARE * whole;
  const stops = (mayDrop: (length: number) => boolean): Stop[] => [
    { target: endTarget(rim, 0, start), optional: false },
    ...lines.map((line) => ({
      target: { kind: 'line' as const, ...line },
      optional: mayDrop(rim.s[line.to]! - rim.s[line.from]!),
    })),
    { target: endTarget(rim, rim.s.length - 1, end), optional: false },
  ];
  const short = (length: number) => length < long;
  const any = () => true;
  const pieces = piecesAlong(rim, stops(short), limits);
  // A long line may leave no room for the arcs beside it.
  return Array.isArray(pieces) ? pieces : piecesAlong(rim, stops(any), limits);
}

function endTarget(rim: RimCurve, index: number, known: KnownEnd): Target {
  if (known === 'free') return { kind: 'free', index };
  return { kind: 'pose', index, pose: poseAt(rim, index), slides: known === 'slides' };
}

function lengthOf(rim: RimCurve): number {
  return rim.s[rim.s.length - 1]!;
}

function shortestLine(whole: number, limits: ChainLimits): number {
  return Math.max(8 * limits.minimumLength, STRAIGHT_SHARE * whole);
}

function betweenOf(options: FitOptions): Between {
  return options.between ?? 'smooth';
}

/** What the pieces of a whole rim are held to. */
interface FitLimits extends ChainLimits {
  readonly leastLength: number;
}

function limitsOf(options: FitOptions): FitLimits {
  const minimumLength = options.minimumLength ?? SHORTEST_PIECE;
  return {
    tolerance: WORKING_SHARE[betweenOf(options)] * options.tolerance,
    minimumLength,
    leastLength: options.leastLength ?? minimumLength,
  };
}

function toPath(pieces: readonly Piece[], closed: boolean): Path {
  const merged: Piece[] = [];
  for (const piece of pieces) {
    const before = merged[merged.length - 1];
    if (before && runsOn(before, piece))
      merged[merged.length - 1] = { ...before, length: before.length + piece.length };
    else merged.push(piece);
  }
  const vertices: Vertex[] = merged.map(({ x, y, curvature, length }) => ({
    x,
    y,
    bulge: curvature === 0 ? 0 : Math.tan((curvature * length) / 4),
  }));
  if (!closed) {
    const { x, y } = endOf(merged[merged.length - 1]!);
    vertices.push({ x, y, bulge: 0 });
  }
  return { vertices, closed };
}

/** True when two pieces are one: the halves of a biarc on a circle, say. Up to half a circle. */
function runsOn(before: Piece, piece: Piece): boolean {
  const size = Math.max(Math.abs(before.curvature), Math.abs(piece.curvature));
  const broken = Math.abs(endOf(before).angle - piece.angle);
  return (
    Math.abs(before.curvature - piece.curvature) <= 1e-12 * size &&
    broken < 1e-12 &&
    size * (before.length + piece.length) <= Math.PI
  );
}

function checkSamples(points: Float64Array, options: OpenFitOptions, least: number): void {
  const say = words().messages.outline;
  const n = points.length / 2;
  const bad = (message: string) => new GatherpanError('BAD_INPUT', message);
  if (!(Number.isInteger(n) && n >= least)) throw bad(say.fewSamples(String(least), String(n)));
  for (const [name, value] of Object.entries({
    tolerance: options.tolerance,
    minimumLength: options.minimumLength,
    leastLength: options.leastLength,
  }))
    if (value !== undefined && !(value > 0 && Number.isFinite(value)))
      throw bad(say.notPositive(name, String(value)));
  for (const [name, value] of Object.entries({
    startTangent: options.startTangent,
    endTangent: options.endTangent,
  }))
    if (value !== undefined && !Number.isFinite(value)) throw bad(say.notRadians(name, String(value)));
  if (options.between === 'quadratic' && least === 2 && n % 2 === 0) throw bad(say.evenRow(String(n)));
  if (options.between === 'quadratic' && least === 3 && n % 2 === 1) throw bad(say.oddLoop(String(n)));
  for (let i = 0; i < n; i++) {
    const next = (i + 1) % n;
    const dx = points[2 * next]! - points[2 * i]!;
    const dy = points[2 * next + 1]! - points[2 * i + 1]!;
    if (!Number.isFinite(dx) || !Number.isFinite(dy)) throw bad(say.sampleNoNumber(String(i), String(next)));
    if (dx === 0 && dy === 0 && (next > 0 || least === 3))
      throw bad(say.samplesSame(String(i), String(next)));
  }
}

/**
 * A curve as a hand strikes it: with a rule, with a trammel of a given reach, or with a lath bent through offsets
 * from a straight edge; as few pieces as keep within a tolerance, every figure already rounded as it is printed.
 *
 * The pieces are found by dynamic programming over points of the curve: the cheapest way from its beginning to its end
 * (any textbook of algorithms). mm, radians.
 */

import { circleOf, pieceCount, pieceEnd, pieceLength, pointOnPiece, wrapAngle } from '../geometry/arc.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { Path, Point } from '../geometry/path.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';
import { goldenSection } from '../search.ts';

/** What a hand can do. */
export interface Reach {
  /** How far a struck line may lie off the true one: a shear and a file hold no more. */
  readonly tolerance: number;
  /** Largest radius of a trammel. */
  readonly trammel: number;
  /** To what figures are rounded. */
  readonly step: number;
  /** Distances between offsets that are round in the unit, the longest first. */
  readonly stations: readonly number[];
}

/** A point of the curve; the direction counts whole turns on. */
export interface Sample extends Point {
  readonly direction: number;
}

/** A straight line: a point on it and its direction as a unit vector. */
export interface Line {
  readonly at: Point;
  readonly along: Point;
}

export type StruckPiece =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point }
  | {
      readonly kind: 'arc';
      readonly from: Point;
      readonly to: Point;
      readonly centre: Point;
      readonly radius: number;
    }
  | { readonly kind: 'circle'; readonly centre: Point; readonly radius: number }
  | {
      readonly kind: 'offsets';
      readonly from: Point;
      readonly to: Point;
      /** Along the straight edge from `from`, and square to it, to the left positive. */
      readonly stations: readonly { readonly along: number; readonly off: number }[];
    };

/** Samples stand no further apart than this on the curve, nor turn by more, mm and radians. */
const PITCH = 6;
const TURN = 0.06;

/** Points along an open path, or once round a closed one. */
export function samplesAlong(path: Path): Sample[] {
  const list: Sample[] = [];
  let before = 0;
  const add = ({ x, y, tangent }: { x: number; y: number; tangent: number }): void => {
    const direction = list.length === 0 ? tangent : before + wrapAngle(tangent - before);
    before = direction;
    list.push({ x, y, direction });
  };
  for (let i = 0; i < pieceCount(path); i++) {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const turn = 4 * Math.abs(Math.atan(from.bulge));
    const parts = Math.max(2, Math.ceil(pieceLength(from, to) / PITCH), Math.ceil(turn / TURN));
    for (let k = 0; k < parts; k++) add(pointOnPiece(from, to, k / parts));
    if (i === pieceCount(path) - 1) add(pointOnPiece(from, to, 1));
  }
  return list;
}

/** What pieces cost: a lath takes as long as two arcs, and each of its stations a tenth of one. */
const COST = { line: 1, arc: 1, lath: 2, station: 0.1 };
/** Of two ways that cost the same, that which lies nearer is taken: a whole tolerance is worth this much. */
const NEARER = 0.02;
/** Arcs further round than this are struck in two, radians; so far and no further a lath is bent. */
const LARGEST_SWEEP = (340 / 180) * Math.PI;
const LARGEST_BEND = Math.PI / 3;
/** No straight edge is longer, mm. */
const LONGEST_EDGE = 600;
/** After so many points in a row that no arc reaches, none further on is tried. */
const GIVE_UP = 4;

/**
 * The pieces of a curve.
 *
 * @param curve in the frame in which it is marked out; at least two samples
 * @param lead  the line along which the curve begins, drawn already, and `tail` that along which it ends; null for none
 */
export function struck(
  curve: readonly Sample[],
  lead: Line | null,
  tail: Line | null,
  reach: Reach,
): StruckPiece[] {
  const circle = wholeCircle(curve, reach);
  if (circle !== null) return [circle];
  const last = curve.length - 1;
  const leads = lead === null ? -1 : stretch(curve, lead, reach);
  const tails = tail === null ? -1 : stretch([...curve].reverse(), tail, reach);
  const round = (point: Point): Point => rounded(point, reach.step);
  const nodes = curve.map((sample, i) => {
    if (lead !== null && i <= leads) return round(footOn(sample, lead));
    if (tail !== null && i >= last - tails) return round(footOn(sample, tail));
    return round(sample);
  });
  const cost = new Float64Array(curve.length).fill(Infinity);
  const via: ({ from: number; piece: StruckPiece } | null)[] = curve.map(() => null);
  for (let i = 0; i <= Math.max(0, leads); i++) cost[i] = 0;
  let end = last;
  let cheapest = Infinity;
  for (let i = 0; i <= last; i++) {
    if (cost[i] === Infinity) continue;
    if (i >= last - Math.max(0, tails) && cost[i]! < cheapest) [cheapest, end] = [cost[i]!, i];
    let missed = 0;
    for (let j = i + 1; j <= last; j++) {
      const span = { samples: curve.slice(i, j + 1), from: nodes[i]!, to: nodes[j]! };
      const found = bestPiece(span, reach, missed < GIVE_UP);
      missed = found === null || found.piece.kind === 'offsets' ? missed + 1 : 0;
      if (found === null && missed >= GIVE_UP) break;
      if (found === null) continue;
      const sum = cost[i]! + found.cost;
      if (sum < cost[j]!) {
        cost[j] = sum;
        via[j] = { from: i, piece: found.piece };
      }
    }
  }
  const pieces: StruckPiece[] = [];
  for (let at = end; via[at] !== null; at = via[at]!.from) pieces.unshift(via[at]!.piece);
  return pieces;
}

/** How many samples from the first on lie on a line, after the first one; -1 where that does not. */
export function stretch(curve: readonly Point[], line: Line, { tolerance }: Reach): number {
  const off = curve.findIndex((sample) => Math.abs(heightOver(sample, line)) > tolerance);
  return (off < 0 ? curve.length : off) - 1;
}

const heightOver = ({ x, y }: Point, { at, along }: Line): number =>
  (y - at.y) * along.x - (x - at.x) * along.y;

function footOn(point: Point, { at, along }: Line): Point {
  const distance = (point.x - at.x) * along.x + (point.y - at.y) * along.y;
  return { x: at.x + distance * along.x, y: at.y + distance * along.y };
}

export const rounded = ({ x, y }: Point, step: number): Point => ({
  x: roundTo(x, step),
  y: roundTo(y, step),
});
export const roundTo = (value: number, step: number): number => Math.round(value / step) * step;

interface Found {
  readonly piece: StruckPiece;
  readonly cost: number;
}

/** A part of the curve, and the points between which it is struck. */
interface Span {
  readonly samples: readonly Sample[];
  readonly from: Point;
  readonly to: Point;
}

const turnOf = ({ samples }: Span): number => samples.at(-1)!.direction - samples[0]!.direction;

/** The cheapest piece for a part of the curve; null where not even a lath does. */
function bestPiece(span: Span, reach: Reach, tryArc: boolean): Found | null {
  const { from, to } = span;
  const nearness = (off: number): number => (NEARER * off) / reach.tolerance;
  if (from.x !== to.x || from.y !== to.y) {
    const off = lineOff(span);
    if (off <= reach.tolerance) return { piece: { kind: 'line', from, to }, cost: COST.line + nearness(off) };
  }
  if (Math.abs(turnOf(span)) > LARGEST_SWEEP) return null;
  const arc = tryArc ? arcThrough(span, reach) : null;
  if (arc !== null) return { piece: arc.piece, cost: COST.arc + nearness(arc.off) };
  return offsets(span, reach);
}

function lineOff({ samples, from, to }: Span): number {
  const ends = [from.x, from.y, to.x, to.y];
  return samples.reduce((most, { x, y }) => Math.max(most, distanceToStraight(x, y, ends, 0, 1)), 0);
}

/** Steps of the golden section over the arcs through two points. */
const SECTIONS = 12;

/** The arc through two points that lies nearest to what is between them, centre and radius rounded. */
function arcThrough(
  span: Span,
  { tolerance, trammel, step }: Reach,
): { piece: StruckPiece; off: number } | null {
  const { samples, from, to } = span;
  const guess = Math.tan(turnOf(span) / 4);
  const room = 0.02 + 0.35 * Math.abs(guess);
  const off = (bulge: number): number => {
    const found = circleOf(from, to, bulge);
    return found === null ? Infinity : circleOff(samples, found.centre, found.radius);
  };
  const best = circleOf(from, to, goldenSection(off, guess - room, guess + room, SECTIONS).best);
  if (best === null || best.radius > trammel) return null;
  const centre = rounded(best.centre, step);
  const radius = roundTo(best.radius, step);
  const far = circleOff([...samples, from, to], centre, radius);
  return far <= tolerance ? { piece: { kind: 'arc', from, to, centre, radius }, off: far } : null;
}

function circleOff(points: readonly Point[], { x, y }: Point, radius: number): number {
  let most = 0;
  for (const point of points) most = Math.max(most, Math.abs(hypotenuse(point.x - x, point.y - y) - radius));
  return most;
}

/** A closed curve that is one circle within reach. */
function wholeCircle(curve: readonly Sample[], { tolerance, trammel, step }: Reach): StruckPiece | null {
  const [first, last] = [curve[0]!, curve.at(-1)!];
  if (Math.hypot(first.x - last.x, first.y - last.y) > 1e-6) return null;
  const [a, b, c] = [0, 1 / 3, 2 / 3].map((share) => curve[Math.floor(share * (curve.length - 1))]!) as [
    Sample,
    Sample,
    Sample,
  ];
  // The centre is as far from all three: two linear equations.
  const [bx, by, cx, cy] = [b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y];
  const twice = 2 * (bx * cy - by * cx);
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  const from = { x: (cy * bb - by * cc) / twice, y: (bx * cc - cx * bb) / twice };
  const centre = rounded({ x: a.x + from.x, y: a.y + from.y }, step);
  const radius = roundTo(Math.hypot(from.x, from.y), step);
  if (!(radius <= trammel && circleOff(curve, centre, radius) <= tolerance)) return null;
  return { kind: 'circle', centre, radius };
}

/** Offsets from the straight edge between two points, as far apart as a rule from one to the next allows. */
function offsets(span: Span, { tolerance, step, stations }: Reach): Found | null {
  const { samples, from, to } = span;
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (Math.abs(turnOf(span)) > LARGEST_BEND || length > LONGEST_EDGE || length < step) return null;
  const edge: Line = { at: from, along: { x: (to.x - from.x) / length, y: (to.y - from.y) / length } };
  const local = samples.map((sample) => ({
    along: (sample.x - from.x) * edge.along.x + (sample.y - from.y) * edge.along.y,
    off: heightOver(sample, edge),
  }));
  if (local.some(({ along }, i) => i > 0 && along <= local[i - 1]!.along)) return null;
  const between = (along: number, list: readonly { along: number; off: number }[]): number => {
    const next = Math.max(
      1,
      list.findIndex((each) => each.along >= along),
    );
    const [a, b] = [list[next - 1]!, list[next]!];
    return a.off + ((along - a.along) / (b.along - a.along)) * (b.off - a.off);
  };
  for (const pitch of stations) {
    const list: { along: number; off: number }[] = [];
    for (let along = pitch; along < length - pitch / 2; along += pitch)
      list.push({ along, off: roundTo(between(along, local), step) });
    const ruled = [{ along: Math.min(0, local[0]!.along), off: 0 }, ...list];
    ruled.push({ along: Math.max(length, local.at(-1)!.along), off: 0 });
    const far = local.reduce(
      (most, { along, off }) => Math.max(most, Math.abs(off - between(along, ruled))),
      0,
    );
    if (far <= tolerance) {
      const cost = COST.lath + COST.station * list.length + (NEARER * far) / tolerance;
      return { piece: { kind: 'offsets', from, to, stations: list }, cost };
    }
  }
  return null;
}

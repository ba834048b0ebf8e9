/**
 * Whether bends, walls and lips of different sides keep clear of one another.
 *
 * A line that runs beside the plan at a distance w, as the bend's beginning and a lip's edge do, is sound when
 * none of its points is nearer than w to any wall. Where one is, two sides run into each other. Lengths in mm.
 */
import type { Fault } from '../errors.ts';
import { distanceTo, edgeLength, edgeSweep } from '../geometry/edgeMeasures.ts';
import { directionAt, type PlanEdge } from '../geometry/planEdges.ts';
import { halved } from '../search.ts';
import { radians } from '../units.ts';
import { words } from '../words/language.ts';
import { kindsOf } from './cornerChecks.ts';
import { cornerLetter } from './cornerLetter.ts';
import { edgeIndex } from './edgeIndex.ts';
import { LIMITS } from './limits.ts';
import { type LengthText, planEdgesOf } from './planChecks.ts';
import {
  type LoopPoint,
  type LoopSegment,
  loopPoint,
  type PlanLoop,
  planLoop,
  planVertices,
  setbackOf,
} from './planLoop.ts';
import { edgeName } from './sentences.ts';
import { SMALLEST_TURN, turns } from './smoothJoints.ts';
import type { TraySpec } from './spec.ts';

/** Nearness that is rounding, and not one side in another. */
const TOUCH = 1e-6;

/** Points looked at along a line: so many per distance from the plan, and at least and at most so many. */
const POINTS_PER_DISTANCE = 3;
const POINTS: readonly [number, number] = [6, 24];

type Pair = readonly [LoopSegment, LoopSegment];

/** A point beside a segment: a fraction along it and `run` outwards from it. Sides reach on to their mitres. */
function beside(segment: LoopSegment, fraction: number, run: number): readonly [number, number] {
  const at: LoopPoint = { x: 0, y: 0, normalX: 0, normalY: 0 };
  const { x, y, normalX, normalY } = loopPoint(segment, fraction, at);
  const onwards =
    segment.kind === 'side' ? fraction * segment.mitreAtEnd - (1 - fraction) * segment.mitreAtStart : 0;
  return [x + run * (normalX - onwards * normalY), y + run * (normalY + onwards * normalX)];
}

/** The edge beside a loop's segment, `run` outwards from it; null where nothing is left of an arc. */
export function movedSegment(segment: LoopSegment, run: number): PlanEdge | null {
  const point = (fraction: number): readonly [number, number] => beside(segment, fraction, run);
  const [x0, y0] = point(0);
  const [x1, y1] = point(1);
  const ends = { x0, y0, x1, y1 };
  if (segment.kind === 'side') return { ...ends, curvature: 0, centreX: Number.NaN, centreY: Number.NaN };
  const sign = Math.sign(segment.sweep);
  const radius = segment.radius + sign * run;
  if (!(radius > TOUCH)) return null;
  return { ...ends, curvature: sign / radius, centreX: segment.centreX, centreY: segment.centreY };
}

/**
 * Whether a tray has a wall all round and no corner or arc that turns inwards. Nothing of it can be in its own
 * way then, once every corner by itself has radius enough: a circle no larger than the smallest radius of a
 * convex curve rolls around inside it, touching at one point at a time.
 *
 * Source: W. Blaschke, Kreis und Kugel, 1916, § 24 (the section from memory).
 */
function isConvex(spec: TraySpec): boolean {
  const vertices = planVertices(spec.plan);
  return (
    kindsOf(spec).every((kind) => kind === 'gather') &&
    turns(vertices).every((turn) => turn > -SMALLEST_TURN) &&
    vertices.every((vertex) => (vertex.bulge ?? 0) >= 0)
  );
}

/** Two segments whose walls are in each other's way at `run` from the base's edge, or undefined. */
function inTheWay(loop: PlanLoop, setback: number, run: number): Pair | undefined {
  const away = Math.abs(run - setback);
  const walls = loop.segments.flatMap((segment) => {
    const edge = segment.wall ? movedSegment(segment, setback) : null;
    if (edge === null || edgeLength(edge) < TOUCH) return [];
    return [{ edge, segment, length: edgeLength(edge) }];
  });
  const index = edgeIndex(walls.map(({ edge }) => edge));
  for (const a of walls) {
    for (const j of index.near(besideAll(a.segment, run), away)) {
      const b = walls[j]!;
      const distance = (fraction: number): number => distanceTo(b.edge, ...beside(a.segment, fraction, run));
      if (leastValue(distance, a.length, away, a !== b) < away - TOUCH) return [a.segment, b.segment];
    }
  }
  return undefined;
}

/** All points beside a segment as an edge; where nothing is left of an arc, the full circle they lie on. */
function besideAll(segment: LoopSegment, run: number): PlanEdge {
  const edge = movedSegment(segment, run);
  if (edge !== null) return edge;
  const { centreX, centreY, radius, sweep } = segment as Extract<LoopSegment, { kind: 'corner' }>;
  const reach = Math.max(TOUCH, Math.abs(radius + Math.sign(sweep) * run));
  const [x0, y0] = [centreX + reach, centreY];
  // Ends a hair apart, and the long way round between them.
  return { x0, y0, x1: x0, y1: y0 - 1e-9 * reach, curvature: 1 / reach, centreX, centreY };
}

/**
 * The least value of a distance along a line, looked for at points set out along it and, where it may be below
 * `away` between them, by golden section.
 */
function leastValue(
  distance: (fraction: number) => number,
  length: number,
  away: number,
  closely: boolean,
): number {
  const wanted = Math.ceil((POINTS_PER_DISTANCE * length) / Math.max(away, TOUCH));
  const count = Math.min(POINTS[1], Math.max(POINTS[0], wanted));
  let [best, at] = [Number.POSITIVE_INFINITY, 0];
  for (let k = 0; k <= count; k++) {
    const value = distance(k / count);
    if (value < best) [best, at] = [value, k / count];
  }
  if (!closely || best < away - TOUCH || best > away + (2 * length) / count) return best;
  let [low, high] = [Math.max(0, at - 1 / count), Math.min(1, at + 1 / count)];
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let k = 0; k < 16; k++) {
    const [left, right] = [high - golden * (high - low), low + golden * (high - low)];
    const [atLeft, atRight] = [distance(left), distance(right)];
    best = Math.min(best, atLeft, atRight);
    if (atLeft < atRight) high = right;
    else low = left;
  }
  return best;
}

/** Number of a straight or bulged edge of which the bends at its two ends leave nothing, or undefined. */
function usedUp(spec: TraySpec, loop: PlanLoop): number | undefined {
  const vertices = planVertices(spec.plan);
  const found = planEdgesOf(vertices).findIndex((edge, i) => {
    const own = loop.segments.filter(
      (segment) => segment.edge === i && (segment.kind === 'side' || segment.index === vertices.length + i),
    );
    if (edge.curvature !== 0) {
      return own.some((segment) => {
        if (segment.kind === 'side') return false;
        return Math.abs(segment.sweep - edgeSweep(edge)) > Math.PI;
      });
    }
    const [tx, ty] = directionAt(edge, edge.x0, edge.y0);
    if (own.some((side) => side.kind === 'side' && (side.x1 - side.x0) * tx + (side.y1 - side.y0) * ty < 0)) {
      return true;
    }
    // A side may be nothing but its two arcs, but a mitre or the end of a wall needs something to stand on.
    const ends = [i, (i + 1) % vertices.length];
    const rounded = ends.every(
      (vertex) => vertices[vertex]!.radius > 0 || (vertices[vertex]!.bulge ?? 0) !== 0,
    );
    return own.length === 0 && !rounded;
  });
  return found < 0 ? undefined : found;
}

/** Bends that run into each other on the base. */
export function baseFaults(spec: TraySpec, text: LengthText): Fault[] {
  if (isConvex(spec)) return [];
  const fault = baseFault(spec);
  if (fault === undefined) return [];
  const { bottomRadius } = spec.section;
  const most = largest(0, bottomRadius, (radius) => {
    return baseFault({ ...spec, section: { ...spec.section, bottomRadius: radius } }) === undefined;
  });
  const { atMost, bottomRadius: say } = words().messages.tray;
  const give = most >= LIMITS.radius[0] ? atMost(text.atMost(most)) : say.widerPlan;
  const radius = text.exact(bottomRadius);
  const message =
    typeof fault === 'number'
      ? say.nothingLeft(radius, edgeName(spec, fault), give)
      : say.meet(radius, ...namesOf(spec, fault), give);
  return [{ path: 'section.bottomRadius', message }];
}

/** The edge along which nothing of the base is left, or the two segments whose bends meet; undefined when sound. */
function baseFault(spec: TraySpec): number | Pair | undefined {
  const loop = planLoop(spec);
  return usedUp(spec, loop) ?? inTheWay(loop, setbackOf(spec), 0);
}

/** Walls that lean into each other, and lips that run into each other. */
export function rimFaults(spec: TraySpec, text: LengthText): Fault[] {
  if (isConvex(spec)) return [];
  const say = words().messages.tray;
  const { rim, draft } = spec.section;
  const leaning = { ...spec, section: { ...spec.section, rim: { kind: 'plain' as const } } };
  const lean = rimFault(leaning);
  if (lean !== undefined) {
    const most = largest(0, draft, (degrees) => {
      return rimFault({ ...leaning, section: { ...leaning.section, draft: degrees } }) === undefined;
    });
    const [given, give] = [String(draft), String(Math.floor(most * 100) / 100)];
    const message = say.draft.leanIntoEachOther(given, ...namesOf(spec, lean), give);
    return [{ path: 'section.draft', message }];
  }
  const pair = rim.kind === 'lip' ? rimFault(spec) : undefined;
  if (pair === undefined || rim.kind !== 'lip') return [];
  const most = largest(0, rim.width, (width) => {
    return rimFault({ ...spec, section: { ...spec.section, rim: { ...rim, width } } }) === undefined;
  });
  const [width, give] = [text.exact(rim.width), text.atMost(most)];
  const message = say.lip.meet(width, ...namesOf(spec, pair), give);
  return [{ path: 'section.rim.width', message }];
}

function rimFault(spec: TraySpec): Pair | undefined {
  const { height, draft, rim } = spec.section;
  const setback = setbackOf(spec);
  let run = setback + height * Math.tan(radians(draft));
  if (rim.kind === 'lip') run += rim.direction === 'out' ? rim.width : -rim.width;
  return Math.abs(run - setback) < TOUCH ? undefined : inTheWay(planLoop(spec), setback, run);
}

const namesOf = (spec: TraySpec, [one, other]: Pair): [string, string] => [
  segmentName(spec, one),
  segmentName(spec, other),
];

function segmentName(spec: TraySpec, segment: LoopSegment): string {
  const say = words().messages.tray;
  const count = planVertices(spec.plan).length;
  if (segment.kind === 'side' || segment.index >= count) return edgeName(spec, segment.edge);
  return say.corner(cornerLetter(segment.index));
}

/** The largest value from `least`, which is sound, to `most`, which is not. */
const largest = (least: number, most: number, isSound: (value: number) => boolean): number =>
  halved(least, most, isSound, 24)[0];

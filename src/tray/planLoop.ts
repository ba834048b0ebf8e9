/**
 * The plan loop: the closed chain of straight sides and arcs that bounds the flat of the base, where every
 * bend begins. It is the same for both skins of the sheet and for the neutral surface.
 *
 * Counter-clockwise, mm, angles in radians.
 */

import { hypotenuse } from '../geometry/hypotenuse.ts';
import {
  crossingNear,
  directionAt,
  filletOf,
  type MovedEdge,
  movedRadius,
  type PlanEdge,
  planEdge,
  turnBetween,
} from '../geometry/planEdges.ts';
import { radians } from '../units.ts';
import type { CornerMaking, Plan, PlanVertex, TraySpec } from './spec.ts';

/** What stands above a segment. */
interface WallOf {
  /** Number of the plan edge (for a corner: of the edge before it). */
  readonly edge: number;
  /** False where the tray is open: no wall stands there. */
  readonly wall: boolean;
  /** Wall height on the measured skin at the segment's start and end, mm. */
  readonly heightAtStart: number;
  readonly heightAtEnd: number;
}

/** A straight side. */
export interface SideSegment extends WallOf {
  readonly kind: 'side';
  /** Plan edge number: the edge from plan vertex `index` to the next. */
  readonly index: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly length: number;
  /** Half the plan angle of a mitre at the start and the end, as tan(turn / 2); 0 where there is none. */
  readonly mitreAtStart: number;
  readonly mitreAtEnd: number;
}

/** An arc of the loop: a corner, or a bulged edge. */
export interface CornerSegment extends WallOf {
  readonly kind: 'corner';
  /** Plan vertex number; for a bulged edge the number of vertices plus the edge number. */
  readonly index: number;
  readonly centreX: number;
  readonly centreY: number;
  /** Radius of the base's edge; 0 where plan radius and bottom radius are equal (the corner is a piece of sphere). */
  readonly radius: number;
  /** Radius of the plan there, at the wall, on the measured skin. */
  readonly cornerRadius: number;
  /** Direction of the outward normal at the start of the arc. */
  readonly startAngle: number;
  /** Angle turned, positive for a convex corner, negative for a concave one. */
  readonly sweep: number;
  readonly length: number;
}

export type LoopSegment = SideSegment | CornerSegment;

/** The base's edge. */
export interface PlanLoop {
  readonly segments: readonly LoopSegment[];
  /** Number of plan vertices. */
  readonly vertexCount: number;
}

/** Point and outward unit normal on the loop, filled by `loopPoint`. */
export interface LoopPoint {
  x: number;
  y: number;
  normalX: number;
  normalY: number;
}

/** Vertices of the plan at the wall (with draft: where wall and base planes of the measured skin meet). */
export function planVertices(plan: Plan): PlanVertex[] {
  if ('vertices' in plan) return plan.vertices.map((vertex) => ({ ...vertex }));
  const a = plan.length / 2;
  const b = plan.width / 2;
  const radius = (i: number): number =>
    typeof plan.cornerRadius === 'number' ? plan.cornerRadius : plan.cornerRadius[i]!;
  return [
    { x: a, y: b, radius: radius(0) },
    { x: -a, y: b, radius: radius(1) },
    { x: -a, y: -b, radius: radius(2) },
    { x: a, y: -b, radius: radius(3) },
  ];
}

/** Angle through which the sheet is bent from base to wall. */
export const turnedAngle = (draft: number): number => Math.PI / 2 - radians(draft);

/**
 * How far a side ends short of the plane of a mitre, along itself, where the edges of the two sides stand apart.
 *
 * @param gap   between the edges, square to them, mm
 * @param mitre tangent of half the angle by which the plan turns
 */
export const shortOfMitre = (gap: number, mitre: number): number => (gap / 2) * hypotenuse(1, mitre);

/** Distance from the bend's beginning to the meeting line of base and wall planes: the bend's tangent length. */
export const setbackOf = (spec: TraySpec): number =>
  spec.section.bottomRadius * Math.tan(turnedAngle(spec.section.draft) / 2);

/** How the corner at a vertex is made. */
export function cornerMaking(spec: TraySpec, vertex: number): CornerMaking {
  const { corners } = spec.forming;
  return corners === undefined ? 'gather' : typeof corners === 'string' ? corners : corners[vertex]!;
}

/**
 * Lengths are settled to 1e-9 mm and angles to 1e-12, so that a tray measured outside and the same tray measured
 * inside have the same loop to the last bit, and with it the same blank.
 */
export const roundedLength = (length: number): number => Math.round(length * 1e9) / 1e9;

function roundedAngle(angle: number): number {
  const step = Math.PI / 12;
  const nearest = Math.round(angle / step) * step;
  return Math.abs(nearest - angle) < 1e-11 ? nearest : Math.round(angle * 1e12) / 1e12;
}

/**
 * Pieces smaller than this, in mm, are left out: a base corner of a hair's radius counts as none (the bottom
 * radius then rolls a sphere), a side or a wall of that length likewise. It moves the rim by no more than that.
 */
export const NEGLIGIBLE = 0.01;

/** Less turn than this, in radians, is no corner. */
export const SMOOTH_TURN = 1e-6;

/** How two edges of the plan meet. */
export interface Joint {
  readonly kind: 'fillet' | 'smooth' | 'sharp' | 'mitre';
  readonly x: number;
  readonly y: number;
  readonly centreX: number;
  readonly centreY: number;
  readonly radius: number;
  readonly sweep: number;
  /** Where the edge before ends and the edge after starts, on the plan. */
  readonly before: readonly [number, number];
  readonly after: readonly [number, number];
}

/** The plan loop of a tray. */
export function planLoop(spec: TraySpec): PlanLoop {
  const vertices = planVertices(spec.plan);
  const count = vertices.length;
  const edges = vertices.map((vertex, i) => planEdge(vertex, vertices[(i + 1) % count]!));
  const setback = setbackOf(spec);
  const open = new Set(spec.plan.openEdges ?? []);
  const height = (edge: number): number => spec.section.heights?.[edge] ?? spec.section.height;
  const joints = vertices.map((vertex, i) => {
    const beforeOpen = open.has((i + count - 1) % count);
    const making = beforeOpen || open.has(i) ? 'open' : cornerMaking(spec, i);
    const rolled = Math.abs(vertex.radius - setback) < NEGLIGIBLE ? { ...vertex, radius: setback } : vertex;
    return jointAt(rolled, edges[(i + count - 1) % count]!, edges[i]!, making);
  });
  const moved = edges.map((edge, i) => ({ edge, left: open.has(i) ? 0 : setback }));
  const segments: LoopSegment[] = [];
  for (let i = 0; i < count; i++) {
    const joint = joints[i]!;
    const previous = (i + count - 1) % count;
    if (joint.kind === 'fillet') {
      const heights = { heightAtStart: height(previous), heightAtEnd: height(i) };
      segments.push({ ...filletSegment(joint, i, setback), edge: previous, wall: true, ...heights });
    }
    const next = (i + 1) % count;
    const start = movedEnd(joint, moved[previous]!, moved[i]!, 'start');
    const end = movedEnd(joints[next]!, moved[i]!, moved[next]!, 'end');
    const wall = { edge: i, wall: !open.has(i), heightAtStart: height(i), heightAtEnd: height(i) };
    if (edges[i]!.curvature !== 0) {
      segments.push({ ...arcSegment(moved[i]!, count + i, start, end), ...wall });
      continue;
    }
    const length = Math.hypot(end[0] - start[0], end[1] - start[1]);
    if (length <= NEGLIGIBLE) continue;
    segments.push({
      kind: 'side',
      index: i,
      x0: roundedLength(start[0]),
      y0: roundedLength(start[1]),
      x1: roundedLength(end[0]),
      y1: roundedLength(end[1]),
      length: roundedLength(length),
      mitreAtStart: joint.kind === 'mitre' ? Math.tan(joint.sweep / 2) : 0,
      mitreAtEnd: joints[next]!.kind === 'mitre' ? Math.tan(joints[next]!.sweep / 2) : 0,
      ...wall,
    });
  }
  return { segments: withRunOut(segments, spec.section.runOut ?? 0), vertexCount: count };
}

export function jointAt(
  vertex: PlanVertex,
  before: PlanEdge,
  after: PlanEdge,
  making: CornerMaking | 'open',
): Joint {
  const { x, y, radius } = vertex;
  const at = [x, y] as const;
  const sweep = turnBetween(before, at, after, at);
  const plain = { x, y, centreX: x, centreY: y, radius: 0, sweep, before: at, after: at };
  if (Math.abs(sweep) < SMOOTH_TURN) return { kind: 'smooth', ...plain };
  if (making === 'open') return { kind: 'sharp', ...plain };
  if (making === 'notch') return { kind: 'mitre', ...plain };
  if (radius === 0) return { kind: 'fillet', ...plain };
  const fillet = filletOf(before, after, vertex, radius);
  if (fillet === null) return { kind: 'sharp', ...plain };
  const [centreX, centreY] = fillet.centre;
  const { from, to } = fillet;
  return { kind: 'fillet', x, y, centreX, centreY, radius, sweep: fillet.sweep, before: from, after: to };
}

function filletSegment(joint: Joint, index: number, setback: number): Omit<CornerSegment, keyof WallOf> {
  const sign = Math.sign(joint.sweep);
  const radius = snapToZero(joint.radius - sign * setback, joint.radius);
  return {
    kind: 'corner',
    index,
    centreX: roundedLength(joint.centreX),
    centreY: roundedLength(joint.centreY),
    radius: roundedLength(radius),
    cornerRadius: joint.radius,
    startAngle: roundedAngle(
      Math.atan2(sign * (joint.before[1] - joint.centreY), sign * (joint.before[0] - joint.centreX)),
    ),
    sweep: roundedAngle(joint.sweep),
    length: radius * Math.abs(joint.sweep),
  };
}

/** Where the edge before a joint ends, or the edge after it starts, once they have been moved inwards. */
function movedEnd(
  joint: Joint,
  before: MovedEdge,
  after: MovedEdge,
  which: 'start' | 'end',
): readonly [number, number] {
  if (joint.kind === 'sharp' || joint.kind === 'mitre') {
    const crossing = crossingNear(before, after, joint);
    if (crossing !== null) return crossing;
  }
  const { edge, left } = which === 'end' ? before : after;
  const [x, y] = which === 'end' ? joint.before : joint.after;
  const [tx, ty] = directionAt(edge, x, y);
  return [x - ty * left, y + tx * left];
}

function arcSegment(
  moved: MovedEdge,
  index: number,
  start: readonly [number, number],
  end: readonly [number, number],
): Omit<CornerSegment, keyof WallOf> {
  const { edge } = moved;
  const sign = Math.sign(edge.curvature);
  const cornerRadius = 1 / Math.abs(edge.curvature);
  const radius = snapToZero(movedRadius(moved), cornerRadius);
  const startAngle = Math.atan2(sign * (start[1] - edge.centreY), sign * (start[0] - edge.centreX));
  const endAngle = Math.atan2(sign * (end[1] - edge.centreY), sign * (end[0] - edge.centreX));
  let sweep = endAngle - startAngle;
  if (sign > 0 && sweep <= 1e-12) sweep += 2 * Math.PI;
  if (sign < 0 && sweep >= -1e-12) sweep -= 2 * Math.PI;
  return {
    kind: 'corner',
    index,
    centreX: roundedLength(edge.centreX),
    centreY: roundedLength(edge.centreY),
    radius: roundedLength(radius),
    cornerRadius,
    startAngle: roundedAngle(startAngle),
    sweep: roundedAngle(sweep),
    length: radius * Math.abs(sweep),
  };
}

/** A base radius that is only rounding away from 0 is 0, so that the corner is a sphere and not a sliver. */
function snapToZero(radius: number, scale: number): number {
  return Math.abs(radius) < 1e-6 * scale ? 0 : radius;
}

/**
 * Lets the rim run from one height to another: in a straight line over the corner and, when asked, for a
 * length of the sides next to it, which are cut in two there.
 */
function withRunOut(segments: readonly LoopSegment[], runOut: number): LoopSegment[] {
  const out: LoopSegment[] = [];
  const count = segments.length;
  for (let i = 0; i < count; i++) {
    const segment = segments[i]!;
    const before = segments[(i + count - 1) % count]!;
    const after = segments[(i + 1) % count]!;
    const changes = (corner: LoopSegment): boolean =>
      corner.kind === 'corner' && corner.heightAtStart !== corner.heightAtEnd;
    if (segment.kind !== 'side' || runOut === 0 || !(changes(before) || changes(after))) {
      out.push(segment);
      continue;
    }
    const reach = Math.min(runOut, segment.length / 2);
    let rest: SideSegment = segment;
    if (changes(before)) {
      const [first, second] = cutSide(rest, reach);
      out.push({ ...first, heightAtStart: runOutHeight(before, reach, 'end') });
      rest = second;
    }
    if (changes(after)) {
      const [first, second] = cutSide(rest, rest.length - reach);
      out.push(first, { ...second, heightAtEnd: runOutHeight(after, reach, 'start') });
    } else {
      out.push(rest);
    }
  }
  // The corners take up what the sides left.
  return out.map((segment, i) => {
    if (segment.kind !== 'corner' || segment.heightAtStart === segment.heightAtEnd) return segment;
    const previous = out[(i + out.length - 1) % out.length]!;
    const next = out[(i + 1) % out.length]!;
    return { ...segment, heightAtStart: previous.heightAtEnd, heightAtEnd: next.heightAtStart };
  });
}

/** Height at a corner's end when the run-out of `reach` on either side shares the change with the corner. */
function runOutHeight(corner: LoopSegment, reach: number, end: 'start' | 'end'): number {
  const arc = corner.kind === 'corner' ? corner.cornerRadius * Math.abs(corner.sweep) : 0;
  const share = reach / (2 * reach + arc);
  const change = corner.heightAtEnd - corner.heightAtStart;
  return end === 'start' ? corner.heightAtStart + share * change : corner.heightAtEnd - share * change;
}

function cutSide(side: SideSegment, at: number): [SideSegment, SideSegment] {
  const f = at / side.length;
  const x = side.x0 + f * (side.x1 - side.x0);
  const y = side.y0 + f * (side.y1 - side.y0);
  return [
    { ...side, x1: x, y1: y, length: at, mitreAtEnd: 0 },
    { ...side, x0: x, y0: y, length: side.length - at, mitreAtStart: 0 },
  ];
}

/**
 * Point and outward normal at a fraction of a segment.
 *
 * @param fraction 0 at the segment's start, 1 at its end
 * @param out      output
 */
export function loopPoint(segment: LoopSegment, fraction: number, out: LoopPoint): LoopPoint {
  if (segment.kind === 'side') {
    out.x = segment.x0 + fraction * (segment.x1 - segment.x0);
    out.y = segment.y0 + fraction * (segment.y1 - segment.y0);
    out.normalX = (segment.y1 - segment.y0) / segment.length;
    out.normalY = -(segment.x1 - segment.x0) / segment.length;
    return out;
  }
  const angle = segment.startAngle + fraction * segment.sweep;
  out.normalX = Math.cos(angle);
  out.normalY = Math.sin(angle);
  const outward = segment.sweep >= 0 ? segment.radius : -segment.radius;
  out.x = segment.centreX + outward * out.normalX;
  out.y = segment.centreY + outward * out.normalY;
  return out;
}

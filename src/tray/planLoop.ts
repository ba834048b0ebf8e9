/**
 * The plan loop: the closed chain of straight sides and corner arcs that bounds the flat of the base, where
 * every bend begins. It is the same for both skins of the sheet and for the neutral surface.
 *
 * Counter-clockwise, mm, angles in radians.
 */
import { radians } from '../units.ts';
import type { Plan, TraySpec } from './spec.ts';

/** A straight side. */
export interface SideSegment {
  readonly kind: 'side';
  /** Plan edge number: the edge from plan vertex `index` to the next. */
  readonly index: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly length: number;
}

/** A corner: the arc around its centre that turns the loop by `sweep`. */
export interface CornerSegment {
  readonly kind: 'corner';
  /** Plan vertex number. */
  readonly index: number;
  readonly centreX: number;
  readonly centreY: number;
  /** Radius of the base's edge; 0 where plan radius and bottom radius are equal (the corner is a piece of sphere). */
  readonly radius: number;
  /** Direction of the outward normal at the start of the arc. */
  readonly startAngle: number;
  /** Angle turned, positive for a convex corner, negative for a concave one. */
  readonly sweep: number;
  readonly length: number;
}

export type LoopSegment = SideSegment | CornerSegment;

/** The base's edge as alternating corners and sides (a side of no length is left out). */
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
export function planVertices(plan: Plan): { x: number; y: number; radius: number }[] {
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
 * The plan loop of a tray.
 *
 * The bend begins r·tan(θ/2) inside the meeting line of base and wall planes (θ the angle turned), on either
 * skin: the tangent length of the bottom radius.
 */
export function planLoop(spec: TraySpec): PlanLoop {
  const setback = spec.section.bottomRadius * Math.tan(turnedAngle(spec.section.draft) / 2);
  const vertices = planVertices(spec.plan);
  const count = vertices.length;
  const corners = vertices.map((vertex, i) => {
    const before = vertices[(i + count - 1) % count]!;
    const after = vertices[(i + 1) % count]!;
    const inX = vertex.x - before.x;
    const inY = vertex.y - before.y;
    const outX = after.x - vertex.x;
    const outY = after.y - vertex.y;
    const inLength = Math.hypot(inX, inY);
    const outLength = Math.hypot(outX, outY);
    const sweep = Math.atan2(inX * outY - inY * outX, inX * outX + inY * outY);
    const sign = sweep >= 0 ? 1 : -1;
    // Centre of the corner: at the plan radius from both edges, on the inside of the turn.
    const normalInX = inY / inLength;
    const normalInY = -inX / inLength;
    const normalOutX = outY / outLength;
    const normalOutY = -outX / outLength;
    const bisector = 1 + normalInX * normalOutX + normalInY * normalOutY;
    const offset = (-sign * vertex.radius) / bisector;
    return {
      x: vertex.x + offset * (normalInX + normalOutX),
      y: vertex.y + offset * (normalInY + normalOutY),
      radius: snapToZero(vertex.radius - sign * setback, vertex.radius),
      startAngle: Math.atan2(normalInY, normalInX),
      sweep,
      normalInX,
      normalInY,
      normalOutX,
      normalOutY,
      sign,
    };
  });
  const segments: LoopSegment[] = [];
  for (let i = 0; i < count; i++) {
    const corner = corners[i]!;
    const next = corners[(i + 1) % count]!;
    if (corner.sweep !== 0) {
      segments.push({
        kind: 'corner',
        index: i,
        centreX: corner.x,
        centreY: corner.y,
        radius: corner.radius,
        startAngle: corner.startAngle,
        sweep: corner.sweep,
        length: corner.radius * Math.abs(corner.sweep),
      });
    }
    const x0 = corner.x + corner.sign * corner.radius * corner.normalOutX;
    const y0 = corner.y + corner.sign * corner.radius * corner.normalOutY;
    const x1 = next.x + next.sign * next.radius * next.normalInX;
    const y1 = next.y + next.sign * next.radius * next.normalInY;
    const length = Math.hypot(x1 - x0, y1 - y0);
    const scale = Math.hypot(vertices[i]!.x, vertices[i]!.y) + vertices[i]!.radius;
    if (length > 1e-9 * scale) segments.push({ kind: 'side', index: i, x0, y0, x1, y1, length });
  }
  return { segments, vertexCount: count };
}

/** A base radius that is only rounding away from 0 is 0, so that the corner is a sphere and not a sliver. */
function snapToZero(radius: number, scale: number): number {
  return Math.abs(radius) < 1e-6 * scale ? 0 : radius;
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

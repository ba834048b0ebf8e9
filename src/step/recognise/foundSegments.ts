/**
 * The base's edge as corners and sides, found in a part, and distances from it. In the frame of the base's lower side,
 * seen from above, counter-clockwise; mm and radians.
 */
import type { XY } from './planOutline.ts';

/** As in a tray's plan loop, with the joints of edges at which neither a rounding nor a sphere stands. */
export type FoundSegment = FoundSide | FoundCorner | FoundJoint;

/** A straight side of the base's edge. */
export interface FoundSide {
  readonly kind: 'side';
  readonly from: XY;
  readonly to: XY;
  /** Outwards, of length 1. */
  readonly normal: XY;
  readonly length: number;
  /** Without a wall. */
  readonly open: boolean;
  /** How much further the wall reaches beyond the side's ends, at most, per run; 0 where it ends square. */
  readonly mitreAtStart: number;
  readonly mitreAtEnd: number;
}

/** An arc of the base's edge. */
export interface FoundCorner {
  readonly kind: 'corner';
  readonly centre: XY;
  /** 0 where the corner is a piece of sphere. */
  readonly radius: number;
  /** Direction of the outward normal at the start. */
  readonly startAngle: number;
  /** Positive where the base bulges outwards. */
  readonly sweep: number;
  /** Without a wall. */
  readonly open: boolean;
  /** An edge of the plan by itself, with a joint at either end; else it rounds where two edges meet. */
  readonly isEdge: boolean;
}

/** Where two edges of the plan meet without a rounding: at a mitre, at an open edge, or smoothly at an arc. */
export interface FoundJoint {
  readonly kind: 'joint';
  readonly at: XY;
  /** 0 where the edges meet smoothly. */
  readonly sweep: number;
  readonly mitre: boolean;
}

/**
 * How far outwards of the loop a point lies, square to the nearest segment above whose length it stands;
 * negative inside, NaN when it stands above none.
 */
export function runFrom(loop: readonly FoundSegment[], x: number, y: number): number {
  let best = Number.NaN;
  for (const segment of loop) {
    const run = runFromSegment(segment, x, y);
    if (Number.isNaN(best) || Math.abs(run) < Math.abs(best)) best = run;
  }
  return best;
}

/** The same of one segment, NaN when the point does not stand above it or it has no wall. */
export function runFromSegment(segment: FoundSegment, x: number, y: number): number {
  if (segment.kind === 'joint') return Number.NaN;
  if (segment.kind === 'side') {
    if (segment.open) return Number.NaN;
    const run = segment.normal[0] * (x - segment.from[0]) + segment.normal[1] * (y - segment.from[1]);
    const along = alongSide(segment, x, y);
    if (along < -1e-6 - Math.max(0, segment.mitreAtStart * run)) return Number.NaN;
    return along > segment.length + 1e-6 + Math.max(0, segment.mitreAtEnd * run) ? Number.NaN : run;
  }
  if (segment.open) return Number.NaN;
  const sign = Math.sign(segment.sweep);
  const [dx, dy] = [x - segment.centre[0], y - segment.centre[1]];
  const distance = Math.hypot(dx, dy);
  const slack = 1e-6 / Math.max(distance, 1e-3) + 1e-9;
  const past = sign * (Math.atan2(sign * dy, sign * dx) - segment.startAngle);
  const turned = past - 2 * Math.PI * Math.floor((past + slack) / (2 * Math.PI));
  if (distance > 1e-6 && turned > Math.abs(segment.sweep) + slack) return Number.NaN;
  return sign * (distance - segment.radius);
}

/** Distance along a side, from its start. */
export const alongSide = ({ from, normal }: FoundSide, x: number, y: number): number =>
  -normal[1] * (x - from[0]) + normal[0] * (y - from[1]);

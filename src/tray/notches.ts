/** Notched corners: where their root lies on the base, and the hole that is cut there. */
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { DEFAULTS } from './limits.ts';
import { cornerMaking, planVertices, setbackOf } from './planLoop.ts';
import type { TraySpec } from './spec.ts';

/** The root of a notched corner: the corner of the base's edge. mm. */
export interface NotchRoot {
  /** Number of the plan vertex. */
  readonly corner: number;
  readonly x: number;
  readonly y: number;
  /** Unit vector in plan along the mitre, outwards. */
  readonly outX: number;
  readonly outY: number;
  /** Distance along the mitre over distance square to the sides. */
  readonly perSetback: number;
}

/** The roots of all notched corners, in the order of the corners. */
export function notchRoots(spec: TraySpec): NotchRoot[] {
  const vertices = planVertices(spec.plan);
  const count = vertices.length;
  return vertices.flatMap((vertex, corner): NotchRoot[] => {
    if (cornerMaking(spec, corner) !== 'notch') return [];
    const before = vertices[(corner + count - 1) % count]!;
    const after = vertices[(corner + 1) % count]!;
    const inLength = hypotenuse(vertex.x - before.x, vertex.y - before.y);
    const outLength = hypotenuse(after.x - vertex.x, after.y - vertex.y);
    const [ax, ay] = [(vertex.x - before.x) / inLength, (vertex.y - before.y) / inLength];
    const dx = ax - (after.x - vertex.x) / outLength;
    const dy = ay - (after.y - vertex.y) / outLength;
    const size = hypotenuse(dx, dy);
    const [outX, outY] = [dx / size, dy / size];
    // At the setback from both edges.
    const perSetback = 1 / Math.abs(outX * ay - outY * ax);
    const back = setbackOf(spec) * perSetback;
    return [{ corner, x: vertex.x - back * outX, y: vertex.y - back * outY, outX, outY, perSetback }];
  });
}

/** How much wider than the kerf the slot is, so that its two edges are two cuts, mm. */
const BESIDE_KERF = 0.1;

/** Width of the slot from the hole at the root to where the edges of the notch part, mm. */
export const slotWidth = (spec: TraySpec): number => spec.cut.kerf + BESIDE_KERF;

/** Diameter of the hole at the root, mm. */
export const notchRelief = (spec: TraySpec): number =>
  Math.max(spec.forming.notchRelief ?? DEFAULTS.notchRelief, slotWidth(spec));

/**
 * The neutral surface of a tray: plan loop × section, with exact points everywhere.
 *
 * Above the flat of the base, a point of the wall is P(s) + N(s)·run(v) at height(v). The surface has one
 * tangent plane everywhere, so every point has one frame: the images of the flat's x and y directions for a
 * sheet that is rolled up without strain, which is exact along straight sides.
 */
import { type LoopPoint, type LoopSegment, loopPoint, type PlanLoop, planLoop } from './planLoop.ts';
import {
  neutralSection,
  type Section,
  type SectionPiece,
  type SectionPoint,
  sectionPoint,
} from './section.ts';
import type { TraySpec } from './spec.ts';

/** Numbers a placed point takes: position (3), image of flat x (3), image of flat y (3), arc-length flat position (2). */
export const PLACED_SIZE = 11;

/** A point of the surface and its frame, `PLACED_SIZE` numbers. */
export type Placed = Float64Array;

export interface NeutralSurface {
  readonly loop: PlanLoop;
  readonly section: Section;
}

/** The neutral surface of a tray. */
export function neutralSurface(spec: TraySpec): NeutralSurface {
  return { loop: planLoop(spec), section: neutralSection(spec) };
}

/** A point of the flat base. */
export function placeOnBase(x: number, y: number, out: Placed): void {
  out.fill(0);
  out[0] = x;
  out[1] = y;
  out[3] = 1;
  out[7] = 1;
  out[9] = x;
  out[10] = y;
}

const loopAt: LoopPoint = { x: 0, y: 0, normalX: 0, normalY: 0 };
const sectionAt: SectionPoint = { run: 0, height: 0, angle: 0, developed: 0 };

/**
 * A point of the wall: `along` is the fraction of the loop segment, `up` the fraction of the section piece.
 */
export function placeOnWall(
  segment: LoopSegment,
  along: number,
  piece: SectionPiece,
  up: number,
  out: Placed,
): void {
  const { x, y, normalX, normalY } = loopPoint(segment, along, loopAt);
  const { run, height, angle, developed } = sectionPoint(piece, up, sectionAt);
  out[0] = x + normalX * run;
  out[1] = y + normalY * run;
  out[2] = height;
  // Direction of increasing section: (N cos, sin); along the loop: T = (−Ny, Nx).
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  out[3] = normalY * normalY + normalX * normalX * c;
  out[4] = -normalX * normalY + normalX * normalY * c;
  out[5] = normalX * s;
  out[6] = -normalX * normalY + normalX * normalY * c;
  out[7] = normalX * normalX + normalY * normalY * c;
  out[8] = normalY * s;
  out[9] = x + normalX * developed;
  out[10] = y + normalY * developed;
}

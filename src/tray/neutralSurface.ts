/**
 * The neutral surface of a tray: plan loop × section, with exact points everywhere.
 *
 * Above the flat of the base, a point of the wall is P(s) + N(s)·run(v) at height(v). The surface has one
 * tangent plane everywhere, so every point has one frame: the images of the flat's x and y directions for a
 * sheet that is rolled up without strain, which is exact along straight sides.
 */
import {
  type LoopPoint,
  type LoopSegment,
  loopPoint,
  type PlanLoop,
  planLoop,
  shortOfMitre,
} from './planLoop.ts';
import { neutralSection, type Section, type SectionPoint, sectionPoint } from './section.ts';
import type { TraySpec } from './spec.ts';

/** Numbers a placed point takes: its position, and from these places on what else is known of it. */
export const PLACED_SIZE = 11;
/** The images of a unit step in flat x and of one in flat y, vectors in space. */
export const IMAGE_OF_X = 3;
export const IMAGE_OF_Y = 6;
/** Its place in the flat by arc length, two numbers. */
export const FLAT = 9;

/** A point of the surface and its frame, `PLACED_SIZE` numbers. */
export type Placed = Float64Array;

export interface NeutralSurface {
  readonly loop: PlanLoop;
  readonly section: Section;
  /** Gap between the edges of a mitred corner, square to them, mm. */
  readonly weldGap: number;
}

/** The neutral surface of a tray. */
export function neutralSurface(spec: TraySpec): NeutralSurface {
  return { loop: planLoop(spec), section: neutralSection(spec), weldGap: spec.forming.weldGap ?? 0 };
}

/** Whether the rim runs from one height to another. */
export const isUneven = ({ loop }: NeutralSurface): boolean =>
  loop.segments.some((segment) => segment.heightAtStart !== segment.heightAtEnd);

/** A point of the flat base. */
export function placeOnBase(x: number, y: number, out: Placed): void {
  out.fill(0);
  out[0] = x;
  out[1] = y;
  out[IMAGE_OF_X] = 1;
  out[IMAGE_OF_Y + 1] = 1;
  out[FLAT] = x;
  out[FLAT + 1] = y;
}

/** Change of the straight wall's length against the nominal one, at a fraction of a loop segment, mm. */
export function extraWall(surface: NeutralSurface, segment: LoopSegment, along: number): number {
  const { section } = surface;
  const height = segment.heightAtStart + along * (segment.heightAtEnd - segment.heightAtStart);
  return (height - section.nominalHeight) * section.wallPerHeight;
}

const loopAt: LoopPoint = { x: 0, y: 0, normalX: 0, normalY: 0 };
const sectionAt: SectionPoint = { run: 0, height: 0, angle: 0, developed: 0 };

/**
 * A point of the wall: `along` is the fraction of the loop segment, `up` the fraction of section piece number
 * `piece`.
 */
export function placeOnWall(
  surface: NeutralSurface,
  segment: LoopSegment,
  along: number,
  piece: number,
  up: number,
  out: Placed,
): void {
  const { section } = surface;
  const { x, y, normalX, normalY } = loopPoint(segment, along, loopAt);
  const extra = piece === section.wallPiece ? extraWall(surface, segment, along) : 0;
  const { run, height, angle, developed } = sectionPoint(section.pieces[piece]!, up, sectionAt, extra);
  const shift = mitreShift(surface, segment, along, run);
  // Direction of increasing section: (N cos, sin); along the loop: T = (−Ny, Nx).
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  out[0] = x + normalX * run - normalY * shift;
  out[1] = y + normalY * run + normalX * shift;
  out[2] = height;
  out[IMAGE_OF_X] = normalY * normalY + normalX * normalX * c;
  out[IMAGE_OF_X + 1] = -normalX * normalY + normalX * normalY * c;
  out[IMAGE_OF_X + 2] = normalX * s;
  out[IMAGE_OF_Y] = -normalX * normalY + normalX * normalY * c;
  out[IMAGE_OF_Y + 1] = normalX * normalX + normalY * normalY * c;
  out[IMAGE_OF_Y + 2] = normalY * s;
  out[FLAT] = x + normalX * developed - normalY * shift;
  out[FLAT + 1] = y + normalY * developed + normalX * shift;
}

/**
 * How far a point of a side is moved along it towards a mitre: the sides reach on to the plane in which they
 * meet, less what leaves the weld gap open, which opens over the bend.
 */
export function mitreShift(
  surface: NeutralSurface,
  segment: LoopSegment,
  along: number,
  run: number,
): number {
  if (segment.kind !== 'side' || (segment.mitreAtStart === 0 && segment.mitreAtEnd === 0)) return 0;
  const bend = surface.section.pieces[0]!;
  const gap = surface.weldGap * Math.min(1, Math.max(0, run / bend.radius));
  const towards = (mitre: number): number => (mitre === 0 ? 0 : mitre * run - shortOfMitre(gap, mitre));
  return along * towards(segment.mitreAtEnd) - (1 - along) * towards(segment.mitreAtStart);
}

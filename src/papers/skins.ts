/**
 * The two skins of the sheet in a cut across the wall, and the plan of a skin at a height: what gauges,
 * formers and sections are drawn from.
 *
 * The neutral surface lies k·t/2 from the inside of the bottom bend (DIN 6935, see `section.ts`); the skins are
 * the curves at that distance to the inside and at the rest of the thickness to the outside. mm, radians.
 */
import { GatherpanError } from '../errors.ts';
import type { Path, Vertex } from '../geometry/path.ts';
import { neutralFactor } from '../material/neutralFactor.ts';
import { type LoopSegment, loopPoint, planLoop } from '../tray/planLoop.ts';
import {
  insideBottomRadius,
  neutralSection,
  type Section,
  type SectionPiece,
  sectionPoint,
} from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { PaperWords } from '../words/english.ts';

export type Skin = 'inside' | 'outside';

/** Distance from the neutral surface to a skin, towards the inside of the tray positive. */
export function skinOffset(spec: TraySpec, skin: Skin): number {
  const { thickness } = spec.sheet;
  const inwards = (neutralFactor(insideBottomRadius(spec), thickness) * thickness) / 2;
  return skin === 'inside' ? inwards : inwards - thickness;
}

/**
 * A skin in a cut across the wall: x outwards from the bend's beginning, y up from the base's inside.
 *
 * @param base    length of base drawn before the bend begins (x negative), mm
 * @param section the tray's own, or that of a stage on the way to it
 * @returns an open path from the base to the rim
 */
export function skinProfile(
  spec: TraySpec,
  skin: Skin,
  base: number,
  section: Section = neutralSection(spec),
): Path {
  const offset = skinOffset(spec, skin);
  // The base's inside is height 0.
  const lift = skinOffset(spec, 'inside');
  const at = (run: number, height: number, angle: number): { x: number; y: number } => ({
    x: run - offset * Math.sin(angle),
    y: height - lift + offset * Math.cos(angle),
  });
  const vertices: Vertex[] = [];
  if (base > 0) vertices.push({ ...at(-base, 0, 0), bulge: 0 });
  const { pieces } = section;
  for (const piece of pieces) {
    vertices.push({ ...at(piece.run, piece.height, piece.angle), bulge: Math.tan(sweepOf(piece) / 4) });
  }
  const end = sectionPoint(pieces[pieces.length - 1]!, 1, { run: 0, height: 0, angle: 0, developed: 0 });
  vertices.push({ ...at(end.run, end.height, end.angle), bulge: 0 });
  return { vertices, closed: false };
}

const sweepOf = (piece: SectionPiece): number => (piece.kind === 'bend' ? piece.length / piece.radius : 0);

/** The sheet in a cut across the wall, closed, counter-clockwise; origin as in `skinProfile`. */
export function sheetSection(spec: TraySpec, base: number): Path {
  const inside = skinProfile(spec, 'inside', base).vertices;
  const outside = skinProfile(spec, 'outside', base).vertices;
  // Out along the outside, back along the inside: the pieces of the inside run the other way.
  const back = inside.map((_, i): Vertex => {
    const { x, y } = inside[inside.length - 1 - i]!;
    const before = inside[inside.length - 2 - i];
    return { x, y, bulge: before === undefined || before.bulge === 0 ? 0 : -before.bulge };
  });
  return { vertices: [...outside.slice(0, -1), { ...outside.at(-1)!, bulge: 0 }, ...back], closed: true };
}

/** Outward run of the inside skin from the bend's beginning at a height above the base's inside, on the way up. */
export function insideRunAt(spec: TraySpec, height: number): number {
  const radius = insideBottomRadius(spec);
  const wall = Math.PI / 2 - (spec.section.draft * Math.PI) / 180;
  const bendTop = radius * (1 - Math.cos(wall));
  if (height <= bendTop) return Math.sqrt(Math.max(0, radius ** 2 - (radius - height) ** 2));
  return radius * Math.sin(wall) + (height - bendTop) / Math.tan(wall);
}

/** Height of the inside from the base's inside to the rim or the lip's inside, mm. */
export function insideHeight(spec: TraySpec): number {
  const vertices = skinProfile(spec, 'inside', 0).vertices;
  return Math.max(...vertices.map((vertex) => vertex.y));
}

/**
 * The plan loop moved out by `run`: the plan of the surface where it stands that far outside the bend's
 * beginning. Closed, counter-clockwise, lines and arcs.
 *
 * @param sides how much further out the straight sides stand, mm, and over what length beside a corner they come to it
 * @throws GatherpanError NOT_MAKEABLE where the tray has open sides or mitred corners, whose loop has gaps
 */
export function planAtRun(
  spec: TraySpec,
  run: number,
  words: PaperWords,
  sides: { readonly shift: number; readonly over: number } = { shift: 0, over: 0 },
): Path {
  const { segments } = planLoop(spec);
  if (!isWhole(segments)) {
    throw new GatherpanError('NOT_MAKEABLE', words.errors.formerOpen(spec.name));
  }
  const vertices = segments.flatMap((segment): Vertex[] => {
    const at = (fraction: number, out: number): Vertex => {
      const place = { x: 0, y: 0, normalX: 0, normalY: 0 };
      const { x, y, normalX, normalY } = loopPoint(segment, fraction, place);
      return { x: x + out * normalX, y: y + out * normalY, bulge: 0 };
    };
    if (segment.kind === 'corner') return [{ ...at(0, run), bulge: Math.tan(segment.sweep / 4) }];
    if (Math.abs(sides.shift) < 1e-9) return [at(0, run)];
    const fraction = sides.over / segment.length;
    const moved = run + sides.shift;
    if (fraction >= 0.5) return [at(0, run), at(0.5, moved)];
    return [at(0, run), at(fraction, moved), at(1 - fraction, moved)];
  });
  return { vertices, closed: true };
}

/** True for a loop with a wall on every segment and no mitre. */
export const isWhole = (segments: readonly LoopSegment[]): boolean =>
  segments.every(
    (segment) =>
      segment.wall !== false &&
      (segment.kind === 'corner' || (segment.mitreAtStart === 0 && segment.mitreAtEnd === 0)),
  );

/**
 * The section: what one sees in a cut across the wall, as a chain of arcs and straight pieces that starts
 * where the bend leaves the base. On the neutral surface; mm, radians.
 */
import { neutralFactor } from '../material/neutralFactor.ts';
import { NEGLIGIBLE, roundedLength, turnedAngle } from './planLoop.ts';
import type { LipRim, TraySpec } from './spec.ts';

/** One piece of the section. `angle` is the direction of the piece's start, 0 along the base, π/2 upright. */
export interface SectionPiece {
  readonly kind: 'bend' | 'straight';
  /** Developed length. */
  readonly length: number;
  /** Radius of a bend: positive when it turns upwards and inwards, negative when outwards; 0 for a straight piece. */
  readonly radius: number;
  readonly angle: number;
  /** Where the piece starts: outwards from the bend's beginning, and up. */
  readonly run: number;
  readonly height: number;
  /** Developed length up to the piece's start. */
  readonly developed: number;
}

export interface Section {
  readonly pieces: readonly SectionPiece[];
  /** Whole developed length from the bend's beginning to the rim. */
  readonly developed: number;
  /** Number of the piece that grows with the wall's height, or -1 when there is no straight wall. */
  readonly wallPiece: number;
  /** Height on the measured skin that the section is for, mm. */
  readonly nominalHeight: number;
  /** Growth of the straight wall per growth of the height: 1 over the sine of the wall's angle. */
  readonly wallPerHeight: number;
}

/** Point of the section, filled by `sectionPoint`. */
export interface SectionPoint {
  run: number;
  height: number;
  /** Direction of the section, radians from the base's plane. */
  angle: number;
  developed: number;
}

/** Radius of the bottom bend on the inside skin. */
export function insideBottomRadius(spec: TraySpec): number {
  const { bottomRadius } = spec.section;
  return spec.measured === 'inside' ? bottomRadius : bottomRadius - spec.sheet.thickness;
}

/** Radius of the neutral fibre in a bend: inside radius + k·thickness/2 (DIN 6935). */
const neutralRadius = (inside: number, thickness: number): number =>
  roundedLength(inside + (neutralFactor(roundedLength(inside), thickness) * thickness) / 2);

/** Radius of the neutral fibre in the bottom bend. */
export const neutralBottomRadius = (spec: TraySpec): number =>
  neutralRadius(insideBottomRadius(spec), spec.sheet.thickness);

/**
 * Radius of the lip's bend on the side it bends towards. A lip turned out has the tray's outside skin on the
 * inside of its bend, a lip turned in the inside skin.
 */
export function insideLipRadius(spec: TraySpec, lip: LipRim): number {
  const sameSkin = (lip.direction === 'out') === (spec.measured === 'outside');
  return sameSkin ? lip.bendRadius : lip.bendRadius - spec.sheet.thickness;
}

/** Angle through which the sheet is bent from wall to lip. */
export function lipAngle(spec: TraySpec, lip: LipRim): number {
  const wall = turnedAngle(spec.section.draft);
  return lip.direction === 'out' ? wall : Math.PI - wall;
}

/** Length of the straight wall between the bends; the same on both skins. */
export function straightWallLength(spec: TraySpec): number {
  const { bottomRadius, height, draft, rim } = spec.section;
  const angle = turnedAngle(draft);
  let length = height / Math.sin(angle) - bottomRadius * Math.tan(angle / 2);
  if (rim.kind === 'lip') length -= rim.bendRadius * Math.tan(lipAngle(spec, rim) / 2);
  return length < NEGLIGIBLE ? 0 : roundedLength(length);
}

/** Length of the level part of a lip. */
export const straightLipLength = (spec: TraySpec, lip: LipRim): number =>
  roundedLength(lip.width - lip.bendRadius * Math.tan(lipAngle(spec, lip) / 2));

/** The section of a tray on its neutral surface. */
export function neutralSection(spec: TraySpec): Section {
  const pieces: SectionPiece[] = [];
  const cursor: SectionPoint = { run: 0, height: 0, angle: 0, developed: 0 };
  const append = (kind: SectionPiece['kind'], length: number, radius: number): void => {
    const piece: SectionPiece = { kind, length, radius, ...cursor };
    pieces.push(piece);
    sectionPoint(piece, 1, cursor);
  };
  const angle = turnedAngle(spec.section.draft);
  const radius = neutralBottomRadius(spec);
  append('bend', radius * angle, radius);
  const wall = straightWallLength(spec);
  const wallPiece = wall > 0 ? pieces.length : -1;
  if (wall > 0) append('straight', wall, 0);
  const { rim } = spec.section;
  if (rim.kind === 'lip') {
    const lipRadius = neutralRadius(insideLipRadius(spec, rim), spec.sheet.thickness);
    append('bend', lipRadius * lipAngle(spec, rim), rim.direction === 'out' ? -lipRadius : lipRadius);
    const level = straightLipLength(spec, rim);
    if (level > NEGLIGIBLE) append('straight', level, 0);
  }
  return {
    pieces,
    developed: cursor.developed,
    wallPiece,
    nominalHeight: spec.section.height,
    wallPerHeight: 1 / Math.sin(angle),
  };
}

/**
 * Point at a fraction (0 start, 1 end) of a piece.
 *
 * @param extra change of the wall's length against the nominal one, mm; only where the section has a wall
 */
export function sectionPoint(
  piece: SectionPiece,
  fraction: number,
  out: SectionPoint,
  extra = 0,
): SectionPoint {
  const { angle, run, height, developed } = piece;
  if (piece.kind === 'straight') {
    const length = fraction * (piece.length + extra);
    out.developed = developed + length;
    out.angle = angle;
    out.run = run + length * Math.cos(angle);
    out.height = height + length * Math.sin(angle);
    return out;
  }
  const length = fraction * piece.length;
  const turned = angle + length / piece.radius;
  out.developed = developed + length;
  out.angle = turned;
  out.run = run + piece.radius * (Math.sin(turned) - Math.sin(angle));
  out.height = height - piece.radius * (Math.cos(turned) - Math.cos(angle));
  return out;
}

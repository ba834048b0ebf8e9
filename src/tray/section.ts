/**
 * The section: what one sees in a cut across the wall, as a chain of arcs and straight pieces that starts
 * where the bend leaves the base. On the neutral surface; mm, radians.
 */
import { neutralFactor } from '../material/neutralFactor.ts';
import { turnedAngle } from './planLoop.ts';
import type { TraySpec } from './spec.ts';

/** One piece of the section. `angle` is the direction of the piece's start, 0 along the base, π/2 upright. */
export interface SectionPiece {
  readonly kind: 'bend' | 'straight';
  /** Developed length. */
  readonly length: number;
  /** Radius of a bend, positive when it turns upwards (away from the base's plane), 0 for a straight piece. */
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

/** Radius of the neutral fibre in the bottom bend: inside radius + k·thickness/2 (DIN 6935). */
export function neutralBottomRadius(spec: TraySpec): number {
  const inside = insideBottomRadius(spec);
  return inside + (neutralFactor(inside, spec.sheet.thickness) * spec.sheet.thickness) / 2;
}

/** Length of the straight wall above the bend; the same on both skins. */
export function straightWallLength(spec: TraySpec): number {
  const angle = turnedAngle(spec.section.draft);
  const rise = spec.section.bottomRadius * (1 - Math.cos(angle));
  const length = (spec.section.height - rise) / Math.sin(angle);
  return length < 1e-9 * spec.section.height ? 0 : length;
}

/** The section of a tray on its neutral surface. */
export function neutralSection(spec: TraySpec): Section {
  const pieces: SectionPiece[] = [];
  const cursor: SectionPoint = { run: 0, height: 0, angle: 0, developed: 0 };
  const append = (kind: SectionPiece['kind'], length: number, radius: number): void => {
    const piece: SectionPiece = { kind, length, radius, ...cursor };
    pieces.push(piece);
    sectionPoint(piece, 1, cursor);
  };
  const radius = neutralBottomRadius(spec);
  append('bend', radius * turnedAngle(spec.section.draft), radius);
  const wall = straightWallLength(spec);
  if (wall > 0) append('straight', wall, 0);
  return { pieces, developed: cursor.developed };
}

/** Point at a fraction (0 start, 1 end) of a piece. */
export function sectionPoint(piece: SectionPiece, fraction: number, out: SectionPoint): SectionPoint {
  const { angle, run, height, developed } = piece;
  const length = fraction * piece.length;
  out.developed = developed + length;
  if (piece.kind === 'straight') {
    out.angle = angle;
    out.run = run + length * Math.cos(angle);
    out.height = height + length * Math.sin(angle);
    return out;
  }
  const turned = angle + length / piece.radius;
  out.angle = turned;
  out.run = run + piece.radius * (Math.sin(turned) - Math.sin(angle));
  out.height = height - piece.radius * (Math.cos(turned) - Math.cos(angle));
  return out;
}

/**
 * The section of the finished sheet at nominal thickness: both skins and the rim between them.
 *
 * In the plane of a cut across the wall, run outwards from the bend's beginning and height above the base's lower
 * skin, mm. The upper skin is the one inside the tray.
 */
import { turnedAngle } from '../tray/planLoop.ts';
import {
  insideBottomRadius,
  insideLipRadius,
  lipAngle,
  straightLipLength,
  straightWallLength,
} from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';

/** A step of the section: a bend by an angle (positive up, towards the tray's inside) or a straight length. */
export type SectionStep =
  | {
      readonly kind: 'bend';
      readonly turn: number /** On the hollow side of the bend. */;
      readonly radius: number;
    }
  | { readonly kind: 'straight'; readonly length: number };

/** A point of the profile, mm. */
export interface ProfilePoint {
  readonly run: number;
  readonly height: number;
}

/** A piece of the profile between two of its points; an arc has a centre. */
export type ProfilePiece =
  | { readonly kind: 'line' }
  | { readonly kind: 'arc'; readonly centre: ProfilePoint; readonly radius: number };

/** Upper skin from the base outwards, the rim, and the lower skin back to the base: one more point than pieces. */
export interface Profile {
  readonly points: readonly ProfilePoint[];
  readonly pieces: readonly ProfilePiece[];
  /** Number of the rim's piece. */
  readonly rim: number;
}

/** The steps of a tray's section from the base outwards. */
export function sectionSteps(spec: TraySpec): SectionStep[] {
  const steps: SectionStep[] = [
    { kind: 'bend', turn: turnedAngle(spec.section.draft), radius: insideBottomRadius(spec) },
  ];
  const wall = straightWallLength(spec);
  if (wall > 0) steps.push({ kind: 'straight', length: wall });
  const { rim } = spec.section;
  if (rim.kind === 'lip') {
    const turn = lipAngle(spec, rim);
    steps.push({
      kind: 'bend',
      turn: rim.direction === 'out' ? -turn : turn,
      radius: insideLipRadius(spec, rim),
    });
    const level = straightLipLength(spec, rim);
    if (level > 1e-9 * rim.width) steps.push({ kind: 'straight', length: level });
  }
  return steps;
}

/** Both skins of the steps, offset by the thickness, joined by a rim square to the sheet. */
export function sheetProfile(steps: readonly SectionStep[], thickness: number): Profile {
  const upper = skin(steps, thickness, thickness);
  const lower = skin(steps, 0, thickness);
  return {
    points: [...upper.points, ...lower.points.reverse()],
    pieces: [...upper.pieces, { kind: 'line' }, ...lower.pieces.reverse()],
    rim: upper.pieces.length,
  };
}

function skin(
  steps: readonly SectionStep[],
  startHeight: number,
  thickness: number,
): { points: ProfilePoint[]; pieces: ProfilePiece[] } {
  const upper = startHeight > 0;
  let at: ProfilePoint = { run: 0, height: startHeight };
  let angle = 0;
  const points = [at];
  const pieces: ProfilePiece[] = [];
  for (const step of steps) {
    if (step.kind === 'straight') {
      at = { run: at.run + step.length * Math.cos(angle), height: at.height + step.length * Math.sin(angle) };
      pieces.push({ kind: 'line' });
      points.push(at);
      continue;
    }
    const sign = Math.sign(step.turn);
    // The hollow side of an upward bend is the upper skin, that of a downward one the lower.
    const radius = step.radius + (upper === sign > 0 ? 0 : thickness);
    const centre = {
      run: at.run - sign * radius * Math.sin(angle),
      height: at.height + sign * radius * Math.cos(angle),
    };
    angle += step.turn;
    at = {
      run: centre.run + sign * radius * Math.sin(angle),
      height: centre.height - sign * radius * Math.cos(angle),
    };
    if (radius > 1e-9) {
      pieces.push({ kind: 'arc', centre, radius });
      points.push(at);
    }
  }
  return { points, pieces };
}

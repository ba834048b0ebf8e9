/**
 * The wall as strips, one above each straight side or arc of the plan loop, and where their points lie.
 *
 * A strip has one section, but for the straight wall, which may be longer at one place than at another, and for
 * its ends: at a mitre each fibre is longer or shorter by what is needed to reach the other side.
 */
import type { Vector3 } from '../geometry/vector3.ts';
import { neutralSurface } from '../tray/neutralSurface.ts';
import { type LoopPoint, type LoopSegment, loopPoint, shortOfMitre, turnedAngle } from '../tray/planLoop.ts';
import { neutralSection, type SectionPoint, sectionPoint } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { type Profile, type ProfilePoint, sectionSteps, sheetProfile } from './profile.ts';

/** One face wide: a corner, or the parts of a straight side between which only the slope of the rim changes. */
export interface Strip {
  readonly parts: readonly [LoopSegment, ...LoopSegment[]];
  readonly wall: boolean;
  readonly start: StripEnd;
  readonly end: StripEnd;
}

/** What is beyond a strip's end. */
export interface StripEnd {
  /** True when the strip there meets the next one, skin to skin. */
  readonly meets: boolean;
  /** null where the strip ends square to its side. */
  readonly mitre: Mitre | null;
}

/** A fibre `run` outwards is longer than the base by slope × run, less what it is short × min(1, run / opens). */
export interface Mitre {
  readonly slope: number;
  /** How far the side ends short of the mitre where the gap is open, along itself, mm. */
  readonly short: number;
  /** Run at which the gap is fully open: that of the neutral fibre at the end of an upright bend. */
  readonly opens: number;
  /** False when the neutral fibre never runs further out: one plane then cuts the end. */
  readonly kinked: boolean;
}

/** The sheet along the loop. */
export interface FormedSheet {
  readonly strips: readonly Strip[];
  readonly profile: Profile;
  readonly thickness: number;
  /** Run and height per length of straight wall. */
  readonly wallDirection: ProfilePoint;
  /** Lengthens the straight wall for a height on the measured skin, mm. */
  readonly extraAt: (height: number) => number;
}

export function formedSheet(spec: TraySpec): FormedSheet {
  const { loop, section, weldGap } = neutralSurface(spec);
  const angle = turnedAngle(spec.section.draft);
  const mitre = (slope: number): Mitre | null =>
    slope === 0
      ? null
      : {
          slope,
          short: shortOfMitre(weldGap, slope),
          opens: section.pieces[0]!.radius,
          kinked: weldGap > 0 && kinked(spec),
        };
  const groups = joinedSides(loop.segments);
  const strips = groups.map((parts, i): Strip => {
    const before = groups[(i + groups.length - 1) % groups.length]!;
    const after = groups[(i + 1) % groups.length]!;
    const [first, last] = [parts[0], parts[parts.length - 1]!];
    const slopes = [
      first.kind === 'side' ? first.mitreAtStart : 0,
      last.kind === 'side' ? last.mitreAtEnd : 0,
    ] as const;
    const { wall } = first;
    const closed = (slope: number): boolean => slope === 0 || weldGap === 0;
    return {
      parts,
      wall,
      start: { meets: wall && before[0].wall && closed(slopes[0]), mitre: mitre(slopes[0]) },
      end: { meets: wall && after[0].wall && closed(slopes[1]), mitre: mitre(slopes[1]) },
    };
  });
  return {
    strips,
    profile: sheetProfile(sectionSteps(spec), spec.sheet.thickness),
    thickness: spec.sheet.thickness,
    wallDirection: { run: Math.cos(angle), height: Math.sin(angle) },
    extraAt: (height) => (height - section.nominalHeight) * section.wallPerHeight,
  };
}

/** Whether the neutral fibre runs further out than where the gap of a mitre is fully open. */
function kinked(spec: TraySpec): boolean {
  const { pieces } = neutralSection(spec);
  const at: SectionPoint = { run: 0, height: 0, angle: 0, developed: 0 };
  return pieces.some((piece) => {
    const { run } = sectionPoint(piece, 1, at);
    return run > pieces[0]!.radius + 1e-9;
  });
}

/** Parts of one straight side in one group. */
function joinedSides(segments: readonly LoopSegment[]): [LoopSegment, ...LoopSegment[]][] {
  const groups: [LoopSegment, ...LoopSegment[]][] = [];
  for (const segment of segments) {
    const group = groups[groups.length - 1];
    if (group !== undefined && segment.kind === 'side' && sameSide(group[0], segment)) group.push(segment);
    else groups.push([segment]);
  }
  return groups;
}

const sameSide = (a: LoopSegment, b: LoopSegment): boolean => a.kind === 'side' && a.edge === b.edge;

/** The loop's frame at a place: outwards N, along T, on the ground. */
export const stationAt = (segment: LoopSegment, fraction: number): LoopPoint =>
  loopPoint(segment, fraction, { x: 0, y: 0, normalX: 0, normalY: 0 });

/** @param shift along T, mm */
export const placed = (station: LoopPoint, point: ProfilePoint, shift = 0): Vector3 => [
  station.x + station.normalX * point.run - station.normalY * shift,
  station.y + station.normalY * point.run + station.normalX * shift,
  point.height,
];

/** The profile's points where the wall has a height; only a plain rim has another height than the nominal one. */
export function pointsAt(sheet: FormedSheet, height: number): readonly ProfilePoint[] {
  const extra = sheet.extraAt(height);
  const { points, rim } = sheet.profile;
  if (extra === 0) return points;
  return points.map((point, j) => (j === rim || j === rim + 1 ? moved(sheet, point, extra) : point));
}

const moved = ({ wallDirection }: FormedSheet, point: ProfilePoint, extra: number): ProfilePoint => ({
  run: point.run + extra * wallDirection.run,
  height: point.height + extra * wallDirection.height,
});

/** How far beyond the end of its side a fibre reaches. */
export function reach(mitre: Mitre | null, run: number): number {
  if (mitre === null) return 0;
  const { slope, short, opens } = mitre;
  return slope * run - short * (mitre.kinked ? Math.min(1, run / opens) : run / opens);
}

/** Distance of a profile point from a corner's axis. */
export const ringRadius = (segment: LoopSegment & { kind: 'corner' }, run: number): number =>
  segment.radius + Math.sign(segment.sweep) * run;

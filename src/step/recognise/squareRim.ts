/**
 * What a rim may be besides square. Its edges may be broken, by chamfers and roundings that take the burr off: the
 * blank is that of the rim without them. And it may be cut at a slant, as a leaning wall is by a level plane: a blank
 * is cut square, so that it has the length of the longer skin. A tray file says neither.
 */
import type { Profile, ProfilePiece, ProfilePoint } from '../profile.ts';
import { apart } from './sectionPieces.ts';

/** Pieces from the base's upper side to its lower side, not yet known which one is the rim; one more point. */
export interface SectionChain {
  readonly points: readonly ProfilePoint[];
  readonly pieces: readonly ProfilePiece[];
}

/** A section with its rim square and as wide as the sheet, and as the part has it. */
export interface Squared {
  readonly profile: Profile;
  readonly actual: Profile;
}

/** The section with its rim, made square; null when no piece is the rim. */
export function squared(
  { points, pieces }: SectionChain,
  thickness: number,
  tolerance: number,
): Squared | null {
  const count = pieces.length;
  const half = (count - 1) / 2;
  if (count % 2 === 1 && Math.abs(apart(points[half]!, points[half + 1]!) - thickness) < tolerance) {
    const profile = { points, pieces, rim: half };
    return { profile, actual: profile };
  }
  if (count % 2 === 1 && half > 0) {
    const profile = fromSlanted({ points, pieces }, half, thickness, tolerance);
    if (profile !== null) return { profile, actual: { points, pieces, rim: half } };
  }
  for (const [before, after] of BREAKS) {
    // As many pieces on the upper skin as on the lower.
    const skin = (count - 1 - before - after) / 2;
    if (!Number.isInteger(skin) || skin < 1) continue;
    const rim = skin + before;
    const profile = withSquareRim({ points, pieces }, skin, rim, thickness, tolerance);
    if (profile !== null) return { profile, actual: { points, pieces, rim } };
  }
  return null;
}

/** Breaks on the rim's upper and lower edge. */
const BREAKS = [
  [1, 1],
  [1, 0],
  [0, 1],
] as const;

/** @param skin pieces of either skin */
function withSquareRim(
  { points, pieces }: SectionChain,
  skin: number,
  rim: number,
  thickness: number,
  tolerance: number,
): Profile | null {
  const lower = pieces.length - skin;
  if ([skin - 1, rim, lower].some((j) => pieces[j]!.kind !== 'line')) return null;
  const flat = [points[rim]!, points[rim + 1]!] as const;
  const a = meetingPoint([points[skin - 1]!, points[skin]!], flat);
  const b = meetingPoint([points[lower + 1]!, points[lower]!], flat);
  if (a === null || b === null || Math.abs(apart(a, b) - thickness) > tolerance) return null;
  // What reaches further than the sheet is thick is no broken edge.
  if (apart(points[skin]!, a) > thickness || apart(points[lower]!, b) > thickness) return null;
  return {
    points: [...points.slice(0, skin), a, b, ...points.slice(lower + 1)],
    pieces: [...pieces.slice(0, skin), { kind: 'line' }, ...pieces.slice(lower)],
    rim: skin,
  };
}

/** With a square rim where the longer skin ends. */
function fromSlanted(
  { points, pieces }: SectionChain,
  rim: number,
  thickness: number,
  tolerance: number,
): Profile | null {
  if ([rim - 1, rim, rim + 1].some((j) => pieces[j]!.kind !== 'line')) return null;
  const [from, upper, lower, back] = [rim - 1, rim, rim + 1, rim + 2].map((j) => points[j]!) as [
    ProfilePoint,
    ProfilePoint,
    ProfilePoint,
    ProfilePoint,
  ];
  const length = apart(from, upper);
  const [run, height] = [(upper.run - from.run) / length, (upper.height - from.height) / length];
  const along = (a: ProfilePoint, b: ProfilePoint): number =>
    (b.run - a.run) * run + (b.height - a.height) * height;
  const across = (a: ProfilePoint, b: ProfilePoint): number =>
    (b.run - a.run) * height - (b.height - a.height) * run;
  const parallel = [lower, back].every((end) => Math.abs(across(upper, end) - thickness) < tolerance);
  const slant = along(upper, lower);
  if (!parallel || Math.abs(slant) > thickness) return null;
  const moved = (point: ProfilePoint, by: number): ProfilePoint => ({
    run: point.run + by * run,
    height: point.height + by * height,
  });
  const ends = [moved(upper, Math.max(0, slant)), moved(lower, Math.max(0, -slant))];
  return { points: [...points.slice(0, rim), ...ends, ...points.slice(rim + 2)], pieces, rim };
}

type Line = readonly [ProfilePoint, ProfilePoint];

function meetingPoint([a, b]: Line, [c, d]: Line): ProfilePoint | null {
  const [ux, uy] = [b.run - a.run, b.height - a.height];
  const [vx, vy] = [d.run - c.run, d.height - c.height];
  const cross = ux * vy - uy * vx;
  if (Math.abs(cross) < 1e-6 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return null;
  const t = ((c.run - a.run) * vy - (c.height - a.height) * vx) / cross;
  return { run: a.run + t * ux, height: a.height + t * uy };
}

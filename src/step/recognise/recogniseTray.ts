/**
 * From a solid's faces to a tray file, when the faces are those of plan loop × section.
 *
 * Nothing is taken on trust: every point the kernel gave must lie on the section found, and the tray, built again by
 * formula, must have the part's volume and area.
 */
import type { Part } from '../part.ts';
import { agrees } from './agreement.ts';
import { baseLoop } from './baseLoop.ts';
import { baseOutline } from './baseOutline.ts';
import { type BasePair, basePairs } from './basePair.ts';
import { byRoundness } from './byRoundness.ts';
import { foundHeights } from './foundHeights.ts';
import { foundProfile } from './foundProfile.ts';
import { stepsOf } from './foundSteps.ts';
import { foundWallHoles, holeFaces, wallsWithHoles } from './foundWallHoles.ts';
import { type FoundHole, foundHole } from './holes.ts';
import { withJoinedPlanes } from './joinedPlanes.ts';
import { type Found, type SheetGiven, trayFile } from './trayFile.ts';

/** Largest distance of a point from the tray recognised, mm: well under what any file's own tolerance says. */
const TOLERANCE = 1e-5;

export interface Recognised {
  /** The tray file, as JSON holds it. */
  readonly file: Record<string, unknown>;
  /** Whether the part's rim is broken or cut at a slant, which the file has square: see `squareRim.ts`. */
  readonly rimSquared: boolean;
}

/**
 * The tray file of a part, or null when the part is not plan loop × section.
 *
 * @param part a solid
 */
export function recogniseTray(part: Part, given: SheetGiven): Recognised | null {
  if (part.kind !== 'solid') return null;
  const joined = withJoinedPlanes(part, TOLERANCE);
  for (const base of basePairs(joined, TOLERANCE)) {
    const recognised = fromBase(joined, base, given);
    if (recognised !== null) return recognised;
  }
  return null;
}

function fromBase(part: Part, base: BasePair, given: SheetGiven): Recognised | null {
  const outline = baseOutline(part, base, TOLERANCE);
  if (outline === null) return null;
  const loop = baseLoop(outline.pieces, outline.around);
  if (loop === null) return null;
  const holes = outline.holes.map(foundHole);
  if (holes.some((hole) => hole === null)) return null;
  const skip = new Set([
    base.upper,
    base.lower,
    ...outline.openFaces,
    ...holeFaces(part, base.upper, outline.outer),
  ]);
  const holed = wallsWithHoles(part, base, skip);
  for (const { face, outer } of holed) for (const number of holeFaces(part, face, outer)) skip.add(number);
  const section = foundProfile(part, base, loop, skip, TOLERANCE);
  if (section === null) return null;
  const steps = stepsOf(section.profile, base.thickness, TOLERANCE);
  if (steps === null) return null;
  const inWalls = foundWallHoles(part, base, section, holed, TOLERANCE);
  if (inWalls === null) return null;
  const found: Found = {
    loop,
    section,
    steps,
    thickness: base.thickness,
    walls: foundHeights(part, base, section, holed, TOLERANCE),
    holes: holes as FoundHole[],
    inWalls,
    gaps: outline.gaps,
  };
  const pierced = [...outline.holes, ...inWalls.map((hole) => hole.outline)];
  for (const measured of byRoundness(loop, section.profile, base.thickness)) {
    const file = trayFile(found, measured, given);
    if (file !== null && agrees(part, section, pierced, file)) {
      return { file, rimSquared: section.actual !== section.profile };
    }
  }
  return null;
}

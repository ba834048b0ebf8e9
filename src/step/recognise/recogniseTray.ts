/**
 * From a solid's faces to a tray file, when the faces are those of plan loop × section.
 *
 * Nothing is taken on trust: the tray found is built again by formula, and every point the kernel gave, and its
 * volume, must lie where the formula says.
 */
import { GatherpanError } from '../../errors.ts';
import { neutralFactor } from '../../material/neutralFactor.ts';
import type { SheetSpec } from '../../material/sheetSpec.ts';
import { planLoop, settledLength } from '../../tray/planLoop.ts';
import { readTray } from '../../tray/readTray.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { degrees } from '../../units.ts';
import type { Part } from '../part.ts';
import type { Profile, SectionStep } from '../profile.ts';
import { loopArea, sweptMeasure } from '../sweptMeasure.ts';
import { baseLoop, type FoundSegment } from './baseLoop.ts';
import { baseOutline, type MitreSlope } from './baseOutline.ts';
import { type BasePair, basePairs } from './basePair.ts';
import { type FoundWall, foundHeights } from './foundHeights.ts';
import { type FoundPlan, foundPlan } from './foundPlan.ts';
import { type FoundSection, foundProfile, stepsOf } from './foundProfile.ts';
import { foundWallHoles, holeFaces, type WallHole, wallsWithHoles } from './foundWallHoles.ts';
import { type FoundHole, foundHole } from './holes.ts';
import { tidy } from './tidy.ts';

/** What the geometry does not say. */
export interface SheetGiven {
  readonly name: string;
  readonly material: SheetSpec['material'];
  /** degrees */
  readonly grain: number;
}

/** Largest distance of a point from the tray recognised, mm: well under what any file's own tolerance says. */
const TOLERANCE = 1e-5;

/**
 * The tray file (as JSON holds it) of a part, or null when the part is not plan loop × section.
 *
 * @param part a solid
 */
export function recogniseTray(part: Part, given: SheetGiven): Record<string, unknown> | null {
  if (part.kind !== 'solid') return null;
  for (const base of basePairs(part, TOLERANCE)) {
    const file = fromBase(part, base, given);
    if (file !== null) return file;
  }
  return null;
}

function fromBase(part: Part, base: BasePair, given: SheetGiven): Record<string, unknown> | null {
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
  for (const measured of byRoundness(loop, section.profile, base.thickness)) {
    const file = trayFile(found, measured, given);
    if (file !== null && agrees(part, base, skip, inWalls, file)) return file;
  }
  return null;
}

/** All that was found in a part. */
interface Found {
  readonly loop: readonly FoundSegment[];
  readonly section: FoundSection;
  readonly steps: readonly SectionStep[];
  readonly thickness: number;
  readonly walls: ReadonlyMap<FoundSegment, FoundWall>;
  /** In the base. */
  readonly holes: readonly FoundHole[];
  readonly inWalls: readonly WallHole[];
  /** At mitres: growth of a side's reach per run over the bend, less of it the wider the weld gap. */
  readonly gaps: readonly MitreSlope[];
}

/** A draughtsman's numbers are round on the skin they were given for: that skin first. */
function byRoundness(
  loop: readonly FoundSegment[],
  profile: Profile,
  thickness: number,
): ('outside' | 'inside')[] {
  const digits = (skin: 'outside' | 'inside'): number =>
    skinNumbers(loop, profile, thickness, skin).reduce((sum, value) => {
      let d = 0;
      while (d < 6 && Math.abs(value * 10 ** d - Math.round(value * 10 ** d)) > 1e-5 * 10 ** d) d++;
      return sum + d;
    }, 0);
  return digits('inside') < digits('outside') ? ['inside', 'outside'] : ['outside', 'inside'];
}

function skinNumbers(
  loop: readonly FoundSegment[],
  profile: Profile,
  thickness: number,
  skin: 'outside' | 'inside',
): number[] {
  const upper = skin === 'inside';
  const bend = profile.pieces[upper ? 0 : profile.pieces.length - 1]!;
  const end = profile.points[upper ? profile.rim : profile.rim + 1]!;
  const radius = bend.kind === 'arc' ? bend.radius : 0;
  const corners = loop.flatMap((segment) => (segment.kind === 'corner' ? [segment.radius + radius] : []));
  return [radius, end.height - (upper ? thickness : 0), ...corners];
}

function trayFile(
  found: Found,
  measured: 'outside' | 'inside',
  given: SheetGiven,
): Record<string, unknown> | null {
  const { steps, thickness } = found;
  const { profile } = found.section;
  const [bottom, ...rest] = steps;
  if (bottom?.kind !== 'bend' || bottom.turn <= 0) return null;
  const inside = measured === 'inside';
  const bottomRadius = bottom.radius + (inside ? 0 : thickness);
  const tail = rest[0]?.kind === 'straight' ? rest.slice(1) : rest;
  const end = profile.points[inside ? profile.rim : profile.rim + 1]!;
  const section: Record<string, unknown> = {
    bottomRadius: tidy(bottomRadius),
    height: tidy(end.height - (inside ? thickness : 0)),
    draft: tidy(90 - degrees(bottom.turn), 1e7),
  };
  if (tail.length > 0) {
    const [bend, level, ...more] = tail;
    if (bend?.kind !== 'bend' || more.length > 0 || level?.kind === 'bend') return null;
    const out = bend.turn < 0;
    // The lip is level: it undoes, or completes, what the wall was turned by.
    if (Math.abs(Math.abs(bend.turn) - (out ? bottom.turn : Math.PI - bottom.turn)) > 1e-6) return null;
    const onHollow = out !== inside;
    const bendRadius = bend.radius + (onHollow ? 0 : thickness);
    const width = (level?.length ?? 0) + bendRadius * Math.tan(Math.abs(bend.turn) / 2);
    section.rim = {
      kind: 'lip',
      direction: out ? 'out' : 'in',
      bendRadius: tidy(bendRadius),
      width: tidy(width),
    };
  }
  const plan = foundPlan(found.loop, bottomRadius * Math.tan(bottom.turn / 2));
  if (plan === null) return null;
  const heights = heightsOf(found, plan, section.height as number, Math.sin(bottom.turn));
  if (heights !== null) {
    delete section.height;
    Object.assign(section, heights);
  }
  const holes = holesOf(found, plan, bottomRadius, bottom.turn);
  return {
    name: given.name,
    measured,
    plan: plan.plan,
    section,
    ...(holes.length === 0 ? {} : { holes }),
    sheet: { material: given.material, thickness: tidy(thickness), grain: given.grain },
    ...cornersOf(found, plan, bottom.radius),
  };
}

/** Heights by edge and the run-out between them; null where all are the same. */
function heightsOf(
  { walls, section }: Found,
  plan: FoundPlan,
  highest: number,
  perWall: number,
): Record<string, unknown> | null {
  const { points } = section.profile;
  const longest = Math.hypot(points[2]!.run - points[1]!.run, points[2]!.height - points[1]!.height);
  let runOut = 0;
  const heights = plan.edges.map((side, edge) => {
    const wall = walls.get(side ?? plan.cornerBefore(edge)!);
    if (wall === undefined) return highest;
    runOut = Math.max(runOut, ...wall.slopes);
    return tidy(highest - (longest - wall.wall) * perWall);
  });
  if (heights.every((height) => Math.abs(height - highest) < 2e-6)) return null;
  return { heights, ...(runOut < 1e-4 ? {} : { runOut: tidy(runOut) }) };
}

/** Entries of the holes, those in the base first. */
function holesOf(
  { holes, inWalls }: Found,
  plan: FoundPlan,
  bottomRadius: number,
  turn: number,
): Record<string, unknown>[] {
  const onBase = holes.map((hole) => {
    const { shape, at } = hole(plan.place);
    return { shape, place: { on: 'base', x: at[0], y: at[1] } };
  });
  const onWalls = inWalls.map(({ side, hole }) => {
    const edge = plan.edges.indexOf(side);
    // Along from the middle between the edge's plan vertices; up from where the straight wall starts.
    const middle = plan.middleOf(edge);
    const { shape, at } = hole((x, y) => [tidy(x - middle), tidy(y)]);
    const height = tidy(at[1] * Math.sin(turn) + bottomRadius * (1 - Math.cos(turn)));
    return { shape, place: { on: 'wall', edge, along: at[0], height } };
  });
  onWalls.sort((a, b) => a.place.edge - b.place.edge || a.place.along - b.place.along);
  return [...onBase, ...onWalls].map((entry, i) => ({ name: `hole-${i + 1}`, ...entry }));
}

/** How the corners are made, where any is notched. */
function cornersOf({ gaps, thickness }: Found, plan: FoundPlan, inside: number): Record<string, unknown> {
  const { makings } = plan;
  if (!makings.includes('notch')) return {};
  const opens = inside + (neutralFactor(settledLength(inside), thickness) * thickness) / 2;
  const gap = Math.max(0, ...gaps.map(({ full, actual }) => 2 * opens * (full - actual)));
  return {
    forming: {
      corners: makings.every((making) => making === 'notch') ? 'notch' : makings,
      ...(gap < 1e-5 ? {} : { weldGap: tidy(gap) }),
    },
  };
}

/** Whether the tray, built again by formula, has the part's volume and the area of its skins and rim. */
function agrees(
  part: Part,
  base: BasePair,
  skip: ReadonlySet<number>,
  inWalls: readonly WallHole[],
  file: Record<string, unknown>,
): boolean {
  let spec: TraySpec;
  try {
    spec = readTray(file);
  } catch (error) {
    if (error instanceof GatherpanError) return false;
    throw error;
  }
  const swept = sweptMeasure(spec);
  const wallHoles = inWalls.reduce((sum, { area }) => sum + area, 0);
  const holes = loopArea(planLoop(spec)) - part.faces[base.upper]!.area + wallHoles;
  const open = planLoop(spec).segments.reduce((sum, { wall, length }) => (wall ? sum : sum + length), 0);
  const near = (value: number, expected: number): boolean => Math.abs(value - expected) < 1e-6 * expected;
  const walls = part.faces.reduce((sum, face, number) => (skip.has(number) ? sum : sum + face.area), 0);
  return (
    near(part.volume, swept.volume - holes * spec.sheet.thickness) &&
    near(walls, swept.walls - 2 * wallHoles - open * spec.sheet.thickness)
  );
}

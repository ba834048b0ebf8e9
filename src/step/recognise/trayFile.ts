/** Writes what was found in a part as a tray file, measured on either skin. */
import { neutralFactor } from '../../material/neutralFactor.ts';
import type { SheetSpec } from '../../material/sheetSpec.ts';
import { roundedLength } from '../../tray/planLoop.ts';
import { degrees } from '../../units.ts';
import type { SectionStep } from '../profile.ts';
import type { MitreSlope } from './baseOutline.ts';
import type { FoundWall } from './foundHeights.ts';
import { type FoundPlan, foundPlan } from './foundPlan.ts';
import type { FoundSection } from './foundProfile.ts';
import type { FoundSegment } from './foundSegments.ts';
import type { WallHole } from './foundWallHoles.ts';
import type { FoundHole } from './holes.ts';
import { tidy } from './tidy.ts';

/** What the geometry does not say. */
export interface SheetGiven {
  readonly name: string;
  readonly material: SheetSpec['material'];
  /** degrees */
  readonly grain: number;
}

/** All that was found in a part. */
export interface Found {
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

/**
 * The tray file as JSON holds it; null when the section or the plan is none of a tray's.
 *
 * @param measured the skin that plan, radii and height are given for
 */
export function trayFile(
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
  const { points } = section.actual;
  const longest = Math.hypot(points[2]!.run - points[1]!.run, points[2]!.height - points[1]!.height);
  let runOut = 0;
  const heights = plan.edges.map((above, edge) => {
    const wall = walls.get(above ?? plan.cornerBefore(edge)!);
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
    const middle = plan.middleOf(side);
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
  const opens = inside + (neutralFactor(roundedLength(inside), thickness) * thickness) / 2;
  const gap = Math.max(
    0,
    ...gaps.map(({ full, actual }) => (2 * opens * (full - actual)) / Math.hypot(1, full)),
  );
  return {
    forming: {
      corners: makings.every((making) => making === 'notch') ? 'notch' : makings,
      ...(gap < 1e-5 ? {} : { weldGap: tidy(gap) }),
    },
  };
}

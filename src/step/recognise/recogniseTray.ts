/**
 * From a solid's faces to a tray file, when the faces are those of plan loop × section.
 *
 * Nothing is taken on trust: the tray found is built again by formula, and every point the kernel gave, and its
 * volume, must lie where the formula says.
 */
import { GatherpanError } from '../../errors.ts';
import { planLoop } from '../../tray/planLoop.ts';
import { readTray } from '../../tray/readTray.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { degrees } from '../../units.ts';
import type { Part } from '../part.ts';
import { type Profile, sectionSteps, sheetProfile } from '../profile.ts';
import { loopArea, sweptMeasure } from '../sweptMeasure.ts';
import { baseLoop, type FoundSegment } from './baseLoop.ts';
import { type BasePair, basePairs, inFrame } from './basePair.ts';
import { foundProfile, stepsOf } from './foundProfile.ts';
import { type FoundHole, foundHole, type Place } from './holes.ts';
import { outlineArea, outlineOf } from './planOutline.ts';

/** What the geometry does not say. */
export interface SheetGiven {
  readonly name: string;
  readonly material: string;
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
  const flat = (face: number): Float64Array[][] =>
    part.faces[face]!.wires.map((wire) =>
      wire.map((edge) => {
        const { samples } = part.edges[edge]!;
        const out = new Float64Array((2 * samples.length) / 3);
        for (let i = 0; i < samples.length / 3; i++)
          out.set(inFrame(base.frame, samples, 3 * i).slice(0, 2), 2 * i);
        return out;
      }),
    );
  const wires = flat(base.upper).map((wire) => outlineOf(wire, TOLERANCE));
  if (wires.length === 0 || wires.some((wire) => wire === null)) return null;
  const outlines = wires as NonNullable<(typeof wires)[number]>[];
  const areas = outlines.map(outlineArea);
  const outer = areas.indexOf(Math.max(...areas));
  const loop = baseLoop(outlines[outer]!);
  if (loop === null) return null;
  const holes = outlines.flatMap((outline, i) => (i === outer ? [] : [foundHole(outline)]));
  if (holes.some((hole) => hole === null)) return null;
  const skip = new Set([base.upper, base.lower, ...holeFaces(part, base, outer)]);
  const profile = foundProfile(part, base, loop, skip, TOLERANCE);
  if (profile === null) return null;
  const steps = stepsOf(profile, base.thickness, TOLERANCE);
  if (steps === null) return null;
  for (const measured of byRoundness(loop, profile, base.thickness)) {
    const file = trayFile(loop, profile, steps, base.thickness, measured, holes as FoundHole[], given);
    if (file !== null && agrees(part, base, skip, file)) return file;
  }
  return null;
}

/** Faces that share an edge with a hole in the base. */
function holeFaces(part: Part, base: BasePair, outer: number): number[] {
  const edges = new Set(part.faces[base.upper]!.wires.flatMap((wire, i) => (i === outer ? [] : wire)));
  return [...part.faces.entries()]
    .filter(([number, face]) => number !== base.upper && face.wires.flat().some((edge) => edges.has(edge)))
    .map(([number]) => number);
}

/** Lengths are given to 1e-6 mm, angles to 1e-7°: what lies beyond is rounding. */
const tidy = (value: number, scale = 1e6): number => Math.round(value * scale) / scale + 0;

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
  loop: readonly FoundSegment[],
  profile: Profile,
  steps: NonNullable<ReturnType<typeof stepsOf>>,
  thickness: number,
  measured: 'outside' | 'inside',
  holes: readonly FoundHole[],
  given: SheetGiven,
): Record<string, unknown> | null {
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
  const plan = planOf(loop, bottomRadius * Math.tan(bottom.turn / 2));
  if (plan === null) return null;
  return {
    name: given.name,
    measured,
    plan: plan.plan,
    section,
    ...(holes.length === 0 ? {} : { holes: holes.map((hole, i) => hole(`hole-${i + 1}`, plan.place)) }),
    sheet: { material: given.material, thickness: tidy(thickness), grain: given.grain },
  };
}

function planOf(
  loop: readonly FoundSegment[],
  setback: number,
): { plan: Record<string, unknown>; place: Place } | null {
  const vertices = loop.flatMap((segment) => {
    if (segment.kind === 'side') return [];
    const sign = Math.sign(segment.sweep);
    const radius = segment.radius + sign * setback;
    const middle = segment.startAngle + segment.sweep / 2;
    const reach = (sign * radius) / Math.cos(segment.sweep / 2);
    return [
      {
        x: segment.centre[0] + reach * Math.cos(middle),
        y: segment.centre[1] + reach * Math.sin(middle),
        radius,
        sweep: segment.sweep,
      },
    ];
  });
  if (vertices.length < 3) return null;
  const square = vertices.length === 4 && vertices.every(({ sweep }) => Math.abs(sweep - Math.PI / 2) < 1e-7);
  if (!square) {
    return {
      plan: {
        vertices: vertices.map(({ x, y, radius }) => ({ x: tidy(x), y: tidy(y), radius: tidy(radius) })),
      },
      place: (x, y) => [tidy(x), tidy(y)],
    };
  }
  const centreX = vertices.reduce((sum, { x }) => sum + x, 0) / 4;
  const centreY = vertices.reduce((sum, { y }) => sum + y, 0) / 4;
  const edge = Math.atan2(vertices[1]!.y - vertices[0]!.y, vertices[1]!.x - vertices[0]!.x);
  const quarter = Math.PI / 2;
  const parallel = Math.abs(edge / quarter - Math.round(edge / quarter)) < 1e-8;
  const turn = parallel ? 0 : -edge;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const place: Place = (x, y) => [
    tidy(c * (x - centreX) - s * (y - centreY)),
    tidy(s * (x - centreX) + c * (y - centreY)),
  ];
  const at = (right: boolean, up: boolean): number =>
    vertices.findIndex(({ x, y }) => {
      const [px, py] = place(x, y);
      return px > 0 === right && py > 0 === up;
    });
  const order = [at(true, true), at(false, true), at(false, false), at(true, false)];
  if (order.includes(-1)) return null;
  const radii = order.map((i) => tidy(vertices[i]!.radius));
  const corner = place(vertices[order[0]!]!.x, vertices[order[0]!]!.y);
  return {
    plan: {
      length: tidy(2 * corner[0]),
      width: tidy(2 * corner[1]),
      cornerRadius: radii.every((radius) => radius === radii[0]) ? radii[0] : radii,
    },
    place,
  };
}

/** Whether the tray, built again by formula, has the part's volume and the area of its skins and rim. */
function agrees(
  part: Part,
  base: BasePair,
  skip: ReadonlySet<number>,
  file: Record<string, unknown>,
): boolean {
  let spec: TraySpec;
  try {
    spec = readTray(file);
  } catch (error) {
    if (error instanceof GatherpanError) return false;
    throw error;
  }
  const { thickness } = spec.sheet;
  const loop = planLoop(spec);
  const swept = sweptMeasure(loop, sheetProfile(sectionSteps(spec), thickness), thickness);
  const holes = loopArea(loop) - part.faces[base.upper]!.area;
  const near = (value: number, expected: number): boolean => Math.abs(value - expected) < 1e-6 * expected;
  const walls = part.faces.reduce((sum, face, number) => (skip.has(number) ? sum : sum + face.area), 0);
  return near(part.volume, swept.volume - holes * thickness) && near(walls, swept.area - 2 * loopArea(loop));
}

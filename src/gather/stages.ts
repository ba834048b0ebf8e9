/**
 * The working plan's stages: the wall is turned up in steps, and at each step the tray is a tray of its own with a
 * leaning wall, solved like the finished one.
 *
 * The base, its edge and the bottom radius stay; the bend is rolled up to the stage's angle only and the rest of
 * the developed length, the same as the finished tray's, stands straight. (In plan the leaning walls then meet the
 * base at a radius R_b + r·tan(a/2).) The finished tray's blank is followed through the stages: each of its points
 * is found in the stage's own flat, whose rim lies a little further out at the corners because less has been
 * stretched up the wall, and takes strain and place from there. The strain a stage adds is the equivalent strain of
 * the difference of the strain tensors, both taken in the flat, so a change of direction counts.
 */

import { Locator, type Place } from '../geometry/locate.ts';
import { pathLength, pointAlong } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import type { TraySpec } from '../tray/spec.ts';
import { logStrainFromPercent } from '../units.ts';
import { strainAt, strainBetween, valuesAt } from './followedStrain.ts';
import type { Gather, GatherZone } from './report.ts';
import { goesRound } from './rimMarks.ts';
import { slicePath } from './slicePath.ts';
import type { Way } from './way.ts';
import type { WholeStrain } from './wholeStrain.ts';
import { ZONE_THRESHOLD } from './zones.ts';

/** Points along a zone's rim at which its formed length is taken. */
const RIM_SAMPLES = 96;

/** What a stage does to one gather zone. */
export interface StageZone {
  /** Number of the zone in the gather's list. */
  readonly zone: number;
  /** Largest equivalent strain added in this stage, logarithmic. */
  readonly strainAdded: number;
  /** Rim to lose in this stage, and from the flat up to its end, mm; negative where it gets longer. */
  readonly rimToLose: number;
  readonly rimLost: number;
  /** Left to lose after this stage, mm. */
  readonly rimToCome: number;
  /** Along the rim from mark to mark before and after the stage, as a tape measures it, mm; 0 where no rim is reached. */
  readonly tapeBefore: number;
  readonly tapeAfter: number;
  /** Thickness at the zone's thickest (in a stretch zone thinnest) spot at the end of the stage, mm. */
  readonly thickness: number;
}

export interface Stage {
  /** Degrees from the base's plane to which the wall is turned up. */
  readonly angle: number;
  /** True for the stage in which the lip is turned, last of all. */
  readonly lip: boolean;
  readonly zones: readonly StageZone[];
}

/** What a stage plan is made for: a solved pattern has all of it. */
export interface PlanInput {
  readonly spec: TraySpec;
  readonly workedRim: Path;
  readonly gather: Pick<Gather, 'zones' | 'work' | 'anneals'>;
}

/**
 * The stages of a tray whose way is known.
 *
 * @param angles degrees, ascending, the last one the finished wall's
 * @throws GatherpanError NOT_SOLVED when a stage has no equilibrium
 */
export function stagesOf(input: PlanInput, way: Way, angles: readonly number[]): Stage[] {
  const { finished, final } = way;
  const { zones } = input.gather;
  const { nodes, members } = zoneNodes(input, finished);
  const points = valuesAt(finished.flat, 2, nodes);
  const samples = zones.map((zone) => rimSamples(zone, input.workedRim));
  const last = rimLengths(samples, finished);
  let before: StageState | null = null;
  const stages: Stage[] = [];
  for (const { angle, lip, whole } of stepsOf(way, angles)) {
    const tensor = whole === finished ? valuesAt(finished.tensor, 3, nodes) : strainAt(whole, points);
    const state: StageState = {
      tensor,
      added: strainBetween(final.solution.law, before?.tensor ?? null, tensor),
      rimLength: rimLengths(samples, whole),
    };
    const earlier = before;
    stages.push({
      angle,
      lip,
      zones: zones.map((zone, i) => ({
        zone: i,
        ...rimOf(zone, state.rimLength[i]!, earlier?.rimLength[i] ?? null, last[i]!),
        ...spotsOf(zone, members[i]!, state, final.sheet.thickness),
      })),
    });
    before = state;
  }
  return stages;
}

/** The tray at the end of each stage, the lip last. @throws GatherpanError NOT_SOLVED when one has no equilibrium */
export function stepsOf(
  way: Way,
  angles: readonly number[],
): { readonly angle: number; readonly lip: boolean; readonly whole: WholeStrain }[] {
  const walls = angles.map((angle) => ({ angle, lip: false, whole: way.wall(angle) }));
  return way.lip ? [...walls, { angle: way.wallAngle, lip: true, whole: way.finished }] : walls;
}

interface StageState {
  /** Strain tensors of the followed nodes, 3 each, and what the stage adds to each, equivalent strain. */
  readonly tensor: Float64Array;
  readonly added: Float64Array;
  /** Formed length of each zone's rim, mm; 0 without a rim. */
  readonly rimLength: readonly number[];
}

interface ZoneNodes {
  readonly nodes: Uint32Array;
  readonly members: readonly Uint32Array[];
}

/** The nodes of the blank that lie in a zone: those beyond the zones' threshold, by the nearest zone peak. */
function zoneNodes({ gather }: PlanInput, { flat, tensor }: WholeStrain): ZoneNodes {
  const shrink = logStrainFromPercent(-ZONE_THRESHOLD);
  const stretch = logStrainFromPercent(ZONE_THRESHOLD);
  const nodes: number[] = [];
  const members: number[][] = gather.zones.map(() => []);
  for (let node = 0; node < flat.length / 2; node++) {
    const mean = (tensor[3 * node]! + tensor[3 * node + 1]!) / 2;
    const radius = Math.hypot((tensor[3 * node]! - tensor[3 * node + 1]!) / 2, tensor[3 * node + 2]!);
    const shrinks = mean - radius < shrink;
    const stretches = mean + radius > stretch;
    if (!shrinks && !stretches) continue;
    let best = -1;
    let least = Infinity;
    for (const [i, zone] of gather.zones.entries()) {
      if (!(zone.kind === 'shrink' ? shrinks : stretches)) continue;
      const far = Math.hypot(flat[2 * node]! - zone.peak.at.x, flat[2 * node + 1]! - zone.peak.at.y);
      if (far < least) {
        least = far;
        best = i;
      }
    }
    if (best < 0) continue;
    members[best]!.push(nodes.length);
    nodes.push(node);
  }
  return { nodes: Uint32Array.from(nodes), members: members.map((list) => Uint32Array.from(list)) };
}

/** Points along the flat rim of a zone, x y each. */
function rimSamples(zone: GatherZone, rim: Path): Float64Array {
  if (zone.rim === null) return new Float64Array();
  const piece = goesRound(zone.rim) ? rim : slicePath(rim, zone.rim.begin, zone.rim.end);
  const length = pathLength(piece);
  const out = new Float64Array(2 * (RIM_SAMPLES + 1));
  for (let i = 0; i <= RIM_SAMPLES; i++) {
    // All the way round, the last point is the first again; `pointAlong` wraps there.
    const { x, y } = pointAlong(piece, (length * i) / RIM_SAMPLES);
    out.set([x, y], 2 * i);
  }
  return out;
}

function rimLengths(samples: readonly Float64Array[], stage: WholeStrain): number[] {
  const locator = new Locator(stage.flat, stage.triangles);
  return samples.map((points) => formedLength(points, locator, stage));
}

/** Length of a row of flat points on the formed stage, mm: chords, corrected for the sag between every other. */
function formedLength(points: Float64Array, locator: Locator, stage: WholeStrain): number {
  const at: Float64Array[] = [];
  for (let i = 0; i < points.length; i += 2) {
    const place: Place = locator.find(points[i]!, points[i + 1]!);
    at.push(locator.interpolate(place, stage.formed, 3, new Float64Array(3)));
  }
  const chord = (a: Float64Array, b: Float64Array): number =>
    Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!);
  let fine = 0;
  let coarse = 0;
  for (let i = 1; i < at.length; i++) fine += chord(at[i - 1]!, at[i]!);
  for (let i = 2; i < at.length; i += 2) coarse += chord(at[i - 2]!, at[i]!);
  // Chords fall short by a fourth when halved (Richardson).
  return at.length === 0 ? 0 : fine + (fine - coarse) / 3;
}

/** @param before length at the stage before; null for the flat. @param last that of the finished tray */
function rimOf(
  { rim }: GatherZone,
  length: number,
  before: number | null,
  last: number,
): Pick<StageZone, 'rimToLose' | 'rimLost' | 'rimToCome' | 'tapeBefore' | 'tapeAfter'> {
  if (rim === null) return { rimToLose: 0, rimLost: 0, rimToCome: 0, tapeBefore: 0, tapeAfter: 0 };
  const tapeBefore = before ?? rim.flatLength;
  return {
    rimToLose: tapeBefore - length,
    rimLost: rim.flatLength - length,
    rimToCome: length - last,
    tapeBefore,
    tapeAfter: length,
  };
}

/** @param thickness of the flat sheet, mm */
function spotsOf(
  { kind }: GatherZone,
  members: Uint32Array,
  { tensor, added }: StageState,
  thickness: number,
): Pick<StageZone, 'strainAdded' | 'thickness'> {
  const sign = kind === 'shrink' ? 1 : -1;
  let most = 0;
  let extreme = -Infinity;
  for (const i of members) {
    most = Math.max(most, added[i]!);
    extreme = Math.max(extreme, -sign * (tensor[3 * i]! + tensor[3 * i + 1]!));
  }
  return { strainAdded: most, thickness: thickness * Math.exp(sign * extreme) };
}

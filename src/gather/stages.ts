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

import { GatherpanError, isUnsolved } from '../errors.ts';
import { Locator, type Place } from '../geometry/locate.ts';
import { pathLength, pointAlong } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import { equivalentStrain } from '../material/law.ts';
import type { SolveOptions } from '../solve/solveTray.ts';
import type { NeutralSurface } from '../tray/neutralSurface.ts';
import { turnedAngle } from '../tray/planLoop.ts';
import { type SectionPiece, sectionPoint } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { degrees, logStrainFromPercent, radians } from '../units.ts';
import { words } from '../words/language.ts';
import type { Gather, GatherZone } from './report.ts';
import { goesRound } from './rimMarks.ts';
import { slicePath } from './slicePath.ts';
import { type SolvedTray, solvedFor, solveInput, solveSpec } from './solvedTray.ts';
import { type WholeStrain, wholeStrain } from './wholeStrain.ts';
import { ZONE_THRESHOLD } from './zones.ts';

/** Stages when nothing else is said. */
export const DEFAULT_STAGES = 3;
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

/** Strain added at each followed node of the blank, stage by stage; for the anneals. */
export interface StagePlan {
  readonly stages: readonly Stage[];
  /** Equivalent strain added per stage and followed node. */
  readonly added: readonly Float64Array[];
}

/** The angles of a tray's stages, degrees, the last one its wall's own. */
export function stageAngles(spec: TraySpec, count?: number): number[] {
  const final = degrees(turnedAngle(spec.section.draft));
  if (count === undefined && spec.forming.stages !== undefined) {
    const below = [...new Set(spec.forming.stages)].filter((angle) => angle < final - 1e-9);
    return [...below.sort((a, b) => a - b), final];
  }
  const stages = count ?? DEFAULT_STAGES;
  return Array.from({ length: stages }, (_, k) => (final * (k + 1)) / stages);
}

/** Whether the rim is turned into a lip. */
const hasLip = ({ section }: NeutralSurface): boolean =>
  section.pieces.some(({ kind }, number) => number > 0 && kind === 'bend');

/** The neutral surface with the wall turned up to an angle only, degrees, and no lip turned yet. */
export function stageSurface(surface: NeutralSurface, angle: number): NeutralSurface {
  const { section } = surface;
  const bend = section.pieces[0]!;
  const length = Math.min(bend.length, bend.radius * radians(angle));
  if (length === bend.length && !hasLip(surface)) return surface;
  const first: SectionPiece = { ...bend, length };
  const at = sectionPoint(first, 1, { run: 0, height: 0, angle: 0, developed: 0 });
  const wall: SectionPiece = { kind: 'straight', length: section.developed - length, radius: 0, ...at };
  return {
    ...surface,
    section: { ...section, pieces: [first, wall], wallPiece: section.wallPiece < 0 ? -1 : 1 },
  };
}

/** What a stage plan is made for: a solved pattern has all of it. */
export interface PlanInput {
  readonly spec: TraySpec;
  readonly workedRim: Path;
  readonly gather: Pick<Gather, 'zones'>;
}

/**
 * Solves the stages of a tray.
 *
 * @param angles degrees, ascending, the last one the finished wall's
 * @throws GatherpanError NOT_SOLVED when a stage has no equilibrium
 */
export function stagePlan(
  input: PlanInput,
  angles: readonly number[],
  options: Partial<SolveOptions> = {},
): StagePlan {
  const { spec } = input;
  const { surface } = solveInput(spec);
  const final = solvedFor(input, options);
  const finished = wholeStrain(final);
  const nodes = zoneNodes(input, finished);
  const samples = input.gather.zones.map((zone) => rimSamples(zone, input.workedRim));
  let before: StageState | null = null;
  const stages: Stage[] = [];
  const added: Float64Array[] = [];
  const steps = angles.map((angle) => ({ angle, lip: false, shape: stageSurface(surface, angle) }));
  if (hasLip(surface)) steps.push({ angle: angles[angles.length - 1]!, lip: true, shape: surface });
  for (const [number, { angle, lip, shape }] of steps.entries()) {
    const solved = (): SolvedTray => stageSolved(spec, options, shape, number + 1, angle);
    const whole = shape === surface ? finished : wholeStrain(solved());
    const state = followed(whole, finished, nodes, samples, whole === finished);
    stages.push({
      angle,
      lip,
      zones: input.gather.zones.map((zone, i) => zoneStage(i, zone, state, before, final)),
    });
    added.push(strainAdded(state, before, final));
    before = state;
  }
  return { stages, added };
}

/** A stage solved. @throws GatherpanError NOT_SOLVED naming the stage when it has no equilibrium */
function stageSolved(
  spec: TraySpec,
  options: Partial<SolveOptions>,
  shape: NeutralSurface,
  number: number,
  angle: number,
): SolvedTray {
  try {
    return solveSpec(spec, options, shape);
  } catch (error) {
    if (!isUnsolved(error)) throw error;
    const say = words().messages.solve;
    throw new GatherpanError('NOT_SOLVED', say.stageNotSettled(String(number), angle.toFixed(0)));
  }
}

interface StageState {
  /** Strain tensors of the followed nodes, 3 each. */
  readonly tensor: Float64Array;
  /** Which followed nodes belong to each zone. */
  readonly members: readonly Uint32Array[];
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

function followed(
  stage: WholeStrain,
  finished: WholeStrain,
  { nodes, members }: ZoneNodes,
  samples: readonly Float64Array[],
  isFinished: boolean,
): StageState {
  const locator = new Locator(stage.flat, stage.triangles);
  const tensor = new Float64Array(3 * nodes.length);
  const values = new Float64Array(3);
  for (const [i, node] of nodes.entries()) {
    if (isFinished) {
      tensor.set(finished.tensor.subarray(3 * node, 3 * node + 3), 3 * i);
      continue;
    }
    const place = locator.find(finished.flat[2 * node]!, finished.flat[2 * node + 1]!);
    tensor.set(locator.interpolate(place, stage.tensor, 3, values), 3 * i);
  }
  return { tensor, members, rimLength: samples.map((points) => formedLength(points, locator, stage)) };
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

function strainAdded(state: StageState, before: StageState | null, final: SolvedTray): Float64Array {
  const out = new Float64Array(state.tensor.length / 3);
  for (let i = 0; i < out.length; i++) {
    const difference = (k: number): number => state.tensor[3 * i + k]! - (before?.tensor[3 * i + k] ?? 0);
    out[i] = equivalentStrain(final.solution.law, difference(0), difference(1), 2 * difference(2));
  }
  return out;
}

function zoneStage(
  number: number,
  zone: GatherZone,
  state: StageState,
  before: StageState | null,
  final: SolvedTray,
): StageZone {
  const added = strainAdded(state, before, final);
  const sign = zone.kind === 'shrink' ? 1 : -1;
  let most = 0;
  let extreme = -Infinity;
  for (const i of state.members[number]!) {
    most = Math.max(most, added[i]!);
    extreme = Math.max(extreme, -sign * (state.tensor[3 * i]! + state.tensor[3 * i + 1]!));
  }
  const flatLength = zone.rim?.flatLength ?? 0;
  const rimLost = zone.rim === null ? 0 : flatLength - state.rimLength[number]!;
  const lostBefore = zone.rim === null || before === null ? 0 : flatLength - before.rimLength[number]!;
  return {
    zone: number,
    strainAdded: most,
    rimToLose: rimLost - lostBefore,
    rimLost,
    thickness: final.sheet.thickness * Math.exp(sign * extreme),
  };
}

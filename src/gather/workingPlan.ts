/** The working plan of a tray: stages, anneals, tucks, grain and trim, all computed for this tray. */

import { largest } from '../largest.ts';
import { type ActCautions, cautionsOf } from '../material/cautions.ts';
import { resolveSheet } from '../material/sheets.ts';
import { type Temper, temperFor } from '../material/temper.ts';
import { type SolveOptions, StructureCache } from '../solve/solveTray.ts';
import { formingActs, hasWeldedCorners } from './acts.ts';
import { annealPlaces, annealsFrom } from './annealPlaces.ts';
import { type AnnealPlan, annealPlan, annealsAt } from './anneals.ts';
import { type GrainAdvice, grainAdvice } from './grain.ts';
import type { Gather, TrimBand, TuckPlan, Verdict } from './report.ts';
import { solvedFor } from './solvedTray.ts';
import { endsAsked, endsByWork } from './stageEnds.ts';
import { type PlanInput, type Stage, stagesOf } from './stages.ts';
import { Way } from './way.ts';
import { type RoughWay, roughWay } from './work.ts';

export interface WorkingPlan {
  readonly verdict: Verdict;
  readonly stages: readonly Stage[];
  readonly anneals: AnnealPlan;
  readonly tucks: readonly TuckPlan[];
  readonly grain: GrainAdvice;
  /** Null where one of the hands has no equilibrium. */
  readonly trimBand: TrimBand | null;
  /** Of all that is done on the way. */
  readonly cautions: readonly ActCautions[];
}

export interface PlanOptions {
  /** Number of stages; the tray file's own, or 3, when not given. */
  readonly stages?: number;
}

/** The stages and the anneals between them: the part of the plan that a shop card has, at a third of its work. */
export type Course = Pick<WorkingPlan, 'stages' | 'anneals'>;

/**
 * The course of work on a solved pattern. Where nobody says at which angles the stages end, they end where it is
 * annealed, and what lies between is divided by work.
 *
 * @param pattern what `developTray` returns; not changed
 * @throws GatherpanError NOT_SOLVED when a stage has no equilibrium
 */
export const courseOf = (
  pattern: PlanInput,
  options: Pick<PlanOptions, 'stages'> = {},
  solve?: Partial<SolveOptions>,
): Course => shapedCourse(pattern, options, solve).course;

/** The course, and the way on which its stages lie. @throws GatherpanError as `courseOf` */
export function shapedCourse(
  pattern: PlanInput,
  options: Pick<PlanOptions, 'stages'> = {},
  solve: Partial<SolveOptions> = { structures: new StructureCache(32) },
): { readonly course: Course; readonly way: Way } {
  const worked = wayOf(pattern, solve);
  const { way, temper, rough } = worked;
  const angles = endsOn(pattern, worked, options.stages);
  const places = rough === null ? [] : annealPlaces(rough.way, rough.budget, angles);
  const stages = stagesOf(pattern, way, angles);
  for (const place of places) way.wall(way.angleOf(place));
  const anneals = annealPlan(
    annealsAt(way, places),
    angles,
    way.work(places.at(-1) ?? 0, way.end),
    resolveSheet(pattern.spec.sheet).material,
    temper,
  );
  return { course: { stages, anneals }, way };
}

/** The angles at which the stages of the course end, degrees, without the one of the lip. */
export const stageAngles = (pattern: PlanInput, stages?: number): number[] =>
  endsOn(pattern, wayOf(pattern, { structures: new StructureCache(32) }), stages);

/** A way, in what temper it is gone, and roughly where it is annealed on it; null where it is not. */
interface WorkedWay {
  readonly way: Way;
  readonly temper: Temper;
  readonly rough: RoughWay | null;
}

function wayOf(pattern: PlanInput, solve: Partial<SolveOptions>): WorkedWay {
  const { spec, gather } = pattern;
  const temper = temperFor(resolveSheet(spec.sheet).material, gather.work);
  const way = new Way(solvedFor(pattern, solve), solve);
  const count = (gather.anneals ?? 0) - Number(temper.annealedFirst);
  if (count <= 0) return { way, temper, rough: null };
  const straight = largest(way.final.strains.equivalent);
  const rough = roughWay(spec, straight, temper.strainBudget);
  return { way, temper, rough: { ...rough, budget: sharedOut(rough, count) } };
}

/** The budget; on the verge of one anneal more or less, the work that is used up by each of as many as were counted. */
function sharedOut({ way, budget }: RoughWay, count: number): number {
  let share = budget;
  for (let k = 0; k < MOST_SHARES && annealsFrom(way, 0, share) !== count; k++)
    share *= annealsFrom(way, 0, share) > count ? 1 + SHARE_STEP : 1 - SHARE_STEP;
  return share;
}
const [MOST_SHARES, SHARE_STEP] = [30, 0.01];

function endsOn({ spec: { forming } }: PlanInput, { way, rough }: WorkedWay, asked?: number): number[] {
  if (forming.stages !== undefined && asked === undefined) return endsAsked(way, forming.stages);
  return rough === null
    ? endsByWork(way, [], asked)
    : endsByWork(rough.way, annealPlaces(rough.way, rough.budget, [way.wallAngle]), asked);
}

/**
 * The working plan of a solved pattern.
 *
 * @param pattern what `developTray` returns; not changed
 * @throws GatherpanError NOT_SOLVED when a stage or a hand has no equilibrium
 */
export function workingPlan(
  pattern: PlanInput & { readonly gather: Gather },
  options: PlanOptions = {},
): WorkingPlan {
  const { spec, gather } = pattern;
  const solve = { structures: new StructureCache(32) };
  const course = courseOf(pattern, options, solve);
  const { material } = resolveSheet(spec.sheet);
  return {
    verdict: gather.verdict,
    ...course,
    tucks: gather.tucks,
    grain: grainAdvice(spec, gather.zones, solve, solvedFor(pattern, solve)),
    trimBand: gather.trimBand,
    cautions: cautionsOf(
      formingActs(material, course.anneals.steps.length, hasWeldedCorners(spec)),
      material,
    ),
  };
}

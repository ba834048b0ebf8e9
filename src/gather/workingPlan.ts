/** The working plan of a tray: stages, anneals, tucks, grain and trim, all computed for this tray. */

import { type ActCautions, cautionsOf } from '../material/cautions.ts';
import { resolveSheet } from '../material/sheets.ts';
import { type Temper, temperFor } from '../material/temper.ts';
import { type SolveOptions, StructureCache } from '../solve/solveTray.ts';
import { formingActs, hasWeldedCorners } from './acts.ts';
import { type AnnealPlan, annealPlaces, annealPlan } from './anneals.ts';
import { type GrainAdvice, grainAdvice } from './grain.ts';
import type { Gather, TrimBand, TuckPlan, Verdict } from './report.ts';
import { solvedFor } from './solvedTray.ts';
import { endsAsked, endsByWork } from './stageEnds.ts';
import { type PlanInput, type Stage, stagesOf } from './stages.ts';
import { Way } from './way.ts';

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
export function courseOf(
  pattern: PlanInput,
  options: Pick<PlanOptions, 'stages'> = {},
  solve: Partial<SolveOptions> = { structures: new StructureCache(32) },
): Course {
  const { way, temper, count } = wayOf(pattern, solve);
  const angles = endsOn(pattern, { way, temper, count }, options.stages);
  const places = annealPlaces(way, temper.strainBudget, count, angles);
  const leftOver = way.work(places.at(-1)?.place ?? 0, way.end);
  return {
    stages: stagesOf(pattern, way, angles),
    anneals: annealPlan(places, angles, leftOver, resolveSheet(pattern.spec.sheet).material, temper),
  };
}

/** The angles at which the stages of the course end, degrees, without the one of the lip. */
export const stageAngles = (pattern: PlanInput, stages?: number): number[] =>
  endsOn(pattern, wayOf(pattern, { structures: new StructureCache(32) }), stages);

/** A way, in what temper it is gone, and how often it is annealed on it. */
interface WorkedWay {
  readonly way: Way;
  readonly temper: Temper;
  readonly count: number;
}

function wayOf(pattern: PlanInput, solve: Partial<SolveOptions>): WorkedWay {
  const { work, anneals } = pattern.gather;
  const temper = temperFor(resolveSheet(pattern.spec.sheet).material, work);
  const way = new Way(solvedFor(pattern, solve), solve);
  const count = (anneals ?? 0) - Number(temper.annealedFirst);
  if (count > 0) way.solvePlaces();
  return { way, temper, count };
}

function endsOn(
  { spec: { forming } }: PlanInput,
  { way, temper, count }: WorkedWay,
  asked?: number,
): number[] {
  return forming.stages === undefined || asked !== undefined
    ? endsByWork(way, annealPlaces(way, temper.strainBudget, count, [way.wallAngle]), asked)
    : endsAsked(way, forming.stages);
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

/** The working plan of a tray: stages, anneals, tucks, grain and trim, all computed for this tray. */

import { type ActCautions, cautionsOf } from '../material/cautions.ts';
import { resolveSheet } from '../material/sheets.ts';
import { type SolveOptions, StructureCache } from '../solve/solveTray.ts';
import { formingActs, hasWeldedCorners } from './acts.ts';
import { type AnnealPlan, annealPlan } from './anneals.ts';
import { type GrainAdvice, grainAdvice } from './grain.ts';
import type { Gather, TrimBand, TuckPlan, Verdict } from './report.ts';
import { solvedFor } from './solvedTray.ts';
import { type PlanInput, type Stage, stageAngles, stagePlan } from './stages.ts';

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
 * The course of work on a solved pattern.
 *
 * @param pattern what `developTray` returns; not changed
 * @throws GatherpanError NOT_SOLVED when a stage has no equilibrium
 */
export function courseOf(
  pattern: PlanInput,
  options: Pick<PlanOptions, 'stages'> = {},
  solve: Partial<SolveOptions> = { structures: new StructureCache(32) },
): Course {
  const { spec } = pattern;
  const { stages, added } = stagePlan(pattern, stageAngles(spec, options.stages), solve);
  return { stages, anneals: annealPlan(added, resolveSheet(spec.sheet).material) };
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

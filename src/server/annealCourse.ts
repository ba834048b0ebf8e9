/** When a tray is annealed on its way. */
import { courseOf } from '../gather/workingPlan.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { AnnealCourse } from './anneals.ts';

/** @throws GatherpanError NOT_SOLVED when a stage has no equilibrium */
export function annealCourse(pattern: FlatPattern): AnnealCourse {
  const { stages, anneals } = courseOf(pattern);
  return anneals.steps.map(({ when, stage }) => ({ when, stage, angle: stages[stage]!.angle }));
}

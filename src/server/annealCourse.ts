/** When a tray is annealed on its way. */
import { courseOf } from '../gather/workingPlan.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { AnnealCourse } from './anneals.ts';

/** @throws GatherpanError NOT_SOLVED when a stage has no equilibrium */
export function annealCourse(pattern: FlatPattern): AnnealCourse {
  return courseOf(pattern).anneals.steps.map(({ when, stage, angle }) => ({ when, stage, angle }));
}

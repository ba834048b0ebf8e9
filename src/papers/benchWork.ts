/** A tray's work at the bench: solved stage by stage, as sheets and as shapes. */
import { type StageShape, stageShapes } from '../gather/stageShapes.ts';
import { type Course, type PlanOptions, shapedCourse } from '../gather/workingPlan.ts';
import { largest } from '../largest.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { BenchOptions, BenchSheet } from './benchSheet.ts';
import { benchSheets } from './benchSheets.ts';

export interface BenchWork {
  readonly course: Course;
  readonly sheets: readonly BenchSheet[];
  /** The flat blank and the end of each stage. */
  readonly shapes: readonly StageShape[];
}

/** @throws GatherpanError NOT_SOLVED when a stage has no equilibrium */
export function benchWork(
  pattern: FlatPattern,
  options: BenchOptions & Pick<PlanOptions, 'stages'>,
): BenchWork {
  const { course, way } = shapedCourse(
    pattern,
    options.stages === undefined ? {} : { stages: options.stages },
  );
  const shapes = stageShapes(way, course.stages);
  return { course, shapes, sheets: benchSheets(pattern, course, shapes, options) };
}

/** How dark the metal of the most gather still to come is shown. */
const DARKEST = 0.62;

/** By how much each node of a shape is darker than the light makes it: the more, the more gather is still to come. */
export function darkness(shapes: readonly StageShape[], shape: number): Float64Array {
  const most = Math.max(largest(shapes[0]!.toCome), 1e-9);
  return shapes[shape]!.toCome.map((percent) => (DARKEST * percent) / most);
}

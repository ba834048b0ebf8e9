/**
 * What is worked by at the bench, from before the first blow to after the last: one sheet for each part of the work, as
 * plain data. The bench view shows a sheet as a screen, the paper as a page.
 */
import type { StageShape } from '../gather/stageShapes.ts';
import type { Course } from '../gather/workingPlan.ts';
import { cautionList } from '../material/cautions.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { sentences } from '../words/statement.ts';
import type { BenchOptions, BenchSheet, Made } from './benchSheet.ts';
import { givenDecimals, lengthWriter, roundText, withUnit } from './lengths.ts';
import { straightenSheet, trimSheet, weldSheet } from './sheetsAfter.ts';
import { markingSheet, toolSheet } from './sheetsBefore.ts';
import { stageSheet } from './stageSheet.ts';

/** All sheets of a tray in the order of the work. @param shapes the flat blank and the end of each stage */
export function benchSheets(
  pattern: FlatPattern,
  course: Course,
  shapes: readonly StageShape[],
  options: BenchOptions,
): BenchSheet[] {
  const { unit, words } = options;
  const { material } = pattern.sheet;
  const made: Made = {
    trialBend: 0,
    ...options,
    pattern,
    course,
    mm: (length, decimals = 1) => withUnit(length, unit, decimals),
    given: (length) => withUnit(length, unit, givenDecimals(unit, length)),
    round: (length) => roundText(length, unit),
    cautions: (acts) => sentences(cautionList(acts, material), words, lengthWriter(unit)),
  };
  return [
    toolSheet(made),
    markingSheet(made, shapes),
    ...course.stages.map((stage, number) => stageSheet(made, stage, number, shapes)),
    trimSheet(made),
    straightenSheet(made),
    weldSheet(made),
  ];
}

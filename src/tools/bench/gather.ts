/** Bench of the gather: what zones and verdict add to a solve, the search for changes, the stage plan. */

import { gatherOf } from '../../gather/gather.ts';
import { courseOf } from '../../gather/workingPlan.ts';
import { searchChanges } from '../../pattern/changes.ts';
import { flatPatternOf } from '../../pattern/developed.ts';
import { developTray } from '../../pattern/developTray.ts';
import { StructureCache } from '../../solve/solveTray.ts';
import { neutralSurface } from '../../tray/neutralSurface.ts';
import { workedTray } from '../../tray/workedTray.ts';
import { type Measured, timeOf } from './measure.ts';
import { demoTrays } from './solve.ts';

/** Share of a warm solve that zones and verdict may add, per cent. */
const OVERHEAD = 20;
/** Longest search for changes, ms. */
const SEARCH = 2000;
/** Solves that a stage plan may take as long as. */
const PLAN_SOLVES = 10;

export async function gatherTimes(): Promise<Measured[]> {
  const structures = new StructureCache(64);
  const out: Measured[] = [];
  for (const spec of demoTrays()) {
    const pattern = flatPatternOf(developTray(spec, { solve: { structures } }));
    const { field, workedRim: rim, sheet } = pattern;
    const blank = { field, rim, freeWidth: neutralSurface(workedTray(spec)).section.developed };
    const whole = await timeOf(`${spec.name}: with gather`, 15, () =>
      flatPatternOf(developTray(spec, { solve: { structures } })),
    );
    const gather = await timeOf(`${spec.name}: gather alone`, 25, () =>
      gatherOf(spec, sheet, blank, pattern.gather.work, null),
    );
    const without = whole.median - gather.median;
    out.push({
      name: `${spec.name}: zones and verdict add`,
      median: (100 * gather.median) / without,
      unit: '%',
      runs: 15,
      bar: OVERHEAD,
      note: `${gather.median.toFixed(1)} ms on ${without.toFixed(1)} ms`,
    });
    out.push(
      await timeOf(`${spec.name}: search for changes`, 3, () => searchChanges(spec), {
        bar: SEARCH,
        note: pattern.gather.verdict.word,
      }),
    );
    const plan = await timeOf(`${spec.name}: stage plan`, 5, () => courseOf(pattern, {}, { structures }));
    out.push({
      name: `${spec.name}: stage plan, in solves`,
      median: plan.median / without,
      unit: 'solves',
      runs: 5,
      bar: PLAN_SOLVES,
      note: `${plan.median.toFixed(0)} ms`,
    });
  }
  return out;
}

/** `gatherpan plan`: solves each tray and tells how to work it; writes nothing. */
import { GatherpanError } from '../../errors.ts';
import type { WorkingPlan } from '../../gather/workingPlan.ts';
import type { BenchSheet } from '../../papers/benchSheet.ts';
import { stagesWithBends } from '../../papers/benchStages.ts';
import { ownUnit, ownWriter } from '../../papers/lengths.ts';
import { MOST_STAGES } from '../../tray/limits.ts';
import { words } from '../../words/language.ts';
import { inWords, sentences } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';
import { titledLine } from '../figures.ts';
import { gatherLines, planLines, proposalLines } from '../gatherLines.ts';
import { eachTray } from '../outcomes.ts';
import type { DrawingOptions } from '../planDrawing.ts';
import { searchTime } from '../searchTime.ts';
import { sheetLines } from '../sheetsAtBench.ts';
import { readTrays } from '../trays.ts';

export interface PlanOptions extends DrawingOptions {
  /** Number of stages, as typed. */
  readonly stages?: string;
  /** Seconds a tray may take, as typed. */
  readonly limit?: string;
  /** Everything that the bench view shows, in its order. */
  readonly bench?: boolean;
  readonly json?: boolean;
}

/**
 * Runs the command.
 *
 * @returns the exit code, the worst of all trays; 1 for a tray that is not to be made in one piece
 * @throws GatherpanError BAD_INPUT for a number of stages that is not acceptable
 */
export async function plan(
  files: readonly string[],
  options: PlanOptions,
  dependencies: Dependencies,
): Promise<number> {
  const stages = stageCount(options.stages);
  const jobs = await readTrays(files, dependencies, { ...options, path: 'recognise' });
  const plans = new Map<string, WorkingPlan>();
  const atBench = new Map<string, readonly BenchSheet[]>();
  const benchWords = options.bench === true ? await words().bench() : null;
  return eachTray(
    jobs,
    options,
    dependencies,
    async ({ spec }) => {
      const developTray = await dependencies.load.developTray();
      const { workingPlan, searchChanges } = await dependencies.load.gather();
      const pattern = developTray(spec);
      if (pattern.kind === 'no flat') return { pattern, files: [] };
      const made = workingPlan(pattern, stages === undefined ? {} : { stages });
      plans.set(pattern.name, made);
      if (benchWords !== null) {
        const { benchWork } = await import('../../papers/benchWork.ts');
        const asked = stages === undefined ? {} : { stages };
        const { sheets } = benchWork(pattern, {
          unit: ownUnit(spec),
          words: words(),
          bench: benchWords,
          ...asked,
        });
        atBench.set(pattern.name, sheets);
      }
      const { tucks: _tucks, ...plain } = made;
      return {
        pattern,
        files: [],
        changes: searchChanges(pattern.spec, pattern.gather.verdict.word, searchTime()),
        more: {
          plan: inWords({ ...plain, stages: stagesWithBends(pattern, made) }, words()),
          ...(benchWords !== null ? { bench: atBench.get(pattern.name) } : {}),
        },
      };
    },
    ({ pattern, changes }) =>
      [
        `${pattern.name}\n`,
        gatherLines(pattern, words()),
        benchWords !== null
          ? sheetLines(atBench.get(pattern.name)!, benchWords)
          : planLines(plans.get(pattern.name)!, pattern, words()),
        changes === undefined ? '' : proposalLines(changes, pattern, words()),
        ...sentences(pattern.notes, words(), ownWriter(pattern.spec)).map((note) =>
          titledLine(words().command.output.titles.note, note),
        ),
      ].join(''),
  );
}

function stageCount(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const count = Number(text);
  if (/^\d+$/.test(text) && count >= 1 && count <= MOST_STAGES) return count;
  throw new GatherpanError(
    'BAD_INPUT',
    words().messages.cli.stages(JSON.stringify(text), String(MOST_STAGES)),
  );
}

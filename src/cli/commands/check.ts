/** `gatherpan check`: solves each tray and tells its figures; writes nothing. */
import { ownWriter } from '../../papers/lengths.ts';
import { verdictOn } from '../../pattern/developed.ts';
import { words } from '../../words/language.ts';
import { sentences } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';
import { figureLines, titledLine } from '../figures.ts';
import { gatherLines, proposalLines } from '../gatherLines.ts';
import { eachTray } from '../outcomes.ts';
import type { DrawingOptions } from '../planDrawing.ts';
import { searchTime } from '../searchTime.ts';
import type { StepOptions } from '../stepTrays.ts';
import { readTrays } from '../trays.ts';

export interface CheckOptions extends StepOptions, DrawingOptions {
  /** Search what to change also where the tray can be worked with care. */
  readonly changes?: boolean;
  readonly json?: boolean;
}

/**
 * Runs the command.
 *
 * For a tray that is not to be made in one piece it also searches what to change.
 *
 * @returns the exit code, the worst of all trays; 1 for a tray that is not to be made in one piece
 */
export async function check(
  files: readonly string[],
  options: CheckOptions,
  dependencies: Dependencies,
): Promise<number> {
  const jobs = await readTrays(files, dependencies, options);
  return eachTray(
    jobs,
    options,
    dependencies,
    async ({ spec, pattern: solved }) => {
      const pattern = solved ?? (await dependencies.load.developTray())(spec);
      const { word } = verdictOn(pattern);
      // A part that was solved as it is has no sizes to change.
      if (solved !== undefined || (word !== 'not in one piece' && options.changes !== true))
        return { pattern, files: [] };
      const { searchChanges } = await dependencies.load.gather();
      return { pattern, files: [], changes: searchChanges(pattern.spec, word, searchTime()) };
    },
    ({ pattern, changes }) => {
      const { solver, warnings } = pattern.report;
      const { titles, ...said } = words().command.output;
      const lengths = ownWriter(pattern.spec);
      return [
        `${pattern.name}\n`,
        figureLines(pattern, words()),
        gatherLines(pattern, words()),
        ...(changes === undefined ? [] : [proposalLines(changes, pattern, words())]),
        titledLine(
          titles.solved,
          said.solved(String(solver.triangles), String(solver.steps), solver.residual.toExponential(1)),
        ),
        ...(warnings.length === 0
          ? [titledLine(titles.warnings, said.noWarnings)]
          : sentences(warnings, words(), lengths).map((warning) => titledLine(titles.warning, warning))),
        ...sentences(pattern.notes, words(), lengths).map((note) => titledLine(titles.note, note)),
      ].join('');
    },
  );
}

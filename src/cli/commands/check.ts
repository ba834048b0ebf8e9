/** `gatherpan check`: solves each tray and tells its figures; writes nothing. */
import type { ChangeSearch } from '../../gather/changes.ts';
import { words } from '../../words/language.ts';
import type { Dependencies } from '../dependencies.ts';
import { figureLines, titledLine } from '../figures.ts';
import { changeLines, gatherLines } from '../gatherLines.ts';
import { eachTray } from '../outcomes.ts';
import { progressLine } from '../progress.ts';
import type { StepOptions } from '../stepTrays.ts';
import { readTrays } from '../trays.ts';

export interface CheckOptions extends StepOptions {
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
  const searched = new Map<string, ChangeSearch>();
  return eachTray(
    jobs,
    options.json === true,
    dependencies,
    progressLine(dependencies),
    async ({ spec, pattern: solved }) => {
      const pattern = solved ?? (await dependencies.load.developTray())(spec);
      const { word } = pattern.gather.verdict;
      const refused = word === 'not in one piece';
      const exit = refused ? 1 : 0;
      // A part that was solved as it is has no sizes to change.
      if (solved !== undefined || (!refused && options.changes !== true)) return { pattern, files: [], exit };
      const { searchChanges } = await dependencies.load.gather();
      const changes = searchChanges(pattern.spec, word, words());
      searched.set(pattern.name, changes);
      return { pattern, files: [], exit, more: { changes } };
    },
    ({ pattern }) => {
      const { solver, warnings } = pattern.report;
      const { titles, ...said } = words().command.output;
      return [
        `${pattern.name}\n`,
        figureLines(pattern, words()),
        gatherLines(pattern, words()),
        ...(searched.has(pattern.name) ? [changeLines(searched.get(pattern.name)!, words())] : []),
        titledLine(
          titles.solved,
          said.solved(
            String(solver.triangles),
            String(solver.steps),
            solver.residual.toExponential(1),
            solver.milliseconds.toFixed(0),
          ),
        ),
        ...(warnings.length === 0
          ? [titledLine(titles.warnings, said.noWarnings)]
          : warnings.map((warning) => titledLine(titles.warning, warning))),
        ...pattern.notes.map((note) => titledLine(titles.note, note)),
      ].join('');
    },
  );
}

/** `gatherpan check`: solves each tray and tells its figures; writes nothing. */
import type { Dependencies } from '../dependencies.ts';
import { figureLines } from '../figures.ts';
import { eachTray } from '../outcomes.ts';
import { progressLine } from '../progress.ts';
import { readTrays } from '../trays.ts';

export interface CheckOptions {
  readonly json?: boolean;
}

/**
 * Runs the command.
 *
 * @returns the exit code, the worst of all trays
 */
export async function check(
  files: readonly string[],
  options: CheckOptions,
  dependencies: Dependencies,
): Promise<number> {
  const jobs = await readTrays(files, dependencies);
  return eachTray(
    jobs,
    options.json === true,
    dependencies,
    progressLine(dependencies),
    async ({ spec }) => {
      const developTray = await dependencies.load.developTray();
      return { pattern: developTray(spec), files: [] };
    },
    ({ pattern }) => {
      const { solver, warnings } = pattern.report;
      return [
        `${pattern.name}\n`,
        figureLines(pattern),
        `  solved     ${solver.triangles} triangles, ${solver.steps} steps, residual ${solver.residual.toExponential(1)}, ${solver.milliseconds.toFixed(0)} ms\n`,
        ...(warnings.length === 0
          ? ['  warnings   none\n']
          : warnings.map((warning) => `  warning    ${warning}\n`)),
        ...pattern.notes.map((note) => `  note       ${note}\n`),
      ].join('');
    },
  );
}

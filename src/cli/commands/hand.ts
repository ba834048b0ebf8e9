/** `gatherpan hand`: finds a person's hand from what was measured on one trial corner; stores nothing. */
import { resolve } from 'node:path';
import { GatherpanError } from '../../errors.ts';
import { parseTray } from '../../tray/readTray.ts';
import type { Dependencies } from '../dependencies.ts';
import { errorLines } from '../errorText.ts';
import { readText, readTextFile } from '../files.ts';
import { handLines } from '../gatherLines.ts';
import { progressLine } from '../progress.ts';
import { readTrays } from '../trays.ts';

export interface HandOptions {
  readonly json?: boolean;
}

/**
 * Runs the command.
 *
 * @returns the exit code, 0
 * @throws GatherpanError when a file is not acceptable, or the measurements cannot have come from the tray
 */
export async function hand(
  tray: string,
  measurements: string,
  options: HandOptions,
  dependencies: Dependencies,
): Promise<number> {
  if (tray === '-' && measurements === '-')
    throw new GatherpanError('BAD_INPUT', '- was given twice; standard input can be read once.');
  const [job] = await readTrays([tray], dependencies);
  if (job === undefined || 'error' in job) throw job?.error;
  if (job.pattern !== undefined) {
    throw new GatherpanError(
      'BAD_INPUT',
      'The tray is a STEP part that was solved as it is; a hand is found on a tray file.',
    );
  }
  const { fitHand, readMeasurements } = await dependencies.load.gather();
  const text = await measurementsText(measurements, dependencies);
  const measured = readMeasurements(parsed(text));
  const progress = progressLine(dependencies);
  progress.show(`${job.spec.name}: solving for the hand`);
  try {
    const fit = fitHand(job.spec, measured);
    progress.clear();
    dependencies.out(
      options.json === true ? `${JSON.stringify(fit, null, 2)}\n` : `${job.spec.name}\n${handLines(fit)}`,
    );
    return 0;
  } finally {
    progress.clear();
  }
}

const measurementsText = (file: string, dependencies: Dependencies): Promise<string> =>
  file === '-' ? readText(dependencies.stdin) : readTextFile(resolve(dependencies.folder, file));

/** The reader of tray files gives the line and column of a fault; only the name of the file differs. */
function parsed(text: string): unknown {
  try {
    return parseTray(text);
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    throw new GatherpanError(
      error.code,
      errorLines(error).trim().replace('The tray file', 'The measurements file'),
    );
  }
}

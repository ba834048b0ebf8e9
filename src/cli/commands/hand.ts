/** `gatherpan hand`: finds a person's hand from what was measured on one trial corner; stores nothing. */
import { resolve } from 'node:path';
import { GatherpanError } from '../../errors.ts';
import { jsonFault } from '../../tray/jsonFault.ts';
import { MAXIMUM_FILE_SIZE } from '../../tray/limits.ts';
import { words } from '../../words/language.ts';
import { inWords } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';
import { readText, readTextFile } from '../files.ts';
import { handLines } from '../gatherLines.ts';
import type { DrawingOptions } from '../planDrawing.ts';
import { progressLine } from '../progress.ts';
import { readTrays } from '../trays.ts';

export interface HandOptions extends DrawingOptions {
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
    throw new GatherpanError('BAD_INPUT', words().messages.cli.standardInputTwice);
  const [job] = await readTrays(
    [tray],
    dependencies,
    options.units === undefined ? {} : { units: options.units },
  );
  if (job === undefined || 'error' in job) throw job?.error;
  if (job.pattern !== undefined) {
    throw new GatherpanError('BAD_INPUT', words().messages.cli.partHasNoHand);
  }
  const { fitHand, readMeasurements } = await dependencies.load.gather();
  const text = await measurementsText(measurements, dependencies);
  const measured = readMeasurements(parsed(text));
  const progress = progressLine(dependencies);
  progress.show(words().command.output.progress.hand(job.spec.name));
  try {
    const fit = fitHand(job.spec, measured);
    progress.clear();
    dependencies.out(
      options.json === true
        ? `${JSON.stringify(inWords(fit, words()), null, 2)}\n`
        : `${job.spec.name}\n${handLines(fit, words())}`,
    );
    return 0;
  } finally {
    progress.clear();
  }
}

const measurementsText = (file: string, dependencies: Dependencies): Promise<string> =>
  file === '-' ? readText(dependencies.stdin) : readTextFile(resolve(dependencies.folder, file));

/** As `parseTray` reads tray files, but the sentences name another file. @throws GatherpanError */
function parsed(text: string): unknown {
  const said = words().messages.cli;
  if (text.length > MAXIMUM_FILE_SIZE) {
    throw new GatherpanError(
      'TOO_LARGE',
      said.measurementsTooLarge((text.length / 1e6).toFixed(1), String(MAXIMUM_FILE_SIZE / 1e6)),
    );
  }
  const json = text.replace(/^\uFEFF/, '');
  if (json.trim() === '') throw new GatherpanError('BAD_INPUT', said.measurementsEmpty);
  try {
    return JSON.parse(json);
  } catch {
    throw new GatherpanError('BAD_INPUT', said.measurementsNotJson(jsonFault(json)));
  }
}

/** `gatherpan hand`: finds a person's hand from what was measured on one trial corner; stores nothing. */
import { resolve } from 'node:path';
import { GatherpanError } from '../../errors.ts';
import type { NoFlat } from '../../pattern/flatPattern.ts';
import { jsonFault } from '../../tray/jsonFault.ts';
import { MAXIMUM_FILE_SIZE } from '../../tray/limits.ts';
import { words } from '../../words/language.ts';
import { inWords } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';
import { readText, readTextFile } from '../files.ts';
import { handLines } from '../gatherLines.ts';
import { eachTray } from '../outcomes.ts';
import type { DrawingOptions } from '../planDrawing.ts';
import { progressLine } from '../progress.ts';
import { secondsOf } from '../timeLimit.ts';
import { type Job, readTrays } from '../trays.ts';

export interface HandOptions extends DrawingOptions {
  readonly json?: boolean;
}

/**
 * Runs the command.
 *
 * @returns the exit code: 0, or that of the verdict on a tray without a flat, of which no trial corner can be made
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
  const { spec } = job;
  const { fitHand, readMeasurements } = await dependencies.load.gather();
  const text = await measurementsText(measurements, dependencies);
  const measured = readMeasurements(parsed(text));
  const progress = progressLine(dependencies);
  progress.show(words().command.output.progress.hand(spec.name));
  try {
    const pattern = (await dependencies.load.developTray())(spec);
    if (pattern.kind === 'no flat') return await tellNoFlat(job, pattern, options, dependencies);
    const fit = fitHand(spec, measured);
    progress.clear();
    dependencies.out(
      options.json === true
        ? `${JSON.stringify(inWords(fit, words()), null, 2)}\n`
        : `${spec.name}\n${handLines(fit, words())}`,
    );
    return 0;
  } finally {
    progress.clear();
  }
}

/** As every command tells it. */
const tellNoFlat = (
  job: Job,
  pattern: NoFlat,
  { json }: HandOptions,
  dependencies: Dependencies,
): Promise<number> =>
  eachTray(
    [job],
    json === true,
    secondsOf(),
    dependencies,
    progressLine(dependencies),
    async () => ({ pattern, files: [] }),
    () => '',
  );

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

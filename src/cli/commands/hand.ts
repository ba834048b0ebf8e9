/** `gatherpan hand`: finds a person's hand from what was measured on one trial corner, and the blank that suits it. */
import { basename, dirname, extname, relative, resolve } from 'node:path';
import { GatherpanError } from '../../errors.ts';
import type { KeptTrial } from '../../gather/keptTrials.ts';
import type { NoFlat } from '../../pattern/flatPattern.ts';
import { rimMoves } from '../../pattern/rimMoves.ts';
import { jsonFault } from '../../tray/jsonFault.ts';
import { MAXIMUM_FILE_SIZE } from '../../tray/limits.ts';
import { parseTray } from '../../tray/readTray.ts';
import { words } from '../../words/language.ts';
import { inWords } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';
import { titledLine } from '../figures.ts';
import { readText, readTextFile, writeWhole } from '../files.ts';
import { handLines, keptLine, moveLines, otherSheetLine, trialLines } from '../gatherLines.ts';
import { eachTray } from '../outcomes.ts';
import type { DrawingOptions } from '../planDrawing.ts';
import { progressLine } from '../progress.ts';
import { type Job, readTrays } from '../trays.ts';
import { choose, filesOf, type NewFile, writeFiles } from './make.ts';

export interface HandOptions extends DrawingOptions {
  /** Folder for the corrected tray file and the files of its blank; nothing is written when left out. */
  readonly out?: string;
  /** Formats of the corrected blank, separated by commas. */
  readonly format: string;
  /** File of trials in which to keep this one, under the name, with who worked it. */
  readonly keep?: string;
  readonly name?: string;
  readonly person?: string;
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
  const [job] = await readTrays([tray], dependencies, {
    path: 'recognise',
    ...(options.units === undefined ? {} : { units: options.units }),
  });
  if (job === undefined || 'error' in job) throw job?.error;
  const { spec } = job;
  const { fitHand, readMeasurements, trials } = await dependencies.load.gather();
  const given = parsed(await measurementsText(measurements, dependencies));
  const known = trials.areTrials(given) ? trials.readTrials(given) : null;
  refuseOptions(options, known !== null);
  if (known !== null && options.name === undefined) return tellTrials(known, options, dependencies);
  const trial = known === null ? null : trials.trialNamed(known, options.name!);
  const measured = trial === null ? readMeasurements(given) : null;
  const progress = progressLine(dependencies);
  progress.show(words().command.output.progress.hand(spec.name));
  try {
    const pattern = (await dependencies.load.developTray())(spec);
    if (pattern.kind === 'no flat') return await tellNoFlat(job, pattern, options, dependencies);
    const chosen = options.out === undefined ? [] : await choose(options, dependencies);
    const fit = measured === null ? null : fitHand(spec, measured);
    const forming = fit === null ? trials.formingOf(trial!) : trials.formingFrom(fit);
    const corrected = (await dependencies.load.developTray())({
      ...spec,
      name: `${spec.name}-corrected`,
      forming: { ...spec.forming, ...forming },
    });
    if (corrected.kind === 'no flat') return await tellNoFlat(job, corrected, options, dependencies);
    const moves = rimMoves(pattern, corrected);
    const files =
      options.out === undefined
        ? []
        : await writeFiles(
            [
              ...(tray === '-'
                ? []
                : [await trayFile(tray, corrected.name, forming, options.out, dependencies)]),
              ...(await filesOf(corrected, chosen, dependencies)),
            ],
            options.out,
            dependencies,
          );
    if (fit !== null && options.keep !== undefined) {
      const { name = '', person } = options;
      const { today: date } = dependencies;
      const mark = {
        name,
        ...(person === undefined ? {} : { person }),
        ...(date === undefined ? {} : { date }),
      };
      await keep(options.keep, trials.keptTrial(spec, fit, mark, given), dependencies);
    }
    progress.clear();
    const found = fit ?? { trial: trial!, otherSheet: trials.otherSheet(trial!, spec) };
    dependencies.out(
      options.json === true
        ? `${JSON.stringify(inWords({ ...found, moves, files }, words()), null, 2)}\n`
        : [
            `${spec.name}\n`,
            'trial' in found
              ? trialLines([found.trial], words()) + otherSheetLine(found, words())
              : handLines(found, spec, words()),
            moveLines(pattern.gather.hand, moves, spec, words()),
            ...(fit !== null && options.keep !== undefined
              ? [keptLine(options.name ?? '', options.keep, words())]
              : []),
            ...files.map((file) => titledLine(words().command.output.titles.wrote, file)),
          ].join(''),
    );
    return 0;
  } finally {
    progress.clear();
  }
}

/** @throws GatherpanError BAD_INPUT for options that do not go together. @param known whether the trials are kept already */
function refuseOptions({ keep, name, person }: HandOptions, known: boolean): void {
  const said = words().messages.cli.trials;
  const refuse = (sentence: string): never => {
    throw new GatherpanError('BAD_INPUT', sentence);
  };
  if (known && (keep !== undefined || person !== undefined)) refuse(said.notAgain);
  if (!known && keep !== undefined && name === undefined) refuse(said.noName);
  if (!known && keep === undefined && (name !== undefined || person !== undefined)) refuse(said.nameAlone);
}

/** What is kept, each with its hand. */
function tellTrials(known: readonly KeptTrial[], { json }: HandOptions, dependencies: Dependencies): number {
  dependencies.out(
    json === true ? `${JSON.stringify({ trials: known }, null, 2)}\n` : trialLines(known, words()),
  );
  return 0;
}

/** Puts a trial into a file of trials, made when it is not there. */
async function keep(file: string, trial: KeptTrial, dependencies: Dependencies): Promise<void> {
  const { trials } = await dependencies.load.gather();
  const path = resolve(dependencies.folder, file);
  const text = await readTextFile(path).catch((error: unknown) => {
    if (error instanceof GatherpanError && error.code === 'NOT_FOUND') return null;
    throw error;
  });
  const known = text === null ? [] : trials.readTrials(parsed(text));
  const bytes = new TextEncoder().encode(
    `${JSON.stringify({ trials: trials.withTrial(known, trial) }, null, 2)}\n`,
  );
  await writeWhole(dirname(path), basename(path), bytes);
}

/** The tray file with the hand in it; its drawing is found from the folder that it goes into. */
async function trayFile(
  tray: string,
  name: string,
  forming: object,
  out: string,
  { folder }: Dependencies,
): Promise<NewFile> {
  const path = resolve(folder, tray);
  const value = parseTray(await readTextFile(path)) as TrayObject;
  const text = JSON.stringify(
    {
      ...value,
      name,
      ...(typeof value.plan?.dxf === 'string'
        ? {
            plan: {
              ...value.plan,
              dxf: relative(resolve(folder, out), resolve(dirname(path), value.plan.dxf)),
            },
          }
        : {}),
      forming: { ...value.forming, ...forming },
    },
    null,
    2,
  );
  return {
    name: `${basename(tray, extname(tray))}-corrected.tray.json`,
    bytes: new TextEncoder().encode(`${text}\n`),
  };
}

/** A tray file as far as this command touches it; it has been read and checked before. */
interface TrayObject {
  readonly plan?: { readonly dxf?: unknown };
  readonly forming?: object;
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
    json === undefined ? {} : { json },
    dependencies,
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

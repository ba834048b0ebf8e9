/** `gatherpan hand`: finds a person's hand from what was measured on one trial corner, and the blank that suits it. */
import { basename, dirname, extname, join, relative, resolve } from 'node:path';
import { GatherpanError } from '../../errors.ts';
import type { HandFit } from '../../gather/handFit.ts';
import type { FlatPattern, NoFlat } from '../../pattern/flatPattern.ts';
import { rimMoves } from '../../pattern/rimMoves.ts';
import { jsonFault } from '../../tray/jsonFault.ts';
import { MAXIMUM_FILE_SIZE } from '../../tray/limits.ts';
import { parseTray } from '../../tray/readTray.ts';
import { words } from '../../words/language.ts';
import { inWords } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';
import { titledLine } from '../figures.ts';
import { readText, readTextFile, writeWhole } from '../files.ts';
import { handLines } from '../gatherLines.ts';
import { eachTray } from '../outcomes.ts';
import type { DrawingOptions } from '../planDrawing.ts';
import { progressLine } from '../progress.ts';
import { secondsOf } from '../timeLimit.ts';
import { type Job, readTrays } from '../trays.ts';
import { type Chosen, choose, namesOf } from './make.ts';

export interface HandOptions extends DrawingOptions {
  /** Folder for the corrected tray file and the files of its blank; nothing is written when left out. */
  readonly out?: string;
  /** Formats of the corrected blank, separated by commas. */
  readonly format: string;
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
    const chosen =
      options.out === undefined
        ? []
        : choose(await dependencies.load.registry([]), options, [], dependencies);
    const fit = fitHand(spec, measured);
    const forming = formingOf(fit);
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
        : await write(tray, corrected, forming, chosen, options.out, dependencies);
    progress.clear();
    dependencies.out(
      options.json === true
        ? `${JSON.stringify(inWords({ ...fit, moves, files }, words()), null, 2)}\n`
        : [
            `${spec.name}\n${handLines(fit, moves, words())}`,
            ...files.map((file) => titledLine(words().command.output.titles.wrote, file)),
          ].join(''),
    );
    return 0;
  } finally {
    progress.clear();
  }
}

/** What goes into the tray file. */
const formingOf = ({ hand, spread }: HandFit): { hand: number; spread?: number } => ({
  hand: Number(hand.value.toFixed(3)),
  ...(spread === null ? {} : { spread: Number(spread.value.toFixed(1)) }),
});

/** Writes the tray file with the hand in it, and the files of its blank. */
async function write(
  tray: string,
  corrected: FlatPattern,
  forming: object,
  chosen: readonly Chosen[],
  out: string,
  dependencies: Dependencies,
): Promise<string[]> {
  const folder = resolve(dependencies.folder, out);
  const contents: { name: string; bytes: Uint8Array }[] = [];
  if (tray !== '-') {
    const path = resolve(dependencies.folder, tray);
    const value = parseTray(await readTextFile(path)) as TrayObject;
    const text = JSON.stringify(
      {
        ...value,
        name: corrected.name,
        ...(typeof value.plan?.dxf === 'string'
          ? { plan: { ...value.plan, dxf: relative(folder, resolve(dirname(path), value.plan.dxf)) } }
          : {}),
        forming: { ...value.forming, ...forming },
      },
      null,
      2,
    );
    const name = `${basename(tray, extname(tray))}-corrected.tray.json`;
    contents.push({ name, bytes: new TextEncoder().encode(`${text}\n`) });
  }
  const names = namesOf(corrected.name, chosen);
  const context = dependencies.today === undefined ? {} : { date: dependencies.today };
  for (const [i, { exporter, values }] of chosen.entries())
    contents.push({ name: names[i]!, bytes: await exporter.write(corrected, values, context) });
  for (const { name, bytes } of contents) await writeWhole(folder, name, bytes);
  return contents.map(({ name }) => join(out, name));
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

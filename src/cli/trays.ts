/** The trays named on a command line, each read and checked by itself, so that one bad file stops no other. */
import { dirname, resolve } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { trayNameFrom } from '../fileName.ts';
import type { Developed } from '../pattern/flatPattern.ts';
import { parseTray, readTray } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import type { Dependencies } from './dependencies.ts';
import { readTextFile } from './files.ts';
import { type DrawingOptions, planDrawing, withDrawingUnit } from './planDrawing.ts';
import { isStepFile, readStandardInput, type StepOptions, stepJob } from './stepTrays.ts';

/** A tray of the command line, or why there is none. */
export type Job =
  /** With what became of it where reading the file has solved it already. */
  | {
      readonly file: string;
      readonly spec: TraySpec;
      readonly pattern?: Developed;
      /** How the drawing of its plan was read. */
      readonly notes?: readonly string[];
    }
  | { readonly file: string; readonly error: unknown };

/**
 * Reads every file in turn; `-` is standard input, where a STEP part is told by its first words. Never throws: a failure becomes a job with an error.
 *
 * @param options for STEP parts and drawings among the files
 */
export async function readTrays(
  files: readonly string[],
  dependencies: Dependencies,
  options: StepOptions & DrawingOptions = {},
): Promise<Job[]> {
  const jobs: Job[] = [];
  let stdinUsed = false;
  for (const file of files) {
    try {
      if (file === '-' && stdinUsed) {
        throw new GatherpanError('BAD_INPUT', words().messages.cli.standardInputTwice);
      }
      stdinUsed ||= file === '-';
      if (isStepFile(file)) {
        jobs.push(await stepJob(file, file, trayNameFrom(file), options, dependencies));
        continue;
      }
      const read =
        file === '-'
          ? await readStandardInput(dependencies.stdin)
          : { text: await readTextFile(resolve(dependencies.folder, file)) };
      if ('step' in read) {
        jobs.push(await stepJob(file, read.step, trayNameFrom(file), options, dependencies));
        continue;
      }
      const value = withDrawingUnit(parseTray(read.text), options.units);
      const folder = file === '-' ? dependencies.folder : dirname(resolve(dependencies.folder, file));
      const planDxf = await planDrawing(value, folder);
      const notes: string[] = [];
      const spec = readTray(value, {
        name: trayNameFrom(file),
        ...(planDxf === undefined ? {} : { planDxf }),
        // At once, because a tray that is then refused may be so for what was taken.
        note(sentence) {
          notes.push(sentence);
          dependencies.error(`${file}: ${sentence}\n`);
        },
      });
      jobs.push({ file, spec, ...(notes.length === 0 ? {} : { notes }) });
    } catch (error) {
      jobs.push({ file, error });
    }
  }
  return jobs;
}

/** STEP parts named on a command line, in the place of tray files. */
import { readFile, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { fileFailure } from '../batch/wholeFile.ts';
import { GatherpanError } from '../errors.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { StepGiven, StepTray } from '../step/readStepTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { Dependencies } from './dependencies.ts';

/** What may be said on the command line of parts that do not say it themselves. */
export interface StepOptions {
  readonly material?: string;
  /** mm */
  readonly thickness?: string;
  /** degrees */
  readonly grain?: string;
  /** mm */
  readonly trim?: string;
}

export const isStepFile = (file: string): boolean => /\.(step|stp)$/i.test(file);

/** Same limit as the reader's own, so that a larger file is not even loaded. */
const LARGEST = 30e6;

/** Reads a part with the kernel, which is loaded on first use. @throws GatherpanError */
export async function readStepFile(
  file: string,
  name: string,
  options: StepOptions,
  dependencies: Dependencies,
  path: StepGiven['path'] = 'either',
): Promise<StepTray> {
  const { readStepTray } = await dependencies.load.step!();
  const bytes = await stepBytes(resolve(dependencies.folder, file));
  return readStepTray(bytes, {
    name,
    path,
    material: options.material,
    thickness: number(options.thickness, 'thickness', 0.05, 20),
    grain: number(options.grain, 'grain', -360, 360),
    trim: number(options.trim, 'trim', 0, 100),
  });
}

/** A part as a job of `make` or `check`: recognised trays are solved later, other parts are solved by now. */
export async function stepJob(
  file: string,
  name: string,
  options: StepOptions,
  dependencies: Dependencies,
): Promise<{ file: string; spec: TraySpec; pattern?: FlatPattern }> {
  const tray = await readStepFile(file, name, options, dependencies);
  return tray.kind === 'tray'
    ? { file, spec: tray.spec }
    : { file, spec: tray.pattern.spec, pattern: tray.pattern };
}

async function stepBytes(path: string): Promise<Uint8Array> {
  try {
    const found = await stat(path);
    if (found.isDirectory())
      throw new GatherpanError('BAD_INPUT', 'This is a folder; a STEP file is accepted.');
    if (found.size > LARGEST) {
      throw new GatherpanError(
        'TOO_LARGE',
        `The STEP file is ${(found.size / 1e6).toFixed(1)} MB; at most ${LARGEST / 1e6} MB is accepted.`,
      );
    }
    return await readFile(path);
  } catch (error) {
    throw fileFailure(error, 'read');
  }
}

function number(text: string | undefined, name: string, least: number, most: number): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() !== '' && value >= least && value <= most) return value;
  throw new GatherpanError(
    'BAD_INPUT',
    `--${name} is ${JSON.stringify(text)}; a number from ${least} to ${most} is accepted.`,
  );
}

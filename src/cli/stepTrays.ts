/** STEP parts named on a command line, in the place of tray files. */
import { readFile, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { GatherpanError } from '../errors.ts';
import { readFailure } from '../jobs/wholeFile.ts';
import type { Developed } from '../pattern/flatPattern.ts';
import type { StepTray } from '../step/readStepTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { inUnits } from '../tray/writtenTray.ts';
import { words } from '../words/language.ts';
import type { Dependencies } from './dependencies.ts';
import { readText } from './files.ts';
import { secondsOf } from './timeLimit.ts';

/** What may be said on the command line of parts that do not say it themselves. */
export interface StepOptions {
  readonly material?: string;
  /** mm */
  readonly thickness?: string;
  /** degrees */
  readonly grain?: string;
  /** mm */
  readonly trim?: string;
  /** Seconds a part may take. */
  readonly limit?: string;
  /** Set by commands that only a tray file will do for: other parts are refused before they are solved. */
  readonly path?: 'recognise';
}

export const isStepFile = (file: string): boolean => /\.(step|stp)$/i.test(file);

/** Same limit as the reader's own, so that a larger file is not even loaded. */
const LARGEST = 30e6;

/** Characters looked at to tell a part from a tray file on standard input. */
const SNIFFED = 4096;

/** First words of an exchange file, after space, comments and a byte order mark (ISO 10303-21). */
const looksLikeStep = (start: Uint8Array): boolean =>
  /^(?:\u00EF\u00BB\u00BF)?\s*(?:\/\*[\s\S]*?\*\/\s*)*ISO-10303-21\s*;/.test(
    Buffer.from(start.buffer, start.byteOffset, Math.min(start.length, SNIFFED)).toString('latin1'),
  );

/**
 * What comes on standard input: the bytes of a STEP part, or the text of a tray file. Which one is told by its
 * first words.
 *
 * @throws GatherpanError TOO_LARGE or BAD_INPUT
 */
export async function readStandardInput(
  stream: AsyncIterable<Uint8Array>,
): Promise<{ readonly step: Uint8Array } | { readonly text: string }> {
  const iterator = stream[Symbol.asyncIterator]();
  const held: Uint8Array[] = [];
  let size = 0;
  let ended = false;
  const next = async (): Promise<Uint8Array | null> => {
    const { value, done } = await iterator.next();
    ended = done === true;
    return ended ? null : value;
  };
  while (size < SNIFFED && !ended) {
    const chunk = await next();
    if (chunk === null) break;
    held.push(chunk);
    size += chunk.length;
  }
  const start = Buffer.concat(held);
  if (!looksLikeStep(start)) {
    async function* whole(): AsyncIterable<Uint8Array> {
      yield start;
      for (let chunk = ended ? null : await next(); chunk !== null; chunk = await next()) yield chunk;
    }
    return { text: await readText(whole()) };
  }
  const chunks: Uint8Array[] = [start];
  for (let chunk = ended ? null : await next(); chunk !== null; chunk = await next()) {
    size += chunk.length;
    if (size > LARGEST) {
      throw new GatherpanError('TOO_LARGE', words().messages.cli.stepLarger(String(LARGEST / 1e6)));
    }
    chunks.push(chunk);
  }
  return { step: Buffer.concat(chunks) };
}

/**
 * Reads a part with the kernel, which is loaded on first use. A tray that was drawn in inches is shown in them.
 *
 * @param source path of a file, or its bytes
 * @throws GatherpanError
 */
export async function readStepFile(
  source: string | Uint8Array,
  name: string,
  options: StepOptions,
  dependencies: Dependencies,
): Promise<StepTray> {
  const given = {
    name,
    path: options.path,
    material: options.material,
    thickness: number(options.thickness, 'thickness', 0.05, 20),
    grain: number(options.grain, 'grain', -360, 360),
    trim: number(options.trim, 'trim', 0, 100),
    limit: secondsOf(options.limit),
  };
  const bytes = typeof source === 'string' ? await stepBytes(resolve(dependencies.folder, source)) : source;
  const { readStepTray } = await dependencies.load.step!();
  const read = await readStepTray(bytes, given);
  const { lengthUnitOf } = await import('../step/lengthUnit.ts');
  return lengthUnitOf(bytes) === 'in' ? inInches(read) : read;
}

function inInches(read: StepTray): StepTray {
  if (read.kind === 'tray')
    return { ...read, file: inUnits(read.file, 'in'), spec: { ...read.spec, shownIn: 'in' } };
  const { pattern } = read;
  return { ...read, pattern: { ...pattern, spec: { ...pattern.spec, shownIn: 'in' } } };
}

/**
 * A part as a job of `make` or `check`: recognised trays are solved later, other parts are solved by now.
 *
 * @param file   what it is called in sentences
 * @param source path of the file, or its bytes
 */
export async function stepJob(
  file: string,
  source: string | Uint8Array,
  name: string,
  options: StepOptions,
  dependencies: Dependencies,
): Promise<{ file: string; spec: TraySpec; pattern?: Developed }> {
  const tray = await readStepFile(source, name, options, dependencies);
  if (tray.kind === 'tray') for (const note of tray.notes) dependencies.error(`${file}: ${note}\n`);
  return tray.kind === 'tray'
    ? { file, spec: tray.spec }
    : { file, spec: tray.pattern.spec, pattern: tray.pattern };
}

async function stepBytes(path: string): Promise<Uint8Array> {
  try {
    const found = await stat(path);
    if (found.isDirectory()) throw new GatherpanError('BAD_INPUT', words().messages.cli.folderForStep);
    if (found.size > LARGEST) {
      throw new GatherpanError(
        'TOO_LARGE',
        words().messages.cli.stepTooLarge((found.size / 1e6).toFixed(1), String(LARGEST / 1e6)),
      );
    }
    return await readFile(path);
  } catch (error) {
    throw readFailure(error);
  }
}

function number(text: string | undefined, name: string, least: number, most: number): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() !== '' && value >= least && value <= most) return value;
  throw new GatherpanError(
    'BAD_INPUT',
    words().messages.cli.number(`--${name}`, JSON.stringify(text), String(least), String(most)),
  );
}

/** `gatherpan recognise`: prints the tray file of a STEP part. */
import { GatherpanError } from '../../errors.ts';
import { trayNameFrom } from '../../fileName.ts';
import { words } from '../../words/language.ts';
import type { Dependencies } from '../dependencies.ts';
import { readStandardInput, readStepFile, type StepOptions } from '../stepTrays.ts';

/**
 * Runs the command.
 *
 * @returns the exit code, 0
 * @throws GatherpanError when the part is no base with walls of one section, or cannot be read
 */
export async function recognise(
  file: string,
  options: StepOptions,
  dependencies: Dependencies,
): Promise<number> {
  const source = file === '-' ? await stepFrom(dependencies.stdin) : file;
  const asked = { ...options, path: 'recognise' } as const;
  const tray = await readStepFile(source, trayNameFrom(file), asked, dependencies);
  if (tray.kind === 'tray') {
    for (const note of tray.notes) dependencies.error(`${file}: ${note}\n`);
    dependencies.out(`${JSON.stringify(tray.file, null, 2)}\n`);
  }
  return 0;
}

async function stepFrom(stream: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const read = await readStandardInput(stream);
  if ('step' in read) return read.step;
  throw new GatherpanError('BAD_INPUT', words().messages.cli.notStep);
}

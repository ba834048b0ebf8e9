/** `gatherpan recognise`: prints the tray file of a STEP part. */
import type { Dependencies } from '../dependencies.ts';
import { readStepFile, type StepOptions } from '../stepTrays.ts';
import { nameFromFile } from '../trays.ts';

/**
 * Runs the command.
 *
 * @returns the exit code, 0
 * @throws GatherpanError when the part is no tray of one section all round, or cannot be read
 */
export async function recognise(
  file: string,
  options: StepOptions,
  dependencies: Dependencies,
): Promise<number> {
  const tray = await readStepFile(file, nameFromFile(file), options, dependencies, 'recognise');
  if (tray.kind === 'tray') dependencies.out(`${JSON.stringify(tray.file, null, 2)}\n`);
  return 0;
}

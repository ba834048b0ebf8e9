/** The rows of a batch file named on a command line. */
import { resolve } from 'node:path';
import { formatOf, MAXIMUM_BATCH_FILE_SIZE, readBatch } from '../batch/readBatch.ts';
import type { BatchRow } from '../batch/rows.ts';
import { isPlainObject, type PlainObject } from '../batch/trayObject.ts';
import { GatherpanError } from '../errors.ts';
import { parseTray } from '../tray/readTray.ts';
import type { Dependencies } from './dependencies.ts';
import { readTextFile } from './files.ts';
import { nameFromFile } from './trays.ts';

/**
 * @param base file with what the rows share
 * @throws GatherpanError when a file cannot be used as a whole; a bad row is a row
 */
export async function readRows(
  file: string,
  base: string | undefined,
  dependencies: Dependencies,
): Promise<BatchRow[]> {
  const format = formatOf(file);
  const shared = base === undefined ? {} : await readBase(base, dependencies);
  const text = await inFile(file, () =>
    readTextFile(resolve(dependencies.folder, file), MAXIMUM_BATCH_FILE_SIZE),
  );
  return inFile(file, async () => readBatch(text, format, shared, nameFromFile(file.replace(/\.\w+$/, ''))));
}

const readBase = (file: string, dependencies: Dependencies): Promise<PlainObject> =>
  inFile(file, async () => {
    const value = parseTray(await readTextFile(resolve(dependencies.folder, file)));
    if (isPlainObject(value)) return value;
    throw new GatherpanError('BAD_INPUT', 'The base tray is not a JSON object; give a tray file.');
  });

/** Names the file in what goes wrong. */
async function inFile<T>(file: string, read: () => Promise<T>): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    throw new GatherpanError(
      error.code,
      error.faults.map(({ path, message }) => ({ path, message: `${file}: ${message}` })),
    );
  }
}

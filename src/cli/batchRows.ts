/** The rows of a batch file named on a command line. */
import { dirname, resolve } from 'node:path';
import { formatOf, MAXIMUM_BATCH_FILE_SIZE, readBatch } from '../batch/readBatch.ts';
import type { BatchRow, PlanDrawing } from '../batch/rows.ts';
import { isPlainObject, type PlainObject } from '../batch/trayObject.ts';
import { GatherpanError } from '../errors.ts';
import { trayNameFrom } from '../fileName.ts';
import { parseTray, readTray } from '../tray/readTray.ts';
import { words } from '../words/language.ts';
import type { Dependencies } from './dependencies.ts';
import { readTextFile } from './files.ts';
import { planDrawing } from './planDrawing.ts';

/**
 * @param base file with what the rows share
 * @param single whether a tray file will do as well, as the one row: a JSON file with a plan
 * @throws GatherpanError when a file cannot be used as a whole; a bad row is a row
 */
export async function readRows(
  file: string,
  base: string | undefined,
  dependencies: Dependencies,
  single = false,
): Promise<BatchRow[]> {
  const format = formatOf(file);
  const at = resolve(dependencies.folder, file);
  const shared = base === undefined ? {} : await readBase(base, dependencies);
  const text = await inFile(file, () => readTextFile(at, MAXIMUM_BATCH_FILE_SIZE));
  const name = trayNameFrom(file);
  return inFile(file, async () => {
    const tray = single && format === 'json' ? trayIn(text) : null;
    if (tray !== null) {
      const spec = readTray(tray, { name, ...(await drawing(tray, file, at, dependencies)) });
      return [{ row: 1, place: words().service.wholeFile, spec, quantity: 1 }];
    }
    // Drawings are those of the base: a plan by itself is what the rows of a family share.
    const read =
      base === undefined ? {} : await drawing(shared, base, resolve(dependencies.folder, base), dependencies);
    return readBatch(text, format, shared, name, read);
  });
}

/**
 * What reads the drawing that a tray file takes its plan from, if it names one. What is to know of it is told once,
 * however many rows take it.
 *
 * @param file as a person calls it
 * @param path where it is
 */
async function drawing(
  tray: PlainObject,
  file: string,
  path: string,
  dependencies: Dependencies,
): Promise<PlanDrawing> {
  const read = await planDrawing(tray, dirname(path));
  if (read === undefined) return {};
  const named = (tray.plan as PlainObject).dxf;
  const told = new Set<string>();
  return {
    note(sentence) {
      if (told.has(sentence)) return;
      told.add(sentence);
      dependencies.error(`${file}: ${sentence}\n`);
    },
    planDxf(path) {
      if (path === named) return read(path);
      throw new GatherpanError('BAD_INPUT', words().messages.cli.drawingOfRow);
    },
  };
}

/** The tray file's object, or null for a family and for what is not JSON at all. */
function trayIn(text: string): PlainObject | null {
  try {
    const value: unknown = JSON.parse(text.replace(/^\uFEFF/, ''));
    return isPlainObject(value) && 'plan' in value ? value : null;
  } catch {
    return null;
  }
}

const readBase = (file: string, dependencies: Dependencies): Promise<PlainObject> =>
  inFile(file, async () => {
    const value = parseTray(await readTextFile(resolve(dependencies.folder, file)));
    if (isPlainObject(value)) return value;
    throw new GatherpanError('BAD_INPUT', words().messages.cli.baseNotObject);
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

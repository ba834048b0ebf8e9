/** `gatherpan layout`: blanks laid out on stock sheets. */
import { join, resolve } from 'node:path';
import { poolEngine } from '../../batch/pool.ts';
import { isTray, MOST_QUANTITY, refuseDuplicates, type TrayRow } from '../../batch/rows.ts';
import { isPlainObject } from '../../batch/trayObject.ts';
import { writeWhole } from '../../batch/wholeFile.ts';
import { ERROR_TABLE, GatherpanError } from '../../errors.ts';
import type { CostRates } from '../../layout/cost.ts';
import { layoutDrawing } from '../../layout/layoutDrawing.ts';
import { layoutDocument, type SheetFile } from '../../layout/layoutReport.ts';
import type { Stock } from '../../layout/packing.ts';
import { layOut, type SheetLayout } from '../../layout/sheetLayout.ts';
import { solveParts } from '../../layout/solveParts.ts';
import { parseTray, readTray } from '../../tray/readTray.ts';
import { readRows } from '../batchRows.ts';
import type { Dependencies } from '../dependencies.ts';
import { readTextFile } from '../files.ts';
import { untilInterrupted } from '../interrupts.ts';
import { progressLine } from '../progress.ts';
import { nameFromFile } from '../trays.ts';

export interface LayoutOptions {
  readonly sheet: string;
  readonly base?: string;
  readonly quantity?: readonly string[];
  readonly spacing: string;
  readonly edge: string;
  readonly grain: string;
  readonly parts: string;
  readonly effort: string;
  readonly rateMetre?: string;
  readonly ratePierce?: string;
  readonly rateKg?: string;
  readonly out: string;
  readonly json?: boolean;
}

/** Blanks of one layout. */
const MOST_PARTS = 5000;

/**
 * Runs the command. A row that is bad is told and left out, and the exit code says so.
 *
 * @throws GatherpanError when the layout cannot be made
 */
export async function layout(
  files: readonly string[],
  options: LayoutOptions,
  dependencies: Dependencies,
): Promise<number> {
  const stock = stockOf(options);
  const grain = oneOf('--grain', options.grain, ['along', 'free'] as const);
  const drawing = oneOf('--parts', options.parts, ['copy', 'block'] as const);
  const effort = amount('--effort', options.effort, 0, 10);
  const rates = ratesOf(options);
  const { trays, exit } = await traysOf(files, options, dependencies);
  const wanted = trays.reduce((sum, tray) => sum + tray.quantity, 0);
  if (wanted === 0) throw new GatherpanError('BAD_INPUT', 'There is no tray to lay out.');
  if (wanted > MOST_PARTS) {
    throw new GatherpanError(
      'TOO_LARGE',
      `${wanted} blanks are asked for; at most ${MOST_PARTS} are laid out at once.`,
    );
  }
  const line = progressLine(dependencies);
  const engine = poolEngine({ modules: { names: [], folder: dependencies.folder } });
  try {
    let solved = 0;
    const parts = await untilInterrupted((signal) =>
      solveParts(trays, grain, dependencies.version, engine, signal, (name) =>
        line.show(`solved ${++solved} of ${trays.length}: ${name}`),
      ),
    );
    line.show(`laying out ${wanted} blanks`);
    const result = layOut(parts, { stock, grain, effort, rates });
    line.clear();
    const sheets = result.sheets.map(
      (sheet): SheetFile => ({
        sheet,
        file: `sheet-${plain(sheet.material)}-${sheet.thickness}mm-${sheet.number}.dxf`,
      }),
    );
    const folder = resolve(dependencies.folder, options.out);
    for (const { sheet, file } of sheets) {
      await writeWhole(folder, file, layoutDrawing(sheet, stock, drawing));
    }
    const json = `${JSON.stringify(layoutDocument(result, sheets, stock, rates), null, 2)}\n`;
    await writeWhole(folder, 'layout.json', new TextEncoder().encode(json));
    dependencies.out(options.json === true ? json : summary(result, sheets, options.out));
    return exit;
  } finally {
    line.clear();
    await engine.close();
  }
}

/** Tray files, tables and families; a JSON file with a plan is a tray. */
async function traysOf(
  files: readonly string[],
  options: LayoutOptions,
  dependencies: Dependencies,
): Promise<{ trays: TrayRow[]; exit: number }> {
  let exit = 0;
  const trays: TrayRow[] = [];
  for (const file of files) {
    const rows = (await single(file, dependencies)) ?? (await readRows(file, options.base, dependencies));
    for (const row of rows) {
      if (isTray(row)) trays.push({ ...row, row: trays.length + 1, place: `${file}, ${row.place}` });
      else {
        exit = Math.max(exit, ERROR_TABLE[row.error.code].exit);
        dependencies.error(row.error.faults.map(({ message }) => `${file}: ${message}\n`).join(''));
      }
    }
  }
  refuseDuplicates(trays);
  return { trays: withQuantities(trays, options.quantity ?? []), exit };
}

async function single(file: string, dependencies: Dependencies): Promise<TrayRow[] | null> {
  if (!/\.json$/i.test(file)) return null;
  const value = parseTray(await readTextFile(resolve(dependencies.folder, file)));
  if (!isPlainObject(value) || !('plan' in value)) return null;
  return [{ row: 1, place: 'tray', spec: readTray(value, { name: nameFromFile(file) }), quantity: 1 }];
}

function withQuantities(trays: readonly TrayRow[], texts: readonly string[]): TrayRow[] {
  const given = new Map<string, number>();
  for (const text of texts) {
    const match = /^([^=]+)=(\d{1,6})$/.exec(text);
    const number = Number(match?.[2]);
    if (match === null || number < 1 || number > MOST_QUANTITY) {
      throw new GatherpanError(
        'BAD_INPUT',
        `--quantity ${JSON.stringify(text)} is not a quantity; give name=number, a whole number from 1 to ${MOST_QUANTITY}.`,
      );
    }
    const name = match[1]!;
    if (!trays.some((tray) => tray.spec.name === name)) {
      throw new GatherpanError(
        'NOT_FOUND',
        `--quantity names ${JSON.stringify(name)}, and there is no tray of that name.`,
      );
    }
    given.set(name, number);
  }
  return trays.map((tray) => ({ ...tray, quantity: given.get(tray.spec.name) ?? tray.quantity }));
}

function stockOf({ sheet, spacing, edge }: LayoutOptions): Stock {
  const match = /^(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)$/i.exec(sheet.trim());
  const [length, width] = [Number(match?.[1]), Number(match?.[2])];
  if (!(length >= 50 && length <= 20_000 && width >= 50 && width <= 20_000)) {
    throw new GatherpanError(
      'BAD_INPUT',
      `--sheet is ${JSON.stringify(sheet)}; length x width in mm from 50 to 20000 is accepted, for example 2000x1000.`,
    );
  }
  return {
    length,
    width,
    spacing: amount('--spacing', spacing, 0, 1000),
    edge: amount('--edge', edge, 0, 1000),
  };
}

function ratesOf({ rateMetre, ratePierce, rateKg }: LayoutOptions): CostRates {
  return {
    ...(rateMetre === undefined ? {} : { metre: amount('--rate-metre', rateMetre, 0, 1e9) }),
    ...(ratePierce === undefined ? {} : { pierce: amount('--rate-pierce', ratePierce, 0, 1e9) }),
    ...(rateKg === undefined ? {} : { kg: amount('--rate-kg', rateKg, 0, 1e9) }),
  };
}

function amount(option: string, text: string, least: number, most: number): number {
  const value = /^(\d+\.?\d*|\.\d+)$/.test(text.trim()) ? Number(text) : Number.NaN;
  if (value >= least && value <= most) return value;
  throw new GatherpanError(
    'BAD_INPUT',
    `${option} is ${JSON.stringify(text)}; a number from ${least} to ${most} is accepted.`,
  );
}

function oneOf<const T extends readonly string[]>(option: string, text: string, values: T): T[number] {
  if (values.includes(text)) return text;
  throw new GatherpanError(
    'BAD_INPUT',
    `${option} is ${JSON.stringify(text)}; one of ${values.join(', ')} is accepted.`,
  );
}

/** A material's name as a part of a file name. */
const plain = (name: string): string =>
  name.replace(/[^A-Za-z0-9.]+/g, '-').replace(/^-+|-+$/g, '') || 'sheet';

function summary(result: SheetLayout, sheets: readonly SheetFile[], out: string): string {
  const lines = sheets.map(({ sheet, file }) =>
    [
      `${file}: ${sheet.parts.length} blanks, ${(100 * sheet.utilisation).toFixed(1)} % used`,
      `${(sheet.cutLength / 1000).toFixed(2)} m of cut, ${sheet.pierces} pierces`,
      `${sheet.partsMass.toFixed(2)} of ${sheet.mass.toFixed(2)} kg`,
      sheet.offcut === null
        ? 'no offcut'
        : `offcut ${sheet.offcut.length.toFixed(0)} x ${sheet.offcut.width.toFixed(0)} mm`,
      ...(sheet.cost === null ? [] : [`about ${sheet.cost.toFixed(2)} at your rates`]),
    ].join(', '),
  );
  return `${lines.join('\n')}\n${result.sheets.length} sheets (their bare area would need ${result.leastSheets}), wrote ${join(out, 'layout.json')}\nCut edges are sharp: wear gloves when you take blanks off the sheet.\n`;
}

/** `gatherpan layout`: blanks laid out on stock sheets. */
import { basename, dirname, join, resolve } from 'node:path';
import { poolEngine } from '../../batch/pool.ts';
import { isTray, refuseDuplicates, type TrayRow } from '../../batch/rows.ts';
import { ERROR_TABLE, type ErrorCode, GatherpanError } from '../../errors.ts';
import { lockOfFolder, lockTarget, type TargetLock } from '../../jobs/targetLock.ts';
import { writeWhole } from '../../jobs/wholeFile.ts';
import { earlierSheets, removeEarlier } from '../../layout/earlierSheets.ts';
import { leftOutBecause } from '../../layout/layoutReport.ts';
import { isLayoutFile, LAYOUT_JSON, layoutJson, namedSheets, sheetFiles } from '../../layout/sheetFiles.ts';
import { layOut } from '../../layout/sheetLayout.ts';
import { type Failed, solveParts } from '../../layout/solveParts.ts';
import { words } from '../../words/language.ts';
import { readRows } from '../batchRows.ts';
import type { Dependencies } from '../dependencies.ts';
import { isSameFile } from '../files.ts';
import { untilInterrupted } from '../interrupts.ts';
import { progressLine } from '../progress.ts';
import { exitOfRow, tellRow } from '../rowOutcomes.ts';
import { sheetLines } from '../sheetLines.ts';
import { quantities, type SheetOptions, sheetOrder, shownBySheet } from '../sheetOptions.ts';
import { secondsOf } from '../timeLimit.ts';

export interface LayoutOptions extends SheetOptions {
  readonly sheet: string;
  readonly base?: string;
  readonly jobs?: string;
  readonly limit?: string;
  readonly out: string;
  readonly json?: boolean;
}

/**
 * Runs the command. A row that is bad, and a tray that there is no blank of, is told and left out, and the exit code
 * says so; a tray that is not to be worked in one piece is told and laid out all the same.
 *
 * @returns the exit code, the worst of all rows
 * @throws GatherpanError when the layout cannot be made
 */
export async function layout(
  files: readonly string[],
  options: LayoutOptions,
  dependencies: Dependencies,
): Promise<number> {
  const limit = secondsOf(options.limit);
  const order = sheetOrder(options)!;
  await refuseOverwriting([...files, options.base], options.out, dependencies.folder);
  const { trays, exit } = await traysOf(files, options, dependencies);
  if (trays.length === 0) throw new GatherpanError('BAD_INPUT', words().messages.cli.noTrays);
  const line = progressLine(dependencies);
  const folder = resolve(dependencies.folder, options.out);
  const engine = poolEngine({
    ...(options.jobs === undefined ? {} : { jobs: Number(options.jobs) }),
    modules: { names: [], folder: dependencies.folder },
  });
  let lock: TargetLock | undefined;
  try {
    lock = await lockTarget(lockOfFolder(folder), folder);
    const { token } = lock;
    return await untilInterrupted(async (signal) => {
      const { progress, ...said } = words().command.output;
      let done = 0;
      const { parts: solved, failed } = await solveParts(
        trays,
        order.grain,
        engine,
        signal,
        (name) => line.show(progress.solved(String(++done), String(trays.length), name)),
        limit,
      );
      await engine.close();
      if (solved.length === 0) throw nothingLeft(failed);
      const parts = solved.map(({ part }) => part);
      line.show(progress.layingOut(String(parts.reduce((sum, { quantity }) => sum + quantity, 0))));
      const result = await layOut(parts, order, signal);
      line.clear();
      const sheets = namedSheets(result);
      const earlier = await earlierSheets(folder);
      const leftOut = failed.map(({ tray, error }) => leftOutBecause(tray.spec.name, tray.quantity, error));
      for (const { name, bytes } of sheetFiles(result, sheets, order, leftOut))
        await writeWhole(folder, name, bytes, token);
      await removeEarlier(folder, earlier, sheets);
      const { words: verdicts } = words().verdict;
      for (const { name, verdict, reasons } of leftOut) {
        if (verdict !== null) dependencies.error(`${said.layout.leftOut(name!, verdicts[verdict])}\n`);
        tellRow(
          reasons.map((message) => ({ message })),
          name!,
          dependencies,
        );
      }
      const doubtful = solved.filter(({ report }) => report.verdict === 'not in one piece');
      for (const { part, report } of doubtful)
        dependencies.error(`${said.layout.verdict(part.name, verdicts[report.verdict])}\n`);
      dependencies.out(
        options.json === true
          ? new TextDecoder().decode(layoutJson(result, sheets, order, leftOut))
          : `${sheetLines(result, sheets, shownBySheet(options))}${said.wrote(join(options.out, LAYOUT_JSON))}\n`,
      );
      return Math.max(
        exit,
        ...leftOut.map(({ verdict }, i) => exitOfRow(verdict, failed[i]!.error)),
        ...solved.map(({ report }) => exitOfRow(report.verdict, null)),
      );
    });
  } finally {
    line.clear();
    await engine.close();
    await lock?.release();
  }
}

/** Where there is no blank of any tray: the first one's code, and the reasons of all. */
const nothingLeft = (failed: readonly Failed[]): GatherpanError =>
  new GatherpanError(
    failed[0]!.error.code as ErrorCode,
    failed.flatMap(({ tray, error }) =>
      error.faults.map(({ path, message }) => ({ path, message: `${tray.spec.name}: ${message}` })),
    ),
  );

/** Tray files, tables and families; a JSON file with a plan is a tray. */
async function traysOf(
  files: readonly string[],
  options: LayoutOptions,
  dependencies: Dependencies,
): Promise<{ trays: TrayRow[]; exit: number }> {
  let exit = 0;
  const trays: TrayRow[] = [];
  for (const file of files) {
    for (const row of await readRows(file, options.base, dependencies, true)) {
      if (isTray(row)) trays.push({ ...row, row: trays.length + 1, place: `${file}, ${row.place}` });
      else {
        exit = Math.max(exit, ERROR_TABLE[row.error.code].exit);
        dependencies.error(row.error.faults.map(({ message }) => `${file}: ${message}\n`).join(''));
      }
    }
  }
  refuseDuplicates(trays);
  const quantityOf = quantities(trays, options.quantity);
  return { trays: trays.map((tray) => ({ ...tray, quantity: quantityOf(tray) })), exit };
}

/** The layout's files must not take the place of what it is read from. */
async function refuseOverwriting(
  inputs: readonly (string | undefined)[],
  out: string,
  folder: string,
): Promise<void> {
  for (const input of inputs) {
    if (input === undefined || !isLayoutFile(basename(input).toLowerCase())) continue;
    if (!(await isSameFile(dirname(resolve(folder, input)), resolve(folder, out)))) continue;
    throw new GatherpanError('BAD_INPUT', words().messages.cli.layoutOverwrites(input));
  }
}

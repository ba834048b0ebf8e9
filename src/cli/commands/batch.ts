/** `gatherpan batch`: a whole range of sizes in one go. */
import { basename, dirname, resolve } from 'node:path';
import { chosenFormat } from '../../batch/chosenFormat.ts';
import type { Engine } from '../../batch/engine.ts';
import type { ChosenFormat, ExporterModules } from '../../batch/plan.ts';
import { poolEngine } from '../../batch/pool.ts';
import { isTray, type TrayRow } from '../../batch/rows.ts';
import { OWN_NAMES, runBatch, type Target } from '../../batch/runBatch.ts';
import { GatherpanError } from '../../errors.ts';
import { fileKey } from '../../fileName.ts';
import { fileNamesOf } from '../../jobs/fileNames.ts';
import type { ManifestTray } from '../../jobs/manifest.ts';
import { batchSheets } from '../../layout/batchSheets.ts';
import { earlierSheets, removeEarlier } from '../../layout/earlierSheets.ts';
import { layoutTotal } from '../../layout/layoutReport.ts';
import { isLayoutFile } from '../../layout/sheetFiles.ts';
import { refuseTooMany } from '../../layout/sheetLayout.ts';
import { words } from '../../words/language.ts';
import { batchProgress } from '../batchProgress.ts';
import { readRows } from '../batchRows.ts';
import type { Dependencies } from '../dependencies.ts';
import { isSameFile } from '../files.ts';
import { untilInterrupted } from '../interrupts.ts';
import { progressLine } from '../progress.ts';
import { exitOfRow, tellRow } from '../rowOutcomes.ts';
import { sheetLines } from '../sheetLines.ts';
import { quantities, type SheetOptions, sheetOrder, shownBySheet } from '../sheetOptions.ts';
import { secondsOf } from '../timeLimit.ts';
import { choose } from './make.ts';

export interface BatchOptions extends SheetOptions {
  readonly base?: string;
  readonly out?: string;
  readonly zip?: string;
  readonly format: string;
  readonly exporter?: readonly string[];
  readonly set?: readonly string[];
  readonly jobs?: string;
  readonly limit?: string;
  readonly resume?: boolean;
  readonly queue?: string;
  readonly json?: boolean;
}

/**
 * Runs the command.
 *
 * @returns the exit code, the worst of all rows
 * @throws GatherpanError when the batch cannot begin, or was stopped
 */
export async function batch(
  file: string,
  options: BatchOptions,
  dependencies: Dependencies,
): Promise<number> {
  const limit = secondsOf(options.limit);
  const target = targetOf(options, dependencies.folder);
  const order = sheetOrder(options);
  const modules = { names: options.exporter ?? [], folder: dependencies.folder, limit };
  const chosen = await choose(options, dependencies);
  const formats = chosen.map(({ exporter, values }) => chosenFormat(exporter, values));
  const read = await readRows(file, options.base, dependencies);
  const quantityOf = quantities(read.filter(isTray), options.quantity);
  const rows = read.map((row) => (isTray(row) ? { ...row, quantity: quantityOf(row) } : row));
  if (order !== null) refuseTooMany(rows.filter(isTray));
  const written = namesWritten(rows.filter(isTray), formats);
  const taken = (name: string): boolean => written.has(name) || (order !== null && isLayoutFile(name));
  await refuseOverwriting(taken, target, [file, options.base], dependencies.folder);
  for (const row of rows) {
    if (!isTray(row)) tellRow(row.error.faults, file, dependencies);
  }
  const earlier = order === null || target.kind === 'archive' ? [] : await earlierSheets(target.path);
  const line = progressLine(dependencies);
  const said = words().command.output;
  const engine = await engineFor(options, modules, dependencies);
  const sheets =
    order === null
      ? null
      : batchSheets(order, (blanks) => line.show(said.progress.layingOut(String(blanks))));
  try {
    const outcome = await untilInterrupted((signal) =>
      runBatch({
        rows,
        formats,
        target,
        resume: options.resume === true,
        limit,
        ...(sheets === null ? {} : { finish: sheets.finish }),
        engine,
        signal,
        progress: batchProgress(line, () => performance.now()),
      }),
    );
    line.clear();
    for (const { place, name, state, error, verdict, reasons } of outcome.trays) {
      if (verdict === 'not in one piece')
        tellRow(
          [{ message: said.batch.verdict(words().verdict.words[verdict]) }],
          `${place} (${name})`,
          dependencies,
        );
      const told = state === 'no flat' ? reasons.map((message) => ({ message })) : (error?.faults ?? []);
      if (state === 'failed' || state === 'no flat') tellRow(told, `${place} (${name})`, dependencies);
    }
    const exit = Math.max(0, ...outcome.trays.map(({ verdict, error }) => exitOfRow(verdict, error)));
    const laid = sheets?.laid() ?? null;
    if (laid !== null) await removeEarlier(target.path, earlier, laid.sheets);
    const counts = countsOf(outcome.trays, outcome.resumed);
    if (options.json === true) {
      const layout = laid === null ? {} : { layout: layoutTotal(laid.layout) };
      dependencies.out(`${JSON.stringify({ exit, ...counts, target: target.path, ...layout }, null, 2)}\n`);
    } else {
      dependencies.out(
        `${countsLine(counts)}\n` +
          (laid === null ? '' : sheetLines(laid.layout, laid.sheets, shownBySheet(options))) +
          `${said.wrote(options.zip ?? options.out ?? '.')}\n`,
      );
    }
    return exit;
  } finally {
    line.clear();
    await engine.close();
  }
}

function targetOf({ out, zip }: BatchOptions, folder: string): Target {
  if (out !== undefined && zip !== undefined) {
    throw new GatherpanError('BAD_INPUT', words().messages.cli.outAndZip);
  }
  return zip === undefined
    ? { kind: 'folder', path: resolve(folder, out ?? '.') }
    : { kind: 'archive', path: resolve(folder, zip) };
}

async function engineFor(
  { jobs, queue }: BatchOptions,
  modules: ExporterModules,
  dependencies: Dependencies,
): Promise<Engine> {
  if (queue !== undefined) {
    if (jobs !== undefined) {
      throw new GatherpanError('BAD_INPUT', words().messages.cli.queueAndJobs);
    }
    const { queueEngine } = await import('../../batch/queue.ts');
    return queueEngine({ address: queue, refused: (sentence) => dependencies.error(`${sentence}\n`) });
  }
  return poolEngine({ ...(jobs === undefined ? {} : { jobs: Number(jobs) }), modules });
}

/** Names of the files that a batch makes, as `fileKey` has them. */
const namesWritten = (trays: readonly TrayRow[], formats: readonly ChosenFormat[]): Set<string> =>
  new Set([...OWN_NAMES, ...trays.flatMap(({ spec }) => fileNamesOf(spec.name, formats).map(fileKey))]);

/** The batch's files must not take the place of what it is read from. */
async function refuseOverwriting(
  taken: (name: string) => boolean,
  target: Target,
  inputs: readonly (string | undefined)[],
  folder: string,
): Promise<void> {
  for (const input of inputs) {
    if (input === undefined || input === '-') continue;
    const path = resolve(folder, input);
    const hits =
      (await isSameFile(path, target.path)) ||
      // An archive's files lie in a folder of their own.
      (target.kind === 'folder' &&
        taken(fileKey(basename(path))) &&
        (await isSameFile(dirname(path), target.path)));
    if (hits) {
      throw new GatherpanError('BAD_INPUT', words().messages.cli.batchOverwrites(input));
    }
  }
}

function countsOf(trays: readonly ManifestTray[], resumed: number) {
  const count = (state: ManifestTray['state']): number => trays.filter((tray) => tray.state === state).length;
  return {
    rows: trays.length,
    made: count('made'),
    warned: trays.filter((tray) => tray.warnings.length > 0).length,
    notInOnePiece: trays.filter(({ verdict }) => verdict === 'not in one piece').length,
    failed: count('failed'),
    refused: count('refused'),
    resumed,
  };
}

function countsLine(counts: ReturnType<typeof countsOf>): string {
  const said = words().command.output.batch;
  const { made, warned, notInOnePiece, failed, refused, resumed } = counts;
  const line = said.counts(
    String(made),
    String(warned),
    String(notInOnePiece),
    String(failed),
    String(refused),
  );
  return resumed > 0 ? said.countsResumed(line, String(resumed)) : line;
}

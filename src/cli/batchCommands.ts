/** The commands that deal with many trays at once: what can be typed. */
import type { Command } from 'commander';
import { words } from '../words/language.ts';
import type { BatchOptions } from './commands/batch.ts';
import type { LayoutOptions } from './commands/layout.ts';
import type { WorkerOptions } from './commands/worker.ts';
import type { Dependencies } from './dependencies.ts';
import { addSheetOptions, collect } from './sheetOptions.ts';
import { DEFAULT_LIMIT } from './timeLimit.ts';

/**
 * @param formats the formats and their parameters, for the help
 * @param done takes the exit code
 */
export function addBatchCommands(
  program: Command,
  dependencies: Dependencies,
  formats: string,
  done: (exit: number) => void,
): void {
  const { commands: does, arguments: takes, options: said, values, rowExits } = words().command.help;
  const batchCommand = program
    .command('batch')
    .description(does.batch)
    .argument(`<${values.file}>`, takes.batch)
    .option(`--base <${values.file}>`, said.base)
    .option(`--out <${values.folder}>`, said.out)
    .option(`--zip <${values.file}>`, said.zip)
    .option(`--format <${values.list}>`, said.format, 'dxf')
    .option(`--exporter <${values.module}>`, said.exporter, collect)
    .option(`--set <${values.setting}>`, said.set, collect)
    .option(`--jobs <${values.number}>`, said.jobs)
    .option('--resume', said.resume)
    .option(`--queue <${values.address}>`, said.queue)
    .option(`--sheet <${values.size}>`, said.alsoSheet);
  addSheetOptions(batchCommand)
    .option(`--limit <${values.seconds}>`, said.limit, DEFAULT_LIMIT)
    .option('--json', said.jsonSummary)
    .addHelpText('after', `\n${rowExits}\n${formats}`)
    .action(async (file: string, options: BatchOptions) => {
      const { batch } = await import('./commands/batch.ts');
      done(await batch(file, options, dependencies));
    });

  program
    .command('worker')
    .description(does.worker)
    .requiredOption(`--queue <${values.address}>`, said.workerQueue)
    .option(`--jobs <${values.number}>`, said.workerJobs, '1')
    .option(`--exporter <${values.module}>`, said.exporter, collect)
    .option(`--limit <${values.seconds}>`, said.workerLimit)
    .action(async (options: WorkerOptions) => {
      const { worker } = await import('./commands/worker.ts');
      done(await worker(options, dependencies));
    });

  const layoutCommand = program
    .command('layout')
    .description(does.layout)
    .argument(`<${values.file}...>`, takes.layout)
    .requiredOption(`--sheet <${values.size}>`, said.sheet)
    .option(`--base <${values.file}>`, said.baseOfTable)
    .option(`--jobs <${values.number}>`, said.jobs);
  addSheetOptions(layoutCommand)
    .option(`--out <${values.folder}>`, said.out, '.')
    .option(`--limit <${values.seconds}>`, said.limit, DEFAULT_LIMIT)
    .option('--json', said.jsonResult)
    .addHelpText('after', `\n${rowExits}`)
    .action(async (files: string[], options: LayoutOptions) => {
      const { layout } = await import('./commands/layout.ts');
      done(await layout(files, options, dependencies));
    });
}

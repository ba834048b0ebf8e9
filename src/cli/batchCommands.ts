/** The commands that deal with many trays at once: what can be typed. */
import type { Command } from 'commander';
import type { BatchOptions } from './commands/batch.ts';
import type { LayoutOptions } from './commands/layout.ts';
import type { WorkerOptions } from './commands/worker.ts';
import type { Dependencies } from './dependencies.ts';

const collect = (value: string, previous: readonly string[] = []): readonly string[] => [...previous, value];

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
  program
    .command('batch')
    .description('Solve a table or a family of trays in one go: their files, a manifest, a contact sheet.')
    .argument('<file>', 'table of trays (.csv, its header names tray fields) or family (.json)')
    .option('--base <file>', 'tray file with what all rows share')
    .option('--out <folder>', 'folder for the files, made when it is not there')
    .option('--zip <file>', 'one archive in place of a folder')
    .option('--format <list>', 'formats to write, separated by commas', 'dxf')
    .option('--exporter <module>', 'JavaScript module or package with further formats (repeatable)', collect)
    .option('--set <format.parameter=value>', 'set a parameter of a format (repeatable)', collect)
    .option('--jobs <number>', 'how many to solve at once; as many as there are cores when left out')
    .option('--resume', 'go on where an earlier run of the same batch stopped')
    .option('--queue <address>', 'have them solved by workers on a queue: redis://host:port')
    .option('--json', 'print a summary as JSON')
    .addHelpText('after', formats)
    .action(async (file: string, options: BatchOptions) => {
      const { batch } = await import('./commands/batch.ts');
      done(await batch(file, options, dependencies));
    });

  program
    .command('worker')
    .description('Solve trays from a queue until stopped; any number may run, also on other machines.')
    .requiredOption('--queue <address>', 'address of the queue: redis://host:port')
    .option('--jobs <number>', 'how many threads solve', '1')
    .option('--exporter <module>', 'JavaScript module or package with further formats (repeatable)', collect)
    .action(async (options: WorkerOptions) => {
      const { worker } = await import('./commands/worker.ts');
      done(await worker(options, dependencies));
    });

  program
    .command('layout')
    .description(
      'Lay blanks out on stock sheets: a DXF drawing a sheet, use of the sheet, cut length and cost.',
    )
    .argument('<file...>', 'tray files (.json), tables (.csv) or families (.json)')
    .requiredOption(
      '--sheet <length x width>',
      'stock sheet in mm, for example 2000x1000; rolled along its length',
    )
    .option('--base <file>', 'tray file with what all rows of a table share')
    .option(
      '--quantity <name=number>',
      'how many blanks of a tray (repeatable); a table has a column for it',
      collect,
    )
    .option('--spacing <mm>', 'least distance between blanks', '5')
    .option('--edge <mm>', 'least distance from the edge of the sheet', '10')
    .option('--grain <along|free>', 'whether the grain has to run along the sheet', 'along')
    .option('--parts <copy|block>', 'draw every blank in full, or each kind once as a block', 'copy')
    .option('--effort <number>', 'how long to look for a better layout: 0 not at all, 1 usual, up to 10', '1')
    .option('--rate-metre <amount>', 'your rate for a metre of cut')
    .option('--rate-pierce <amount>', 'your rate for a pierce')
    .option('--rate-kg <amount>', 'your rate for a kg of sheet')
    .option('--out <folder>', 'folder for the files, made when it is not there', '.')
    .option('--json', 'print the result as JSON')
    .action(async (files: string[], options: LayoutOptions) => {
      const { layout } = await import('./commands/layout.ts');
      done(await layout(files, options, dependencies));
    });
}

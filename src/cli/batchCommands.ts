/** The commands that deal with many trays at once: what can be typed. */
import type { Command } from 'commander';
import type { BatchOptions } from './commands/batch.ts';
import type { LayoutOptions } from './commands/layout.ts';
import type { WorkerOptions } from './commands/worker.ts';
import type { Dependencies } from './dependencies.ts';
import { addSheetOptions, collect } from './sheetOptions.ts';

/** What the exit code of a whole table says. */
const ROW_EXITS =
  '\nExit code, the worst of all rows: 0 good; 1 a tray cannot be solved, or the verdict on one is "not in one\n' +
  'piece" (its files are written all the same); 2 a row is bad. The other rows go on.';

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
  const batchCommand = program
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
    .option(
      '--sheet <length x width>',
      'also lay the blanks out on stock sheets of this size in mm, rolled along their length: 2000x1000',
    );
  addSheetOptions(batchCommand)
    .option('--json', 'print a summary as JSON')
    .addHelpText('after', `${ROW_EXITS}\n${formats}`)
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

  const layoutCommand = program
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
    .option('--jobs <number>', 'how many to solve at once; as many as there are cores when left out');
  addSheetOptions(layoutCommand)
    .option('--out <folder>', 'folder for the files, made when it is not there', '.')
    .option('--json', 'print the result as JSON')
    .addHelpText('after', ROW_EXITS)
    .action(async (files: string[], options: LayoutOptions) => {
      const { layout } = await import('./commands/layout.ts');
      done(await layout(files, options, dependencies));
    });
}

/**
 * The command line: what can be typed, and what it runs.
 *
 * The commands themselves are loaded when they are run, so that help comes at once.
 *
 * Nothing here ends the process or reads its arguments (`main.ts` does), so tests run it as a function.
 */
import { Command, CommanderError } from 'commander';
import { GatherpanError } from '../errors.ts';
import { addBatchCommands } from './batchCommands.ts';
import type { CheckOptions } from './commands/check.ts';
import type { HandOptions } from './commands/hand.ts';
import type { MakeOptions } from './commands/make.ts';
import type { PlanOptions } from './commands/plan.ts';
import type { ServeOptions } from './commands/serve.ts';
import type { SheetsOptions } from './commands/sheets.ts';
import type { Dependencies } from './dependencies.ts';
import { errorLines, errorSummary, exitFor } from './errorText.ts';
import { writeSummary } from './outcomes.ts';
import type { StepOptions } from './stepTrays.ts';

/** Exit code for a command that was typed wrongly. */
const USAGE = 2;

/**
 * Runs a command.
 *
 * Never throws for anything a person can cause; faults of the program come out as they are.
 *
 * @param argv what was typed after `gatherpan`
 * @returns the exit code: 0 good, 1 a tray cannot be made or solved, 2 bad input or usage
 */
export async function run(argv: readonly string[], dependencies: Dependencies): Promise<number> {
  let exit = 0;
  const asksForHelp = argv.some((word) => word === '--help' || word === '-h' || word === 'help');
  const formats =
    asksForHelp && (argv.includes('make') || argv.includes('batch')) ? await formatHelp(dependencies) : '';
  const program = commands(dependencies, formats, (code) => {
    exit = code;
  });
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return exit;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : USAGE;
    if (!(error instanceof GatherpanError)) throw error;
    dependencies.error(errorLines(error));
    exit = exitFor(error);
    if (argv.includes('--json')) writeSummary({ exit, trays: [], error: errorSummary(error) }, dependencies);
    return exit;
  }
}

function commands(dependencies: Dependencies, formats: string, done: (exit: number) => void): Command {
  const program = new Command('gatherpan')
    .description('Flat blanks for one-piece trays with gathered corners.')
    .version(dependencies.version, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand('help [command]', 'print the help of a command')
    .exitOverride()
    .configureOutput({ writeOut: dependencies.out, writeErr: dependencies.error })
    .showSuggestionAfterError()
    .addHelpText('after', '\nExit code: 0 good, 1 a tray cannot be made or solved, 2 bad input or usage.');

  program
    .command('make')
    .description('Solve each tray and write its files, named after the tray.')
    .argument('<file...>', 'tray files or STEP parts; - is standard input')
    .option('--out <folder>', 'folder for the files, made when it is not there', '.')
    .option('--format <list>', 'formats to write, separated by commas', 'dxf')
    .option('--exporter <module>', 'JavaScript module or package with further formats (repeatable)', collect)
    .option('--set <format.parameter=value>', 'set a parameter of a format (repeatable)', collect)
    .option('--material <name>', 'for STEP parts: the sheet material', 'DC04')
    .option('--thickness <mm>', 'for STEP parts that are a surface: the sheet thickness')
    .option('--grain <degrees>', 'for STEP parts: rolling direction from the x axis')
    .option('--trim <mm>', 'for STEP parts: extra material outside the net rim')
    .option('--json', 'print a summary as JSON')
    .addHelpText('after', formats)
    .action(async (files: string[], options: MakeOptions) => {
      const { make } = await import('./commands/make.ts');
      done(await make(files, options, dependencies));
    });

  program
    .command('check')
    .description('Solve each tray and print its figures and warnings; write nothing.')
    .argument('<file...>', 'tray files or STEP parts; - is standard input')
    .option('--changes', 'also search what to change when care is needed')
    .option('--material <name>', 'for STEP parts: the sheet material', 'DC04')
    .option('--thickness <mm>', 'for STEP parts that are a surface: the sheet thickness')
    .option('--grain <degrees>', 'for STEP parts: rolling direction from the x axis')
    .option('--trim <mm>', 'for STEP parts: extra material outside the net rim')
    .option('--json', 'print the figures as JSON')
    .action(async (files: string[], options: CheckOptions) => {
      const { check } = await import('./commands/check.ts');
      done(await check(files, options, dependencies));
    });

  program
    .command('plan')
    .description('Solve each tray and print how to work it: stages, anneals, tucks, grain, trim, changes.')
    .argument('<file...>', 'tray files; - is standard input')
    .option('--stages <number>', 'stages in which the wall is turned up; as in the tray file, or 3')
    .option('--json', 'print the plan as JSON')
    .action(async (files: string[], options: PlanOptions) => {
      const { plan } = await import('./commands/plan.ts');
      done(await plan(files, options, dependencies));
    });

  program
    .command('hand')
    .description("Find a person's hand from what was measured on one trial corner; store nothing.")
    .argument('<tray>', 'tray file the blank was cut from; - is standard input')
    .argument('<measurements>', 'file with the measurements; - is standard input')
    .option('--json', 'print the result as JSON')
    .action(async (tray: string, measurements: string, options: HandOptions) => {
      const { hand } = await import('./commands/hand.ts');
      done(await hand(tray, measurements, options, dependencies));
    });

  program
    .command('recognise')
    .description('Print the tray file of a STEP part: a flat base with walls of one section, of any heights.')
    .argument('<part>', 'STEP file of a solid; - is standard input')
    .option('--material <name>', 'the sheet material', 'DC04')
    .option('--grain <degrees>', 'rolling direction from the x axis')
    .option('--trim <mm>', 'extra material outside the net rim')
    .action(async (part: string, options: StepOptions) => {
      const { recognise } = await import('./commands/recognise.ts');
      done(await recognise(part, options, dependencies));
    });

  program
    .command('sheets')
    .description('List the sheet materials with their properties and sources.')
    .option('--json', 'print them as JSON')
    .action(async (options: SheetsOptions) => {
      const { sheets } = await import('./commands/sheets.ts');
      done(await sheets(options, dependencies));
    });

  program
    .command('serve')
    .description('Serve the page and the HTTP interface until stopped.')
    .option(
      '--host <address>',
      'address to listen at; the default is reached from this machine only',
      '127.0.0.1',
    )
    .option('--port <number>', 'port to listen at; 0 for any free one', '8017')
    .option('--name <host>', 'host name to answer to (repeatable)', collect)
    .option('--proxies <number>', 'proxies in front whose word about the client is taken', '0')
    .option('--rate <number>', 'requests a minute from one address; 0 for no limit', '1200')
    .option('--threads <number>', 'threads that solve; one for each core when left out')
    .action(async (options: ServeOptions) => {
      const { serve } = await import('./commands/serve.ts');
      done(await serve(options, dependencies));
    });

  addBatchCommands(program, dependencies, formats, done);
  return program;
}

const collect = (value: string, previous: readonly string[] = []): readonly string[] => [...previous, value];

/** The formats and their parameters, as the registry has them. */
async function formatHelp(dependencies: Dependencies): Promise<string> {
  const registry = await dependencies.load.registry([]);
  const lines = registry.list().flatMap((exporter) => [
    `  ${exporter.id.padEnd(8)} ${exporter.label}`,
    ...exporter.parameters.map((parameter) => {
      const values =
        parameter.type === 'boolean'
          ? 'true or false'
          : parameter.type === 'choice'
            ? parameter.choices.join(', ')
            : `${parameter.minimum} to ${parameter.maximum}${parameter.unit === '' ? '' : ` ${parameter.unit}`}`;
      return `    ${exporter.id}.${parameter.name}: ${parameter.help} (${values}; ${parameter.default} when not set)`;
    }),
  ]);
  return `\nFormats and their parameters:\n${lines.join('\n')}`;
}

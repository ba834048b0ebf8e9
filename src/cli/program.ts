/**
 * The command line: what can be typed, and what it runs.
 *
 * The commands themselves are loaded when they are run, so that help comes at once.
 *
 * Nothing here ends the process or reads its arguments (`main.ts` does), so tests run it as a function.
 */
import { Command, CommanderError } from 'commander';
import { GatherpanError } from '../errors.ts';
import type { CheckOptions } from './commands/check.ts';
import type { MakeOptions } from './commands/make.ts';
import type { SheetsOptions } from './commands/sheets.ts';
import type { Dependencies } from './dependencies.ts';
import { errorLines, errorSummary, exitFor } from './errorText.ts';
import { writeSummary } from './outcomes.ts';

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
  const formats = asksForHelp && argv.includes('make') ? await formatHelp(dependencies) : '';
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
    .argument('<file...>', 'tray files; - is standard input')
    .option('--out <folder>', 'folder for the files, made when it is not there', '.')
    .option('--format <list>', 'formats to write, separated by commas', 'dxf')
    .option('--exporter <module>', 'JavaScript module or package with further formats (repeatable)', collect)
    .option('--set <format.parameter=value>', 'set a parameter of a format (repeatable)', collect)
    .option('--json', 'print a summary as JSON')
    .addHelpText('after', formats)
    .action(async (files: string[], options: MakeOptions) => {
      const { make } = await import('./commands/make.ts');
      done(await make(files, options, dependencies));
    });

  program
    .command('check')
    .description('Solve each tray and print its figures and warnings; write nothing.')
    .argument('<file...>', 'tray files; - is standard input')
    .option('--json', 'print the figures as JSON')
    .action(async (files: string[], options: CheckOptions) => {
      const { check } = await import('./commands/check.ts');
      done(await check(files, options, dependencies));
    });

  program
    .command('sheets')
    .description('List the sheet materials with their properties and sources.')
    .option('--json', 'print them as JSON')
    .action(async (options: SheetsOptions) => {
      const { sheets } = await import('./commands/sheets.ts');
      done(await sheets(options, dependencies));
    });

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

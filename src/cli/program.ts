/**
 * The command line: what can be typed, and what it runs.
 *
 * The commands themselves are loaded when they are run, so that help comes at once.
 *
 * Nothing here ends the process or reads its arguments (`main.ts` does), so tests run it as a function.
 */
import { Command, CommanderError } from 'commander';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { addBatchCommands } from './batchCommands.ts';
import type { CheckOptions } from './commands/check.ts';
import type { HandOptions } from './commands/hand.ts';
import type { MakeOptions } from './commands/make.ts';
import type { PlanOptions } from './commands/plan.ts';
import type { ServeOptions } from './commands/serve.ts';
import type { SheetsOptions } from './commands/sheets.ts';
import type { Dependencies } from './dependencies.ts';
import { errorLines, errorSummary, exitFor } from './errorText.ts';
import { helpWords } from './helpWords.ts';
import { writeSummary } from './outcomes.ts';
import { collect } from './sheetOptions.ts';
import type { StepOptions } from './stepTrays.ts';
import { DEFAULT_LIMIT } from './timeLimit.ts';
import { usageError } from './usageError.ts';

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
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return 0;
      dependencies.error(usageError(error));
      return USAGE;
    }
    if (!(error instanceof GatherpanError)) throw error;
    dependencies.error(errorLines(error));
    exit = exitFor(error);
    if (argv.includes('--json')) writeSummary({ exit, trays: [], error: errorSummary(error) }, dependencies);
    return exit;
  }
}

function commands(dependencies: Dependencies, formats: string, done: (exit: number) => void): Command {
  const { help } = words().command;
  const { commands: does, arguments: takes, options: said, values } = help;
  const program = new Command('gatherpan')
    .description(does.program)
    .version(dependencies.version, '--version', help.version)
    .helpOption('-h, --help', help.help)
    .helpCommand(`help [${values.command}]`, help.helpCommand)
    .exitOverride()
    // What is typed wrongly is told by `run`, in the words of the table.
    .configureOutput({ writeOut: dependencies.out, writeErr: dependencies.error, outputError: () => {} })
    .configureHelp(helpWords())
    .showSuggestionAfterError()
    .addHelpText('after', `\n${help.exits}`);

  /** What STEP parts do not say themselves. */
  const withPart = (command: Command): Command =>
    command
      .option(`--material <${values.name}>`, said.stepMaterial, 'DC04')
      .option('--thickness <mm>', said.stepThickness)
      .option(`--grain <${values.degrees}>`, said.stepGrain)
      .option('--trim <mm>', said.stepTrim);
  /** Of those that solve trays and tell of them. */
  const withSolve = (command: Command, json: string): Command =>
    command
      .option(`--units <${values.unit}>`, said.drawingUnits)
      .option(`--limit <${values.seconds}>`, said.limit, DEFAULT_LIMIT)
      .option('--json', json);

  withSolve(
    withPart(
      program
        .command('make')
        .description(does.make)
        .argument(`<${values.file}...>`, takes.traysOrParts)
        .option(`--out <${values.folder}>`, said.out, '.')
        .option(`--format <${values.list}>`, said.format, 'dxf')
        .option(`--exporter <${values.module}>`, said.exporter, collect)
        .option(`--set <${values.setting}>`, said.set, collect),
    ),
    said.jsonSummary,
  )
    .addHelpText('after', formats)
    .action(async (files: string[], options: MakeOptions) => {
      const { make } = await import('./commands/make.ts');
      done(await make(files, options, dependencies));
    });

  withSolve(
    withPart(
      program
        .command('check')
        .description(does.check)
        .argument(`<${values.file}...>`, takes.traysOrParts)
        .option('--changes', said.changes),
    ),
    said.jsonFigures,
  ).action(async (files: string[], options: CheckOptions) => {
    const { check } = await import('./commands/check.ts');
    done(await check(files, options, dependencies));
  });

  withSolve(
    program
      .command('plan')
      .description(does.plan)
      .argument(`<${values.file}...>`, takes.trays)
      .option(`--stages <${values.number}>`, said.stages)
      .option('--bench', said.planBench),
    said.jsonPlan,
  ).action(async (files: string[], options: PlanOptions) => {
    const { plan } = await import('./commands/plan.ts');
    done(await plan(files, options, dependencies));
  });

  program
    .command('hand')
    .description(does.hand)
    .argument(`<${values.tray}>`, takes.handTray)
    .argument(`<${values.measurements}>`, takes.measurements)
    .option(`--out <${values.folder}>`, said.handOut)
    .option(`--format <${values.list}>`, said.handFormat, 'dxf')
    .option(`--keep <${values.file}>`, said.handKeep)
    .option(`--name <${values.name}>`, said.handName)
    .option(`--person <${values.name}>`, said.handPerson)
    .option(`--units <${values.unit}>`, said.drawingUnits)
    .option('--json', said.jsonResult)
    .addHelpText('after', () => words().command.help.measurementsFile)
    .action(async (tray: string, measurements: string, options: HandOptions) => {
      const { hand } = await import('./commands/hand.ts');
      done(await hand(tray, measurements, options, dependencies));
    });

  program
    .command('recognise')
    .description(does.recognise)
    .argument(`<${values.part}>`, takes.part)
    .option(`--material <${values.name}>`, said.material, 'DC04')
    .option(`--grain <${values.degrees}>`, said.grain)
    .option('--trim <mm>', said.trim)
    .option(`--limit <${values.seconds}>`, said.limit, DEFAULT_LIMIT)
    .action(async (part: string, options: StepOptions) => {
      const { recognise } = await import('./commands/recognise.ts');
      done(await recognise(part, options, dependencies));
    });

  program
    .command('sheets')
    .description(does.sheets)
    .option('--json', said.jsonSheets)
    .action(async (options: SheetsOptions) => {
      const { sheets } = await import('./commands/sheets.ts');
      done(await sheets(options, dependencies));
    });

  program
    .command('serve')
    .description(does.serve)
    .option(`--host <${values.address}>`, said.host, '127.0.0.1')
    .option(`--port <${values.number}>`, said.port, '8017')
    .option(`--name <${values.host}>`, said.name, collect)
    .option(`--proxies <${values.number}>`, said.proxies, '0')
    .option(`--rate <${values.number}>`, said.rate, '1200')
    .option(`--threads <${values.number}>`, said.threads)
    .action(async (options: ServeOptions) => {
      const { serve } = await import('./commands/serve.ts');
      done(await serve(options, dependencies));
    });

  addBatchCommands(program, dependencies, formats, done);
  return program;
}

/** The formats and their parameters, as the registry has them. */
async function formatHelp(dependencies: Dependencies): Promise<string> {
  const registry = await dependencies.load.registry([]);
  const { help } = words().command;
  const lines = registry.list().flatMap((exporter) => [
    `  ${exporter.id.padEnd(8)} ${exporter.label}`,
    ...exporter.parameters.map((parameter) => {
      const values =
        parameter.type === 'boolean'
          ? help.trueOrFalse
          : parameter.type === 'choice'
            ? parameter.choices.join(', ')
            : parameter.type === 'list'
              ? help.anyOf(parameter.choices.join(', '))
              : help.fromTo(
                  String(parameter.minimum),
                  `${parameter.maximum}${parameter.unit === '' ? '' : ` ${parameter.unit}`}`,
                );
      const byDefault = parameter.default === '' ? help.none : String(parameter.default);
      return `    ${help.parameter(`${exporter.id}.${parameter.name}`, parameter.help, values, byDefault)}`;
    }),
  ]);
  return `\n${help.formats}\n${lines.join('\n')}`;
}

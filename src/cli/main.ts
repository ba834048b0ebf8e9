/**
 * The command `gatherpan`. The only place that reads the process's arguments, sets its exit code or prints a
 * stack, and that only for a fault of the program.
 */
import { writeFailure } from '../jobs/wholeFile.ts';
import { VERSION } from '../version.ts';
import { words } from '../words/language.ts';
import { modules } from './dependencies.ts';
import { errorLines, exitFor } from './errorText.ts';
import { run } from './program.ts';

let told = false;
// Whoever reads our output may stop early (`gatherpan sheets | head`): that is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  // What is being written to the disk is brought to its end all the same.
  const failure = writeFailure(error, words().command.output.standardOutput);
  if (!told) process.stderr.write(errorLines(failure));
  told = true;
  process.exitCode = worst(exitFor(failure));
});
// There is nowhere left to say it.
process.stderr.on('error', () => {});

/** Of what has gone wrong so far and this. */
const worst = (exit: number): number => Math.max(exit, Number(process.exitCode ?? 0));

/** The day as ISO 8601 has it: of the clock here, or of SOURCE_DATE_EPOCH where files have to come out the same. */
function today(): string {
  const epoch = process.env.SOURCE_DATE_EPOCH;
  if (epoch !== undefined && /^\d{1,12}$/.test(epoch))
    return new Date(1000 * Number(epoch)).toISOString().slice(0, 10);
  const now = new Date();
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

const printStack = (error: unknown): void => {
  process.stderr.write(`${error instanceof Error ? error.stack : String(error)}\n`);
};

try {
  const exit = await run(process.argv.slice(2), {
    version: VERSION,
    today: today(),
    folder: process.cwd(),
    stdin: process.stdin,
    out: (text) => process.stdout.write(text),
    error: (text) => process.stderr.write(text),
    isTerminal: process.stderr.isTTY === true,
    fault: printStack,
    load: modules,
  });
  process.exitCode = worst(exit);
} catch (error) {
  process.stderr.write(`${words().messages.cli.faultUnknown}\n`);
  printStack(error);
  process.exitCode = 1;
}

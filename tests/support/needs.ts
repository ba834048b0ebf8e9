import { TestRunner } from 'vitest';
import { missingLine, type ToolName, toolCommand } from './tools.ts';

/**
 * The command of a program that the running test cannot go on without; skips the test where it is not installed.
 *
 * @throws Error outside a test, and where the program is missing and `CI` is set
 */
export function needed(name: ToolName): string {
  const command = toolCommand(name);
  if (command !== null) return command;
  TestRunner.getCurrentTest()?.context.skip(missingLine(name));
  throw new Error(missingLine(name));
}

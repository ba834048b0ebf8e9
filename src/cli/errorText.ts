/** Errors as the command line tells them: exit codes, lines for a person, data for a program. */
import { ERROR_TABLE, GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** What a file argument is called in sentences. */
export const fileLabel = (file: string): string =>
  file === '-' ? words().command.output.standardInput : file;

/** Exit code for an error: by its code, 1 for a fault of the program. */
export const exitFor = (error: unknown): number =>
  error instanceof GatherpanError ? ERROR_TABLE[error.code].exit : 1;

/** An error as a summary gives it. */
export interface ErrorSummary {
  readonly code: string;
  readonly faults: readonly { readonly path: string; readonly message: string }[];
}

export function errorSummary(error: unknown): ErrorSummary {
  if (error instanceof GatherpanError) return { code: error.code, faults: error.faults };
  return { code: 'FAULT', faults: [{ path: '', message: programFault(error) }] };
}

/** Lines for a person, one for each fault, led by the file when there is one. */
export const errorLines = (error: unknown, file?: string): string =>
  errorSummary(error)
    .faults.map(({ message }) => `${file === undefined ? '' : `${fileLabel(file)}: `}${message}\n`)
    .join('');

function programFault(error: unknown): string {
  const [reason = ''] = String(error instanceof Error ? error.message : error).split('\n');
  return words().messages.cli.fault(reason);
}

/** What became of the trays of a command, and how it is told: lines for a person or one JSON document. */
import { GatherpanError } from '../errors.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { words } from '../words/language.ts';
import type { Dependencies } from './dependencies.ts';
import { type ErrorSummary, errorLines, errorSummary, exitFor } from './errorText.ts';
import { type Figures, figures } from './figures.ts';
import { type GatherFigures, gatherFigures } from './gatherLines.ts';
import type { Progress } from './progress.ts';
import type { Job } from './trays.ts';

/** Why a tray failed, or what was made of it. */
export type Outcome =
  | { readonly error: unknown }
  | {
      readonly pattern: FlatPattern;
      readonly files: readonly string[];
      /** Exit code although all went well: 1 for a tray that is not to be made. 0 when absent. */
      readonly exit?: number;
      /** Further parts of the tray's summary, by key. */
      readonly more?: Readonly<Record<string, unknown>>;
    };

/** One tray in the document that `--json` writes. */
export type TraySummary =
  | {
      readonly file: string;
      readonly name: string;
      readonly ok: true;
      /** Paths of the files written; empty when the command writes none. */
      readonly files: readonly string[];
      readonly figures: Figures;
      readonly gather: GatherFigures;
    }
  | { readonly file: string; readonly name: string | null; readonly ok: false; readonly error: ErrorSummary };

/** The document that `--json` writes. `error` when the command as a whole could not begin. */
export interface Summary {
  readonly exit: number;
  readonly trays: readonly TraySummary[];
  readonly error?: ErrorSummary;
}

/**
 * Deals with the trays one after the other and tells what became of each; one that fails stops no other.
 *
 * @param work  makes of a tray what the command is there for
 * @param lines what to tell a person about a tray that went well
 * @returns the exit code, the worst of all
 */
export async function eachTray(
  jobs: readonly Job[],
  json: boolean,
  dependencies: Dependencies,
  progress: Progress,
  work: (job: Extract<Job, { spec: unknown }>) => Promise<Exclude<Outcome, { error: unknown }>>,
  lines: (outcome: Exclude<Outcome, { error: unknown }>) => string,
): Promise<number> {
  const trays: TraySummary[] = [];
  let exit = 0;
  for (const [position, job] of jobs.entries()) {
    let outcome: Outcome;
    try {
      if ('error' in job) throw job.error;
      progress.show(
        words().command.output.progress.tray(String(position + 1), String(jobs.length), job.spec.name),
      );
      outcome = await work(job);
    } catch (error) {
      outcome = { error };
    }
    progress.clear();
    if ('error' in outcome) {
      exit = Math.max(exit, exitFor(outcome.error));
      dependencies.error(errorLines(outcome.error, job.file));
      if (!(outcome.error instanceof GatherpanError)) dependencies.fault(outcome.error);
    } else {
      exit = Math.max(exit, outcome.exit ?? 0);
      if (!json) dependencies.out(lines(outcome));
    }
    trays.push(summaryOf(job, outcome));
  }
  if (json) writeSummary({ exit, trays }, dependencies);
  return exit;
}

export function writeSummary(summary: Summary, dependencies: Dependencies): void {
  dependencies.out(`${JSON.stringify(summary, null, 2)}\n`);
}

function summaryOf(job: Job, outcome: Outcome): TraySummary {
  if ('error' in outcome) {
    const name = 'spec' in job ? job.spec.name : null;
    return { file: job.file, name, ok: false, error: errorSummary(outcome.error) };
  }
  const { pattern, files, more } = outcome;
  return {
    file: job.file,
    name: pattern.name,
    ok: true,
    files,
    figures: figures(pattern),
    gather: gatherFigures(pattern.gather),
    ...more,
  };
}

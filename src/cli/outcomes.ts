/** What became of the trays of a command, and how it is told: lines for a person or one JSON document. */
import { GatherpanError } from '../errors.ts';
import { VERDICT_EXIT, type Verdict } from '../gather/report.ts';
import { ownWriter } from '../papers/lengths.ts';
import type { ChangeSearch } from '../pattern/changes.ts';
import { verdictOn } from '../pattern/developed.ts';
import type { Developed, FlatPattern } from '../pattern/flatPattern.ts';
import { type Figures, figures } from '../pattern/reportFigures.ts';
import { withinTimeLimit } from '../solve/timeLimit.ts';
import { words } from '../words/language.ts';
import { type InWords, inWords } from '../words/statement.ts';
import type { Dependencies } from './dependencies.ts';
import { type ErrorSummary, errorLines, errorSummary, exitFor } from './errorText.ts';
import { titledLine } from './figures.ts';
import { type GatherFigures, gatherFigures, proposalLines, verdictLines } from './gatherLines.ts';
import { progressLine } from './progress.ts';
import { searchTime } from './searchTime.ts';
import { secondsOf } from './timeLimit.ts';
import type { Job } from './trays.ts';

/** What was made of a tray. */
export interface Made<Pattern extends Developed = Developed> {
  readonly pattern: Pattern;
  readonly files: readonly string[];
  /** What would give a better verdict, where it was searched. */
  readonly changes?: ChangeSearch;
  /** Further parts of the tray's summary, by key. */
  readonly more?: Readonly<Record<string, unknown>>;
}

/** Why a tray failed, or what was made of it. */
type Outcome = { readonly error: unknown } | Made;

/** One tray in the document that `--json` writes. */
export type TraySummary =
  | {
      readonly file: string;
      readonly name: string;
      readonly ok: true;
      /** Paths of the files written; empty when the command writes none. */
      readonly files: readonly string[];
      /** Null for a tray that has no flat. */
      readonly figures: Figures | null;
      /** Of a tray that has no flat, the verdict alone. */
      readonly gather: GatherFigures | { readonly verdict: InWords<Verdict> };
      readonly changes?: InWords<ChangeSearch>;
      /** How the drawing of the plan was read, where there is something to know. */
      readonly notes?: readonly string[];
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
 * @param work  makes of a tray what the command is there for; what would give a tray a flat that has none is
 *   searched here
 * @param lines what to tell a person about a tray that has a flat
 * @returns the exit code, the worst of all; a verdict has one as well
 */
export async function eachTray(
  jobs: readonly Job[],
  { json = false, limit }: { readonly json?: boolean; readonly limit?: string },
  dependencies: Dependencies,
  work: (job: Extract<Job, { spec: unknown }>) => Promise<Made>,
  lines: (made: Made<FlatPattern>) => string,
): Promise<number> {
  const progress = progressLine(dependencies);
  const seconds = secondsOf(limit);
  const trays: TraySummary[] = [];
  let exit = 0;
  for (const [position, job] of jobs.entries()) {
    let outcome: Outcome;
    try {
      if ('error' in job) throw job.error;
      progress.show(
        words().command.output.progress.tray(String(position + 1), String(jobs.length), job.spec.name),
      );
      outcome = await withinTimeLimit(
        { seconds, now: dependencies.now ?? (() => performance.now()) },
        async () => withWayOut(await work(job), dependencies),
      );
    } catch (error) {
      outcome = { error };
    }
    progress.clear();
    if ('error' in outcome) {
      exit = Math.max(exit, exitFor(outcome.error));
      dependencies.error(errorLines(outcome.error, job.file));
      if (!(outcome.error instanceof GatherpanError)) dependencies.fault(outcome.error);
    } else {
      exit = Math.max(exit, VERDICT_EXIT[verdictOn(outcome.pattern).word]);
      if (!json) dependencies.out(hasFlat(outcome) ? lines(outcome) : noFlatLines(outcome));
    }
    trays.push(summaryOf(job, outcome));
  }
  if (json) writeSummary({ exit, trays }, dependencies);
  return exit;
}

const hasFlat = (made: Made): made is Made<FlatPattern> => made.pattern.kind !== 'no flat';

/** For a tray without a flat, what would give it one; a part has no sizes to change. */
async function withWayOut(made: Made, dependencies: Dependencies): Promise<Made> {
  const { pattern } = made;
  if (pattern.kind !== 'no flat' || pattern.of === 'part' || made.changes !== undefined) return made;
  const { searchChanges } = await dependencies.load.gather();
  return { ...made, changes: searchChanges(pattern.spec, pattern.verdict.word, searchTime()) };
}

/** What is said of a tray that has no flat, by every command. */
function noFlatLines({ pattern, changes }: Made): string {
  const { titles, nothingWritten } = words().command.output;
  return [
    `${pattern.name}\n`,
    verdictLines(verdictOn(pattern), ownWriter(pattern.spec), words()),
    changes === undefined ? '' : proposalLines(changes, pattern, words()),
    titledLine(titles.note, nothingWritten),
  ].join('');
}

export function writeSummary(summary: Summary, dependencies: Dependencies): void {
  dependencies.out(`${JSON.stringify(summary, null, 2)}\n`);
}

function summaryOf(job: Job, outcome: Outcome): TraySummary {
  if ('error' in outcome) {
    const name = 'spec' in job ? job.spec.name : null;
    return { file: job.file, name, ok: false, error: errorSummary(outcome.error) };
  }
  const { pattern, files, changes, more } = outcome;
  return {
    file: job.file,
    name: pattern.name,
    ok: true,
    files,
    ...(pattern.kind === 'no flat'
      ? { figures: null, gather: { verdict: inWords(pattern.verdict, words()) } }
      : { figures: figures(pattern, words()), gather: gatherFigures(pattern, words()) }),
    ...(changes === undefined ? {} : { changes: inWords(changes, words()) }),
    ...('notes' in job ? { notes: job.notes } : {}),
    ...more,
  };
}

/** Solves the trays of a layout with an engine. */
import type { Engine } from '../batch/engine.ts';
import { planChunks } from '../batch/plan.ts';
import type { TrayRow } from '../batch/rows.ts';
import { GatherpanError } from '../errors.ts';
import type { RowError } from '../jobs/manifest.ts';
import { programFingerprint } from '../jobs/program.ts';
import type { MadeReport } from '../jobs/rowReport.ts';
import { words } from '../words/language.ts';
import { type GrainRule, type Part, partOf } from './parts.ts';

export interface SolvedPart {
  readonly part: Part;
  readonly report: MadeReport;
}

/** A tray that failed, and why. */
export interface Failed {
  readonly tray: TrayRow;
  readonly error: RowError;
}

export interface SolvedParts {
  readonly parts: readonly SolvedPart[];
  readonly failed: readonly Failed[];
}

/**
 * One tray that fails stops no other.
 *
 * @param solved told of every tray that is done
 * @param limit most seconds that a tray may take; none when left out
 * @throws GatherpanError CANCELLED when the signal was aborted
 */
export async function solveParts(
  trays: readonly TrayRow[],
  grain: GrainRule,
  engine: Engine,
  signal: AbortSignal,
  solved: (name: string) => void = () => {},
  limit?: number,
): Promise<SolvedParts> {
  const byRow = new Map(trays.map((tray) => [tray.row, tray]));
  const parts: SolvedPart[] = [];
  const failed: Failed[] = [];
  for await (const { results } of engine.solve(
    planChunks(trays, {
      formats: [],
      program: programFingerprint(),
      blanks: true,
      ...(limit === undefined ? {} : { limit }),
    }),
    signal,
  )) {
    for (const result of results) {
      const tray = byRow.get(result.row)!;
      if (result.ok) parts.push({ part: partOf(result.blank!, tray.quantity, grain), report: result.report });
      else failed.push({ tray, error: result.error });
      solved(tray.spec.name);
    }
  }
  if (signal.aborted) throw new GatherpanError('CANCELLED', words().messages.layout.stopped);
  return { parts, failed };
}

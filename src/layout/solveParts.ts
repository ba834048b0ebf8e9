/** Solves the trays of a layout with an engine. */
import type { Engine } from '../batch/engine.ts';
import { planChunks } from '../batch/plan.ts';
import type { RowFigures } from '../batch/rowFigures.ts';
import type { TrayRow } from '../batch/rows.ts';
import { type ErrorCode, GatherpanError } from '../errors.ts';
import { programFingerprint } from '../jobs/program.ts';
import { words } from '../words/language.ts';
import { type GrainRule, type Part, partOf } from './parts.ts';

export interface SolvedPart {
  readonly part: Part;
  readonly figures: RowFigures;
}

/**
 * @param solved told of every tray that is done
 * @param limit most seconds that a tray may take; none when left out
 * @throws GatherpanError of the first tray that cannot be solved: a layout without it would be another order;
 *   CANCELLED when the signal was aborted
 */
export async function solveParts(
  trays: readonly TrayRow[],
  grain: GrainRule,
  engine: Engine,
  signal: AbortSignal,
  solved: (name: string) => void = () => {},
  limit?: number,
): Promise<SolvedPart[]> {
  const byRow = new Map(trays.map((tray) => [tray.row, tray]));
  const parts: SolvedPart[] = [];
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
      if (!result.ok) {
        throw new GatherpanError(
          result.error.code as ErrorCode,
          result.error.faults.map(({ path, message }) => ({
            path,
            message: `${tray.spec.name}: ${message}`,
          })),
        );
      }
      parts.push({ part: partOf(result.blank!, tray.quantity, grain), figures: result.figures });
      solved(tray.spec.name);
    }
  }
  if (signal.aborted) throw new GatherpanError('CANCELLED', words().messages.layout.stopped);
  return parts;
}

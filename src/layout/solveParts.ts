/** Solves the trays of a layout with an engine, and makes them its parts. */
import type { Engine } from '../batch/engine.ts';
import { planChunks } from '../batch/plan.ts';
import type { TrayRow } from '../batch/rows.ts';
import { type ErrorCode, GatherpanError } from '../errors.ts';
import { type GrainRule, type Part, partOf } from './parts.ts';

/**
 * @param solved told of every tray that is done
 * @throws GatherpanError of the first tray that cannot be solved: a layout without it would be another order;
 *   CANCELLED when the signal was aborted
 */
export async function solveParts(
  trays: readonly TrayRow[],
  grain: GrainRule,
  version: string,
  engine: Engine,
  signal: AbortSignal,
  solved: (name: string) => void = () => {},
): Promise<Part[]> {
  const byRow = new Map(trays.map((tray) => [tray.row, tray]));
  const chunks = planChunks(trays, [], version, () => false).map((chunk) => ({ ...chunk, patterns: true }));
  const parts: Part[] = [];
  for await (const { results } of engine.solve(chunks, signal)) {
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
      parts.push(partOf(tray, result.pattern!, grain));
      solved(tray.spec.name);
    }
  }
  if (signal.aborted) throw new GatherpanError('CANCELLED', 'Stopped; nothing was written.');
  return parts;
}

/** What is said of a row that something speaks against, and its exit code: the same for batch and layout. */
import { ERROR_TABLE, type ErrorCode } from '../errors.ts';
import { VERDICT_EXIT, type VerdictWord } from '../gather/report.ts';
import type { RowError } from '../jobs/manifest.ts';
import type { Dependencies } from './dependencies.ts';

/** By its verdict, as `check` has it, where it has one. */
export function exitOfRow(verdict: VerdictWord | null, error: RowError | null): number {
  if (verdict !== null) return VERDICT_EXIT[verdict];
  if (error !== null) return ERROR_TABLE[error.code as ErrorCode]?.exit ?? 1;
  return 0;
}

/** One line a fault, led by the place. */
export const tellRow = (
  faults: readonly { readonly message: string }[],
  where: string,
  dependencies: Dependencies,
): void => dependencies.error(faults.map(({ message }) => `${where}: ${message}\n`).join(''));

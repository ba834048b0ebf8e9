/** A layout on stock sheets as the last step of a batch. */
import type { Finish } from '../batch/runBatch.ts';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { leftOutRow, type SheetFile } from './layoutReport.ts';
import { partOf } from './parts.ts';
import { isLayoutFile, namedSheets, type SheetOrder, sheetFiles } from './sheetFiles.ts';
import { layOut, type SheetLayout } from './sheetLayout.ts';

export interface LaidOut {
  readonly layout: SheetLayout;
  readonly sheets: readonly SheetFile[];
}

export interface BatchSheets {
  /** What `runBatch` is given. */
  readonly finish: Finish;
  /** What came of it: null before, and when no tray was made. */
  readonly laid: () => LaidOut | null;
}

/** @param begun told of the number of blanks when their layout begins */
export function batchSheets(order: SheetOrder, begun: (blanks: number) => void = () => {}): BatchSheets {
  let laid: LaidOut | null = null;
  const finish: Finish = {
    owns: isLayoutFile,
    async *files(made, others, signal) {
      const parts = made.map(({ tray, blank }) => partOf(blank(), tray.quantity, order.grain, blank));
      begun(parts.reduce((sum, part) => sum + part.quantity, 0));
      const layout = await layOut(parts, order, signal).catch(withAdvice);
      const sheets = namedSheets(layout);
      yield* sheetFiles(layout, sheets, order, others.map(leftOutRow));
      laid = { layout, sheets };
    },
  };
  return { finish, laid: () => laid };
}

/** Nothing of the work is lost when a blank does not fit the sheet. */
function withAdvice(error: unknown): never {
  if (!(error instanceof GatherpanError) || error.code !== 'BAD_INPUT') throw error;
  throw new GatherpanError(error.code, [
    ...error.faults,
    { path: '', message: words().messages.layout.otherSheet },
  ]);
}

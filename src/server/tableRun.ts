/** How a table of sizes is worked through, and told, by the service and by a page. */
import type { ManifestTray } from '../jobs/manifest.ts';

/** What is told of a table while it is solved; by the service a line of JSON each. */
export type TableEvent =
  | { readonly event: 'start'; readonly rows: number }
  /** As in the manifest of an archive, without files. */
  | { readonly event: 'row'; readonly tray: ManifestTray }
  | { readonly event: 'end'; readonly made: number; readonly failed: number };

/** Works on every row, several at a time, each begun in its turn, until all are done or it is stopped. */
export async function eachRow<Row>(
  rows: readonly Row[],
  atATime: number,
  stop: AbortSignal,
  work: (row: Row, position: number) => Promise<void>,
): Promise<void> {
  let next = 0;
  const worker = async (): Promise<void> => {
    while (next < rows.length && !stop.aborted) {
      const position = next++;
      await work(rows[position]!, position);
    }
  };
  await Promise.all(Array.from({ length: Math.min(atATime, rows.length) }, worker));
}

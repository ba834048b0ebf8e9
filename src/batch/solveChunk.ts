/** Solves the rows of a chunk one after the other and writes their files into memory. */
import { GatherpanError } from '../errors.ts';
import type { Registry } from '../exporters/registry.ts';
import type { Vertex } from '../geometry/path.ts';
import { moduleChanged, sourceOf } from '../jobs/exporterHost.ts';
import { fileNamesOf } from '../jobs/fileNames.ts';
import type { ResultFile, RowError } from '../jobs/manifest.ts';
import { type MadeReport, rowReport } from '../jobs/rowReport.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import { developTray } from '../pattern/developTray.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { StructureCache } from '../solve/solveTray.ts';
import { StartCache } from '../solve/startCache.ts';
import { withinTimeLimit } from '../solve/timeLimit.ts';
import { words } from '../words/language.ts';
import { type Blank, blankOf } from './blank.ts';
import type { ChosenFormat, Chunk } from './plan.ts';

/**
 * Sparse structures that are kept, coarse and refined ones: along a row of sizes a few topologies take turns. Each
 * holds some 300 kB.
 */
const STRUCTURES = 32;

/** What became of a row. Plain data. */
export type RowResult =
  | {
      readonly row: number;
      readonly key: string;
      readonly ok: true;
      readonly files: readonly ResultFile[];
      readonly report: MadeReport;
      /** What is cut, for the contact sheet: to 0.01 mm. */
      readonly outline: readonly Vertex[];
      /** Only when the chunk asks for it. */
      readonly blank?: Blank;
      /**
       * A row before it in the chunk ran into the limit, so this one started from another size than it would have: it
       * is right, but its last digits are not to be counted on.
       */
      readonly afterTimeout?: true;
    }
  | { readonly row: number; readonly key: string; readonly ok: false; readonly error: RowError };

/**
 * Never throws for a row that fails: the others go on, and whether the next one has a neighbour to start from
 * is the same wherever the chunk is solved.
 *
 * @param now tells the time in ms, for the chunk's limit
 * @returns the wanted rows, in order
 */
export async function solveChunk(
  chunk: Chunk,
  registry: Registry,
  now: () => number = () => performance.now(),
): Promise<RowResult[]> {
  const structures = new StructureCache(STRUCTURES);
  const starts = new StartCache();
  const results: RowResult[] = [];
  const limit = chunk.limit === undefined ? null : { seconds: chunk.limit, now };
  let late = false;
  for (const { row, key, spec, wanted } of chunk.rows) {
    try {
      const result = await withinTimeLimit(limit, async (): Promise<RowResult | null> => {
        const pattern = flatPatternOf(developTray(spec, { solve: { structures, starts } }));
        if (!wanted) return null;
        return {
          row,
          key,
          ok: true,
          files: await filesOf(pattern, chunk.formats, registry),
          report: rowReport(pattern, words()),
          outline: pattern.outline.vertices.map(rounded),
          ...(chunk.blanks === true ? { blank: blankOf(pattern) } : {}),
          ...(late ? { afterTimeout: true } : {}),
        };
      });
      if (result !== null) results.push(result);
    } catch (error) {
      late ||= error instanceof GatherpanError && error.code === 'TIMEOUT';
      if (wanted) results.push({ row, key, ok: false, error: rowError(error) });
    }
  }
  return results;
}

export const rowError = (error: unknown): RowError =>
  error instanceof GatherpanError
    ? { code: error.code, faults: error.faults }
    : {
        code: 'FAULT',
        faults: [
          {
            path: '',
            message: words().messages.batch.fault(
              String(error instanceof Error ? error.message : error).split('\n')[0]!,
            ),
          },
        ],
      };

async function filesOf(
  pattern: FlatPattern,
  formats: readonly ChosenFormat[],
  registry: Registry,
): Promise<ResultFile[]> {
  const files: ResultFile[] = [];
  const names = fileNamesOf(pattern.name, formats);
  for (const [i, { id, source, values }] of formats.entries()) {
    const exporter = registry.get(id);
    if (source !== undefined && source !== sourceOf(exporter)) throw moduleChanged(id);
    // A copy: what an exporter returns may be a part of a larger buffer, which would be sent as a whole.
    const bytes = new Uint8Array(await exporter.write(pattern, values));
    files.push({ name: names[i]!, bytes });
  }
  return files;
}

const rounded = ({ x, y, bulge }: Vertex): Vertex => ({
  x: Math.round(x * 100) / 100,
  y: Math.round(y * 100) / 100,
  bulge: Number(bulge.toFixed(5)),
});

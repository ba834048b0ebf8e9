/** A thread of the embedded pool: solves the chunks it is given. */
import { workerData } from 'piscina';
import { dxfExporter } from '../exporters/dxf/dxfExporter.ts';
import { createRegistry, type Registry } from '../exporters/registry.ts';
import type { Chunk } from './plan.ts';
import type { ThreadData } from './pool.ts';
import { type RowResult, rowError, solveChunk } from './solveChunk.ts';

const { modules } = workerData as ThreadData;

/** Drawings alone are what is mostly wanted; all other formats bring fonts and more, some 20 MB a thread. */
const drawings = createRegistry([dxfExporter]);
let all: Promise<Registry> | undefined;

export default async function poolWorker(chunk: Chunk): Promise<RowResult[]> {
  if (chunk.formats.every(({ id }) => id === dxfExporter.id)) return solveChunk(chunk, drawings);
  all ??= import('./registryWith.ts').then(({ registryWith }) => registryWith(modules));
  let registry: Registry;
  try {
    registry = await all;
  } catch (error) {
    // A module that cannot be loaded here is the rows' failure: an error would not keep its class between threads.
    all = undefined;
    const failed = { ok: false, error: rowError(error) } as const;
    return chunk.rows.filter(({ wanted }) => wanted).map(({ row, key }) => ({ row, key, ...failed }));
  }
  return solveChunk(chunk, registry);
}

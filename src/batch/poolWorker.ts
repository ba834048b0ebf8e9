/** A thread of the embedded pool: solves the chunks it is given. */
import { workerData } from 'piscina';
import type { Chunk } from './plan.ts';
import type { ThreadData } from './pool.ts';
import { registryWith } from './registryWith.ts';
import { type RowResult, solveChunk } from './solveChunk.ts';

const { modules } = workerData as ThreadData;
const registry = registryWith(modules);

export default async function poolWorker(chunk: Chunk): Promise<RowResult[]> {
  return solveChunk(chunk, await registry);
}

/**
 * The library's part for families of sizes (`gatherpan/batch`): from a table or a family to files, manifest and
 * contact sheet, with threads of this process or workers on a queue. For Node only.
 */
export { type HostedExporter, hostExporters } from '../jobs/exporterHost.ts';
export type { ManifestTray, ResultFile, RowError, State, WrittenFile } from '../jobs/manifest.ts';
export type { MadeReport, RowFigures, RowReport } from '../jobs/rowReport.ts';
export type { Blank } from './blank.ts';
export { chosenFormat } from './chosenFormat.ts';
export type { Engine, SolvedChunk } from './engine.ts';
export type { ChosenFormat, Chunk, ChunkRow, ExporterModules } from './plan.ts';
export { type PoolOptions, poolEngine } from './pool.ts';
export { type QueueOptions, queueEngine } from './queue.ts';
export { type QueueWorker, type QueueWorkerOptions, startQueueWorker } from './queueWorker.ts';
export { formatOf, readBatch, traysOf } from './readBatch.ts';
export { type BadRow, type BatchRow, isTray, type TrayRow } from './rows.ts';
export {
  type BatchOptions,
  type BatchOutcome,
  type BatchProgress,
  type Finish,
  type Made,
  runBatch,
  type Target,
} from './runBatch.ts';
export type { RowResult } from './solveChunk.ts';

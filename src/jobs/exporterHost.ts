/**
 * Runs a third party's exporters in a thread of their own, so that one that never answers, ends the process or throws
 * when nobody listens costs its file and not the program.
 *
 * The module still has all the rights of this process: a thread is no fence against ill will.
 */
import { Worker } from 'node:worker_threads';
import { type ErrorCode, type Fault, GatherpanError } from '../errors.ts';
import type { ExportContext, Exporter, ParameterValues } from '../exporters/contract.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { words } from '../words/language.ts';

/** What the thread is told when it starts. */
export interface HostData {
  readonly name: string;
  readonly folder: string;
}

export type ExporterTask =
  | { readonly kind: 'load' }
  | {
      readonly kind: 'write';
      /** In the module's list, from 0. */
      readonly position: number;
      readonly pattern: FlatPattern;
      readonly values: ParameterValues;
      readonly context: ExportContext | undefined;
    };

export type ExporterReply =
  | { readonly ok: true; readonly source: string; readonly exporters: readonly Omit<Exporter, 'write'>[] }
  /** Null when the exporter returned something else. */
  | { readonly ok: true; readonly bytes: Uint8Array | null }
  | { readonly ok: false; readonly code: ErrorCode; readonly faults: readonly Fault[] }
  | { readonly ok: false; readonly fault: string };

/** An exporter of a third party, with the hash of the module it comes from, see `moduleSource`. */
export interface HostedExporter extends Exporter {
  readonly source: string;
}

/** The hash of the module that an exporter comes from; undefined for one that is built in. */
export const sourceOf = (exporter: Exporter): string | undefined =>
  (exporter as Partial<HostedExporter>).source;

/** In the sources, under the tests, the thread runs what was built of them. */
const THREAD = import.meta.url.endsWith('.ts')
  ? new URL('../../dist/jobs/exporterThread.js', import.meta.url)
  : new URL('./exporterThread.js', import.meta.url);

/** Seconds that a module may take to load, or to write a file. */
export const EXPORTER_LIMIT = 120;

/**
 * The exporters of a module, as `loadExporter` finds it.
 *
 * @param limit most seconds for loading and for each file
 * @throws GatherpanError as `loadExporter`, and EXPORTER_FAILED when the module ends its thread or does not answer. So
 *   does `write` of each exporter; what it throws itself is EXPORTER_FAILED too, unless it is one of our errors
 */
export async function hostExporters(
  name: string,
  folder: string,
  limit = EXPORTER_LIMIT,
): Promise<readonly HostedExporter[]> {
  let worker: Worker | null = null;
  let queue: Promise<unknown> = Promise.resolve();

  const started = (): Worker => {
    const data: HostData = { name, folder };
    const own = new Worker(THREAD, { workerData: data });
    const gone = (): void => {
      if (worker === own) worker = null;
    };
    // Also between two files: the next one begins with a thread that is whole.
    own.on('error', gone);
    own.on('exit', gone);
    return own;
  };

  /** @param called what the sentences call it */
  const ask = async (task: ExporterTask, called: string): Promise<ExporterReply> => {
    worker ??= started();
    const own = worker;
    own.ref();
    try {
      const reply = await answerOf(own, task, called, limit);
      // A module at rest keeps no process alive.
      own.unref();
      return reply;
    } catch (error) {
      worker = null;
      await own.terminate();
      throw error;
    }
  };

  const load = (): Promise<ExporterReply> => ask({ kind: 'load' }, JSON.stringify(name));
  const write = (task: Extract<ExporterTask, { kind: 'write' }>, id: string): Promise<Uint8Array> => {
    const turn = queue.then(async () => {
      if (worker === null) {
        const again = refuseFailed(await load(), JSON.stringify(name));
        if (!('source' in again) || again.source !== loaded.source) throw moduleChanged(id);
      }
      const reply = refuseFailed(await ask(task, id), id);
      if ('bytes' in reply && reply.bytes !== null) return reply.bytes;
      throw new GatherpanError('EXPORTER_FAILED', words().messages.cli.exporterWithoutBytes(id));
    });
    queue = turn.catch(() => {});
    return turn;
  };

  const reply = refuseFailed(await load(), JSON.stringify(name));
  const loaded = 'exporters' in reply ? reply : { source: '', exporters: [] };
  return loaded.exporters.map((described, position) => ({
    ...described,
    source: loaded.source,
    write: (pattern, values, context) =>
      write({ kind: 'write', position, pattern, values, context }, described.id),
  }));
}

/** @param id of an exporter whose module is not what it was when it was asked for */
export const moduleChanged = (id: string): GatherpanError =>
  new GatherpanError('EXPORTER_FAILED', words().messages.cli.exporterChanged(id));

function refuseFailed(reply: ExporterReply, called: string): Extract<ExporterReply, { ok: true }> {
  if (reply.ok) return reply;
  throw 'fault' in reply
    ? new GatherpanError('EXPORTER_FAILED', words().messages.cli.exporterFailed(called, reply.fault))
    : new GatherpanError(reply.code, reply.faults);
}

function answerOf(worker: Worker, task: ExporterTask, called: string, limit: number): Promise<ExporterReply> {
  const said = words().messages.cli;
  return new Promise((resolve, reject) => {
    const fail = (message: string): void => {
      done();
      reject(new GatherpanError('EXPORTER_FAILED', message));
    };
    const answered = (reply: ExporterReply): void => {
      done();
      resolve(reply);
    };
    const failed = (error: unknown): void =>
      fail(
        said.exporterFailed(called, String(error instanceof Error ? error.message : error).split('\n')[0]!),
      );
    const ended = (): void => fail(said.exporterEnded(called));
    const timer = setTimeout(() => fail(said.exporterSilent(called, String(limit))), 1000 * limit);
    const done = (): void => {
      clearTimeout(timer);
      worker.off('message', answered).off('error', failed).off('exit', ended);
    };
    worker.on('message', answered).on('error', failed).on('exit', ended);
    try {
      worker.postMessage(task);
    } catch (error) {
      failed(error);
    }
  });
}

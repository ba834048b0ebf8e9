/**
 * Runs a third party's exporters in a thread of their own, so that one that never answers, ends the process or throws
 * when nobody listens costs its file and not the program.
 *
 * The module still has all the rights of this process: a thread is no fence against ill will.
 */
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads';
import { type ErrorCode, type Fault, GatherpanError } from '../errors.ts';
import { type ExportContext, type Exporter, type ParameterValues, USES } from '../exporters/contract.ts';
import { isExtensionOf } from '../exporters/exporterFaults.ts';
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
    }
  | {
      readonly kind: 'ask';
      readonly position: number;
      readonly question: Question;
      readonly values: ParameterValues;
      /** Takes the reply; the asker waits, until the first number of `answered` is 1. */
      readonly port: MessagePort;
      readonly answered: Int32Array;
    };

/** What an exporter says at once of its values, beside writing. */
export type Question = 'extensionFor' | 'leadsTo' | 'instead';

/** An exporter without its functions, and which of them it has. */
export interface DescribedExporter
  extends Pick<Exporter, 'contract' | 'id' | 'label' | 'extension' | 'mediaType' | 'parameters'> {
  readonly earlierParameters: Exporter['parameters'] | undefined;
  readonly answers: readonly Question[];
}

export type ExporterReply =
  | { readonly ok: true; readonly source: string; readonly exporters: readonly DescribedExporter[] }
  | { readonly ok: true; readonly answer: unknown }
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

const THREAD = new URL('./exporterThread.js', import.meta.url);

/** Seconds that a module may take to load, or to write a file. */
export const EXPORTER_LIMIT = 120;

/** Most seconds for a question of values. The program stands still meanwhile, so it is short. */
const QUESTION_LIMIT = 10;

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

  /** The answer to a question, asked once for the same values. */
  const answers = new Map<string, unknown>();
  const answerTo = (
    position: number,
    { id }: DescribedExporter,
    question: Question,
    values: ParameterValues,
    isSound: (answer: unknown) => boolean,
  ): unknown => {
    const key = JSON.stringify([position, question, Object.entries(values).sort()]);
    if (answers.has(key)) return answers.get(key);
    if (worker === null) throw new GatherpanError('EXPORTER_FAILED', words().messages.cli.exporterEnded(id));
    const seconds = Math.min(limit, QUESTION_LIMIT);
    const reply = askAtOnce(worker, { kind: 'ask', position, question, values }, seconds);
    if (reply === undefined) {
      void worker.terminate();
      worker = null;
      throw new GatherpanError('EXPORTER_FAILED', words().messages.cli.exporterSilent(id, String(seconds)));
    }
    const sound = refuseFailed(reply, id);
    if (!('answer' in sound) || !isSound(sound.answer))
      throw new GatherpanError('EXPORTER_FAILED', words().messages.cli.exporterUnsound(id, question));
    answers.set(key, sound.answer);
    return sound.answer;
  };

  const reply = refuseFailed(await load(), JSON.stringify(name));
  const loaded = 'exporters' in reply ? reply : { source: '', exporters: [] };
  return loaded.exporters.map((described, position): HostedExporter => {
    const { earlierParameters, answers: has, ...rest } = described;
    const asked =
      <Answer>(question: Question, isSound: (answer: unknown) => boolean) =>
      (values: ParameterValues): Answer =>
        answerTo(position, described, question, values, isSound) as Answer;
    return {
      ...rest,
      source: loaded.source,
      ...(has.includes('extensionFor')
        ? { extensionFor: asked<string>('extensionFor', (answer) => isExtensionOf(answer, rest.extension)) }
        : {}),
      ...(has.includes('leadsTo')
        ? {
            leadsTo: asked<NonNullable<ReturnType<NonNullable<Exporter['leadsTo']>>>>(
              'leadsTo',
              (answer) => Array.isArray(answer) && answer.every((use) => USES.includes(use)),
            ),
          }
        : {}),
      ...(earlierParameters === undefined
        ? {}
        : {
            earlier: {
              parameters: earlierParameters,
              instead: asked<string>('instead', (answer) => typeof answer === 'string'),
            },
          }),
      write: (pattern, values, context) =>
        write({ kind: 'write', position, pattern, values, context }, described.id),
    };
  });
}

/** Asks a thread at rest and waits for its answer, standing still; undefined when none comes in time. */
function askAtOnce(
  worker: Worker,
  task: Omit<Extract<ExporterTask, { kind: 'ask' }>, 'port' | 'answered'>,
  seconds: number,
): ExporterReply | undefined {
  const { port1: own, port2: port } = new MessageChannel();
  const answered = new Int32Array(new SharedArrayBuffer(4));
  try {
    worker.postMessage({ ...task, port, answered }, [port]);
    Atomics.wait(answered, 0, 0, 1000 * seconds);
    return receiveMessageOnPort(own)?.message;
  } finally {
    own.close();
  }
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

/** The thread of a third party's module: loads it and has it write. Whatever the module does ends this thread at most. */
import { parentPort, workerData } from 'node:worker_threads';
import { GatherpanError } from '../errors.ts';
import type { Exporter, ParameterValues } from '../exporters/contract.ts';
import { exporterAddress, loadExporter } from '../exporters/loadExporter.ts';
import { moduleSource } from '../exporters/moduleSource.ts';
import type { DescribedExporter, ExporterReply, ExporterTask, HostData, Question } from './exporterHost.ts';

const { name, folder } = workerData as HostData;

const failure = (error: unknown): ExporterReply =>
  error instanceof GatherpanError
    ? { ok: false, code: error.code, faults: error.faults }
    : { ok: false, fault: String(error instanceof Error ? error.message : error).split('\n')[0]! };

let exporters: readonly Exporter[] = [];

parentPort!.on('message', async (task: ExporterTask) => {
  let reply: ExporterReply;
  try {
    if (task.kind === 'load') {
      const source = moduleSource(exporterAddress(name, folder));
      exporters = await loadExporter(name, folder);
      reply = {
        ok: true,
        source,
        exporters: exporters.map(described),
      };
    } else if (task.kind === 'ask') {
      reply = { ok: true, answer: answerOf(exporters[task.position]!, task.question, task.values) };
    } else {
      const bytes: unknown = await exporters[task.position]!.write(task.pattern, task.values, task.context);
      // A copy: what an exporter returns may be a part of a larger buffer, which would be sent as a whole.
      reply = { ok: true, bytes: bytes instanceof Uint8Array ? new Uint8Array(bytes) : null };
    }
  } catch (error) {
    reply = failure(error);
  }
  if (task.kind !== 'ask') {
    parentPort!.postMessage(reply);
    return;
  }
  try {
    task.port.postMessage(reply);
  } catch (error) {
    // The answer is nothing that can be sent.
    task.port.postMessage(failure(error));
  }
  Atomics.store(task.answered, 0, 1);
  Atomics.notify(task.answered, 0);
});

function described(exporter: Exporter): DescribedExporter {
  const { contract, id, label, extension, mediaType, parameters, earlier } = exporter;
  const plain = (list: Exporter['parameters']): Exporter['parameters'] => JSON.parse(JSON.stringify(list));
  return {
    id,
    label,
    extension,
    mediaType,
    contract,
    parameters: plain(parameters),
    earlierParameters: earlier === undefined ? undefined : plain(earlier.parameters),
    answers: (['extensionFor', 'leadsTo'] as const).filter((question) => exporter[question] !== undefined),
  };
}

function answerOf(exporter: Exporter, question: Question, values: ParameterValues): unknown {
  return question === 'instead' ? exporter.earlier!.instead(values) : exporter[question]!(values);
}

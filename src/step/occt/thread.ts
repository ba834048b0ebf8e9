/** The kernel's thread: loads the kernel on the first task, does one task after the other. */
import { parentPort, workerData } from 'node:worker_threads';
import { GatherpanError } from '../../errors.ts';
import { once } from '../../once.ts';
import { boundedMemory, loadOcct, occtMemory } from './instance.ts';
import type { OcctReply, OcctTask, ThreadData } from './tasks.ts';
import { work } from './work.ts';

const memory = boundedMemory((workerData as ThreadData).occtMemory);
const loaded = once(() => loadOcct(memory));

parentPort!.on('message', async (task: OcctTask) => {
  let reply: OcctReply;
  try {
    const occt = await loaded();
    reply = { ok: true, answer: work(occt, task), memory: occtMemory(occt) };
  } catch (error) {
    reply =
      error instanceof GatherpanError
        ? { ok: false, code: error.code, faults: error.faults, memory: occtMemory(await loaded()) }
        : {
            ok: false,
            fault: error instanceof Error ? `${error.message}` : String(error),
            outOfMemory: memory.refused,
          };
  }
  parentPort!.postMessage(reply);
});

/** The kernel's thread: loads the kernel on the first task, does one task after the other. */
import { parentPort, workerData } from 'node:worker_threads';
import { GatherpanError } from '../../errors.ts';
import { type Bound, boundedMemory, kernelMemory, loadKernel } from './instance.ts';
import type { KernelReply, KernelTask, ThreadData } from './tasks.ts';
import { work } from './work.ts';

let kernel: Bound;
const memory = boundedMemory((workerData as ThreadData).kernelMemory);

parentPort!.on('message', async (task: KernelTask) => {
  let reply: KernelReply;
  try {
    kernel ??= await loadKernel(memory);
    reply = { ok: true, answer: work(kernel, task), memory: kernelMemory(kernel) };
  } catch (error) {
    reply =
      error instanceof GatherpanError
        ? { ok: false, code: error.code, faults: error.faults, memory: kernelMemory(kernel) }
        : {
            ok: false,
            fault: error instanceof Error ? `${error.message}` : String(error),
            outOfMemory: memory.refused,
          };
  }
  parentPort!.postMessage(reply);
});

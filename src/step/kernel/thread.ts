/** The kernel's thread: loads the kernel on the first task, does one task after the other. */
import { parentPort } from 'node:worker_threads';
import { GatherpanError } from '../../errors.ts';
import { type Bound, kernelMemory, loadKernel } from './instance.ts';
import type { KernelReply, KernelTask } from './tasks.ts';
import { work } from './work.ts';

let kernel: Bound;

parentPort!.on('message', async (task: KernelTask) => {
  let reply: KernelReply;
  try {
    kernel ??= await loadKernel();
    reply = { ok: true, answer: work(kernel, task), memory: kernelMemory(kernel) };
  } catch (error) {
    reply =
      error instanceof GatherpanError
        ? { ok: false, code: error.code, faults: error.faults, memory: kernelMemory(kernel) }
        : { ok: false, fault: error instanceof Error ? `${error.message}` : String(error) };
  }
  parentPort!.postMessage(reply);
});

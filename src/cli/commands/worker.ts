/** `gatherpan worker`: solves trays from a queue until it is stopped. */
import { startQueueWorker } from '../../batch/queueWorker.ts';
import { words } from '../../words/language.ts';
import type { Dependencies } from '../dependencies.ts';
import { interrupted } from '../interrupts.ts';
import { secondsOf } from '../timeLimit.ts';

export interface WorkerOptions {
  readonly queue: string;
  readonly jobs: string;
  readonly exporter?: readonly string[];
  readonly limit?: string;
}

/**
 * Runs the command.
 *
 * Exporters are loaded only as this command line names them: a batch on the queue cannot bring any.
 *
 * @returns the exit code, 0 after an orderly stop
 * @throws GatherpanError when the queue cannot be reached, or an exporter cannot be loaded
 */
export async function worker(options: WorkerOptions, dependencies: Dependencies): Promise<number> {
  const said = words().command.output.worker;
  const limit = options.limit === undefined ? {} : { limit: secondsOf(options.limit) };
  let trays = 0;
  const running = await startQueueWorker({
    address: options.queue,
    jobs: Number(options.jobs),
    modules: { names: options.exporter ?? [], folder: dependencies.folder, ...limit },
    ...limit,
    solved: (rows) => {
      trays += rows;
    },
    refused: (sentence) => dependencies.error(`${sentence}\n`),
  });
  await interrupted(() => dependencies.out(`${said.waiting}\n`));
  dependencies.out(`${said.stopping}\n`);
  await running.close();
  dependencies.out(`${said.solved(String(trays))}\n`);
  return 0;
}

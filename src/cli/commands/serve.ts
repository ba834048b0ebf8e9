/** `gatherpan serve`: the page and the HTTP interface, until the process is told to stop. */
import { GatherpanError } from '../../errors.ts';
import { words } from '../../words/language.ts';
import type { Dependencies } from '../dependencies.ts';
import { interrupted } from '../interrupts.ts';

export interface ServeOptions {
  readonly host: string;
  readonly port: string;
  /** Host names the service answers to. */
  readonly name?: readonly string[];
  /** Number of proxies in front. */
  readonly proxies: string;
  /** Requests a minute from one address. */
  readonly rate: string;
  readonly threads?: string;
}

/**
 * Runs the command.
 *
 * @returns the exit code, 0 after an orderly stop
 * @throws GatherpanError BAD_INPUT when an option is wrong or the address cannot be listened at
 */
export async function serve(options: ServeOptions, dependencies: Dependencies): Promise<number> {
  const { startServer } = await import('../../server/server.ts');
  const running = await startServer({
    version: dependencies.version,
    host: options.host,
    port: whole('--port', options.port, 0, 65_535),
    ...(options.name === undefined ? {} : { hosts: options.name }),
    proxies: whole('--proxies', options.proxies, 0, 10),
    limits: {
      requestsPerMinute: whole('--rate', options.rate, 0, 1_000_000_000),
      ...(options.threads === undefined ? {} : { threads: whole('--threads', options.threads, 1, 256) }),
    },
    fault: (error) => dependencies.error(`${placeOf(error)}\n`),
  });
  await interrupted(() => dependencies.out(`${words().command.output.service.running(running.url)}\n`));
  dependencies.out(`${words().command.output.service.stopping}\n`);
  await running.stop();
  return 0;
}

/** Where in the program a fault arose, without the message: that may carry a person's data. */
function placeOf(error: unknown): string {
  const said = words().messages.cli;
  if (!(error instanceof Error)) return said.serviceFault;
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  return [said.serviceFaultOf(error.name), ...frames].join('\n');
}

function whole(option: string, text: string, least: number, most: number): number {
  const value = /^\d{1,10}$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= least && value <= most)) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.cli.wholeNumber(option, JSON.stringify(text), String(least), String(most)),
    );
  }
  return value;
}

/** One service and one browser for all tests of the page. */
import { appendFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { serveChromium } from '../../src/tools/chromium.ts';
import { service } from '../server/service.ts';
import { LONG } from '../support/long.ts';
import { missingLine, toolCommand } from '../support/tools.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the service is. */
    readonly service: string;
    /** The same as another device has it. */
    readonly elsewhere: string;
    /** A file with the faults of the program that the service reported. */
    readonly faults: string;
    /** Where the browser is. */
    readonly browser: string;
  }
}

/**
 * As for Node in `vitest.config.ts`: where nearly every page is a new one, functions are optimised sooner than it pays. The
 * long form has the browser as people have it.
 */
const OPTIMISING = LONG
  ? []
  : ['--js-flags=--invocation-count-for-maglev=4000 --invocation-count-for-turbofan=30000'];

/** A name that does not mean the very device that opens it. */
const ELSEWHERE = 'trays.example';

export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  const chromium = toolCommand('browser');
  if (chromium === null) throw new Error(missingLine('browser'));
  const folder = mkdtempSync(join(tmpdir(), 'gatherpan-web-'));
  const faults = join(folder, 'faults');
  writeFileSync(faults, '');
  const [running, browser] = await Promise.all([
    service(
      {},
      {
        hosts: ['127.0.0.1', ELSEWHERE],
        fault: (error) => appendFileSync(faults, `${(error as Error)?.stack ?? error}\n`),
      },
    ),
    serveChromium(chromium, [`--host-resolver-rules=MAP ${ELSEWHERE} 127.0.0.1`, ...OPTIMISING]),
  ]);
  await running.warm();
  provide('service', running.url);
  provide('elsewhere', running.url.replace('127.0.0.1', ELSEWHERE));
  provide('faults', faults);
  provide('browser', browser.wsEndpoint());
  return async () => {
    await Promise.all([browser.close(), running.stop()]);
    rmSync(folder, { recursive: true });
  };
}

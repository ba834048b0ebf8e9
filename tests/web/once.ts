/** One service and one browser for all tests of the page. */
import { appendFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { serveChromium } from '../../src/tools/chromium.ts';
import { service } from '../server/service.ts';
import { missingLine, toolCommand } from '../support/tools.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the service is. */
    readonly service: string;
    /** A file with the faults of the program that the service reported. */
    readonly faults: string;
    /** Where the browser is. */
    readonly browser: string;
  }
}

export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  const chromium = toolCommand('browser');
  if (chromium === null) throw new Error(missingLine('browser'));
  const folder = mkdtempSync(join(tmpdir(), 'gatherpan-web-'));
  const faults = join(folder, 'faults');
  writeFileSync(faults, '');
  const [running, browser] = await Promise.all([
    service({}, { fault: (error) => appendFileSync(faults, `${(error as Error)?.stack ?? error}\n`) }),
    serveChromium(chromium),
  ]);
  await running.warm();
  provide('service', running.url);
  provide('faults', faults);
  provide('browser', browser.wsEndpoint());
  return async () => {
    await Promise.all([browser.close(), running.stop()]);
    rmSync(folder, { recursive: true });
  };
}

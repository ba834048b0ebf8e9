/** A real browser for the tests. */
import { type Browser, chromium } from 'playwright-core';
import { inject } from 'vitest';
import { launchChromium } from '../../src/tools/chromium.ts';
import { missingLine, toolCommand } from '../support/tools.ts';

/** A page is waited for as long as the machine is busy. */
function patient(browser: Browser): Browser {
  const newContext = browser.newContext.bind(browser);
  browser.newContext = async (options) => {
    const context = await newContext(options);
    context.setDefaultTimeout(300_000);
    return context;
  };
  return browser;
}

/** That of the run; see `once.ts`. */
export const connectBrowser = async (): Promise<Browser> =>
  patient(await chromium.connect(inject('browser')));

/** One of its own. @throws Error that says how to get one, when there is none */
export async function openBrowser(): Promise<Browser> {
  const executablePath = toolCommand('browser');
  if (executablePath === null) throw new Error(missingLine('browser'));
  return patient(await launchChromium(executablePath));
}

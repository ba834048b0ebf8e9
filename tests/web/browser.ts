/** A real browser for the tests. */
import type { Browser } from 'playwright-core';
import { launchChromium } from '../../src/tools/chromium.ts';
import { missingLine, toolCommand } from '../support/tools.ts';

/** @throws Error that says how to get one, when there is none */
export async function openBrowser(): Promise<Browser> {
  const executablePath = toolCommand('browser');
  if (executablePath === null) throw new Error(missingLine('browser'));
  const browser = await launchChromium(executablePath);
  const newContext = browser.newContext.bind(browser);
  // A page is waited for as long as the machine is busy.
  browser.newContext = async (options) => {
    const context = await newContext(options);
    context.setDefaultTimeout(300_000);
    return context;
  };
  return browser;
}

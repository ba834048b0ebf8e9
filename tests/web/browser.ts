/** A real browser for the tests: Debian's chromium, or the one that CHROMIUM names. */
import { type Browser, chromium } from 'playwright-core';
import { missingLine, toolCommand } from '../support/tools.ts';

/** @throws Error that says how to get one, when there is none */
export async function openBrowser(): Promise<Browser> {
  const executablePath = toolCommand('browser');
  if (executablePath === null) throw new Error(missingLine('browser'));
  const browser = await chromium.launch({
    executablePath,
    args: [
      '--headless',
      // Chromium's sandbox does not run as root; the only pages opened are our own.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  const newContext = browser.newContext.bind(browser);
  // A page is waited for as long as the machine is busy.
  browser.newContext = async (options) => {
    const context = await newContext(options);
    context.setDefaultTimeout(300_000);
    return context;
  };
  return browser;
}

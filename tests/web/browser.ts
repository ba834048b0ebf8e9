/** A real browser for the tests: Debian's chromium, or the one that CHROMIUM names. */
import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const PLACES = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

/** @throws Error that says how to get one, when there is none */
export async function openBrowser(): Promise<Browser> {
  const executablePath = PLACES.find((place) => place !== undefined && place !== '' && existsSync(place));
  if (executablePath === undefined) {
    throw new Error(
      'No Chromium was found for the tests of the page: install it (Debian: apt-get install chromium) or set CHROMIUM to its path.',
    );
  }
  return chromium.launch({
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
}

/** A real browser for tests and bench: Debian's chromium, or the one that CHROMIUM names. */
import { accessSync, constants } from 'node:fs';
import { type Browser, type BrowserServer, chromium, type LaunchOptions } from 'playwright-core';

const PLACES = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

export const isProgram = (place: string): boolean => {
  try {
    accessSync(place, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

/** Where it is installed; null where it is not. */
export const chromiumPlace = (): string | null =>
  PLACES.find((place) => place !== undefined && place !== '' && isProgram(place)) ?? null;

const options = (executablePath: string, more: readonly string[] = []): LaunchOptions => ({
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
    ...more,
  ],
});

export const launchChromium = (executablePath: string): Promise<Browser> =>
  chromium.launch(options(executablePath));

/** One that other processes of this machine open pages in. @param more arguments of Chromium */
export const serveChromium = (executablePath: string, more: readonly string[]): Promise<BrowserServer> =>
  chromium.launchServer({ ...options(executablePath, more), host: '127.0.0.1' });

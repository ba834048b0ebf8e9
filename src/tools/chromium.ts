/** A real browser for tests and bench: Debian's chromium, whole or without windows, or the one that CHROMIUM names. */
import { accessSync, constants } from 'node:fs';
import { type Browser, type BrowserServer, chromium, type LaunchOptions } from 'playwright-core';

const WHOLE = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];
/** The same engine without the browser's own windows. */
const WINDOWLESS = '/usr/bin/chromium-headless-shell';

export const isProgram = (place: string): boolean => {
  try {
    accessSync(place, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

const installed = (places: readonly string[]): string | null =>
  [process.env.CHROMIUM ?? '', ...places].find((place) => place !== '' && isProgram(place)) ?? null;

/** Where it is installed, as people have it if it can be; null where it is not. */
export const chromiumPlace = (): string | null => installed([...WHOLE, WINDOWLESS]);

/** The same, if it can be the one that opens pages with less work: a fifth of the processor time. */
export const lightChromiumPlace = (): string | null => installed([WINDOWLESS, ...WHOLE]);

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

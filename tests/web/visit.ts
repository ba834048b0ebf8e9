// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/// <reference lib="dom" />
/**
 * Visits of the page in a real browser, against the real service.
 *
 * Screenshots for looking at are written to the folder that SCREENSHOTS names, when it is set.
 */
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import type { Browser, BrowserContextOptions, Download, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject } from 'vitest';
import { connectBrowser } from './browser.ts';

/** Where the service is that all these tests ask. */
export const HOME = inject('service');

export let browser: Browser;
let connecting: Promise<Browser> | null = null;

/** Called once by every file of tests that visits the page. */
export function visits(): void {
  beforeAll(async () => {
    connecting ??= connectBrowser();
    browser = await connecting;
  });
  afterEach(async () => {
    await page?.context().close();
    const [wrong, elsewhere] = [problems, foreign];
    [problems, foreign] = [[], []];
    expect(wrong, 'errors in the page, a broken rule of its policy among them').toEqual([]);
    expect(elsewhere, 'requests to other hosts').toEqual([]);
  });
  afterAll(() => {
    expect(readFileSync(inject('faults'), 'utf8'), 'faults that the service reported').toBe('');
  });
}

export const WIDE = { viewport: { width: 1280, height: 800 } };
export const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };

export let page: Page;
export let problems: string[] = [];
let foreign: string[] = [];

/** Opens the page and waits for its first answer. */
export async function open(
  options: BrowserContextOptions = WIDE,
  prepare: (opened: Page) => Promise<unknown> = async () => {},
): Promise<void> {
  await visit(options, prepare);
  await page.locator('#result:not([aria-busy]) #verdict-word').waitFor();
}

/** @param prepare what is done before anything is asked for */
export async function visit(
  options: BrowserContextOptions,
  prepare: (opened: Page) => Promise<unknown> = async () => {},
  address = HOME,
): Promise<void> {
  // Keeping the page for later is work that only few tests are about.
  const context = await browser.newContext({ serviceWorkers: 'block', ...options });
  page = await context.newPage();
  await prepare(page);
  problems = [];
  foreign = [];
  page.on('pageerror', (error) => problems.push(error.message));
  page.on('console', (message) => {
    // The browser itself reports every refusal as an error of the network; that is what some tests are about.
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) {
      problems.push(message.text());
    }
  });
  page.on('request', (request) => {
    if (!/^(blob|data):/.test(request.url()) && !request.url().startsWith(HOME)) {
      foreign.push(request.url());
    }
  });
  await page.goto(address);
}

export async function screenshot(name: string, shown: Page = page): Promise<void> {
  const folder = process.env.SCREENSHOTS;
  if (folder === undefined) return;
  mkdirSync(folder, { recursive: true });
  await shown.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
}

/** Asks again until it is so; other processes may have the machine to themselves for a while. */
export const eventually: (find: () => unknown) => Assertion = (find) =>
  expect.poll(find, {
    timeout: 300_000,
    interval: 30,
  }) as unknown as Assertion;
/** The asking again makes each of them a promise. */
type Assertion = {
  [Name in 'toBe' | 'toContain' | 'toMatch' | 'toEqual' | 'toBeNull' | 'toBeGreaterThan']: (
    expected?: unknown,
  ) => Promise<void>;
} & { readonly not: Assertion };

/** What a click downloads. */
export async function downloaded(click: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent('download') as Promise<Download>, click()]);
  return { name: download.suggestedFilename(), bytes: await buffer(await download.createReadStream()) };
}

export const blankShown = (): Promise<string> => page.locator('#figures dd').first().innerText();
export const upload = (name: string, content: string | Uint8Array, field = '#file'): Promise<void> =>
  page.setInputFiles(field, { name, mimeType: 'application/octet-stream', buffer: Buffer.from(content) });

/** A table of sizes; that of one row is no size. */
export const sizes = (rows: number, wrong = -1): string =>
  [
    'name,plan.length,plan.width',
    ...Array.from({ length: rows }, (_, i) => `size-${i},${i === wrong ? 'x' : 320 + 7 * i},${240 + 3 * i}`),
  ].join('\n');

/** Opens everything that is folded. */
export const unfold = (): Promise<void> =>
  page.evaluate(() => {
    for (const folded of document.querySelectorAll('details')) folded.open = true;
  });

/** Findings of an established accessibility engine (axe-core), serious and critical ones or all. */
export async function accessibility(which: 'serious' | 'all' = 'serious'): Promise<string[]> {
  const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  await page.evaluate(source);
  // biome-ignore lint/suspicious/noExplicitAny: the engine's own types are for another world
  const found: any = await page.evaluate('axe.run(document, { resultTypes: ["violations"] })');
  return found.violations
    .filter(
      (violation: { impact: string }) =>
        which === 'all' || ['serious', 'critical'].includes(violation.impact),
    )
    .map(
      (violation: { id: string; help: string; nodes: { html: string; failureSummary: string }[] }) =>
        `${violation.id}: ${violation.help}: ${violation.nodes.map((node) => `${node.html} ${node.failureSummary}`).join(' | ')}`,
    );
}

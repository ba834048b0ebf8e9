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
import type { Browser, BrowserContextOptions, Download, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { service, type TestService } from '../server/service.ts';
import { openBrowser } from './browser.ts';

export let running: TestService;
export let browser: Browser;
beforeAll(async () => {
  [running, browser] = await Promise.all([service(), openBrowser()]);
  await running.warm();
});
afterAll(async () => {
  await browser?.close();
  await running?.stop();
  expect(running?.faults).toEqual([]);
});

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
): Promise<void> {
  const context = await browser.newContext({ acceptDownloads: true, ...options });
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
    if (!/^(blob|data):/.test(request.url()) && !request.url().startsWith(running.url)) {
      foreign.push(request.url());
    }
  });
  await page.goto(running.url);
}

afterEach(async () => {
  await page?.context().close();
  expect(problems, 'errors in the page, a broken rule of its policy among them').toEqual([]);
  expect(foreign, 'requests to other hosts').toEqual([]);
});

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
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

export const blankShown = (): Promise<string> => page.locator('#figures dd').first().innerText();
export const upload = (name: string, content: string, field = '#file'): Promise<void> =>
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

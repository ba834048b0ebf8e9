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
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { connectBrowser } from './browser.ts';

/** Where the service is that all these tests ask. */
export const HOME = inject('service');
/** The same as another device has it. */
export const ELSEWHERE = inject('elsewhere');

export let browser: Browser;
let connecting: Promise<Browser> | null = null;

/** Called once by every file of tests that visits the page. */
export function visits(): void {
  beforeAll(async () => {
    connecting ??= connectBrowser();
    browser = await connecting;
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail') forget(page);
    if (!isUsedAgain(page)) await page?.context().close();
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
/** Without scripts. */
export const PLAIN = { ...PHONE, javaScriptEnabled: false };
const OFTEN: readonly BrowserContextOptions[] = [WIDE, PHONE, PLAIN];

export let page: Page;
export let problems: string[] = [];
let foreign: string[] = [];

/** Opens the page and waits for its first answer. */
export async function open(
  options: BrowserContextOptions = WIDE,
  prepare?: (opened: Page) => Promise<unknown>,
): Promise<void> {
  await visit(options, prepare);
  await firstAnswer();
}

const firstAnswer = (): Promise<void> => page.locator('#result:not([aria-busy]) #verdict-word').waitFor();

/** Pages that stay open from test to test, what they looked like when they were opened, and how they were opened. */
const begun = new Map<BrowserContextOptions, { readonly page: Page; readonly looked: string }>();

/**
 * Begins with the demo tray, solved, on a page that looks as if it had just been opened, and mostly is one that another test
 * has left, with its size and its tray put back. Its address, its history and its table of sizes may be those of before;
 * tests that are about them open a page of their own, and so do those that leave functions of the browser changed.
 */
export async function begin(options: BrowserContextOptions = WIDE): Promise<void> {
  const before = begun.get(options);
  if (before === undefined) await newWindow(options);
  else {
    page = before.page;
    await putBack(options, before.looked);
    if ((await looks()) === before.looked) return;
    await leave(options);
  }
  begun.delete(options);
  await page.goto(HOME);
  await firstAnswer();
  await ready();
  begun.set(options, { page, looked: await looks() });
}

/** Waits until the page solves by itself and knows it. */
export const ready = async (): Promise<void> => {
  await page.waitForFunction(() => performance.getEntriesByName('gatherpan:ready').length > 0);
};

/** Opens the page anew, once it is kept, with no network. */
export async function reloadWithoutNetwork(): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await page.context().setOffline(true);
  await page.reload();
}

/** Takes away what a test may have set on a window. */
async function reset({ viewport }: BrowserContextOptions): Promise<void> {
  await page.removeAllListeners('request', { behavior: 'ignoreErrors' });
  await page.context().setOffline(false);
  await page.emulateMedia({ media: null, colorScheme: null, reducedMotion: null, forcedColors: null });
  await page.setViewportSize(viewport!);
}

/** Everything as it is opened, by what a person has for it: the demo tray comes as a file, unless it is there. */
async function putBack(options: BrowserContextOptions, looked: string): Promise<void> {
  await reset(options);
  await page.evaluate(() => {
    for (const folded of document.querySelectorAll('details')) folded.open = false;
    const input = (id: string) => document.getElementById(id) as HTMLInputElement;
    input('table-cancel').click();
    for (const box of document.querySelectorAll<HTMLInputElement>('#table-formats input'))
      box.checked = box.value === 'dxf';
    input('quantity').value = '1';
    input('quantity').dispatchEvent(new Event('input'));
    const millimetres = document.querySelector<HTMLInputElement>('[name="page-unit"][value="mm"]')!;
    if (!millimetres.checked) millimetres.click();
    input('forget').click();
    localStorage.clear();
    (document.activeElement as HTMLElement).blur();
    scrollTo(0, 0);
  });
  if ((await looks()) === looked) return;
  await upload('demo.json', JSON.stringify(DEMO_TRAY));
  await page.locator('#file-note[hidden]').waitFor({ state: 'attached' });
  await page.locator('#result:not([aria-busy]):not(.old) #verdict-word').waitFor();
}

/** All that stands in the page, but for what `begin` leaves as it was, and for what comes a little later. */
const looks = (): Promise<string> =>
  page.evaluate(() => {
    const copy = document.body.cloneNode(true) as HTMLElement;
    const others =
      '.history, #announce, #figures, #last, #many, #offline, #drawing[hidden], #drawing-shown[hidden]';
    for (const each of copy.querySelectorAll(others)) each.remove();
    for (const each of copy.querySelectorAll('img')) each.removeAttribute('src');
    const values = [...document.querySelectorAll<HTMLInputElement>('input, select, textarea')]
      .filter((field) => field.closest('#many, #drawing[hidden]') === null)
      .map(({ id, value, checked }) => `${id}: ${value}, ${checked}`);
    return [copy.outerHTML, ...values].join('\n');
  });

/** Windows that are used again: a new one takes half as long as all that the page does in it. */
const windows = new Map<BrowserContextOptions, Page>();
const isUsedAgain = (used: Page): boolean =>
  [...windows.values(), ...[...begun.values()].map((each) => each.page)].includes(used);
function forget(used: Page): void {
  for (const [options, each] of windows) if (each === used) windows.delete(options);
  for (const [options, each] of begun) if (each.page === used) begun.delete(options);
}

/** Another document of the same place, with nothing kept there. */
async function leave(options: BrowserContextOptions): Promise<void> {
  await reset(options);
  await page.goto(new URL('problems.html', HOME).href);
  await page.evaluate(() => localStorage.clear());
}

/** @param prepare what is done before anything is asked for, in a window that is not used again */
export async function visit(
  options: BrowserContextOptions,
  prepare?: (opened: Page) => Promise<unknown>,
  address = HOME,
): Promise<void> {
  const used = prepare === undefined ? windows.get(options) : undefined;
  if (used === undefined) {
    await newWindow(options);
    await prepare?.(page);
    if (prepare === undefined && OFTEN.includes(options)) windows.set(options, page);
  } else {
    page = used;
    await leave(options);
  }
  await page.goto(address);
}

/** Whether the window of these options is still where it was sent; the test then goes on there, with nothing kept. */
export async function isStillAt(options: BrowserContextOptions, address: string): Promise<boolean> {
  const used = windows.get(options);
  if (used?.url() !== address) return false;
  page = used;
  await reset(options);
  await page.evaluate(() => localStorage.clear());
  return true;
}

async function newWindow(options: BrowserContextOptions): Promise<void> {
  // Keeping the page for later is work that only few tests are about.
  const context = await browser.newContext({ serviceWorkers: 'block', ...options });
  page = await context.newPage();
  problems = [];
  foreign = [];
  context.on('weberror', (error) => problems.push(error.error().message));
  context.on('console', (message) => {
    // The browser itself reports every refusal as an error of the network; that is what some tests are about.
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) {
      problems.push(message.text());
    }
  });
  context.on('request', (request) => {
    if (!/^(blob|data):/.test(request.url()) && !request.url().startsWith(HOME)) {
      foreign.push(request.url());
    }
  });
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
    interval: 60,
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

/** Holds questions of these kinds back from the page's threads. @returns lets them go */
export async function hold(...kinds: string[]): Promise<() => Promise<void>> {
  await page.evaluate((wanted) => {
    const post = Worker.prototype.postMessage;
    const held: (() => void)[] = [];
    Worker.prototype.postMessage = function (this: Worker, message: unknown) {
      const go = (): void => post.call(this, message);
      if (wanted.includes((message as { kind?: string }).kind ?? '')) held.push(go);
      else go();
    };
    const letGo = (): void => {
      Worker.prototype.postMessage = post;
      for (const go of held) go();
    };
    addEventListener('let go', letGo, { once: true });
  }, kinds);
  return () => page.evaluate(() => void dispatchEvent(new Event('let go')));
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

/**
 * Findings of an established accessibility engine (axe-core), serious and critical ones or all.
 *
 * @param part selects what is looked at, where the rest of the page looks as it does in another test
 */
export async function accessibility(which: 'serious' | 'all' = 'serious', part = ':root'): Promise<string[]> {
  const isThere = await page.evaluate(() => 'axe' in globalThis);
  if (!isThere)
    await page.evaluate(readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
  // biome-ignore lint/suspicious/noExplicitAny: the engine's own types are for another world
  const found: any = await page.evaluate(
    `axe.run(document.querySelector('${part}'), { resultTypes: ['violations'] })`,
  );
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

/** The tray that an address of the page holds; null without one. It is put there a little after its answer has come. */
export function trayIn(address: string): Record<string, unknown> | null {
  const { hash } = new URL(address);
  if (!hash.startsWith('#tray=')) return null;
  return JSON.parse(Buffer.from(hash.slice('#tray='.length), 'base64url').toString());
}

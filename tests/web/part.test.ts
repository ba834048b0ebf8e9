// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/** A STEP part that no tray file says, on the page: shown, saved, and gone when the form is used again. */
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { service, type TestService } from '../server/service.ts';
import { degrees, solidPart } from '../step/parts.ts';
import { openBrowser } from './browser.ts';

const TIME = 300_000;
let running: TestService;
let browser: Browser;
beforeAll(async () => {
  [running, browser] = await Promise.all([service({ threads: 1 }), openBrowser()]);
  await running.warm();
}, TIME);
afterAll(async () => {
  await browser?.close();
  await running?.stop();
  expect(running?.faults).toEqual([]);
});

test(
  'a part is shown in the place of the tray, its files can be saved, and the form goes on from its own tray',
  async () => {
    const bytes = await solidPart(
      [
        { kind: 'arc', radius: 14, angle: degrees(50) },
        { kind: 'arc', radius: 40, angle: degrees(30) },
      ],
      { kind: 'rectangle', a: 60, b: 45 },
      1,
    );
    const page = await browser.newPage({ acceptDownloads: true });
    const problems: string[] = [];
    page.on('pageerror', (error) => problems.push(error.message));
    await page.goto(running.url);
    await page.locator('#result:not([aria-busy]) #verdict-word').waitFor();
    const before = await page.locator('#figures').innerText();
    const text = await page.locator('#text').inputValue();

    await page
      .locator('#file')
      .setInputFiles({ name: 'seed bowl.step', mimeType: 'model/step', buffer: Buffer.from(bytes) });
    await page.locator('#stale', { hasText: 'STEP part seed bowl.step' }).waitFor({ timeout: TIME });
    expect(await page.locator('#figures').innerText()).not.toBe(before);
    await expect.poll(() => page.locator('#announce').textContent()).toContain('seed bowl.step');
    // The form is left as it was.
    expect(await page.locator('#text').inputValue()).toBe(text);

    const [download] = await Promise.all([
      page.waitForEvent('download', { timeout: TIME }),
      page.locator('#save-cut').click(),
    ]);
    expect(download.suggestedFilename()).toBe('seed-bowl.dxf');
    expect(readWithDxfParser(readFileSync(await download.path()))).toBeTruthy();

    // One that no blank can be cut for: the verdict, no files, and nothing to change.
    const high = await solidPart(
      [
        { kind: 'arc', radius: 10, angle: degrees(40) },
        { kind: 'arc', radius: 14, angle: degrees(50) },
        { kind: 'line', length: 90 },
      ],
      { kind: 'rectangle', a: 40, b: 30 },
      1,
    );
    await page
      .locator('#file')
      .setInputFiles({ name: 'too high.step', mimeType: 'model/step', buffer: Buffer.from(high) });
    await expect
      .poll(() => page.locator('#announce').textContent(), { timeout: TIME })
      .toBe('too high.step: Not in one piece. There is no flat to cut.');
    expect(await page.locator('#verdict-word').innerText()).toBe('Not in one piece');
    expect(await page.locator('#of-the-flat').isVisible()).toBe(false);
    expect(await page.locator('#changes-block').isVisible()).toBe(false);

    await page.locator('#more > summary').click();
    await page.locator('#demo').click();
    await expect.poll(() => page.locator('#figures').innerText(), { timeout: TIME }).toBe(before);
    expect(await page.locator('#stale').isVisible()).toBe(false);
    expect(problems).toEqual([]);
    await page.close();
  },
  TIME,
);

/**
 * How soon the page shows a new picture after a change of size, in Chromium: from the change to the picture that is decoded
 * for the next frame. Each change is another size, so that nothing is remembered.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { chromiumPlace, launchChromium } from '../chromium.ts';
import { type Measured, median } from './measure.ts';
import { addressOf, startService } from './service.ts';

/** Trays of the samples, and what a new picture may take, ms. */
const TRAYS = [
  ['propagator-drip-tray', 'rectangle', 50],
  ['potting-bench-drip-tray-large', 'rectangle', 50],
  ['nesting-drip-tray', 'leaning walls', 150],
  ['splash-back-tray', 'sides of two heights', 150],
  ['bench-corner-drip-tray', 'six corners', 150],
  ['pot-saucer', 'round', 150],
] as const;

const CHANGES = 20;
/** Until everything is warm. */
const FIRST = 5;
/** Between the full answer and the next change, ms. */
const PAUSE = 100;

export async function pageTimes(): Promise<Measured[]> {
  const place = chromiumPlace();
  if (place === null) {
    process.stdout.write('  Not measured: there is no Chromium here (Debian: apt-get install chromium).\n');
    return [];
  }
  const service = startService();
  const browser = await launchChromium(place);
  try {
    const url = await addressOf(service);
    const measured: Measured[] = [];
    for (const [name, kind, bar] of TRAYS) {
      const file = fileURLToPath(new URL(`../../../samples/${name}.json`, import.meta.url));
      const tray = JSON.parse(readFileSync(file, 'utf8'));
      const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
      await page.goto(`${url}/#tray=${Buffer.from(JSON.stringify(tray)).toString('base64url')}`);
      await page.waitForFunction(() => performance.getEntriesByName('gatherpan:ready').length > 0);
      const times: (readonly [picture: number, full: number])[] = [];
      for (let i = 0; i < FIRST + CHANGES; i++) {
        times.push(await change(page, String(tray.section.bottomRadius - 0.05 * ((i % 20) + 1))));
        await page.waitForTimeout(PAUSE);
      }
      await page.close();
      const [pictures, full] = [0, 1].map((k) => times.slice(FIRST).map((each) => each[k]!));
      measured.push({
        name: `new picture: ${name} (${kind})`,
        median: median(pictures!),
        unit: 'ms',
        runs: CHANGES,
        bar,
        note: `full answer ${median(full!).toFixed(0)} ms`,
      });
    }
    return measured;
  } finally {
    await browser.close();
    service.kill('SIGTERM');
  }
}

/** Another bottom radius. @returns time to the first new picture and to the full answer, ms */
const change = (page: Page, radius: string): Promise<readonly [number, number]> =>
  page.evaluate(`(${CHANGE})(${JSON.stringify(radius)})`);

/** What runs in the page, as text: this program knows of no documents. */
const CHANGE = `async (value) => {
  const [field, picture, result] = ['bottom', 'picture-blank', 'result'].map((id) => document.getElementById(id));
  const shown = new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error('no new picture in 20 s')), 20_000);
    picture.addEventListener('load', () => picture.decode().then(() => resolve(performance.now())), { once: true });
  });
  const full = new Promise((resolve) => {
    const observer = new MutationObserver(() => {
      if (result.hasAttribute('aria-busy')) return;
      observer.disconnect();
      resolve(performance.now());
    });
    observer.observe(result, { attributes: true });
  });
  const began = performance.now();
  field.value = value;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  return [(await shown) - began, (await full) - began];
}`;

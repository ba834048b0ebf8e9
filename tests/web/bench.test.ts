// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/// <reference lib="dom" />
/** The bench view in a real browser: a phone and a tablet, with and without WebGL, ticks and notes that stay. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { readTrials } from '../../src/gather/keptTrials.ts';
import { english } from '../../src/words/english.ts';
import { readText } from '../papers/poppler.ts';
import { LONG, some } from '../support/long.ts';
import {
  accessibility,
  begin,
  downloaded,
  eventually,
  HOME,
  isStillAt,
  PHONE,
  page,
  screenshot,
  upload,
  visit,
  visits,
} from './visit.ts';

visits();

const SAMPLES = fileURLToPath(new URL('../../samples/', import.meta.url));
const said = english.page.scripts.bench;

/** The address of a tray at the bench. */
const addressOf = (sample: string, changed: object = {}): string => {
  const tray = { ...JSON.parse(readFileSync(`${SAMPLES}${sample}.json`, 'utf8')), ...changed };
  const hash = Buffer.from(JSON.stringify(tray)).toString('base64url');
  return new URL(`bench.html#tray=${hash}`, HOME).href;
};

/** Four corners alike: solved as a quarter, in a fraction of the time. */
const EVEN = { plan: { length: 360, width: 240, cornerRadius: 35 } };

async function atBench(
  options: Parameters<typeof visit>[0],
  address: () => string = () => addressOf('seed-bench-drip-tray', EVEN),
  prepare?: (opened: Page) => Promise<unknown>,
): Promise<void> {
  // The address says all that is worked on, and the first part is set up anew.
  if (prepare === undefined && (await isStillAt(options, address()))) await page.selectOption('#part', '0');
  else await visit(options, prepare, address());
  await page.locator('#work:not([hidden])').waitFor();
}

const TABLET = { viewport: { width: 820, height: 1180 } };
const parts = (): Promise<string[]> => page.locator('#part option').allTextContents();
const goTo = async (title: RegExp): Promise<void> => {
  const all = await parts();
  await page.selectOption('#part', String(all.findIndex((each) => title.test(each))));
};

describe.each(
  some(
    [
      ['tablet', TABLET],
      ['phone', PHONE],
    ] as const,
    1,
  ),
)('the bench view on a %s', (name, device) => {
  test('has every part on a screen of its own, with figures to be read at arm’s length', async () => {
    await atBench(device, () => addressOf('seed-bench-drip-tray', LONG ? {} : EVEN));
    const all = await parts();
    expect(all).toHaveLength(9);
    for (const [i, title] of all.entries()) {
      await page.selectOption('#part', String(i));
      expect(title).toContain(await page.innerText('#sheet-title'));
      const sizes = await page.$$eval('.big dd', (list) =>
        list.map((each) => Number.parseFloat(getComputedStyle(each).fontSize)),
      );
      if (i < 8) expect(Math.min(...sizes)).toBeGreaterThanOrEqual(32);
      // Nothing runs over the edge of the screen, and no figure over the next.
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
        device.viewport.width,
      );
      const wide = await page.$$eval('.big > div', (list) =>
        list.filter((each) => each.scrollWidth > each.clientWidth + 1).map((each) => each.textContent),
      );
      expect(wide).toEqual([]);
      await screenshot(`bench-${name}-${i}`);
    }
    expect(await accessibility()).toEqual([]);
  });
});

describe('at the bench', () => {
  test('the form leads there with its tray, and back', async () => {
    await begin(PHONE);
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    const loaded = await page.evaluate(() =>
      performance.getEntriesByType('resource').map(({ name }) => name),
    );
    // Not before the picture is shown, but for the keeper of the page, which is another process.
    expect(loaded.filter((url) => /three|turned/.test(url))).toEqual([]);
    await page.click('#to-bench');
    await page.locator('#work:not([hidden])').waitFor();
    await eventually(() => asked.filter((url) => /three-/.test(url)).length).toBeGreaterThan(0);
    expect(await page.innerText('#tray-name')).not.toBe('');
    await page.click('#back');
    await page.locator('#result:not([aria-busy]) #verdict-word').waitFor();
  });

  test('the picture stands to be turned, and says in words what it shows', async () => {
    await atBench(PHONE);
    await goTo(/Stage 1/);
    const canvas = page.locator('#stand canvas');
    await canvas.waitFor();
    expect(await canvas.getAttribute('aria-label')).toMatch(
      /wall turned up to 60°.*still has to gather; .* \d+ % of its length/,
    );
    expect(await page.locator('#drawn').isVisible()).toBe(false);
    const places = (): Promise<string[]> =>
      page.$$eval('#stand span', (list) => list.map((each) => (each as HTMLElement).style.transform));
    const before = await places();
    expect(before).toHaveLength(4);
    await page.click('#turn-left');
    await eventually(places).not.toEqual(before);
    const between = await places();
    await canvas.focus();
    await page.keyboard.press('ArrowUp');
    await eventually(places).not.toEqual(between);
  });

  test('without WebGL the drawn picture stays, with the same words', async () => {
    await atBench(PHONE, undefined, (opened) =>
      opened.addInitScript(() => {
        HTMLCanvasElement.prototype.getContext = () => null;
      }),
    );
    await goTo(/Stage 2/);
    const drawn = page.locator('#drawn');
    expect(await drawn.getAttribute('alt')).toMatch(/wall turned up to \d+°/);
    await eventually(() =>
      drawn.evaluate((image) => (image as HTMLImageElement).naturalWidth),
    ).toBeGreaterThan(50);
    expect(await drawn.isVisible()).toBe(true);
    expect(await page.locator('#turn').isVisible()).toBe(false);
  });

  test('corners are worked in turn; the other way of gathering has its own marks; what is ticked off, noted and chosen is there again', async () => {
    await atBench(PHONE);
    await goTo(/Stage 1/);
    const turns = page.locator('.turns button');
    expect(await turns.allTextContents()).toEqual(['A', 'C', 'B', 'D']);
    await page.locator('.done input').click();
    expect(await turns.allTextContents()).toEqual(['A ✓', 'C', 'B', 'D']);
    expect(await page.locator('.turns [aria-pressed="true"]').textContent()).toBe('C');
    await page.locator('.ticks input').first().check();
    const wall = page.locator('.notes input').first();
    await wall.fill('57');
    expect(await page.locator('.notes .hint').first().textContent()).toContain('3° less than it should be');
    await wall.fill('60,2');
    expect(await page.locator('.notes .hint').first().textContent()).toContain(said.as);
    await wall.fill('60 1/4°');
    expect(await page.locator('.notes .hint').first().textContent()).toContain(said.as);
    await wall.fill('sixty');
    expect(await page.locator('.notes .hint').first().textContent()).toContain(said.noNumber);
    await wall.fill('58');
    expect(await page.innerText('#sheet')).toMatch(/Set \d+ tucks/);
    await page.check('#way-blows');
    await eventually(() => page.innerText('#sheet')).toMatch(/marked rows/);
    expect(await page.innerText('#sheet')).not.toMatch(/Set \d+ tucks/);
    await page.reload();
    await page.locator('#work:not([hidden])').waitFor();
    // The address says which way.
    expect(await page.isChecked('#way-blows')).toBe(true);
    await page.check('#way-tucks');
    await eventually(() => page.innerText('#sheet')).not.toMatch(/marked rows/);
    await goTo(/Stage 1/);
    expect(await page.locator('.ticks input').first().isChecked()).toBe(true);
    expect(await turns.allTextContents()).toEqual(['A ✓', 'C', 'B', 'D']);
    expect(await page.locator('.notes input').first().inputValue()).toBe('58');
    await page.click('#forget');
    expect(await page.locator('.ticks input').first().isChecked()).toBe(false);
    expect(await page.locator('.notes input').first().inputValue()).toBe('');
  });

  test('the paper has the figures of the screen, in inches for a tray in inches', async () => {
    await atBench(PHONE, () =>
      addressOf('propagator-drip-tray', {
        units: 'in',
        plan: { length: 12, width: 8, cornerRadius: 1.5 },
        section: { bottomRadius: 0.6, height: 1.2 },
        sheet: { material: 'DC04', thickness: 0.04 },
      }),
    );
    await goTo(/Stage 1/);
    const figures = await page.$$eval('.big dd', (list) =>
      list.map((each) => each.firstChild?.textContent ?? ''),
    );
    expect(figures.some((value) => value.endsWith('″'))).toBe(true);
    const { name, bytes } = await downloaded(() => page.click('#paper'));
    expect(name).toMatch(/\.bench\.pdf$/);
    const text = readText(bytes);
    for (const value of figures) expect(text).toContain(value);
  });

  test('a trial corner tells a hand, which is kept under a name and cuts the tray', async () => {
    const trial = said.trial;
    await atBench(PHONE);
    await goTo(/Stage 1/);
    const [tape = ''] = /[\d.]+\smm(?=\s+Tape after)/.exec(await page.innerText('#sheet-body')) ?? [];
    expect(tape).not.toBe('');
    await goTo(/Trial corner/);
    await page.click(`text=${trial.find}`);
    await eventually(() => page.innerText('#sheet-body')).toContain('has no measurement');
    await page.fill('#trial-middle', '36,3');
    await page.click(`text=${trial.find}`);
    await page.locator('.found').waitFor();
    const told = await page.innerText('.found');
    const [, hand] = /The hand is (0\.\d\d), between \d+ and \d+ %/.exec(told)!;
    expect(told).toMatch(/Corner A.*: the cut line moves (in|out) by \d+\.\d\smm/);
    await page.click(`button:text-is("${trial.keep}")`);
    await eventually(() => page.innerText('#sheet-body')).toContain(trial.nameless);
    await page.fill('#trial-name', 'June');
    await page.fill('#trial-person', 'Ada');
    await page.click(`button:text-is("${trial.keep}")`);
    await eventually(() => page.innerText('.trials')).toMatch(
      /^June \(Ada\), DC04, 1\.00\smm: \d+ % of the gather/,
    );
    const { name, bytes } = await downloaded(() => page.click(`text=${trial.save}`));
    expect(name).toBe('trials.json');
    expect(readTrials(JSON.parse(bytes.toString()))).toMatchObject([
      {
        name: 'June',
        person: 'Ada',
        tray: 'seed-bench-drip-tray',
        hand: { value: expect.closeTo(Number(hand), 2) },
      },
    ]);
    await screenshot('bench-trial');
    expect(await accessibility()).toEqual([]);
    await page.click('text=Cut this tray for June');
    await eventually(() => page.innerText('#sheet-body')).toContain(`cut for a hand of ${hand}`);
    const tray = JSON.parse(
      Buffer.from(new URL(page.url()).hash.slice('#tray='.length), 'base64url').toString(),
    );
    expect(tray.forming.hand).toBeCloseTo(Number(hand), 2);
    // The blank is another one now.
    await goTo(/Stage 1/);
    await eventually(() => page.innerText('#sheet-body')).not.toContain(tape);
    // Kept for the next time; on another sheet it is said that the hand may be another.
    await page.goto('about:blank');
    await page.goto(addressOf('propagator-drip-tray'));
    await page.locator('#work:not([hidden])').waitFor();
    await goTo(/Trial corner/);
    await page.click('text=Cut this tray for June');
    await eventually(() => page.innerText('#sheet-body')).toContain('June was worked of another sheet (DC04');
    await page.click('text=Forget June');
    await eventually(() => page.innerText('#sheet-body')).toContain(trial.none);
  });

  test('trials are read as the command reads them: what is wrong with a file, and with what is kept, is said', async () => {
    const trial = said.trial;
    await atBench(PHONE);
    await goTo(/Trial corner/);
    const open = (content: string): Promise<void> => upload('trials.json', content, '#trial-file');
    const told = () => page.innerText('#sheet-body');
    await open('no JSON');
    await eventually(told).toContain('trials.json holds no trials.');
    const one = {
      name: 'June',
      tray: 'seed-bench-drip-tray',
      sheet: { material: 'DC04', thickness: 1 },
      hand: { value: 0.5, low: 0.4, high: 0.6 },
      measurements: {},
    };
    await open(JSON.stringify({ trials: [one, one] }));
    await eventually(told).toContain('The file of trials has two of the name "June"');
    await open(JSON.stringify({ trials: [{ ...one, hand: { ...one.hand, value: 2 } }] }));
    await eventually(told).toContain('trials.0.hand.value is 2; give a number from 0 to 1.');
    await open(JSON.stringify({ trials: [one] }));
    await eventually(() => page.locator('.trials li').count()).toBe(1);
    // The one of its name goes.
    await open(JSON.stringify({ trials: [{ ...one, person: 'Ada' }] }));
    await eventually(() => page.innerText('.trials')).toContain('June (Ada)');
    expect(await page.locator('.trials li').count()).toBe(1);
    await page.evaluate(() => localStorage.setItem('gatherpan:trials', '{ "trials": 3 }'));
    // They are read whenever the part is shown.
    await goTo(/Stage 1/);
    await goTo(/Trial corner/);
    await eventually(told).toContain(
      'The trials kept here cannot be read any more: trials is 3; give a list of trials.',
    );
    await open(JSON.stringify({ trials: [one] }));
    await eventually(() => page.locator('.trials li').count()).toBe(1);
    expect(await told()).toContain(trial.useIt.replace('{name}', 'June'));
  });

  test('an address without a tray is told so, and so is a tray that cannot be', async () => {
    await visit(PHONE);
    await page.goto(new URL('bench.html', HOME).href);
    await eventually(() => page.innerText('#fault')).toBe(said.wrongTray);
    await page.goto('about:blank');
    await page.goto(addressOf('seed-bench-drip-tray', { section: { bottomRadius: 20, height: -3 } }));
    await eventually(() => page.innerText('#fault')).toContain('section.height');
  });
});

// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/// <reference lib="dom" />
/** The page without scripts, and in browsers that lack something. */
import JSZip from 'jszip';
import { expect, test } from 'vitest';
import { trialDots } from '../../src/pattern/trialDots.ts';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { handFound } from '../../src/server/handFound.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { loopArea } from '../exporters/loopGeometry.ts';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { dxf, polyline } from '../support/drawnTags.ts';
import { solved } from '../support/solved.ts';
import {
  accessibility,
  begin,
  downloaded,
  eventually,
  HOME,
  open,
  PHONE,
  PLAIN,
  page,
  problems,
  screenshot,
  visit,
  visits,
} from './visit.ts';

visits();

const blankOf = (changes: object) => solved(readTray({ ...DEMO_TRAY, ...changes })).report.blank;

test('scripting off: the form is posted, and the answer has the same figures and its files', async () => {
  await visit(PLAIN);
  expect(await page.inputValue('#length')).toBe('420');
  expect(await page.locator('#result').isVisible()).toBe(false);
  await page.fill('#length', '16 in');
  await page.fill('#corner', '50');
  await page.click('button[type="submit"]');
  const plan = { ...DEMO_TRAY.plan, length: 406.4, cornerRadius: 50 };
  const blank = blankOf({ plan });
  expect(await page.locator('.figures:visible').innerText()).toContain(
    `${blank.length.toFixed(1)} × ${blank.width.toFixed(1)}\u00a0mm`,
  );
  expect(await page.locator('.figures:visible').innerText()).toMatch(/Anneals.*stage/s);
  // What was typed stands in the form, and all that was not typed is as it was.
  expect(await page.inputValue('#length')).toBe('16 in');
  expect(await page.inputValue('#corner-A')).toBe('50');
  expect(await page.inputValue('#material')).toBe('DC04');
  const size = await page.locator('.blank svg').boundingBox();
  expect(size!.width).toBeLessThan(PHONE.viewport.width);
  await screenshot('plain');
  const { name, bytes } = await downloaded(() => page.click('button[value="dxf"]'));
  expect(name).toBe(`${DEMO_TRAY.name}.dxf`);
  expect(loopArea(readWithDxfParser(bytes).loops[0]!.vertices) / blank.area).toBeCloseTo(1, 6);
  // Over into inches: what was left as it is is the same tray.
  await page.locator('.units label', { hasText: 'in' }).click();
  await page.click('#tray button[type="submit"]');
  expect(await page.inputValue('#height')).toBe('1.3386');
  expect(await page.locator('.figures:visible').innerText()).toContain(
    `${(blank.length / 25.4).toFixed(3)}″`,
  );
});

test('scripting off: a hole comes, is changed and goes; a corner is cut out', async () => {
  await visit(PLAIN);
  const send = async () => {
    await page.click('#tray button[type="submit"]');
    await page.locator('.figures:visible').waitFor();
    await page.click('#more > summary');
    return JSON.parse(await page.inputValue('form[action="page/file"] input[name="tray"]'));
  };
  await fillSmall();
  await page.click('#more > summary');
  await page.selectOption('#hole-0-kind', 'round');
  await page.selectOption('#making-C', 'notch');
  await send();
  expect(await page.inputValue('#hole-0-diameter')).toBe('10');
  expect(await page.inputValue('#corner-C')).toBe('0');
  await page.fill('#hole-0-diameter', '1/2 in');
  expect(readTray(await send())).toMatchObject({
    holes: [{ shape: { diameter: 12.7 } }],
    forming: { corners: ['gather', 'gather', 'notch', 'gather'] },
  });
  await page.selectOption('#hole-0-kind', 'none');
  expect((await send()).holes).toBeUndefined();
});

/** Types the sizes of a tray that is solved sooner. */
async function fillSmall(): Promise<void> {
  for (const [id, value] of Object.entries({ length: 240, width: 160, corner: 40, height: 22 }))
    await page.fill(`#${id}`, String(value));
}
const SMALL = {
  ...DEMO_TRAY,
  plan: { length: 240, width: 160, cornerRadius: 40 },
  section: { ...DEMO_TRAY.section, height: 22 },
};

test('scripting off: the bench sheets are a page of the service; a trial corner tells a hand, and the tray is cut for it', async () => {
  const said = english.page.scripts.bench.trial;
  await visit(PLAIN);
  await fillSmall();
  await page.click('button[type="submit"]');
  await page.click('button[formaction="bench"]');
  const blank = blankOf(SMALL);
  const text = await page.locator('main').innerText();
  expect(text).toContain(`${blank.length.toFixed(1)} × ${blank.width.toFixed(1)}\u00a0mm`);
  await page.click('ol a[href="#stage-1"]');
  const sizes = await page.$$eval('.big dd', (list) =>
    list.map((each) => Number.parseFloat(getComputedStyle(each).fontSize)),
  );
  expect(sizes.length).toBeGreaterThan(10);
  expect(Math.min(...sizes)).toBeGreaterThanOrEqual(32);
  const [content, room] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect(content).toBeLessThanOrEqual(room!);
  await screenshot('plain-bench');
  await page.click('ol a[href="#trial"]');
  const trial = page.locator('article.sheet', { hasText: said.how });
  await trial.getByText(said.find).click();
  expect(await trial.innerText()).toContain('has no measurement');
  const pattern = solved(readTray(SMALL));
  const [corner] = pattern.report.corners;
  await page.selectOption('#trial-corner', corner!.letter);
  await page.fill('#trial-middle', '1"');
  await page.fill('#trial-thickness', '1,30');
  const dots = trialDots(pattern)[0]!;
  expect(await trial.innerText()).toContain(`${dots.apart.toFixed(1)}\u00a0mm when flat`);
  await trial.getByText(said.find).click();
  const measured = {
    corner: corner!.letter,
    rimHeight: { from: 'table', middle: 25.4 },
    rimThickness: { middle: 1.3 },
  };
  const own = handFound(readTray(SMALL), measured, said.title, english);
  const told = (await trial.locator('.found li').allInnerTexts()).join(' ');
  for (const sentence of own.sentences) expect(told).toContain(sentence);
  expect(told).toMatch(/Corner A.*: the cut line moves (in|out) by \d+\.\d\smm/);
  expect(await page.inputValue('#trial-middle')).toBe('1"');
  await screenshot('plain-trial');
  await trial.getByText(said.use).click();
  await page.locator('.figures:visible').waitFor();
  const tray = JSON.parse(await page.inputValue('input[name="tray"]'));
  expect(tray.forming.hand).toBe(own.found.forming.hand);
});

test('a browser without WebAssembly is told so, the service solves, and shows the bench sheets', async () => {
  await open({}, (opened) =>
    opened.addInitScript(() => {
      delete (globalThis as { WebAssembly?: unknown }).WebAssembly;
    }),
  );
  await page.locator('#lacking').waitFor();
  expect(await page.innerText('#lacking')).toContain('it has no WebAssembly');
  const hash = new URL((await page.getAttribute('#to-bench', 'href'))!, HOME);
  await page.goto(hash.href);
  await page.click('#by-service button');
  await page.locator('article.sheet').first().waitFor();
  expect(await page.locator('h1#stage-1').count()).toBe(1);
  expect(await page.locator('main').innerText()).toContain(`${blankOf({}).length.toFixed(1)} × `);
  await screenshot('service-bench');
});

test('scripting off: a fault names the field as the form does', async () => {
  await visit(PLAIN);
  await page.fill('#height', 'tall');
  await page.click('button[type="submit"]');
  expect(await page.locator('.notice:visible').innerText()).toMatch(/^Height is "tall"; give a number from/);
  expect(await page.inputValue('#height')).toBe('tall');
});

test('a browser in which the scripts fail keeps a form that works', async () => {
  await visit({}, (opened) =>
    opened.addInitScript(() => {
      // As it would be before 2022.
      delete (Array.prototype as { flatMap?: unknown }).flatMap;
    }),
  );
  await page.locator('#tray button[type="submit"]').click();
  await page.locator('.figures:visible').waitFor();
  expect(await page.locator('.figures:visible').innerText()).toContain(`${blankOf({}).length.toFixed(1)} × `);
  // It is told of, on this page and on that before, and nothing else goes wrong.
  await eventually(() => problems.length).toBe(2);
  expect(problems.splice(0).filter((each) => !/flatMap/.test(each))).toEqual([]);
});

test('forced colours: what is chosen, and what is not to be taken, is still seen', async () => {
  await begin();
  await page.emulateMedia({ forcedColors: 'active' });
  const [chosen, other] = await page.evaluate(() =>
    [...document.querySelectorAll('.units span')].map((each) => getComputedStyle(each).backgroundColor),
  );
  expect(chosen).not.toBe(other);
  expect(await accessibility()).toEqual([]);
  await screenshot('forced-colours');
});

test('at 200 % nothing is cut off or lies over another', async () => {
  // 1280 × 800 at 200 %: half as many CSS pixels.
  await begin();
  await page.setViewportSize({ width: 640, height: 400 });
  const [content, room] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect(content).toBeLessThanOrEqual(room!);
  expect(await accessibility('all')).toEqual([]);
});

test('scripting off: a file is opened by the form, whatever it is', async () => {
  await visit(PLAIN);
  const send = async (name: string, content: string | Buffer): Promise<void> => {
    if (!(await page.locator('#plain-file').isVisible())) await page.click('#plain-title');
    await page.setInputFiles('#plain-file', {
      name,
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(content),
    });
    // With its style, which hides what needs scripts.
    await Promise.all([page.waitForEvent('load'), page.click('form[action="open"] button[type="submit"]')]);
  };
  const plan = { length: 300, width: 200, cornerRadius: 40 };
  await send('bench.json', JSON.stringify({ ...DEMO_TRAY, plan }));
  expect(await page.inputValue('#length')).toBe('300');
  const blank = blankOf({ plan });
  const size = `${blank.length.toFixed(1)} × ${blank.width.toFixed(1)}\u00a0mm`;
  expect(await page.locator('.figures:visible').innerText()).toContain(size);
  // A drawing without a unit and with sharp corners: asked for, then read with the sheet of the tray before.
  const drawing = dxf([
    polyline([
      [0, 0],
      [300, 0],
      [300, 200],
      [0, 200],
    ]),
  ]);
  await send('plan.dxf', drawing);
  expect(await page.locator('.result:visible').innerText()).toMatch(/leaves something open.*300 × 200\smm/s);
  await screenshot('plain-question');
  await page.selectOption('#plain-units', 'mm');
  await page.fill('#plain-radius', '40');
  await send('plan.dxf', drawing);
  expect(await page.locator('.figures:visible').innerText()).toContain(size);
  // A table comes back as an archive.
  if (!(await page.locator('#plain-file').isVisible())) await page.click('#plain-title');
  const table = 'name,plan.length\nsmall,250\nlarge,310\n';
  await page.setInputFiles('#plain-file', {
    name: 'sizes.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(table),
  });
  const { name, bytes } = await downloaded(() => page.click('form[action="open"] button[type="submit"]'));
  expect(name).toBe('sizes.zip');
  const entries = Object.keys((await JSZip.loadAsync(bytes)).files);
  expect(entries.filter((entry) => entry.endsWith('.dxf')).length).toBe(2);
  // What is no file of ours is told in the place of the answer.
  await send('note.txt', 'no tray');
  expect(await page.locator('.result:visible').innerText()).not.toBe('');
  expect(await page.locator('.figures:visible').count()).toBe(0);
});

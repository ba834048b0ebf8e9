// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/// <reference lib="dom" />
/** Tables of sizes in a real browser: solved on the device, saved as the service saves them, and sent only when they are large. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import JSZip from 'jszip';
import { beforeEach, describe, expect, test } from 'vitest';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { command } from '../batch/command.ts';
import { solved } from '../support/solved.ts';
import {
  accessibility,
  begin,
  blankShown,
  downloaded,
  eventually,
  HOME,
  open,
  PHONE,
  page,
  ready,
  reloadWithoutNetwork,
  screenshot,
  sizes,
  unfold,
  upload,
  visits,
} from './visit.ts';

visits();

/** What was sent to the service. */
let sent: string[] = [];
const told = (): Promise<string> => page.innerText('#table-words');
const tick = (...ids: string[]): Promise<void> =>
  page.evaluate((wanted) => {
    for (const box of document.querySelectorAll<HTMLInputElement>('#table-formats input'))
      box.checked = wanted.includes(box.value);
  }, ids);

describe('on the device', () => {
  beforeEach(async () => {
    await begin();
    sent = [];
    page.on('request', (request) => {
      if (request.method() === 'POST') sent.push(new URL(request.url()).pathname);
    });
  });

  test('in inches: cells with units and without, and what is told is in inches', async () => {
    await page.locator('#units label', { hasText: 'in' }).click();
    const inches = 'name,plan.length,plan.width,section.height\nsmall,12,"9 1/2""",30 mm\n';
    await upload('sizes.csv', inches, '#table-file');
    await eventually(() => page.innerText('#table-words')).toMatch(/^1 tray solved/);
    const { blank } = solved(
      readTray({
        ...DEMO_TRAY,
        plan: { length: 304.8, width: 241.3, cornerRadius: 60 },
        section: { ...DEMO_TRAY.section, height: 30 },
      }),
    ).report;
    const row = await page.innerText('#table-rows tr');
    expect(row).toContain(`${(blank.length / 25.4).toFixed(3)}″ × ${(blank.width / 25.4).toFixed(3)}″`);
    expect(row).not.toMatch(/\d\s*mm/);
    // A star in a reason is explained.
    expect(row).toContain('*');
    expect(await page.innerText('#table-star')).toMatch(/^\* Common practice/);
    await screenshot('table-inches');
  });

  test('stopped in the middle: the rows so far stay, and no more come', async () => {
    await upload('sizes.csv', sizes(200), '#table-file');
    await eventually(() => page.locator('#table-rows tr').count()).toBeGreaterThan(2);
    await page.click('#table-cancel');
    await eventually(() => page.innerText('#table-words')).toMatch(/^Stopped after \d+ of 200/);
    const count = await page.locator('#table-rows tr').count();
    expect(count).toBeLessThan(200);
    await page.waitForTimeout(300);
    expect(await page.locator('#table-rows tr').count()).toBe(count);
    // A change of the form is solved as ever.
    const before = await blankShown();
    await page.fill('#length', '433');
    await eventually(blankShown).not.toBe(before);
  });

  test('the example that can be saved is a table that can be solved', async () => {
    await unfold();
    const { name, bytes } = await downloaded(() => page.click('#table-example'));
    await upload(name, bytes.toString(), '#table-file');
    await eventually(() => page.innerText('#table-words')).toMatch(/^3 trays solved$/);
  });

  test('rows fill, a bad one is told with its line; the archive has the others, the bytes that the service gives it, and what the command makes of the same table', async () => {
    const text = sizes(3, 1);
    await upload('my sizes.csv', text, '#table-file');
    await eventually(told).toMatch(/^2 trays solved, 1 /);
    expect(await page.locator('#table-rows th').allInnerTexts()).toEqual(['size-0', 'size-1', 'size-2']);
    expect(await page.locator('#table-rows tr').count()).toBe(3);
    const failed = await page.locator('#table-rows tr.failed').innerText();
    expect(failed).toContain('line 3');
    expect(failed).toContain('plan.length');
    expect(await accessibility('serious', '#many')).toEqual([]);
    await screenshot('table');
    // In the order of the page.
    const formats = ['dxf', 'json', 'step', 'svg'];
    await tick(...formats);
    const made = await downloaded(() => page.click('#table-archive'));
    expect(made.name).toBe('my sizes.zip');
    expect(sent).toEqual([]);
    const entries = Object.keys((await JSZip.loadAsync(made.bytes)).files);
    expect(entries.filter((entry) => entry.endsWith('.dxf')).length).toBe(2);
    expect(entries).toContain('manifest.csv');
    const form = new FormData();
    form.append('base', JSON.stringify(DEMO_TRAY));
    form.append('file', new File([text], 'my sizes.csv'));
    const response = await fetch(new URL(`api/table/archive?formats=${formats}`, HOME), {
      method: 'POST',
      body: form,
    });
    expect(response.headers.get('Content-Disposition')).toContain(made.name);
    expect(made.bytes.equals(Buffer.from(await response.arrayBuffer()))).toBe(true);

    const folder = await mkdtemp(join(tmpdir(), 'gatherpan-'));
    try {
      await writeFile(join(folder, 'sizes.csv'), text);
      await writeFile(join(folder, 'base.json'), JSON.stringify(DEMO_TRAY));
      await command(folder, [
        'batch',
        'sizes.csv',
        '--base',
        'base.json',
        '--out',
        'made',
        '--format',
        formats.join(','),
      ]);
      // A batch starts a size from its neighbour, so the last digits of its files are others.
      const figures = (manifest: string): unknown =>
        JSON.parse(manifest, (key, value) => (['size', 'sha256'].includes(key) ? undefined : value));
      const own = await (await JSZip.loadAsync(made.bytes)).file('manifest.json')!.async('string');
      expect(figures(own)).toEqual(figures(await readFile(join(folder, 'made/manifest.json'), 'utf8')));
    } finally {
      await rm(folder, { recursive: true });
    }
  });

  test('a table that cannot be used is refused with the sentence of the service', async () => {
    const text = 'name,plan.lenght\na,300';
    await upload('sizes.csv', text, '#table-file');
    await page.locator('#table-error').waitFor();
    const form = new FormData();
    form.append('base', JSON.stringify(DEMO_TRAY));
    form.append('file', new File([text], 'sizes.csv'));
    const response = await fetch(new URL('api/table', HOME), { method: 'POST', body: form });
    const { errors } = (await response.json()) as { errors: { detail: string }[] };
    expect(await page.innerText('#table-error')).toBe(errors[0]!.detail);
    expect(errors[0]!.detail).toContain('did you mean "plan.length"?');
    expect(sent).toEqual([]);
  });

  test('a format that only the service makes is named before the table is sent for it', async () => {
    await upload('sizes.csv', sizes(1), '#table-file');
    await eventually(told).toMatch(/^1 tray solved/);
    await tick('png');
    const { bytes } = await downloaded(() => page.click('#table-archive'));
    expect(Object.keys((await JSZip.loadAsync(bytes)).files)).toContain('size-0.png');
    expect(await page.innerText('#table-note')).toMatch(/is sent to it: Picture of the blank.*\(PNG\)\./);
    expect(sent).toEqual(['/api/table/archive']);
    await tick('dxf');
    await downloaded(() => page.click('#table-archive'));
    expect(await page.locator('#table-note').isVisible()).toBe(false);
    expect(sent).toEqual(['/api/table/archive']);
  });

  test('one with more rows than it takes is sent to the service, and that is said', async () => {
    await upload('sizes.csv', sizes(201), '#table-file');
    await page.locator('#table-note').waitFor();
    expect(await page.innerText('#table-note')).toMatch(
      /^A table of more than 200 rows is sent to the service/,
    );
    await eventually(() => page.locator('#table-rows tr').count()).toBeGreaterThan(1);
    expect(sent).toEqual(['/api/table']);
    await page.click('#table-cancel');
    await eventually(told).toMatch(/^Stopped after \d+ of 201/);
    // The next one is not.
    await upload('sizes.csv', sizes(1), '#table-file');
    await eventually(told).toMatch(/^1 tray solved/);
    expect(await page.locator('#table-note').isVisible()).toBe(false);
    expect(sent).toEqual(['/api/table']);
  });
});

test('on a phone a row is a block: its figures with what they are, its reason to be read without scrolling aside', async () => {
  await begin(PHONE);
  await upload('sizes.csv', sizes(2, 1), '#table-file');
  await eventually(told).toMatch(/^1 tray solved, 1 /);
  const heads = await page
    .locator('#table-rows tr')
    .first()
    .locator('> *')
    .evaluateAll((cells) =>
      cells.map((cell) => getComputedStyle(cell, '::before').content.replaceAll('"', '')),
    );
  const { line, name, verdict, blank, rimToLose, thickest, anneals, mass, cut, reasons } =
    english.page.index.many;
  expect(heads).toEqual([line, name, verdict, blank, rimToLose, thickest, anneals, mass, cut, reasons]);
  for (const reason of await page.locator('#table-rows .reasons').all()) {
    const { x, width } = (await reason.boundingBox())!;
    expect(x).toBeGreaterThanOrEqual(0);
    expect(x + width).toBeLessThanOrEqual(PHONE.viewport.width);
  }
  expect(await page.innerText('#table-rows tr.failed')).toContain('plan.length');
  expect(await accessibility('serious', '#many')).toEqual([]);
  await screenshot('table-phone');
});

test('with no network a table in the first field is solved and saved; what is no file of ours is told so; the bench view works on', async () => {
  await open({ ...PHONE, serviceWorkers: 'allow' });
  await ready();
  await reloadWithoutNetwork();
  await page.locator('#result:not([aria-busy]) #verdict-word').waitFor();
  await upload('sizes.csv', sizes(2));
  await eventually(told).toMatch(/^2 trays solved$/);
  const { bytes } = await downloaded(() => page.click('#table-archive'));
  const entries = Object.keys((await JSZip.loadAsync(bytes)).files);
  expect(entries).toEqual(['size-0.dxf', 'size-1.dxf', 'manifest.csv', 'manifest.json']);
  await upload('sizes.zip', 'PK');
  await page.locator('#file-error').waitFor();
  expect(await page.innerText('#file-error')).toContain('The file is an archive; unpack it first');
  await upload('tray.json', '{ "plan": ');
  await eventually(() => page.innerText('#file-error')).toContain('not JSON');
  await page.click('#to-bench');
  await page.locator('#work:not([hidden])').waitFor();
  const all = await page.locator('#part option').allTextContents();
  await page.selectOption('#part', String(all.findIndex((each) => /Stage 2/.test(each))));
  await page.locator('#stand canvas').waitFor();
  expect(await page.innerText('#sheet-title')).toContain('Stage 2 of ');
  await page.context().setOffline(false);
});

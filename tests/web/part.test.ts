// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/** A STEP part that no tray file says, on the page: shown, saved, and gone when the form is used again. */
import { expect, test } from 'vitest';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { degrees, SMALL_PLAN, SMALL_SECTION, solidPart } from '../step/parts.ts';
import { begin, downloaded, eventually, HOME, page, upload, visits } from './visit.ts';

const TIME = 300_000;
visits();

test(
  'a part is shown in the place of the tray, its files can be saved, and the form goes on from its own tray',
  async () => {
    const bytes = await solidPart(SMALL_SECTION, SMALL_PLAN, 1);
    await begin();
    const before = await page.locator('#figures').innerText();
    const text = await page.locator('#text').inputValue();

    await upload('seed bowl.step', bytes);
    await page.locator('#stale', { hasText: 'STEP part seed bowl.step' }).waitFor({ timeout: TIME });
    expect(await page.locator('#figures').innerText()).not.toBe(before);
    await eventually(() => page.locator('#announce').textContent()).toContain('seed bowl.step');
    // The form is left as it was.
    expect(await page.locator('#text').inputValue()).toBe(text);
    // Without scripts it is the same part, and its files come from another choice of it.
    const form = new FormData();
    form.set('file', new Blob([Buffer.from(bytes)]), 'seed bowl.step');
    const plain = await (await fetch(`${HOME}/open`, { method: 'POST', body: form })).text();
    expect(plain).toContain('To save the files of this part, choose it again.');
    expect(plain).toContain((await page.locator('#figures dd').first().innerText()).split('\n')[0]!);

    const drawing = await downloaded(() => page.locator('#save-cut').click());
    expect(drawing.name).toBe('seed-bowl.dxf');
    expect(readWithDxfParser(drawing.bytes)).toBeTruthy();

    // One that no blank can be cut for: the verdict, no files, and nothing to change.
    const high = await solidPart(
      [
        { kind: 'arc', radius: 10, angle: degrees(40) },
        { kind: 'arc', radius: 14, angle: degrees(50) },
        { kind: 'line', length: 60 },
      ],
      { kind: 'rectangle', a: 20, b: 15 },
      1,
    );
    await upload('too high.step', high);
    await eventually(() => page.locator('#announce').textContent()).toBe(
      'too high.step: Not in one piece. There is no flat to cut.',
    );
    expect(await page.locator('#verdict-word').innerText()).toBe('Not in one piece');
    expect(await page.locator('#of-the-flat').isVisible()).toBe(false);
    expect(await page.locator('#changes-block').isVisible()).toBe(false);

    await page.locator('#more > summary').click();
    await page.locator('#demo').click();
    await eventually(() => page.locator('#figures').innerText()).toBe(before);
    expect(await page.locator('#stale').isVisible()).toBe(false);
  },
  TIME,
);

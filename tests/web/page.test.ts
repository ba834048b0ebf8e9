// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/// <reference lib="dom" />
/**
 * The page, end to end, in a real browser against the real service.
 */
import { afterEach, describe, expect, test } from 'vitest';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { loopArea } from '../exporters/loopGeometry.ts';
import { readWithDxf, readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { circle, dxf, line, polyline } from '../support/drawnTags.ts';
import { some } from '../support/long.ts';
import { OUTLINE_ONLY, solved } from '../support/solved.ts';
import {
  accessibility,
  begin,
  blankShown,
  downloaded,
  eventually,
  hold,
  open,
  PHONE,
  page,
  screenshot,
  sizes,
  unfold,
  upload,
  visits,
  WIDE,
} from './visit.ts';

visits();

const inches = dxf([
  line(0, 0, 59, 0),
  line(59, 0, 59, 39),
  line(59, 39, 0, 39),
  line(0, 39, 0, 0),
  circle(20, 20, 0.5),
]);

describe('a drawing that does not say everything', () => {
  test.each(
    some(
      [
        ['wide', WIDE],
        ['phone', PHONE],
      ] as const,
      1,
    ),
  )('is asked about, and counts only then: %s', async (name, options) => {
    await begin(options);
    const before = await blankShown();
    await upload('bench top.dxf', inches);
    await page.locator('#drawing').waitFor();
    expect(await page.inputValue('#drawing-units')).toBe('');
    expect(await page.locator('#drawing-units option').allInnerTexts()).toEqual([
      'Choose',
      '59 × 39 mm',
      '59 × 39 cm (590 × 390 mm)',
      '59 × 39 in (1498.6 × 990.6 mm)',
    ]);
    // The outline that was found, over a grid.
    const outline = page.locator('#drawing-picture');
    expect(
      await outline.evaluate(async (image: HTMLImageElement) => {
        await image.decode();
        return image.naturalWidth;
      }),
    ).toBeGreaterThan(100);
    expect(await page.inputValue('#drawing-cornerRadius')).toBe('');
    expect(await page.innerText('#drawing-cornerRadius-hint')).toContain(
      '4 corners are drawn sharp: x 0, y 0;',
    );
    expect(await blankShown()).toBe(before);
    expect(await page.innerText('#stale')).toContain(
      'the drawing bench top.dxf still has questions to answer',
    );
    expect(await page.locator('#drawing-layer').isVisible()).toBe(false);
    expect(await accessibility('serious', '#tray')).toEqual([]);
    await screenshot(`drawing-${name}`);
    // Nothing said: nothing taken.
    await page.click('#drawing-take');
    expect(await page.innerText('#drawing-units-error')).toBe('Answer this first.');
    await page.selectOption('#drawing-units', 'in');
    await page.fill('#drawing-cornerRadius', '-3');
    await page.click('#drawing-take');
    await eventually(() => page.innerText('#drawing-cornerRadius-error')).toMatch(
      /^!? ?Radius of the sharp corners is -3; give/,
    );
    expect(await blankShown()).toBe(before);
    await page.fill('#drawing-cornerRadius', '80');
    await page.click('#drawing-take');
    await eventually(() => page.inputValue('#length')).toBe('1498.6');
    expect(await page.inputValue('#width')).toBe('990.6');
    expect(await page.inputValue('#corner')).toBe('80');
    expect(await page.locator('#drawing').isVisible()).toBe(false);
    expect(await page.innerText('#file-note')).toContain('became holes in the base');
    await eventually(blankShown).not.toBe(before);
    await page.locator('#stale').waitFor({ state: 'hidden' });
    await screenshot(`drawing-taken-${name}`);
  });

  test('may be left, and the tray from before goes on', async () => {
    await begin();
    const before = await blankShown();
    await upload('top.dxf', inches);
    await page.locator('#drawing').waitFor();
    await page.click('#drawing-leave');
    await page.locator('#stale').waitFor({ state: 'hidden' });
    expect(await page.locator('#drawing').isVisible()).toBe(false);
    expect(await blankShown()).toBe(before);
  });
});

/** A rectangle with rounded corners, lower left at x, y. */
const rounded = (x: number, y: number, length: number, width: number, radius: number, layer = '0') =>
  polyline(
    [
      [x + radius, y],
      [x + length - radius, y, Math.SQRT2 - 1],
      [x + length, y + radius],
      [x + length, y + width - radius, Math.SQRT2 - 1],
      [x + length - radius, y + width],
      [x + radius, y + width, Math.SQRT2 - 1],
      [x, y + width - radius],
      [x, y + radius, Math.SQRT2 - 1],
    ],
    true,
    [],
    layer,
  );

describe('a plan drawing', () => {
  /** Keeps what pictures are made of, until the test ends: a page may not read its own pictures back. */
  const keepPictures = (): Promise<void> =>
    page.evaluate(() => {
      const make = URL.createObjectURL;
      const pictures: Record<string, string> = {};
      URL.createObjectURL = (content: Blob) => {
        const address = make(content);
        void content.text().then((text) => {
          pictures[address] = text;
        });
        return address;
      };
      addEventListener(
        'put back',
        () => {
          URL.createObjectURL = make;
        },
        { once: true },
      );
      Object.assign(window, { pictures });
    });
  afterEach(() => page.evaluate(() => void dispatchEvent(new Event('put back'))));
  /** What a person reads under the outline. */
  const label = (): Promise<string> =>
    page.evaluate(() => {
      const { src } = document.querySelector<HTMLImageElement>('#drawing-picture')!;
      const { pictures } = window as unknown as { pictures: Record<string, string> };
      return String(pictures[src]).replace(/<[^>]+>/g, ' ');
    });

  test('a rounded rectangle in mm becomes length, width and radius, shown in both units over a grid', async () => {
    await begin();
    await keepPictures();
    await upload('bench tray.dxf', dxf([rounded(0, 0, 381, 254, 60)], 4));
    await eventually(() => page.inputValue('#length')).toBe('381');
    expect(await page.inputValue('#width')).toBe('254');
    expect(await page.inputValue('#corner')).toBe('60');
    expect(await page.inputValue('#name')).toBe('bench tray');
    await eventually(label).toMatch(/381 × 254 mm, 15 × 10 in\s+one square is/);
    expect(await page.innerText('#file-note')).toContain('its sizes are in the form');
  });

  test('one without a unit is asked for it, in a page in inches too', async () => {
    await begin();
    await keepPictures();
    await page.locator('#units label', { hasText: 'in' }).click();
    await upload('tray.dxf', dxf([rounded(0, 0, 16, 11, 2.5)]));
    await page.locator('#drawing').waitFor();
    await eventually(label).toContain('16 × 11 in the unit of the drawing');
    await page.selectOption('#drawing-units', 'in');
    await page.click('#drawing-take');
    await eventually(() => page.inputValue('#length')).toBe('16');
    expect(await page.inputValue('#corner')).toBe('2.5');
  });

  test('one with sharp corners is asked for their radius, which is in the unit of the page', async () => {
    await begin();
    await page.locator('#units label', { hasText: 'in' }).click();
    const sharp = [line(0, 0, 16, 0), line(16, 0, 16, 11), line(16, 11, 0, 11), line(0, 11, 0, 0)];
    await upload('tray.dxf', dxf(sharp, 1));
    await page.locator('#drawing').waitFor();
    expect(await page.locator('#drawing-units').isVisible()).toBe(false);
    await page.fill('#drawing-cornerRadius', '2 1/4');
    await page.click('#drawing-take');
    await eventually(() => page.inputValue('#corner')).toBe('2.25');
    expect(await page.inputValue('#length')).toBe('16');
  });

  test('one on several layers is asked for the layer', async () => {
    await begin();
    await upload('tray.dxf', dxf([rounded(0, 0, 380, 250, 60, 'TRAY'), circle(190, 125, 30, 'LABEL')], 4));
    await page.locator('#drawing').waitFor();
    expect(await page.locator('#drawing-layer option').allInnerTexts()).toEqual(['Choose', 'TRAY', 'LABEL']);
    await page.selectOption('#drawing-layer', 'TRAY');
    await page.click('#drawing-take');
    await eventually(() => page.inputValue('#length')).toBe('380');
  });

  test('one of several outlines is asked which of them is the tray', async () => {
    await begin();
    const before = await blankShown();
    await upload('trays.dxf', dxf([rounded(0, 0, 380, 250, 60), rounded(500, 0, 300, 200, 50)], 4));
    await page.locator('#drawing').waitFor();
    expect(await page.locator('#drawing-loop option').allInnerTexts()).toEqual([
      'Choose',
      '380 × 250, its middle at x 190, y 125',
      '300 × 200, its middle at x 650, y 100',
    ]);
    expect(await accessibility('serious', '#drawing')).toEqual([]);
    await page.selectOption('#drawing-loop', '2');
    await page.click('#drawing-take');
    await eventually(() => page.inputValue('#length')).toBe('300');
    expect(await page.inputValue('#corner')).toBe('50');
    await eventually(blankShown).not.toBe(before);
  });

  test('one that is no rectangle is the plan as it is, with its corners in the form', async () => {
    await begin();
    const corners: [number, number][] = [
      [0, 0],
      [400, 0],
      [500, 190],
      [400, 380],
      [0, 380],
      [-100, 190],
    ];
    await upload('bench corner.dxf', dxf([polyline(corners)], 4));
    await page.locator('#drawing').waitFor();
    await page.fill('#drawing-cornerRadius', '70');
    await page.click('#drawing-take');
    await page.locator('#plan-note').waitFor();
    expect(await page.innerText('#plan-note-text')).toContain('6 corners');
    await page.locator('#result:not([aria-busy]):not(.old)').waitFor();
    await page.click('#more > summary');
    expect(await page.inputValue('#corner-F')).toBe('70');
    await screenshot('plan-of-corners');
  });
});

describe('from form to download', () => {
  test('starts with the demo tray, solved; by keyboard alone from the top to a saved file', async () => {
    await open();
    expect(await page.inputValue('#length')).toBe(String(DEMO_TRAY.plan.length));
    const { report, gather } = solved(readTray(DEMO_TRAY));
    expect(await blankShown()).toContain(
      `${report.blank.length.toFixed(1)} × ${report.blank.width.toFixed(1)}\u00a0mm`,
    );
    expect((await page.innerText('#verdict-word')).toLowerCase()).toBe(gather.verdict.word);
    // What would only make it easier is looked for when its fold is opened, not once all else is known.
    await eventually(() => page.innerText('#anneals')).toMatch(/stage/);
    expect(await page.textContent('#changes')).toBe('');
    const reached: string[] = [];
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press('Tab');
      const id = await page.evaluate(
        () => document.activeElement?.id || document.activeElement?.textContent || '',
      );
      reached.push(id);
      if (id === 'save-archive') break;
      // What has the focus shows it.
      const shown = await page.evaluate(() => {
        const style = getComputedStyle(document.activeElement!);
        return style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) > 0;
      });
      expect(shown, id).toBe(true);
      if (id !== 'save-cut') continue;
      const { name } = await downloaded(() => page.keyboard.press('Enter'));
      expect(name).toMatch(/\.dxf$/);
      // It was out of use while it worked, and has the focus again.
      await eventually(() => page.evaluate(() => document.activeElement?.id)).toBe('save-cut');
    }
    for (const id of ['file', 'length', 'corner', 'material', 'thickness', 'save-cut', 'save-archive']) {
      expect(reached).toContain(id);
    }
    await page.click('#why summary');
    expect(await page.locator('#reasons li').count()).toBeGreaterThan(0);
    await eventually(() => page.innerText('#changes')).toMatch(/^Use \d/);
    await page.click('#formed-block summary');
    for (const id of ['#picture-blank', '#picture-formed']) {
      await eventually(() => page.locator(id).getAttribute('src')).toMatch(/^blob:/);
      await page.locator(id).evaluate((image: HTMLImageElement) => image.decode());
      expect(
        await page.locator(id).evaluate((image: HTMLImageElement) => image.naturalWidth),
      ).toBeGreaterThan(0);
      expect(await page.getAttribute(id, 'alt')).not.toBe('');
    }
    await screenshot('wide');
  });

  test('a tray without a flat has its verdict where every verdict stands, and what to change', async () => {
    await begin();
    await page.fill('#corner', '8');
    await page.fill('#bottom', '8');
    await page.fill('#height', '90');
    await eventually(() => page.innerText('#verdict-word')).toMatch(/^not in one piece$/i);
    // At the height before, the verdict is the same but there is a blank.
    await page.locator('#picture-blank').waitFor({ state: 'hidden' });
    await page.locator('#stale').waitFor({ state: 'hidden' });
    expect(await page.innerText('#reason')).toContain('.');
    await screenshot('no-flat');
    await page.fill('#height', '20');
    await page.locator('#picture-blank').waitFor();
    await eventually(() => page.innerText('#verdict-word')).not.toMatch(/^not in one piece$/i);
  });

  test('a change of size is shown, and the saved drawing has it', async () => {
    await begin();
    const before = await blankShown();
    await page.fill('#length', '460');
    await page.waitForFunction((text) => document.querySelector('#figures dd')?.textContent !== text, before);
    const tray = { ...DEMO_TRAY, plan: { ...DEMO_TRAY.plan, length: 460 } };
    const { report } = solved(readTray(tray));
    await eventually(blankShown).toContain(`${report.blank.length.toFixed(1)} × `);
    const { name, bytes } = await downloaded(() => page.locator('#save-cut').click());
    expect(name).toBe(`${DEMO_TRAY.name}.dxf`);
    // Two readers that are not ours agree on unit, closure and area.
    for (const read of [readWithDxfParser, readWithDxf]) {
      const { unit, loops } = read(bytes);
      expect(unit).toBe('mm');
      expect(loops.length).toBe(1);
      expect(loops[0]!.closed).toBe(true);
      expect(loopArea(loops[0]!.vertices) / report.blank.area).toBeCloseTo(1, 6);
    }
  });

  test('fast typing leaves the last tray on the page', async () => {
    await begin();
    for (const value of ['300', '310', '320', '330', '340', '350']) await page.fill('#length', value);
    const { report } = solved(readTray({ ...DEMO_TRAY, plan: { ...DEMO_TRAY.plan, length: 350 } }));
    await eventually(blankShown).toContain(`${report.blank.length.toFixed(1)} × `);
    await page.waitForTimeout(500);
    expect(await blankShown()).toContain(`${report.blank.length.toFixed(1)} × `);
  });

  test('a decimal comma and four radii are understood', async () => {
    await begin();
    await page.fill('#thickness', '1,5');
    await page.fill('#corner', '70; 62,5; 55 50');
    await unfold();
    const { name, bytes } = await downloaded(() => page.click('#save-tray'));
    expect(name).toBe(`${DEMO_TRAY.name}-tray.json`);
    const file = JSON.parse(bytes.toString());
    expect(file.sheet.thickness).toBe(1.5);
    expect(file.plan.cornerRadius).toEqual([70, 62.5, 55, 50]);
    expect(readTray(file).plan).toEqual(file.plan);
  });

  test('a setting of a format is used', async () => {
    await begin();
    const row = page.locator('#formats li.row', { hasText: 'JSON' }).first();
    await unfold();
    await row.getByLabel('one line', { exact: false }).check();
    const { bytes } = await downloaded(() => row.getByRole('button', { name: 'Save' }).click());
    expect(bytes.toString().trim().split('\n').length).toBe(1);
  });
});

describe('uploads', () => {
  test('a tray file fills the form', async () => {
    await begin();
    const tray = { ...DEMO_TRAY, name: 'from-a-file', plan: { length: 300, width: 200, cornerRadius: 50 } };
    await upload('any-name.txt', JSON.stringify(tray));
    await eventually(() => page.inputValue('#name')).toBe('from-a-file');
    expect(await page.inputValue('#length')).toBe('300');
    const { report } = solved(readTray(tray));
    await eventually(blankShown).toContain(`${report.blank.length.toFixed(1)} × `);
  });

  test('a tray file opens with no network, in the unit of the page; one that is wrong is told of at its fields', async () => {
    await begin();
    await page.context().setOffline(true);
    const file = {
      units: 'in',
      plan: { length: 12, width: 8, cornerRadius: 2 },
      section: { bottomRadius: 0.75, height: 1.25 },
      sheet: { material: 'DC04', thickness: 0.05 },
    };
    await upload('seed tray.json', JSON.stringify(file));
    await eventually(() => page.inputValue('#length')).toBe('304.8');
    expect(await page.inputValue('#name')).toBe('seed tray');
    const { blank } = solved(readTray(file, { name: 'x' })).report;
    await eventually(blankShown).toContain(`${blank.length.toFixed(1)} × `);
    await upload('wrong.json', JSON.stringify({ ...file, section: { bottomRadius: 0.75, height: -1 } }));
    await page.locator('#height-error').waitFor();
    expect(await page.innerText('#height-error')).toContain('Height is -25.4; give a number from');
    await page.context().setOffline(false);
  });

  test('a tray that is no rectangle is kept whole', async () => {
    await begin();
    const tray = {
      ...DEMO_TRAY,
      plan: {
        vertices: [
          { x: -120, y: -80, radius: 45 },
          { x: 140, y: -80, radius: 45 },
          { x: 60, y: 90, radius: 45 },
          { x: -120, y: 90, radius: 45 },
        ],
      },
    };
    await upload('plan.json', JSON.stringify(tray));
    await page.locator('#plan-note').waitFor();
    expect(await page.innerText('#plan-note-text')).toContain('4 corners');
    expect(await page.locator('#length').isVisible()).toBe(false);
    await page.fill('#height', '30');
    await unfold();
    const { bytes } = await downloaded(() => page.click('#save-tray'));
    const saved = JSON.parse(bytes.toString());
    expect(readTray(saved)).toEqual(readTray({ ...tray, section: { ...tray.section, height: 30 } }));
  });

  test('dropped on the page', async () => {
    await begin();
    await page.evaluate(
      (text) => {
        const data = new DataTransfer();
        data.items.add(new File([text], 'tray.json'));
        dispatchEvent(new DragEvent('drop', { dataTransfer: data, cancelable: true, bubbles: true }));
      },
      JSON.stringify({ ...DEMO_TRAY, name: 'dropped' }),
    );
    await eventually(() => page.inputValue('#name')).toBe('dropped');
  });

  test('what is no tray is refused at the field, in words', async () => {
    await begin();
    let before = '';
    for (const [name, content, words] of [
      ['tray.json', '\x89PNG\r\n\x1a\n\0\0\0\rIHDR', 'not a text file'],
      ['plan.dxf', '0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n', ''],
      ['part.step', 'ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n', ''],
    ] as const) {
      await upload(name, content);
      await page.locator('#file-error').waitFor();
      // Each is told in words of its own.
      await eventually(() => page.innerText('#file-error')).not.toBe(before);
      await eventually(() => page.innerText('#file-error')).toContain(words);
      const text = await page.innerText('#file-error');
      expect(text.length).toBeGreaterThan(20);
      expect(await page.getAttribute('#file', 'aria-invalid')).toBe('true');
      expect(await page.getAttribute('#file', 'aria-describedby')).toContain('file-error');
      // The tray on the page is still there.
      expect(await page.locator('#verdict-word').isVisible()).toBe(true);
      before = text;
    }
  });

  test('text that is taken over, and text that is no tray', async () => {
    await begin();
    await page.click('#more > summary');
    await page.fill('#text', '{"name": ');
    await page.click('#text-take');
    expect(await page.innerText('#text-error')).toContain('not JSON');
    await page.fill('#text', JSON.stringify({ ...DEMO_TRAY, name: 'typed' }));
    await page.click('#text-take');
    await eventually(() => page.inputValue('#name')).toBe('typed');
  });
});

describe('the whole tray form', () => {
  test.each(
    some(
      [
        ['wide', WIDE],
        ['phone', PHONE],
      ] as const,
      1,
    ),
  )('holes, corners cut out and sides are fields, and lie on the plan: %s', async (name, options) => {
    await begin(options);
    await page.click('#more > summary');
    // A tap on the plan leads to the field.
    const tap = (text: string) => page.locator('.plan-target', { hasText: new RegExp(`^${text}$`) }).click();
    await tap('B–C');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('side-1');
    await tap('B');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('corner-B');
    await page.selectOption('#making-B', 'notch');
    expect(await page.inputValue('#corner-B')).toBe('0');
    expect(await page.inputValue('#corner-A')).toBe('60');
    await page.selectOption('#hole-0-kind', 'round');
    await page.fill('#hole-0-diameter', '3/4 in');
    await page.fill('#hole-0-x', '-50');
    await page.selectOption('#hole-1-kind', 'polygon');
    await page.locator('#result:not([aria-busy]):not(.old)').waitFor();
    await tap('2');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('hole-1-kind');
    await screenshot(`form-${name}`);
    expect(await accessibility('all', '#tray')).toEqual([]);
    const { bytes } = await downloaded(() => page.click('#save-tray'));
    const saved = readTray(JSON.parse(bytes.toString()));
    expect(saved).toMatchObject({
      plan: { cornerRadius: [60, 0, 60, 60] },
      forming: { corners: ['gather', 'notch', 'gather', 'gather'] },
      holes: [
        { shape: { kind: 'round', diameter: 19.05 }, place: { on: 'base', x: -50 } },
        { shape: { kind: 'polygon' }, place: { on: 'base', x: 40 } },
      ],
    });
    const { holes } = flatPatternOf(developTray(saved, OUTLINE_ONLY));
    expect(holes).toHaveLength(2);
    // And taken away again.
    await page.selectOption('#hole-0-kind', 'none');
    expect(await page.inputValue('#hole-0-kind')).toBe('polygon');
    await page.selectOption('#hole-0-kind', 'none');
    await page.selectOption('#making-B', 'gather');
    await page.locator('#result:not([aria-busy]):not(.old)').waitFor();
    const again = await downloaded(() => page.click('#save-tray'));
    expect(readTray(JSON.parse(again.bytes.toString()))).toEqual(readTray(DEMO_TRAY));
  });

  test('what is wrong with a hole is told at the hole, by its number', async () => {
    await begin();
    await page.click('#more > summary');
    await page.selectOption('#hole-0-kind', 'round');
    await page.fill('#hole-0-x', '205');
    await page.locator('.error:visible').waitFor();
    expect(await page.innerText('.error:visible')).toMatch(/^!? ?Hole 1 \("hole-1"\)/);
  });

  test('heights of sides are told by the name of the field', async () => {
    await begin();
    await page.click('#more > summary');
    await page.selectOption('#making-B', 'notch');
    await page.fill('#side-0', '40');
    await page.locator('.error:visible').waitFor();
    expect(await page.innerText('.error:visible')).toMatch(/^!? ?Height is 40 mm at side A–B/);
  });
});

describe('errors', () => {
  test('stand at their field and are tied to it; the last good tray stays', async () => {
    await begin();
    const before = await blankShown();
    await page.fill('#bottom', '-9');
    const error = page.locator('#bottom-error');
    await error.waitFor();
    expect(await error.innerText()).toMatch(/^Bottom radius is -9; give a number from/);
    expect(await page.getAttribute('#bottom', 'aria-invalid')).toBe('true');
    expect(await page.getAttribute('#bottom', 'aria-describedby')).toContain('bottom-error');
    expect(await page.locator('#stale').isVisible()).toBe(true);
    expect(await blankShown()).toBe(before);
    await eventually(() => page.innerText('#announce')).toMatch(/Bottom radius is -9/);
    await screenshot('error');
    expect(await accessibility('serious', '#tray')).toEqual([]);
    await page.fill('#bottom', '22');
    await error.waitFor({ state: 'hidden' });
    expect(await page.getAttribute('#bottom', 'aria-invalid')).toBeNull();
    expect(await page.locator('#stale').isVisible()).toBe(false);
  });

  test('a folded part opens for its error', async () => {
    await begin();
    await page.evaluate(() => {
      const field = document.querySelector<HTMLInputElement>('#draft')!;
      field.value = '80';
      field.dispatchEvent(new Event('input', { bubbles: true }));
    });
    await page.locator('#draft-error').waitFor();
    expect(await page.innerText('#draft-error')).toContain('Draft is 80');
  });

  test('a wrong quantity is told at the quantity', async () => {
    await begin();
    await unfold();
    await page.fill('#quantity', 'many');
    await page.click('#save-archive');
    await page.locator('#quantity-error').waitFor();
    expect(await page.innerText('#quantity-error')).toContain('whole number');
  });

  test('a service that cannot be reached is said where it is needed; trays are solved without it', async () => {
    await begin();
    await page.context().setOffline(true);
    const before = await blankShown();
    await page.fill('#length', '430');
    await eventually(blankShown).not.toBe(before);
    expect(await page.locator('#general-error').isVisible()).toBe(false);
    // Only a solid has to be sent.
    await upload('part.step', 'ISO-10303-21;');
    await page.locator('#file-error').waitFor();
    expect(await page.innerText('#file-error')).toContain('cannot be reached');
    await page.context().setOffline(false);
  });

  test('a browser that cannot solve is told so, and the service solves, a table too', async () => {
    await open(WIDE, (opened) => opened.route('**/worker.js', (route) => route.abort()));
    await page.locator('#lacking').waitFor();
    expect(await page.innerText('#lacking')).toContain('the service does');
    await upload('sizes.csv', sizes(2, 1));
    await eventually(() => page.innerText('#table-words')).toMatch(/^1 tray solved, 1 /);
    expect(await page.locator('#table-note').isVisible()).toBe(false);
    expect((await downloaded(() => page.click('#table-archive'))).name).toBe('sizes.zip');
    const before = await blankShown();
    await page.fill('#length', '430');
    await eventually(blankShown).not.toBe(before);
    await page.context().setOffline(true);
    await page.fill('#length', '440');
    await page.locator('#general-error').waitFor();
    expect(await page.innerText('#general-error')).toContain('cannot be reached');
    await page.context().setOffline(false);
    // It comes back by itself.
    await page.locator('#general-error').waitFor({ state: 'hidden' });
  });
});

describe('never an answer to another tray', () => {
  test('from the first key the old answer is seen to be old', async () => {
    await begin();
    const result = page.locator('#result');
    const states = await page.evaluate(() => {
      const field = document.querySelector<HTMLInputElement>('#length')!;
      const shown = document.querySelector('#result')!;
      field.value = '431';
      field.dispatchEvent(new Event('input', { bubbles: true }));
      return [shown.classList.contains('old'), shown.getAttribute('aria-busy')];
    });
    expect(states).toEqual([true, 'true']);
    await eventually(() => result.getAttribute('aria-busy')).toBeNull();
    expect(await result.getAttribute('class')).not.toContain('old');
  });

  test('what is saved at any time after typing is the tray typed', async () => {
    await begin();
    const drawing = page.locator('#save-cut');
    // From at once to well after the answer.
    const waits = some([0, 3, 11, 25, 38, 41, 60, 95, 160, 400], 4);
    for (const [i, wait] of waits.entries()) {
      const length = 400 + 7 * i;
      await page.fill('#length', String(length));
      await page.waitForTimeout(wait);
      const { bytes } = await downloaded(() => drawing.click());
      const own = developTray(readTray({ ...DEMO_TRAY, plan: { ...DEMO_TRAY.plan, length } }), OUTLINE_ONLY);
      const { loops } = readWithDxf(bytes);
      expect(loopArea(loops[0]!.vertices) / flatPatternOf(own).report.blank.area).toBeCloseTo(1, 6);
    }
  });

  test('a live answer comes first and says that it is one; nothing is saved before the full one', async () => {
    await begin();
    const before = await blankShown();
    // The thread of full answers does not get the question until it is told to.
    const letGo = await hold('preview');
    await page.fill('#length', '447');
    await page.locator('#result.live[aria-busy="true"]:not(.old)').waitFor();
    expect(await page.innerText('#stale-text')).toMatch(/^Live, within 0\.3\u00a0mm …/);
    const { report } = solved(readTray({ ...DEMO_TRAY, plan: { ...DEMO_TRAY.plan, length: 447 } }));
    expect(await blankShown()).not.toBe(before);
    const length = Number.parseFloat(await blankShown());
    expect(Math.abs(length - report.blank.length)).toBeLessThanOrEqual(0.6);
    await screenshot('live');
    // Asked for now, given when the full answer is there.
    const saved = downloaded(() => page.click('#save-cut'));
    await page.waitForTimeout(300);
    expect(await page.getAttribute('#save-cut', 'aria-busy')).toBe('true');
    await letGo();
    const { loops } = readWithDxf((await saved).bytes);
    expect(loopArea(loops[0]!.vertices) / report.blank.area).toBeCloseTo(1, 6);
    await page.locator('#result:not([aria-busy], .live, .old)').waitFor();
    expect(await page.locator('#stale').isVisible()).toBe(false);
    expect(await blankShown()).toContain(`${report.blank.length.toFixed(1)} × `);
  });

  test('of a tray that cannot be solved nothing is saved, and that is said', async () => {
    await begin();
    await page.fill('#bottom', '-9');
    await page.click('#save-archive');
    await page.locator('#take-error').waitFor();
    expect(await page.innerText('#take-error')).toContain('nothing to save');
  });
});

describe('for everybody', () => {
  test('nothing sticks out, however wide the screen is', async () => {
    await begin();
    await unfold();
    await upload('sizes.csv', sizes(2), '#table-file');
    await eventually(() => page.innerText('#table-words')).toMatch(/solved/);
    for (const width of [390, 320, 768, 1360, 2200]) {
      await page.setViewportSize({ width, height: 800 });
      const [content, room] = await page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.clientWidth,
      ]);
      expect(room, `${width} px`).toBeLessThanOrEqual(width);
      expect(content, `${width} px`).toBeLessThanOrEqual(room!);
    }
  });

  test('every field has a name and the result is announced', async () => {
    await begin();
    const nameless = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLInputElement>('input:not([type="hidden"]), select, textarea')]
        .filter((field) => (field.labels?.length ?? 0) === 0 && !field.getAttribute('aria-label'))
        .map((field) => field.id),
    );
    expect(nameless).toEqual([]);
    await page.fill('#length', '455');
    await page.locator('#result:not([aria-busy]):not(.old)').waitFor();
    const [size = ''] = (await blankShown()).split('\n');
    expect(size).toMatch(/\d × \d/);
    await eventually(() => page.innerText('#announce')).toMatch(/worked|piece/);
    await eventually(() => page.innerText('#announce')).toContain(size);
  });

  test('nothing moves when motion is not wanted', async () => {
    await begin();
    await page.emulateMedia({ reducedMotion: 'reduce' });
    const moving = await page.evaluate(
      () =>
        [...document.querySelectorAll('*')].filter((each) => {
          const style = getComputedStyle(each);
          return (
            style.animationName !== 'none' ||
            style.transitionDuration.split(',').some((time) => time.trim() !== '0s')
          );
        }).length,
    );
    expect(moving).toBe(0);
  });

  test('printed: sizes, verdict and cautions, nothing to press', async () => {
    await begin();
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('#print-sizes').isVisible()).toBe(true);
    expect(await page.innerText('#print-sizes')).toContain('420 mm × 280 mm');
    for (const id of ['#verdict-word', '#figures', '#picture-blank', '#cutting-cautions', '#notes']) {
      expect(await page.locator(id).isVisible(), id).toBe(true);
    }
    expect(await page.locator('button:visible, input:visible, select:visible').count()).toBe(0);
    const pages = (await page.pdf({ format: 'A4' })).toString('latin1').match(/\/Type\s*\/Page\b/g)!.length;
    expect(pages).toBeLessThanOrEqual(2);
  });
});

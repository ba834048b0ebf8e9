// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/// <reference lib="dom" />
/** What a person types, and what is seen at a glance. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { LONG } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import {
  accessibility,
  begin,
  blankShown,
  downloaded,
  eventually,
  hold,
  PHONE,
  page,
  screenshot,
  trayIn,
  unfold,
  upload,
  visits,
  WIDE,
} from './visit.ts';

visits();

/** The result once it answers what is in the form. */
const answer = () => page.locator('#result:not([aria-busy]):not(.old)').waitFor();
const blankOf = (changes: object): { length: number; width: number } =>
  solved(readTray({ ...DEMO_TRAY, ...changes })).report.blank;

describe('sizes', () => {
  test('in inches, fractions and centimetres, whatever the page is in', async () => {
    await begin();
    await page.fill('#length', '16 1/2"');
    await page.fill('#width', '28 cm');
    await page.fill('#height', '1 1/4 in');
    const { length } = blankOf({
      plan: { length: 419.1, width: 280, cornerRadius: 60 },
      section: { ...DEMO_TRAY.section, height: 31.75 },
    });
    await eventually(blankShown).toContain(`${length.toFixed(1)} × `);
    // What was typed stays as it was typed.
    expect(await page.inputValue('#length')).toBe('16 1/2"');
  });

  test('a gauge is taken by the table of its metal, and the thickness is said', async () => {
    await begin();
    await page.fill('#thickness', '18 ga');
    // 18 in the Manufacturers' Standard Gauge is 0.0478 in.
    await eventually(() => page.innerText('#thickness-taken')).toBe('taken as 1.21\u00a0mm');
    await page.fill('#material', '304');
    // 18 in the United States Standard Gauge is 0.05 in.
    await eventually(() => page.innerText('#thickness-taken')).toBe('taken as 1.27\u00a0mm');
    expect(await page.innerText('#material-taken')).toContain('Stainless steel 1.4301');
  });

  test('a sheet is found by its other names, and what is taken is said', async () => {
    await begin();
    // None says what the one before said.
    for (const [name, said] of [
      ['mild steel', 'Nearest in the table: DC01 (Cold-rolled steel DC01)'],
      ['half-hard copper', 'Nearest in the table: Cu-ETP-R220 (Copper Cu-ETP, soft (R220))'],
      ['1008', 'Nearest in the table: DC01'],
      ['5052', '5052-O: Aluminium 5052, soft (O)'],
    ] as const) {
      await page.fill('#material', name);
      await eventually(() => page.innerText('#material-taken')).toContain(said);
      await answer();
    }
  });

  test('the whole page is in inches, remembered, and so is what is saved', async () => {
    await begin();
    const before = await blankShown();
    await page.locator('#units label', { hasText: 'in' }).click();
    await answer();
    // 420 mm and 34 mm, as a person writes them.
    expect(await page.inputValue('#length')).toBe('16.5354');
    expect(await page.inputValue('#height')).toBe('1.3386');
    const blank = blankOf({});
    await eventually(blankShown).toContain(
      `${(blank.length / 25.4).toFixed(3)}″ × ${(blank.width / 25.4).toFixed(3)}″`,
    );
    await unfold();
    // Settings of formats name their own units. What a screen reader is told comes a little later.
    const metric = (): Promise<string[] | null> =>
      page.evaluate(() => {
        document.querySelector('#formats')?.remove();
        const shown = document.querySelector<HTMLElement>('#result')!.innerText;
        return shown.match(/.*\d\s*mm\b.*/g);
      });
    await eventually(metric).toBeNull();
    const { bytes } = await downloaded(() => page.click('#save-tray'));
    const saved = JSON.parse(bytes.toString());
    expect(saved.units).toBe('in');
    expect(readTray(saved)).toEqual({ ...readTray(DEMO_TRAY), shownIn: 'in' });
    await screenshot('inches');
    await eventually(() => trayIn(page.url())?.plan).toEqual(saved.plan);
    await page.reload();
    await answer();
    expect(await page.inputValue('#length')).toBe('16.5354');
    await page.locator('#units label', { hasText: 'mm' }).click();
    await answer();
    expect(await page.inputValue('#length')).toBe('420');
    await eventually(blankShown).toBe(before);
  });
});

test('thirty kinds of bad input: each is told beside its field in one sentence by the name that stands there, with what to type', async () => {
  await begin();
  await page.click('#more > summary');
  await page.selectOption('#rim', 'out');
  await page.selectOption('#hole-0-kind', 'round');
  const wrong: readonly (readonly [field: string, value: string, name: string])[] = [
    ['#length', '', 'Length is missing; give a number from'],
    ['#length', 'long', 'Length is "long"; give a number from'],
    ['#length', '-420', 'Length'],
    ['#length', '0', 'Length'],
    ['#length', '5', 'Length'],
    ['#length', '420 parsecs', 'Length is "420 parsecs"; give a number from'],
    ['#length', '4 2 0', 'Length'],
    ['#length', '12"6', 'Length'],
    ['#length', '1/0', 'Length'],
    ['#width', '28O', 'Width'],
    ['#width', '280,5,1', 'Width'],
    ['#width', 'NaN', 'Width'],
    ['#width', '<b>280</b>', 'Width'],
    ['#width', '٢٨٠', 'Width'],
    ['#height', '1 1/', 'Height'],
    ['#height', '34mm high', 'Height'],
    ['#height', '3000', 'Height'],
    ['#corner', '40, 50', 'Corner radius is a list of 2'],
    ['#corner', 'round', 'Corner radius'],
    ['#corner', '10', 'Corner radius'],
    ['#corner', '200', 'Corner radius'],
    ['#bottom', '-9', 'Bottom radius'],
    ['#bottom', '61', 'ottom radius of 61'],
    ['#thickness', '99 ga', 'Thickness is 99; give a whole gauge number'],
    ['#thickness', '50', 'Thickness'],
    ['#material', 'cheese', "Material is 'cheese', which is not in the table of sheets"],
    ['#material', '', 'Material'],
    ['#trim', 'some', 'Trim'],
    ['#draft', '80', 'Draft'],
    ['#grain', 'along', 'Grain'],
    ['#kerf', '-1', 'Kerf'],
    ['#lip-width', '', 'Lip width'],
    ['#lip-radius', 'x', 'Lip bend radius'],
    ['#hole-0-diameter', '0', 'Diameter'],
    ['#hole-0-x', '900', 'ole 1'],
    ['#corner-B', 'sharp', 'Radius at B'],
    ['#side-0', 'tall', 'Height of A–B'],
  ];
  const seen = (field: string) =>
    page.evaluate((at) => {
      const errors = [...document.querySelectorAll<HTMLElement>('.error')];
      return {
        answered: !document.querySelector('#result')!.hasAttribute('aria-busy'),
        said: errors
          .filter((each) => each.checkVisibility())
          .map((each) => each.innerText)
          .join('\n'),
        wrong: document.querySelectorAll('[aria-invalid="true"]').length,
        typed: document.querySelector<HTMLInputElement>(at)!.value,
      };
    }, field);
  let last: readonly [field: string, before: string] | null = null;
  for (const [field, value, name] of wrong) {
    const before: string = last?.[0] === field ? last[1] : await page.inputValue(field);
    await page.fill(field, value);
    // The one before is right again once the next is wrong, so that no tray has to be solved in between.
    if (last !== null && last[0] !== field) await page.fill(...last);
    last = [field, before];
    await eventually(async () => (await seen(field)).answered).toBe(true);
    const { said, typed, wrong: marked } = await seen(field);
    expect(said, `${field} ${value}`).toContain(name);
    expect(said, `${field} ${value}`).toMatch(/give|leave/);
    expect(said, `${field} ${value}`).not.toMatch(
      /\b(?:plan|section|sheet|forming|holes|cut)\.\w|undefined|object Object/,
    );
    expect(typed).toBe(value);
    expect(marked, `${field} ${value}`).toBeGreaterThan(0);
    // That it then goes takes a solved tray.
    if (!LONG && wrong.at(-1)![0] !== field) continue;
    await page.fill(field, before);
    await eventually(async () => (await seen(field)).said).toBe('');
    last = null;
  }
  expect(wrong.length).toBeGreaterThanOrEqual(30);
});

describe('an impossible tray', () => {
  test('says so first and in red, with buttons that mend it', async () => {
    await begin(PHONE);
    const impossible = {
      ...DEMO_TRAY,
      plan: { length: 160, width: 120, cornerRadius: 25 },
      section: { bottomRadius: 15, height: 40 },
      sheet: { material: 'galvanised', thickness: 1.2 },
    };
    await upload('deep.json', JSON.stringify(impossible));
    await eventually(() => page.innerText('#verdict-word')).toBe('Not in one piece');
    await answer();
    const [colour, wrong] = await page.evaluate(() => [
      getComputedStyle(document.querySelector('#verdict-word')!).color,
      getComputedStyle(document.documentElement).getPropertyValue('--wrong').trim(),
    ]);
    expect(wrong).toBe('#8a0f14');
    expect(colour).toBe('rgb(138, 15, 20)');
    const mend = page.locator('#mend #changes button').first();
    await mend.waitFor();
    expect(await mend.innerText()).toMatch(/^Use /);
    await screenshot('impossible');
    await mend.click();
    await answer();
    await eventually(() => page.innerText('#verdict-word')).toMatch(/^Can be worked/);
  });
});

/** Words that are seen above an element, as a person would count them; what stands in fields is no text. */
const wordsBefore = (id: string): Promise<string[]> =>
  page.evaluate((end) => {
    const last = document.getElementById(end)!;
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const words: string[] = [];
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      if (last.compareDocumentPosition(node) & Node.DOCUMENT_POSITION_FOLLOWING) break;
      const range = document.createRange();
      range.selectNodeContents(node);
      const { width, right } = range.getBoundingClientRect();
      const parent = node.parentElement!;
      const closed = parent.closest('option, .visually-hidden, .cautions, script');
      if (parent.checkVisibility() && width > 2 && right > 0 && closed === null)
        words.push(...(node.textContent ?? '').split(/\s+/));
    }
    return words.filter((word) => /[\p{L}\p{N}]/u.test(word));
  }, id);

describe('at a glance', () => {
  test.each([
    ['wide', WIDE],
    ['phone', PHONE],
  ] as const)('one screen, at most 40 words before the picture: %s', async (name, options) => {
    await begin(options);
    await answer();
    await eventually(() => page.innerText('#anneals')).toMatch(/none|stage/);
    await page.evaluate(() => (document.querySelector('#picture-blank') as HTMLImageElement).decode());
    const words = await wordsBefore('picture-blank');
    expect(words.length, words.join(' ')).toBeLessThanOrEqual(40);
    expect(words.length).toBeGreaterThan(10);
    for (const id of ['#length', '#height', '#thickness', '#verdict-word', '#picture-blank', '#figures']) {
      const box = (await page.locator(id).boundingBox())!;
      expect(box.y, id).toBeGreaterThanOrEqual(0);
      expect(box.y + box.height, id).toBeLessThanOrEqual(options.viewport.height);
    }
    // The grain lies along, and what is worked by is all there.
    expect(await page.innerText('#figures')).toMatch(/Size to cut.*Rim to lose.*Anneals/s);
    expect(await page.innerText('#anneals')).toMatch(/none|stage/);
    await screenshot(`glance-${name}`);
  });

  test.each([
    ['wide', WIDE, 'dark'],
    ['phone', PHONE, 'light'],
  ] as const)(
    'what is tapped is 44 px and more, and axe finds nothing at all, light or dark: %s',
    async (name, options, scheme) => {
      await begin(options);
      await unfold();
      for (const colorScheme of LONG ? (['light', 'dark'] as const) : [scheme]) {
        await page.emulateMedia({ colorScheme });
        expect(await accessibility('all')).toEqual([]);
        await screenshot(`${name}-${colorScheme}`);
      }
      const low = await page.evaluate(() =>
        [
          ...document.querySelectorAll<HTMLElement>(
            'main button, main input:not([type="checkbox"], .visually-hidden), main select, summary, .button, .units span',
          ),
        ]
          .map((each) => [each.id || each.textContent, each.getBoundingClientRect()] as const)
          .filter(([, { width, height }]) => width > 0 && (height < 43.5 || width < 43.5))
          .map(([id, { width, height }]) => `${id} ${width} × ${height}`),
      );
      expect(low).toEqual([]);
    },
  );

  test('figures stand out by 7 : 1 and more, light and dark', async () => {
    await begin();
    await answer();
    /** Contrast of text and ground. Source: WCAG 2.2, definitions of contrast ratio and relative luminance. */
    const contrasts = () =>
      page.evaluate(() => {
        const luminance = (colour: string): number => {
          const [r = 0, g = 0, b = 0] = colour.match(/[\d.]+/g)!.map((part) => {
            const value = Number(part) / 255;
            return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
          });
          return 0.2126 * r + 0.7152 * g + 0.0722 * b;
        };
        const ground = luminance(getComputedStyle(document.body).backgroundColor);
        return ['#figures dd', '#figures dt', '#verdict-word', '#length'].map((name) => {
          const style = getComputedStyle(document.querySelector(name)!);
          const own = name === '#length' ? luminance(style.backgroundColor) : ground;
          const [low, high] = [luminance(style.color), own].sort((a, b) => a - b);
          return (high! + 0.05) / (low! + 0.05);
        });
      });
    const grounds = new Set<string>();
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      grounds.add(await page.evaluate(() => getComputedStyle(document.body).backgroundColor));
      for (const ratio of await contrasts()) expect(ratio, colorScheme).toBeGreaterThanOrEqual(7);
    }
    expect(grounds.size).toBe(2);
  });
});

test('the picture answers the pointer: thickness, gather and stretch', async () => {
  await begin();
  const box = (await page.locator('#picture-blank').boundingBox())!;
  const shownAt = async (x: number, y: number): Promise<string> => {
    await page.mouse.move(box.x + x, box.y + y);
    await page.locator('#at-point').waitFor();
    return page.innerText('#at-point');
  };
  // In the middle of the base nothing happens to the sheet.
  expect(await shownAt(box.width / 2, box.height / 2 - 30)).toBe(
    '1.20\u00a0mm thick; gathers by 0 %, stretches by 0 %',
  );
  // Towards corner A it gathers and thickens, on its way out up to what the report has.
  const gathers = [];
  for (let i = 0; i < 60; i++) {
    await page.mouse.move(box.x + box.width / 2 + 150 + 2 * i, box.y + 105 - 1.5 * i);
    await page.evaluate(() => new Promise(requestAnimationFrame));
    const said = (await page.locator('#at-point').textContent()) ?? '';
    gathers.push(Number(/gathers by (\d+)/.exec(said)?.[1] ?? 0));
  }
  const { report } = solved(readTray(DEMO_TRAY));
  const most = Math.max(...gathers);
  expect(most).toBeGreaterThan(10);
  expect(most).toBeLessThanOrEqual(Math.ceil(report.corners[0]!.peakGather));
  await page.mouse.move(5, 5);
  await page.locator('#at-point').waitFor({ state: 'hidden' });
});

test('long work says for how long, and can be stopped', async () => {
  await begin();
  // A thread that never answers.
  const letGo = await hold('preview');
  await page.fill('#length', '433');
  await eventually(() => page.innerText('#stale')).toContain('Working');
  await page.locator('#stop').waitFor();
  expect(await page.innerText('#stale-text')).toMatch(/Working … \d+ s$/);
  await page.click('#stop');
  expect(await page.innerText('#stale-text')).toContain('Stopped.');
  expect(await page.getAttribute('#result', 'aria-busy')).toBeNull();
  await page.click('#save-cut');
  await page.locator('#take-error').waitFor();
  expect(await page.innerText('#take-error')).toContain('nothing to save');
  await letGo();
});

test("the browser's own printing does not wait, and the paper says so", async () => {
  await begin();
  const letGo = await hold('preview', 'live');
  await page.fill('#length', '461');
  // Paper shows the page as it is at once, before a clock can go on in it.
  const printed = await page.evaluate(() => {
    dispatchEvent(new Event('beforeprint'));
    return document.getElementById('stale-text')!.innerText;
  });
  expect(printed).toContain('not the one in the form');
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('#stale-text').isVisible()).toBe(true);
  await letGo();
});

test('printing waits for the tray in the form', async () => {
  await begin();
  await page.evaluate(() => {
    const { print } = window;
    window.print = () => {
      window.print = print;
      document.body.setAttribute('data-printed', document.querySelector('#figures dd')!.textContent!);
    };
  });
  await page.fill('#length', '461');
  await page.click('#print');
  const { length } = blankOf({ plan: { ...DEMO_TRAY.plan, length: 461 } });
  await eventually(() => page.getAttribute('body', 'data-printed')).toContain(length.toFixed(1));
  await page.evaluate(() => document.body.removeAttribute('data-printed'));
});

test('the first part of the page is small', () => {
  // What the page loads before it is asked anything, beside its threads; those are held by their own test.
  const found = new Map<string, string>();
  const load = (file: string): void => {
    if (found.has(file)) return;
    const text = readFileSync(new URL(`../../dist/page/${file}`, import.meta.url), 'utf8');
    found.set(file, text);
    for (const [, name] of text.matchAll(/(?:from|import)"\.\/([^"]+)"/g)) load(name!);
  };
  load('app.js');
  const names = [...found.keys()].map((file) => file.replace(/-[\w-]{8}\.js$|\.js$/, ''));
  expect(names.sort()).toEqual(['app', 'solver', 'words']);
  found.delete('words.js');
  expect([...found.values()].reduce((sum, text) => sum + text.length, 0)).toBeLessThan(60_000);
});

// biome-ignore-all lint/performance/useDomNodeTextContent: these ask the browser driver for what a person sees
/// <reference lib="dom" />
/** What the page keeps: in its address, in the history, in the browser, and without network. */
import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import jsqr from 'jsqr';
import JSZip from 'jszip';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { dxf, polyline } from '../support/drawnTags.ts';
import { LONG } from '../support/long.ts';
import {
  begin,
  blankShown,
  browser,
  ELSEWHERE,
  eventually,
  HOME,
  open,
  page,
  screenshot,
  trayIn,
  unfold,
  visit,
  visits,
  WIDE,
} from './visit.ts';

visits();

const answer = () => page.locator('#result:not([aria-busy]):not(.old) #verdict-word').waitFor();
/** Changes a size and waits until the tray with it is a step of its own. */
async function change(field: string, value: string): Promise<void> {
  await page.fill(field, value);
  const inForm = JSON.parse(await page.inputValue('#text'));
  await eventually(() => trayIn(page.url())).toEqual(inForm);
}

describe('the address', () => {
  test('holds the tray, opens it anywhere, in inches where it is in inches, and no server sees it', async () => {
    await begin();
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.locator('#units label', { hasText: 'in' }).click();
    await change('#height', '1 1/2');
    const address = page.url();
    expect(trayIn(address)).toMatchObject({ units: 'in', section: { height: 1.5 } });
    expect(address.length).toBeLessThan(1000);
    const shown = await blankShown();
    // Another window, with nothing kept.
    await visit(WIDE, undefined, new URL('problems.html', HOME).href);
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(address);
    await answer();
    expect(await page.isChecked('[value="in"]')).toBe(true);
    expect(await page.inputValue('#height')).toBe('1.5');
    expect(await blankShown()).toBe(shown);
    expect(asked.length).toBeGreaterThan(0);
    expect(asked.filter((url) => url.includes('tray='))).toEqual([]);
  });

  /** Goes to the address of a tray, in the page that is open or also in one that opens. */
  const goTo = async (hash: string, anew: boolean): Promise<void> => {
    await page.goto(`${HOME}/${hash}`);
    if (anew) await page.reload();
  };
  /** Opening takes long: one way of being wrong says what all do. */
  const both = <T>(wrong: readonly T[], opened: T) =>
    wrong.flatMap((each) => [
      [each, false] as const,
      ...(LONG || each === opened ? [[each, true] as const] : []),
    ]);

  test('no base64, no JSON, a list, too long, bytes that are no text: each is said, and the demo tray is there', async () => {
    await begin();
    await eventually(() => page.url()).toContain('#tray=');
    const noJson = `#tray=${Buffer.from('{"plan":').toString('base64url')}`;
    const wrong = [
      '#tray=%%%',
      `#tray=${Buffer.from('[1]').toString('base64url')}`,
      `#tray=${'A'.repeat(5000)}`,
      `#tray=${Buffer.from([255, 254, 1]).toString('base64url')}`,
      noJson,
    ];
    for (const [hash, anew] of both(wrong, noJson)) {
      await page.goto(`${HOME}/#`);
      await eventually(() => page.innerText('#file-error')).toBe('');
      await goTo(hash, anew);
      await eventually(() => page.innerText('#file-error')).toContain('no tray that can be read');
      await answer();
      expect(await page.inputValue('#length'), hash).toBe('420');
    }
  });

  test('an unknown field, a prototype, numbers out of range, markup for a name: each is told as of any file, and nothing runs', async () => {
    await begin();
    await eventually(() => page.url()).toContain('#tray=');
    const markup = { name: '<b>x</b>', plan: { length: 420, width: 280, cornerRadius: 1 } };
    const wrong: readonly object[] = [
      { name: 'x', evil: '<img src=x onerror=alert(1)>' },
      JSON.parse('{"__proto__": {"plan": 1}, "name": "x"}'),
      { name: 'x', plan: { length: 1e99, width: -1, cornerRadius: 5 } },
      markup,
    ];
    for (const [tray, anew] of both(wrong, markup)) {
      const before = await page.inputValue('#text');
      await goTo(`#tray=${Buffer.from(JSON.stringify(tray)).toString('base64url')}`, anew);
      if (!anew) await eventually(() => page.inputValue('#text')).not.toBe(before);
      await eventually(() => page.locator('#result').getAttribute('aria-busy')).toBeNull();
      await eventually(() => page.locator('.error:visible, .notice:visible').count()).toBeGreaterThan(0);
      expect(await page.locator('main b, main img[onerror]').count()).toBe(0);
      expect(await page.evaluate(() => ({}) as { plan?: unknown }).then(({ plan }) => plan)).toBeUndefined();
    }
  });
});

describe('to the phone', () => {
  test('is not offered where no other device can open the address', async () => {
    await begin();
    await page.locator('#copy-link').waitFor();
    expect(await page.locator('#phone').isVisible()).toBe(false);
  });

  test('the link is a code that opens the same tray; its library comes only when it is asked for; that the page cannot be kept is said', async () => {
    const context = await browser.newContext(WIDE);
    const opened = await context.newPage();
    const asked: string[] = [];
    opened.on('request', (request) => asked.push(new URL(request.url()).pathname));
    // As from a server on the shop's own network, which browsers trust less than this device.
    await opened.goto(ELSEWHERE);
    await opened.locator('#result:not([aria-busy]) #verdict-word').waitFor();
    // Nor does it let a page be kept there.
    expect(await opened.evaluate(() => 'serviceWorker' in navigator)).toBe(false);
    await opened.click('#offline > summary');
    await eventually(() => opened.innerText('#offline-text')).toContain('only if it comes over HTTPS');
    expect(await opened.locator('#offline-remove').isVisible()).toBe(false);
    const library = (): number => asked.filter((path) => path.startsWith('/qr-')).length;
    expect(library()).toBe(0);
    await opened.fill('#length', '437');
    await opened.click('#phone');
    await opened.locator('#phone-code').waitFor();
    expect(library()).toBe(1);
    const { width, height, pixels } = await opened.evaluate(async () => {
      const code = document.querySelector<HTMLImageElement>('#phone-picture')!;
      await code.decode();
      const canvas = document.createElement('canvas');
      canvas.width = canvas.height = 600;
      const ground = canvas.getContext('2d')!;
      ground.fillStyle = '#fff';
      ground.fillRect(0, 0, 600, 600);
      ground.drawImage(code, 0, 0, 600, 600);
      const { data } = ground.getImageData(0, 0, 600, 600);
      // Of what is black and white, one of the colours is enough.
      const reds = Array.from({ length: data.length / 4 }, (_, i) => String.fromCharCode(data[4 * i]!));
      return { width: 600, height: 600, pixels: reds.join('') };
    });
    // Read by a library that is not the one that wrote it.
    const rgba = Uint8ClampedArray.from({ length: 4 * pixels.length }, (_, i) => pixels.charCodeAt(i >> 2));
    const read = jsqr.default(rgba, width, height)!;
    expect(read.data).toBe(opened.url());
    expect(trayIn(read.data)).toMatchObject({ plan: { length: 437 } });
    await screenshot('phone-code', opened);
    // Of another tray it is not the link.
    await opened.fill('#length', '438');
    expect(await opened.locator('#phone-code').isVisible()).toBe(false);
    await context.close();
  });
});

test('back, forward, undo and redo go through the trays; the last ones are there with their pictures, open again, and are forgotten when asked', async () => {
  await open();
  await eventually(() => page.url()).toContain('#tray=');
  expect(await page.isDisabled('#undo')).toBe(true);
  await change('#length', '430');
  await change('#width', '300');
  await page.click('#undo');
  await eventually(() => page.inputValue('#width')).toBe('280');
  expect(await page.inputValue('#length')).toBe('430');
  await page.goBack();
  await eventually(() => page.inputValue('#length')).toBe('420');
  await answer();
  await eventually(() => page.isDisabled('#undo')).toBe(true);
  await page.click('#redo');
  await eventually(() => page.inputValue('#length')).toBe('430');
  // Solved, it is later than the first again among the last ones.
  await answer();
  await page.goForward();
  await eventually(() => page.inputValue('#width')).toBe('300');
  await answer();
  await page.reload();
  await answer();
  expect(await page.inputValue('#width')).toBe('300');
  await page.click('#last > summary');
  await eventually(() => page.locator('#last-trays button').count()).toBe(3);
  const widths = await page.locator('#last-trays img').evaluateAll((images) =>
    Promise.all(
      images.map(async (image) => {
        await (image as HTMLImageElement).decode();
        return (image as HTMLImageElement).naturalWidth;
      }),
    ),
  );
  expect(widths).toEqual([240, 240, 240]);
  await screenshot('last-trays');
  await page.locator('#last-trays button').last().click();
  await eventually(() => page.inputValue('#length')).toBe('420');
  await page.click('#forget');
  expect(await page.locator('#last-trays button').count()).toBe(0);
  expect(await page.innerText('#kept-note')).toContain('No tray yet');
});

describe('the last trays', () => {
  test('are twenty at most; where there is no more room the oldest go, and that is said', async () => {
    await begin();
    await change('#length', '432');
    await eventually(() => page.evaluate(() => localStorage.getItem('gatherpan:trays'))).not.toBeNull();
    await page.evaluate(() => {
      const [kept] = JSON.parse(localStorage.getItem('gatherpan:trays')!);
      const many = Array.from({ length: 25 }, (_, i) => ({
        ...kept,
        tray: { ...kept.tray, name: `tray ${i}` },
      }));
      localStorage.setItem('gatherpan:trays', JSON.stringify(many));
    });
    await change('#length', '433');
    await eventually(() =>
      page.evaluate(() => JSON.parse(localStorage.getItem('gatherpan:trays')!).length),
    ).toBe(20);
    await page.evaluate(() => {
      const [kept] = JSON.parse(localStorage.getItem('gatherpan:trays')!);
      const large = Array.from({ length: 5 }, (_, i) => ({
        ...kept,
        tray: { ...kept.tray, name: `tray ${i}` },
        picture: kept.picture.padEnd(800_000, 'A'),
      }));
      localStorage.setItem('gatherpan:trays', JSON.stringify(large));
      // What is left of the 5 million characters that browsers allow.
      for (let size = 2_000_000; size > 1000; size = Math.floor(size / 2)) {
        try {
          localStorage.setItem(`other:${size}`, 'x'.repeat(size));
        } catch {
          // Less, then.
        }
      }
    });
    await change('#length', '434');
    await unfold();
    await eventually(() => page.innerText('#kept-note')).toContain('no more room');
    const first = await page.evaluate(() => JSON.parse(localStorage.getItem('gatherpan:trays')!)[0]);
    expect(first.tray.plan.length).toBe(434);
  });

  test('a browser that keeps nothing says so, and all else works', async () => {
    await open(WIDE, (opened) =>
      opened.addInitScript(() => {
        Object.defineProperty(window, 'localStorage', {
          get() {
            throw new DOMException('denied', 'SecurityError');
          },
        });
      }),
    );
    await unfold();
    expect(await page.innerText('#kept-note')).toContain('keeps nothing for this page (SecurityError)');
    await change('#length', '432');
    expect(trayIn(page.url())).toMatchObject({ plan: { length: 432 } });
    await page.locator('#units label', { hasText: 'in' }).click();
    await answer();
  });

  test('two tabs see what the other keeps; what somebody else has written there is not taken for a tray', async () => {
    await begin();
    await change('#length', '435');
    const other = await page.context().newPage();
    await other.goto(HOME);
    const shown = (tab: Page): Promise<number> => tab.locator('#last-trays button').count();
    // Its own tray beside that of the page.
    await eventually(() => other.url()).toContain('#tray=');
    await eventually(() => shown(page)).toBe(2);
    expect(await shown(other)).toBe(2);
    await page.evaluate(() => localStorage.setItem('gatherpan:trays', '[{"name": 1}, 7, {"tray": {}}]'));
    await eventually(() => shown(other)).toBe(0);
    await change('#length', '436');
    await eventually(() => shown(other)).toBe(1);
    await page.click('#last > summary');
    await page.click('#forget');
    await eventually(() => shown(other)).toBe(0);
    await other.close();
  });
});

/** The built page as any server of files serves it, at a version that can be changed. */
describe('without network', () => {
  const folder = fileURLToPath(new URL('../../dist/page/', import.meta.url));
  const types: Readonly<Record<string, string>> = {
    '.html': 'text/html',
    '.js': 'text/javascript',
    '.css': 'text/css',
    '.svg': 'image/svg+xml',
    '.ttf': 'font/ttf',
    '.txt': 'text/plain',
  };
  let server: Server;
  let address: string;
  /** Changes files on their way: another version of the page, or half of one. */
  let change: (name: string, text: string) => string = (_, text) => text;
  let gone = false;
  /** What is asked of a server that is gone. */
  const missed: string[] = [];
  beforeAll(async () => {
    server = createServer((request, response) => {
      const name = new URL(request.url!, 'http://x').pathname.slice(1) || 'index.html';
      if (gone) {
        missed.push(name);
        response.destroy();
        return;
      }
      try {
        const bytes = readFileSync(`${folder}${name}`);
        const type = types[extname(name)] ?? 'application/octet-stream';
        response.setHeader('Content-Type', type);
        response.end(/html|javascript|css/.test(type) ? change(name, bytes.toString()) : bytes);
      } catch {
        response.statusCode = 404;
        response.end();
      }
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    address = `http://localhost:${(server.address() as AddressInfo).port}/`;
  });
  afterAll(() => server.close());

  const kept = (opened: typeof page): Promise<string[]> =>
    opened.evaluate(async () => {
      const names = await caches.keys();
      const requests = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
      return requests.flat().map(({ url }) => new URL(url).pathname);
    });

  test('plain files solve; after one visit the page opens, solves and saves everything in one archive, with the quantity in the order note, with the server gone; a newer version is told of and taken when asked, half of one never', async () => {
    const context = await browser.newContext(WIDE);
    const opened = await context.newPage();
    const wrong: string[] = [];
    opened.on('pageerror', (error) => wrong.push(error.message));
    await opened.goto(address);
    await opened.locator('#result:not([aria-busy]) #verdict-word').waitFor();
    await opened.locator('#offline > summary').click();
    await expect
      .poll(() => opened.innerText('#offline-text'), { timeout: 300_000 })
      .toContain('works without network');
    const paths = await kept(opened);
    expect(paths).toContain('/');
    expect(paths).toContain('/worker.js');
    expect(paths.filter((path) => path.startsWith('/api') || path.includes('tray='))).toEqual([]);
    gone = true;
    await opened.reload();
    await opened.locator('#result:not([aria-busy]) #verdict-word').waitFor();
    const before = await opened.innerText('#figures');
    const small = {
      ...DEMO_TRAY,
      plan: { length: 240, width: 160, cornerRadius: 40 },
      section: { bottomRadius: 15, height: 22 },
    };
    const file = {
      name: 'small.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(small)),
    };
    await opened.setInputFiles('#file', file);
    await expect.poll(() => opened.innerText('#figures'), { timeout: 300_000 }).not.toBe(before);
    await opened.locator('#quantity').evaluate((field: HTMLInputElement) => {
      field.closest('details')?.setAttribute('open', '');
    });
    await opened.fill('#quantity', '25');
    const [download] = await Promise.all([opened.waitForEvent('download'), opened.click('#save-archive')]);
    const { name } = DEMO_TRAY;
    expect(download.suggestedFilename()).toBe(`${name}.zip`);
    const zip = await JSZip.loadAsync(await buffer(await download.createReadStream()));
    expect(await zip.file(`${name}-order-note.txt`)!.async('string')).toContain('25 pieces');
    expect(Object.keys(zip.files)).toEqual(
      expect.arrayContaining(['manifest.csv', `${name}.cut.dxf`, `${name}.marks-do-not-cut.dxf`]),
    );
    const plan = polyline([
      [0, 0],
      [381, 0],
      [381, 254],
      [0, 254],
    ]);
    const drawing = { name: 'tray.dxf', mimeType: 'image/vnd.dxf', buffer: Buffer.from(dxf([plan], 4)) };
    await opened.setInputFiles('#file', drawing);
    await opened.fill('#drawing-cornerRadius', '60');
    await opened.click('#drawing-take');
    await expect.poll(() => opened.inputValue('#length'), { timeout: 300_000 }).toBe('381');
    // Browsers look whether there is a newer version.
    expect(missed.filter((name) => name !== 'sw.js')).toEqual([]);
    gone = false;
    // A page that asks for nothing: a worker in charge that still answers somebody goes on for minutes.
    await opened.reload();
    await opened.locator('#result:not([aria-busy]) #verdict-word').waitFor();
    const first = await kept(opened);
    /** Looks for another version. @returns what has become of it once it is clear */
    const updated = (): Promise<string | undefined> =>
      opened.evaluate(async () => {
        const registration = await navigator.serviceWorker.ready;
        await registration.update();
        const newer = registration.installing;
        if (newer?.state === 'installing')
          await new Promise((resolve) => newer.addEventListener('statechange', resolve, { once: true }));
        return newer?.state;
      });
    // A list of another version, while one of its files is still the old one.
    const { createHash } = await import('node:crypto');
    const sum = (text: string): string => createHash('sha256').update(text).digest('hex');
    const newer = (text: string): string => `${text}\n/* newer */\n`;
    const css = readFileSync(`${folder}page.css`, 'utf8');
    const list = (text: string): string =>
      text.replace(sum(css), sum(newer(css))).replace(/VERSION = '\w+'/, "VERSION = 'newer'");
    change = (name, text) => (name === 'sw.js' ? list(text) : text);
    expect(await updated()).toBe('redundant');
    expect(await opened.locator('#newer').isVisible()).toBe(false);
    // What was stored of it by then goes when the rest is missing.
    await eventually(async () => (await kept(opened)).sort()).toEqual(first.sort());
    // All of it.
    change = (name, text) =>
      name === 'sw.js' ? `${list(text)}\n` : name === 'page.css' ? newer(text) : text;
    expect(await updated()).toBe('installed');
    await opened.locator('#newer').waitFor();
    expect(await opened.innerText('#newer')).toContain('newer version');
    await Promise.all([opened.waitForEvent('load'), opened.click('#newer-take')]);
    await opened.locator('#result:not([aria-busy]) #verdict-word').waitFor();
    // The old one goes as the new one takes over, beside the page that opens.
    await eventually(() => opened.evaluate(async () => (await fetch('page.css')).text())).toContain(
      '/* newer */',
    );
    await eventually(() => opened.evaluate(async () => (await caches.keys()).length)).toBe(1);
    change = (_, text) => text;
    // Taken away again, it needs the network.
    await opened.click('#offline > summary');
    if (!(await opened.locator('#offline-remove').isVisible())) await opened.click('#offline > summary');
    await opened.click('#offline-remove');
    await expect.poll(() => kept(opened), { timeout: 300_000 }).toEqual([]);
    expect(await opened.innerText('#offline-text')).toContain('Removed from this device');
    expect(wrong).toEqual([]);
    await context.close();
  });

  describe('a newer version is taken', () => {
    /** A page of a context of its own, kept, told of a newer version. */
    async function toldOfNewer(): Promise<Page> {
      change = (_, text) => text;
      const context = await browser.newContext(WIDE);
      const opened = await context.newPage();
      await opened.goto(address);
      await opened.waitForFunction(() => navigator.serviceWorker.controller !== null, null, {
        timeout: 300_000,
      });
      change = (name, text) =>
        name === 'sw.js' ? text.replace(/VERSION = '\w+'/, "VERSION = 'newer'") : text;
      await opened.evaluate(async () => (await navigator.serviceWorker.ready).update());
      await opened.locator('#newer').waitFor({ timeout: 300_000 });
      return opened;
    }
    /** Once it is in charge, no other's files are there. */
    const inCharge = (opened: Page): Promise<boolean> =>
      opened.evaluate(async () => {
        const { waiting } = (await navigator.serviceWorker.getRegistration())!;
        const names = await caches.keys();
        return waiting === null && names.length === 1 && names[0]!.endsWith('-newer');
      });

    // How long a browser keeps the old one after that is its own affair, and may be minutes.
    test.runIf(LONG)('also while the old one is asked for files', async () => {
      const opened = await toldOfNewer();
      await opened.evaluate(() => {
        const until = performance.now() + 10_000;
        // One after the other: more at a time would only pile up where the machine is busy.
        const ask = async (): Promise<void> => {
          while (performance.now() < until) await (await fetch('page.css')).text();
        };
        void ask();
      });
      const loaded: number[] = [];
      opened.on('load', () => loaded.push(loaded.length));
      await opened.click('#newer-take');
      await expect.poll(() => loaded.length, { timeout: 400_000 }).toBeGreaterThan(0);
      await expect.poll(() => inCharge(opened).catch(() => false), { timeout: 400_000 }).toBe(true);
      await opened.locator('#result:not([aria-busy]) #verdict-word').waitFor();
      expect(await opened.isVisible('#newer')).toBe(false);
      await opened.context().close();
    });

    test('in a tab beside one in which it was taken before', async () => {
      const opened = await toldOfNewer();
      const other = await opened.context().newPage();
      await other.goto(address);
      await other.locator('#newer').waitFor({ timeout: 300_000 });
      await Promise.all([other.waitForEvent('load'), other.click('#newer-take')]);
      await expect.poll(() => inCharge(opened), { timeout: 300_000 }).toBe(true);
      // It goes on with the files that it began with, until somebody takes the newer ones.
      expect(await opened.isVisible('#newer')).toBe(true);
      await Promise.all([opened.waitForEvent('load'), opened.click('#newer-take')]);
      await opened.locator('#result:not([aria-busy]) #verdict-word').waitFor();
      expect(await opened.isVisible('#newer')).toBe(false);
      await opened.context().close();
    });
  });
});

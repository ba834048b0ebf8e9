/// <reference lib="dom" />
/** The page takes its words from the table, in its files and while it is used. */
import { readdirSync, readFileSync } from 'node:fs';
import { type IncomingHttpHeaders, request } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PAGE_FOLDERS } from '../../src/server/app.ts';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { pageFiles } from '../../src/server/pageFiles.ts';
import { english } from '../../src/words/english.ts';
import { speak } from '../../src/words/language.ts';
import { service, type TestService } from '../server/service.ts';
import { toolCommand } from '../support/tools.ts';
import { openBrowser } from '../web/browser.ts';
import { pseudo } from './pseudoLanguage.ts';
import { readsLikeSentence, sentencesIn } from './sentenceScan.ts';

const WEB = fileURLToPath(new URL('../../web/', import.meta.url));
const source = (file: string): string => readFileSync(join(WEB, file), 'utf8');

/** Dotted paths of the texts in a part of the table; the forms of a plural are one text. */
function paths(entry: object, prefix = ''): string[] {
  return Object.entries(entry).flatMap(([key, value]) =>
    typeof value === 'object' && !('other' in value) ? paths(value, `${prefix}${key}.`) : [`${prefix}${key}`],
  );
}

/** Texts of a document, attributes that a person reads or hears among them; scripts and comments are none. */
function textsOf(html: string): string[] {
  const plain = html.replace(/<!--.*?-->/gs, '').replace(/<code>.*?<\/code>/gs, '');
  return [
    ...plain.replace(/<[^>]*>/g, '\n').split('\n'),
    ...[
      ...plain.matchAll(
        /\s(?:title|alt|placeholder|label|aria-label|aria-roledescription|aria-valuetext)="([^"]*)"/g,
      ),
      ...plain.matchAll(/<meta name="description" content="([^"]*)"/g),
    ].map((match) => match[1]!),
  ].filter((text) => text.trim() !== '');
}

/** The program's name, units, and codes of the interface are no words. */
const latin = (
  texts: readonly string[],
  known = /\b(?:gatherpan|mm|cm|dm|m|in|ft|kg|[A-Z]+(?:_[A-Z]+)*)\b/g,
): string[] => texts.filter((text) => /[A-Za-z]/.test(text.replace(known, '')));

/** The path of a drawing (SVG). */
const PATH = /^M[\d§ A-Z]+Z$/;

describe('the files of the page', () => {
  test.each([
    ['index.html', english.page.index],
    ['bench.html', english.page.bench],
    ['problems.html', english.page.problems],
  ])('%s has a place for every text of the table, and for no other', (file, texts) => {
    const places = [...source(file).matchAll(/\{\{([\w.]+)\}\}/g)].map((match) => match[1]!);
    expect([...new Set(places)].sort()).toEqual(paths(texts).sort());
    expect(latin(textsOf(source(file).replace(/\{\{[\w.]+\}\}/g, '')))).toEqual([]);
  });

  test('scripts ask for texts that there are, and for each of them', () => {
    const { body } = pageFiles(PAGE_FOLDERS, english, '1.2.3').get('/words.js')!;
    const words = JSON.parse(/^export const words = (.*);\n/.exec(body)![1]!) as object;
    const asked = new Set<string>();
    for (const file of [
      ...readdirSync(WEB).filter((name) => /(?<!\.d)\.ts$/.test(name)),
      '../src/server/answer.ts',
      '../src/server/drawingChoices.ts',
      '../src/server/formRows.ts',
    ]) {
      const text = source(file).replace(/^import .*$/gm, '');
      // `const said = words.table` gives a part of the table a shorter name.
      const parts = new Map<string, string[]>([['words', ['']]]);
      for (const [, name, part] of text.matchAll(/const (\w+) = words\.([\w.]+);/g))
        parts.set(name!, [...(parts.get(name!) ?? []), `${part}.`]);
      for (const [name, prefixes] of parts) {
        for (const [, path] of text.matchAll(new RegExp(`\\b${name}\\.([\\w.]+)`, 'g'))) {
          const found = prefixes.map((prefix) => `${prefix}${path}`).filter((at) => exists(words, at));
          expect(found, `${name}.${path} in ${file}`).not.toEqual([]);
          for (const at of found) asked.add(at);
        }
      }
    }
    // A part that is asked for by a key of the data counts as a whole.
    const idle = paths(words).filter(
      (path) => ![...asked].some((at) => path === at || path.startsWith(`${at}.`)),
    );
    expect(idle).toEqual([]);
  });

  test('are filled once, with signs of markup made harmless', () => {
    const { page } = english;
    const table = {
      ...english,
      page: {
        ...page,
        language: 'fr',
        index: {
          ...page.index,
          skip: 'a < b & "c" `d`',
          bench: { ...page.index.bench, annealCautions: '"><b>`x`' },
        },
        problems: { ...page.problems, heading: 'see </api/limits>' },
      },
    };
    const files = pageFiles(PAGE_FOLDERS, table, '1.2.3');
    const index = files.get('/')!.body;
    expect(index).toContain('<html lang="fr">');
    expect(index).toContain('>a &lt; b &amp; &quot;c&quot; <code>d</code><');
    expect(index).toContain('aria-label="&quot;&gt;&lt;b&gt;`x`"');
    expect(files.get('/problems.html')!.body).toContain('<h1>see <a href="api/limits">/api/limits</a></h1>');
    for (const { body } of files.values()) expect(body).not.toContain('{{');
  });

  test('a text that is missing stops the start, not the person', () => {
    const { skip: _, ...index } = english.page.index;
    const table = { ...english, page: { ...english.page, index: index as typeof english.page.index } };
    expect(() => pageFiles(PAGE_FOLDERS, table, '1.2.3')).toThrow('skip');
  });

  test('no script has a sentence of its own', () => {
    // Values of the interface: verdicts as data.
    const values = ['can be worked', 'not in one piece'];
    expect(sentencesIn(['web']).filter(({ text }) => !values.includes(text) && !PATH.test(text))).toEqual([]);
    expect(readsLikeSentence('The connection was lost; try again.')).toBe(true);
  });
});

function exists(words: object, path: string): boolean {
  let at: unknown = words;
  for (const part of path.split('.')) at = (at as Readonly<Record<string, unknown>> | undefined)?.[part];
  return at !== undefined;
}

describe.skipIf(toolCommand('browser') === null)('the page in another language', () => {
  let running: TestService;
  let browser: Browser;
  beforeAll(async () => {
    const before = speak(pseudo);
    try {
      [running, browser] = await Promise.all([
        service({}, { workerFile: new URL('./pseudoWorker.mjs', import.meta.url) }),
        openBrowser(),
      ]);
    } finally {
      speak(before);
    }
  });
  afterAll(async () => {
    await browser?.close();
    await running?.stop();
    expect(running?.faults).toEqual([]);
  });

  test.each(['/', '/bench.html', '/problems.html'])(
    '%s as served has nothing left in Latin letters',
    async (path) => {
      const response = await fetch(`${running.url}${path}`);
      const html = await response.text();
      expect(html).toContain('<html lang="qaa">');
      expect(textsOf(html).length).toBeGreaterThan(15);
      expect(latin(textsOf(html))).toEqual([]);
    },
  );

  /** `fetch` would tidy the path and ask past every cache. */
  const asked = (
    method: string,
    path: string,
    headers: Record<string, string> = {},
  ): Promise<{ status: number | undefined; headers: IncomingHttpHeaders; text: string }> =>
    new Promise((resolve, reject) => {
      const { hostname, port } = new URL(running.url);
      request({ hostname, port, method, path, headers }, (response) => {
        let text = '';
        response.on('data', (chunk) => {
          text += chunk;
        });
        response.on('end', () => resolve({ status: response.statusCode, headers: response.headers, text }));
      })
        .on('error', reject)
        .end();
    });

  test.each(['/', '/index.html', '//index.html', '/%69ndex.html', '/problems.html', '/words.js'])(
    '%s is asked for again each time, and sent again only when it has changed',
    async (path) => {
      const first = await asked('GET', path);
      expect(first.status).toBe(200);
      expect(first.headers['cache-control']).toBe('no-cache');
      expect(first.text).not.toContain('{{');
      const { etag = '' } = first.headers;
      expect(etag).toMatch(/^(W\/)?".+"$/);
      expect((await asked('GET', path, { 'If-None-Match': etag })).status).toBe(304);
      expect((await asked('GET', path, { 'If-None-Match': 'W/"another"' })).text).toBe(first.text);
      const head = await asked('HEAD', path);
      expect([head.status, head.headers.etag, head.text]).toEqual([200, etag, '']);
      expect((await asked('POST', path)).status).toBe(404);
    },
  );

  test('in use: a tray, a fault at a field, a table with a bad row, and an archive of nothing', async () => {
    const before = speak(pseudo);
    const page = await browser.newPage();
    const problems: string[] = [];
    page.on('pageerror', (error) => problems.push(error.message));
    page.on('console', (message) => {
      if (message.type() === 'error' && !message.text().startsWith('Failed to load resource'))
        problems.push(message.text());
    });
    /** Everything that is to be read or heard now, folded or not. */
    const shown = (): Promise<string[]> =>
      page.evaluate(() => {
        const texts: string[] = [document.title];
        for (const element of document.querySelectorAll('body, body *')) {
          // Values of fields, and choices of formats, are what files and addresses have in them.
          if (element.closest('noscript, code, textarea, #formats select, #formats fieldset label')) continue;
          for (const child of element.childNodes)
            if (child.nodeType === Node.TEXT_NODE) texts.push(child.textContent ?? '');
          for (const name of ['title', 'alt', 'placeholder', 'label', 'aria-label', 'aria-valuetext'])
            texts.push(element.getAttribute(name) ?? '');
        }
        return texts;
      });
    // The letters of corners are of no language.
    const known =
      /\b(?:gatherpan|mm|cm|dm|m|in|ft|kg|potting-bench-drip-tray|one|two|sizes\.csv|1\.2\.3|[A-D])\b/g;
    try {
      await page.goto(running.url);
      await page.locator('#result:not([aria-busy]) #verdict-word').waitFor();
      await page.locator('#reasons li').first().waitFor({ state: 'attached' });
      const start = await shown();
      expect(start.join(' ').length).toBeGreaterThan(2000);
      const names = await page
        .locator('#materials option')
        .evaluateAll((options) => options.map((option) => (option as HTMLOptionElement).value));
      const without = (texts: readonly string[]): string[] =>
        texts.map((text) => names.reduce((rest, name) => rest.replace(name, ''), text));
      expect(latin(without(start), known)).toEqual([]);

      await page.fill('#bottom', '-9');
      await page.locator('#bottom-error').waitFor();
      await page.locator('#stale').waitFor();
      expect(latin(without(await shown()), known)).toEqual([]);
      await page.fill('#bottom', '22');
      await page.locator('#bottom-error').waitFor({ state: 'hidden' });

      const { length, width } = DEMO_TRAY.plan;
      await page.setInputFiles('#table-file', {
        name: 'sizes.csv',
        mimeType: 'text/csv',
        buffer: Buffer.from(`name,plan.length,plan.width\none,${length},${width}\ntwo,${length},-1\n`),
      });
      await page.locator('#table-rows tr.failed').waitFor();
      await page.locator('#table-archive:enabled').waitFor();
      expect(await page.textContent('#table-words')).toContain('1');
      for (const box of await page.locator('#table-formats input:checked').all()) await box.uncheck();
      await page.click('#table-archive');
      await page.locator('#table-error').waitFor();
      expect(latin(without(await shown()), known)).toEqual([]);
      expect(problems).toEqual([]);
    } finally {
      speak(before);
      await page.close();
    }
  });
});

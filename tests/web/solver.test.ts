/// <reference lib="dom" />
/** What solves in the browser: its answers, its size, and that it runs under the rules of the page. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import JSZip from 'jszip';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import type { Question } from '../../src/browser/protocol.ts';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { trayArchive } from '../../src/server/archive.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type * as Solving from '../../web/solver.ts';
import { readText } from '../papers/poppler.ts';
import { some } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import { connectBrowser } from './browser.ts';

const PAGE = fileURLToPath(new URL('../../dist/page/', import.meta.url));
const SAMPLES = fileURLToPath(new URL('../../samples/', import.meta.url));
const sample = (name: string): string => readFileSync(`${SAMPLES}${name}.json`, 'utf8');
/** Of a quarter, a half and a whole; with a lip, sides of different heights, and a plan of corner points. */
const TRAYS = [
  'potting-bench-drip-tray-large',
  'seed-bench-drip-tray',
  'nesting-drip-tray',
  'splash-back-tray',
  'bench-corner-drip-tray',
  'pot-saucer',
];

const packed = (file: string): number => gzipSync(readFileSync(`${PAGE}${file}`), { level: 9 }).length;
const sum = (files: Iterable<string>): number => [...files].reduce((bytes, file) => bytes + packed(file), 0);

/** What is loaded before the thread is ready: it says what is to be said first, then loads the rest. */
function loadedFirst(): Set<string> {
  const [, work] = /import\(`\.\/([^`]+)`\)/.exec(readFileSync(`${PAGE}worker.js`, 'utf8'))!;
  const found = new Set(['worker.js', work!]);
  for (const file of found) {
    for (const [, name] of readFileSync(`${PAGE}${file}`, 'utf8').matchAll(
      /(?:\bfrom|\bimport)"\.\/([^"]+)"/g,
    ))
      found.add(name!);
  }
  return found;
}

const NOT_FOR_PDF = /^(archive|changes|handFound|trialsKept|uploads|table\w+|sniff|batch|server)\b/;

/** What a thread loads at all, sooner or later, for what is no archive, no upload, no hand and no advice. */
function reached(first: ReadonlySet<string>): Set<string> {
  const found = new Set(first);
  for (const file of found) {
    if (NOT_FOR_PDF.test(file)) continue;
    for (const [, name] of readFileSync(`${PAGE}${file}`, 'utf8').matchAll(
      /(?:\bfrom ?|\bimport ?\(?)["'`]\.\/([\w.-]+\.js)["'`]/g,
    ))
      found.add(name!);
  }
  return found;
}

describe('its size, packed by gzip', () => {
  test('what is loaded first is at most 200 kB', () => {
    const first = loadedFirst();
    expect(first.size).toBeGreaterThan(3);
    expect(sum(first)).toBeLessThanOrEqual(200_000);
  });

  test('what is set first is in a file that loads nothing of the rest', () => {
    const said = readFileSync(`${PAGE}worker.js`, 'utf8');
    expect([...said.matchAll(/from"\.\/([\w-]+)-[\w-]{8}\.js"/g)].map(([, name]) => name)).toEqual(['first']);
  });

  test('PDF is at most 400 kB more, with fonts and every paper', () => {
    const first = loadedFirst();
    const later = [...reached(first)].filter((file) => !first.has(file) && !NOT_FOR_PDF.test(file));
    expect(later.some((file) => file.startsWith('pdf-'))).toBe(true);
    const fonts = ['fonts/arimo-common-regular.ttf', 'fonts/arimo-common-bold.ttf'];
    expect(sum([...later, ...fonts])).toBeLessThanOrEqual(400_000);
  });
});

const HOME = inject('service');
let browser: Browser;
let page: Page;
const problems: string[] = [];
beforeAll(async () => {
  browser = await connectBrowser();
  page = await browser.newPage();
  page.on('pageerror', (error) => problems.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') problems.push(message.text());
  });
  await page.goto(new URL('problems.html', HOME).href);
  // As text, because the test's own loader puts another word in the place of `import`.
  await page.evaluate(`globalThis.solving = import(new URL('solver.js', document.baseURI).href)`);
});
afterAll(async () => {
  await browser?.close();
});

/** Asks the solver in the page; bytes come as base64. */
const ask = (question: Question): Promise<unknown> =>
  page.evaluate(async (asked) => {
    const held = globalThis as unknown as {
      solving: Promise<typeof Solving>;
      solver?: Promise<Solving.Solver | Solving.Lacking>;
    };
    held.solver ??= held.solving.then(({ startSolver }) => startSolver('en'));
    const solver = await held.solver;
    if (typeof solver === 'string') throw new Error(`the browser lacks ${solver}`);
    try {
      const result = await solver.ask(asked);
      if (!('bytes' in result)) return result;
      let text = '';
      for (const byte of result.bytes) text += String.fromCharCode(byte);
      return { ...result, bytes: btoa(text) };
    } catch (error) {
      if (!('faults' in (error as object))) throw error;
      return { refused: { ...(error as Solving.Refused) } };
    }
  }, question);

const file = async (tray: string, format: string, values = {}): Promise<Buffer> => {
  const made = (await ask({ kind: 'file', tray, format, values })) as { bytes: string };
  return Buffer.from(made.bytes, 'base64');
};

const registry = createRegistry(nodeExporters);
const patternOf = (tray: string) => solved(readTray(JSON.parse(tray)));

describe('in the browser', () => {
  test.each(some(TRAYS, 1))('%s has the bytes that Node gives it', async (name) => {
    const tray = sample(name);
    const pattern = patternOf(tray);
    for (const id of ['dxf', 'json', 'svg', 'card-svg', 'step', 'gauges-dxf']) {
      const exporter = registry.get(id);
      const bytes = await exporter.write(pattern, registry.values(exporter, {}));
      expect((await file(tray, id)).equals(bytes), id).toBe(true);
    }
    const marked = await registry
      .get('dxf')
      .write(pattern, registry.values(registry.get('dxf'), { marks: 'scribe,text' }));
    expect((await file(tray, 'dxf', { marks: 'scribe,text' })).equals(marked)).toBe(true);
  });

  test('the solver is WebAssembly', async () => {
    const other = await browser.newPage();
    await other.goto(page.url());
    const ready = await other.evaluate(
      () =>
        new Promise((resolve, reject) => {
          const worker = new Worker(
            (
              globalThis as unknown as {
                trustedTypes: { createPolicy(...args: unknown[]): { createScriptURL(url: string): URL } };
              }
            ).trustedTypes
              .createPolicy('gatherpan', { createScriptURL: (url: string) => url })
              .createScriptURL(new URL('worker.js', document.baseURI).href),
            { type: 'module' },
          );
          worker.onerror = () => reject(new Error('the thread did not start'));
          worker.onmessage = ({ data }) => {
            worker.terminate();
            resolve(data);
          };
        }),
    );
    await other.close();
    expect(ready).toMatchObject({ ready: true, webAssembly: true, language: 'en' });
    expect((ready as { formats: string[] }).formats).toEqual(
      registry
        .list()
        .map(({ id }) => id)
        .filter((id) => id !== 'png'),
    );
  });

  test('a pattern is plain data, the same as in Node', async () => {
    const tray = sample('pot-saucer');
    const pattern = (await ask({ kind: 'pattern', tray })) as { report: unknown; outline: unknown };
    expect(pattern.report).toEqual(structuredClone(patternOf(tray).report));
  });

  test('a preview is what the service answers', async () => {
    const tray = sample('potting-bench-drip-tray-large');
    const response = await fetch(new URL('api/preview', HOME), {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: tray,
    });
    const { pictures: _served, ...served } = (await response.json()) as { pictures: unknown };
    const { pictures, ...own } = (await ask({ kind: 'preview', tray })) as { pictures: { blank: string } };
    // The last digits depend on what was solved before.
    expect(rounded(own)).toEqual(rounded(served));
    expect(pictures.blank).toContain('<svg');
  });

  test('a tray that is wrong is refused with the same sentence', async () => {
    const tray = '{ "plan": { "length": -3, "width": 200, "cornerRadius": 30 } }';
    const response = await fetch(new URL('api/preview', HOME), {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: tray,
    });
    const problem = (await response.json()) as { code: string; errors: { path: string; detail: string }[] };
    const { refused } = (await ask({ kind: 'preview', tray })) as { refused: Solving.Refused };
    expect(refused.code).toBe(problem.code);
    expect(refused.faults.map(({ path, message }) => ({ path, detail: message }))).toEqual(
      problem.errors.map(({ path, detail }) => ({ path, detail })),
    );
  });

  test('the archive holds the files that Node makes', async () => {
    const tray = sample('pot-saucer');
    const formats = ['dxf', 'json', 'svg', 'step'];
    const made = (await ask({ kind: 'archive', tray, formats, quantity: 3 })) as {
      name: string;
      bytes: string;
    };
    const own = await trayArchive(patternOf(tray), formats, 3, registry);
    expect(made.name).toBe(own.name);
    const contents = async (bytes: Uint8Array): Promise<Record<string, string>> => {
      const { files } = await JSZip.loadAsync(bytes);
      const entries = Object.values(files).map(
        async (entry) => [entry.name, await entry.async('base64')] as const,
      );
      return Object.fromEntries(await Promise.all(entries));
    };
    expect(await contents(Buffer.from(made.bytes, 'base64'))).toEqual(await contents(own.bytes));
  });

  test.each([
    ['Latin', 'Höhe ½ Łódź'],
    ['Greek and Cyrillic', 'Δίσκος Поддон'],
    ['letters that only the full font has', 'מגש ἄνθος'],
  ])('a card in PDF reads as the one of Node: %s', async (_what, name) => {
    const tray = JSON.stringify({ ...JSON.parse(sample('pot-saucer')), name });
    const exporter = registry.get('card-pdf');
    const own = await exporter.write(patternOf(tray), registry.values(exporter, {}));
    const text = readText(await file(tray, 'card-pdf'));
    expect(text).toBe(readText(own));
  });

  test('what is asked and dropped does not hold up what comes after', async () => {
    const shown = await page.evaluate(async (tray) => {
      const { startSolver } = await (globalThis as unknown as { solving: Promise<typeof Solving> }).solving;
      const solver = await startSolver('en');
      if (typeof solver === 'string') throw new Error(solver);
      const dropped = new AbortController();
      const first = solver.ask({ kind: 'preview', tray }, dropped.signal).catch((error: Error) => error.name);
      const second = solver
        .ask({ kind: 'preview', tray }, dropped.signal)
        .catch((error: Error) => error.name);
      const search = solver
        .askBeside({ kind: 'changes', tray, milliseconds: 60_000, unit: 'mm' }, dropped.signal)
        .catch((error: Error) => error.name);
      dropped.abort();
      const last = await solver.ask({ kind: 'preview', tray: tray.replace('240', '230'), unit: 'mm' });
      const again = await solver.askBeside({ kind: 'changes', tray, milliseconds: 60_000, unit: 'mm' });
      return [await first, await second, await search, last.tray.plan, Array.isArray(again.changes)];
    }, sample('propagator-drip-tray'));
    expect(shown.slice(0, 3)).toEqual(['AbortError', 'AbortError', 'AbortError']);
    expect(shown[4]).toBe(true);
  });

  test('nothing was said against the rules of the page', () => {
    expect(problems).toEqual([]);
  });
});

/** Figures to six digits. */
const rounded = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value), (_key, each) =>
    typeof each === 'number' ? Number(each.toPrecision(6)) : each,
  );

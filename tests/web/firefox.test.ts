/// <reference lib="dom" />
/** The page in a second engine: it solves there, and makes the bytes that Node makes. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { parseTray, readTray } from '../../src/tray/readTray.ts';
import { needed } from '../support/needs.ts';
import { solved } from '../support/solved.ts';
import { toolCommand } from '../support/tools.ts';
import { Firefox } from './firefox.ts';

const HOME = inject('service');
let firefox: Firefox | null = null;
beforeAll(async () => {
  const command = toolCommand('firefox');
  if (command !== null) firefox = await Firefox.start(command);
}, 120_000);
afterAll(async () => {
  await firefox?.close();
});

/** The browser; skips the test where there is none. */
function browser(): Firefox {
  needed('firefox');
  return firefox!;
}

test('the page solves while a size is typed, by the kernel of its own thread', async () => {
  const page = browser();
  await page.goto(HOME);
  const until = (what: string): Promise<void> =>
    expect.poll(() => page.evaluate(what), { timeout: 120_000, interval: 50 }).toBe(true) as Promise<void>;
  await until(`performance.getEntriesByName('gatherpan:ready').length > 0`);
  expect(await page.evaluate(`document.getElementById('lacking').hidden`)).toBe(true);
  await page.type('length', '455');
  await until(
    `document.getElementById('length').value === '455' && document.querySelector('#result:not([aria-busy], .old)') !== null`,
  );
  const { report, gather } = solved(readTray({ ...DEMO_TRAY, plan: { ...DEMO_TRAY.plan, length: 455 } }));
  const shown = await page.evaluate<string>(`document.getElementById('figures').innerText`);
  expect(shown).toContain(`${report.blank.length.toFixed(1)} × ${report.blank.width.toFixed(1)}`);
  const verdict = await page.evaluate<string>(`document.getElementById('verdict-word').innerText`);
  expect(verdict.toLowerCase()).toBe(gather.verdict.word);
  const drawn = await page.evaluate<number>(
    `document.getElementById('picture-blank').decode().then(() => document.getElementById('picture-blank').naturalWidth)`,
  );
  expect(drawn).toBeGreaterThan(100);
  expect(page.problems).toEqual([]);
});

test.each(['potting-bench-drip-tray-large', 'bench-corner-drip-tray'])(
  '%s: drawing, report and picture have the bytes that Node gives them',
  async (name) => {
    const page = browser();
    const tray = readFileSync(new URL(`../../samples/${name}.json`, import.meta.url), 'utf8');
    const pattern = solved(readTray(parseTray(tray)));
    const registry = createRegistry(nodeExporters);
    await page.goto(new URL('problems.html', HOME).href);
    for (const format of ['dxf', 'json', 'svg']) {
      const made = await page.evaluate<string>(`(async () => {
        const { startSolver } = await import(new URL('solver.js', document.baseURI).href);
        globalThis.solver ??= await startSolver('en');
        const { bytes } = await globalThis.solver.ask(${JSON.stringify({ kind: 'file', tray, format, values: {} })});
        return new TextDecoder().decode(bytes);
      })()`);
      const exporter = registry.get(format);
      const own = await exporter.write(pattern, registry.values(exporter, {}));
      expect(made === new TextDecoder().decode(own), format).toBe(true);
    }
    expect(page.problems).toEqual([]);
  },
);

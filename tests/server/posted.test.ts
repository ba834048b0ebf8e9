/** The form of the page as a browser without scripts posts it, and as others might. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { problem, service, type TestService } from './service.ts';

let running: TestService;
beforeAll(async () => {
  running = await service({ threads: 1 });
  await running.warm();
});
afterAll(async () => {
  await running?.stop();
  expect(running?.faults).toEqual([]);
});

const post = (path: string, fields: Record<string, string>, headers: Record<string, string> = {}) =>
  fetch(`${running.url}${path}`, { method: 'POST', body: new URLSearchParams(fields), headers });

const FIELDS = {
  'plan.length': '9 1/2"',
  'plan.width': '160',
  'plan.cornerRadius': '40',
  'section.height': '22',
  'section.bottomRadius': '15',
  'sheet.material': 'mild steel',
  'sheet.thickness': '18 ga',
};

test('is answered with a document of figures, under the same rules as the page', async () => {
  const response = await post('/page', FIELDS);
  expect(response.status).toBe(200);
  expect(response.headers.get('content-type')).toBe('text/html; charset=utf-8');
  expect(response.headers.get('content-security-policy')).toContain("default-src 'none'");
  const html = await response.text();
  expect(html).toContain('Nearest in the table: DC01');
  expect(html).toContain('DC01, 1.21\u00a0mm');
  // Nothing in it would need a rule that the page has not.
  expect(html).not.toMatch(/\sstyle="|<style|\son\w+="/);
});

test('markup stays text, wherever it stands', async () => {
  const evil = '"><img src=x onerror=alert(1)>';
  for (const name of ['plan.length', 'sheet.material', 'name', 'measured', 'evil"><b>']) {
    const html = await (await post('/page', { ...FIELDS, [name]: evil })).text();
    expect(html, name).not.toContain('<img src=x');
    expect(html, name).not.toContain('<b>');
  }
});

test('a prototype is no tray, and what is no tray is told', async () => {
  const named = await post('/page', { ...FIELDS, '__proto__.x': '1', 'constructor.prototype.x': '1' });
  expect([200, 422]).toContain(named.status);
  expect(({} as { x?: unknown }).x).toBeUndefined();
  expect((await post('/page', { base: '{"plan":' })).status).toBe(422);
  const missing = await post('/page', {});
  expect(missing.status).toBe(422);
  expect(await missing.text()).toContain('class="notice"');
});

test('other contents, other sites and too much are refused', async () => {
  const json = await fetch(`${running.url}/page`, {
    method: 'POST',
    body: '{}',
    headers: { 'Content-Type': 'application/json' },
  });
  expect((await problem(json)).status).toBe(415);
  expect((await problem(await post('/page', FIELDS, { 'Sec-Fetch-Site': 'cross-site' }))).status).toBe(403);
  expect((await problem(await post('/page', { base: 'x'.repeat(2_000_000) }))).status).toBe(413);
  expect((await problem(await post('/page/file', { tray: '{}', format: 'exe' }))).status).toBe(404);
  expect((await problem(await post('/page/file', { tray: '{}', format: 'dxf', unit: 'ell' }))).status).toBe(
    422,
  );
  expect((await fetch(`${running.url}/page`)).status).toBe(405);
});

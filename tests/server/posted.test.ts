/** The form of the page as a browser without scripts posts it, and as others might. */
import { expect, test } from 'vitest';
import { escaped } from '../../src/drawing/svg.ts';
import { benchView } from '../../src/server/benchView.ts';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { solved } from '../support/solved.ts';
import { commonService } from './common.ts';
import { problem } from './service.ts';

const { url } = await commonService();

const post = (path: string, fields: Record<string, string>, headers: Record<string, string> = {}) =>
  fetch(`${url}${path}`, { method: 'POST', body: new URLSearchParams(fields), headers });

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

test('the bench sheets are a document with all that the bench view says, under the same rules', async () => {
  const response = await post('/bench', { tray: JSON.stringify(DEMO_TRAY) });
  expect(response.status).toBe(200);
  expect(response.headers.get('content-security-policy')).toContain("default-src 'none'");
  const html = await response.text();
  expect(html).not.toMatch(/\sstyle="|<style|\son\w+="|<script/);
  const pattern = solved(readTray(DEMO_TRAY));
  const { sheets, shapes } = await benchView(pattern, 'mm', english);
  expect(sheets.length).toBeGreaterThan(5);
  const places = sheets.map(({ id, title }) => html.indexOf(`<h1 id="${id}">${escaped(title)}</h1>`));
  expect(Math.min(...places)).toBeGreaterThan(0);
  expect(places).toEqual([...places].sort((a, b) => a - b));
  for (const { id, figures, groups, troubles, notes, cautions } of sheets) {
    expect(html).toContain(`href="#${id}"`);
    const all = [...figures, ...groups.flatMap((group) => group.figures)];
    for (const { title, value } of all)
      expect(html).toContain(`<dt>${escaped(title)}</dt><dd>${escaped(value)}`);
    const lines = [...groups.flatMap((group) => [group.title, ...group.lines]), ...troubles, ...cautions];
    for (const line of [...lines, ...notes.map(({ title }) => title)]) expect(html).toContain(escaped(line));
  }
  expect(html.match(/<svg/g)).toHaveLength(sheets.filter(({ picture }) => picture !== null).length);
  for (const { svg } of shapes) expect(html).toContain(svg);
  // In inches for those who work in them.
  expect(await (await post('/bench', { tray: JSON.stringify(DEMO_TRAY), unit: 'inch' })).text()).toContain(
    '″',
  );
});

test('a tray that has no bench sheets is told of on the page for the bench', async () => {
  const wrong = { ...DEMO_TRAY, section: { ...DEMO_TRAY.section, height: '<b>tall' } };
  const response = await post('/bench', { tray: JSON.stringify(wrong) });
  expect(response.status).toBe(422);
  const html = await response.text();
  expect(html).toContain('class="notice"');
  expect(html).not.toContain('<b>tall');
  expect((await problem(await post('/bench', { tray: '{}', unit: 'ell' }))).status).toBe(422);
  expect((await problem(await post('/bench', {}, { 'Sec-Fetch-Site': 'cross-site' }))).status).toBe(403);
  expect((await fetch(`${url}/bench`)).status).toBe(405);
});

test('other contents, other sites and too much are refused', async () => {
  const json = await fetch(`${url}/page`, {
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
  expect((await fetch(`${url}/page`)).status).toBe(405);
});

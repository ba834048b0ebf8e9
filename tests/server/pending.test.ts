/** What a stranger sends is read and checked in a thread: the main one answers whatever that takes. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { postFile, problem, service, type TestService, tray, until } from './service.ts';

const STUCK = new URL('./stuckWorker.mjs', import.meta.url);

let running: TestService;
beforeAll(async () => {
  running = await service(
    {
      abandonedTime: 1,
      leaveTime: 1,
      solids: { threads: 1, waiting: 4, waitTime: 600_000, jobTime: 600_000 },
    },
    { workerFile: STUCK },
  );
});
afterAll(async () => {
  await running.stop();
  expect(running.faults).toEqual([]);
});

const json = { 'Content-Type': 'application/json' };
const post = (path: string, body: string) => (url: string, signal: AbortSignal) =>
  fetch(url + path, { method: 'POST', headers: json, body, signal });
const form =
  (path: string, content: string, fields: Record<string, string> = {}) =>
  (url: string, signal: AbortSignal) =>
    postFile(url + path, content, 'a', fields, { signal });

const perforated = JSON.stringify(
  tray({
    holes: Array.from({ length: 200 }, (_, i) => ({
      shape: {
        kind: 'polygon',
        points: Array.from({ length: 40 }, (_, k) => ({
          x: 3 * Math.cos((k * Math.PI) / 20),
          y: 3 * Math.sin((k * Math.PI) / 20),
        })),
      },
      place: { on: 'base', x: (i % 20) - 10, y: Math.floor(i / 20) - 5 },
    })),
  }),
);

// None of them is acceptable: whoever read one on the main thread would have refused it by now.
const inputs: readonly (readonly [string, (url: string, signal: AbortSignal) => Promise<Response>])[] = [
  ['no JSON', post('/api/check', '{"name":')],
  ['deep JSON', post('/api/preview', '['.repeat(500_000))],
  ['holes in holes', post('/api/check', perforated)],
  ['holes in holes, for changes', post('/api/changes', perforated)],
  ['holes in holes, for a file', post('/api/files/dxf', perforated)],
  ['holes in holes, for an archive', post('/api/archive', perforated)],
  ['an uploaded tray', form('/api/upload', perforated)],
  ['a table of unknown columns', form('/api/upload', `a,b\n${'1,2\n'.repeat(100_000)}`)],
  ['a table on a bad base', form('/api/table', 'name,plan.length\nx,300\n', { base: perforated })],
  [
    'an archive of a table on a base that is none',
    form('/api/table/archive', 'name,plan.length\nx,y\n', { base: '[' }),
  ],
  ['a drawing', form('/api/upload', `0\nSECTION\n${'9\nx\n'.repeat(100_000)}`)],
  ['a solid', form('/api/upload', `ISO-10303-21;\n${'#1=X(((\n'.repeat(100_000)}`)],
  ['a part', form('/api/part/files/dxf', 'ISO-10303-21;\nrubbish', { base: '{' })],
];

describe('health is answered at once', () => {
  test.each(inputs)('while a thread is busy with %s', async (_what, send) => {
    const { url } = running;
    const leave = new AbortController();
    let answered = false;
    const asked = send(url, leave.signal).then(
      () => {
        answered = true;
      },
      () => {},
    );
    await until(() => (running.jobs() > 0 ? true : undefined));
    for (let i = 0; i < 20; i++) expect((await fetch(`${url}/api/health`)).status).toBe(200);
    expect(answered).toBe(false);
    leave.abort();
    await asked;
    await until(() => (running.jobs() === 0 ? true : undefined));
  });

  test('and a job over its limit is refused with the limit, and not told to come again', async () => {
    const short = await service({ jobTime: 500, leaveTime: 1 }, { workerFile: STUCK });
    const response = await post('/api/check', '{}')(short.url, new AbortController().signal);
    expect(response.headers.get('retry-after')).toBeNull();
    const found = await problem(response);
    await short.stop();
    expect(found).toMatchObject({ status: 422, code: 'TIMEOUT' });
    expect(found.detail).toMatch(/^This took longer than the 0\.5 s .* smaller file, .*\.$/);
  });
});

describe('a full queue', () => {
  test('refuses one more with the time to come back, and clients that leave free their places', async () => {
    const { url } = running;
    const waiting = 32;
    const leave = new AbortController();
    const ask = () =>
      fetch(`${url}/api/check`, { method: 'POST', headers: json, body: '{}', signal: leave.signal });
    // None of them comes to an end: the thread is stuck with the first.
    const held = Array.from({ length: 1 + waiting }, () => ask().catch(() => null));
    await until(() => (running.jobs() === 1 + waiting ? true : undefined));
    for (let i = 0; i < 5; i++) {
      const refused = await ask();
      expect(Number(refused.headers.get('retry-after'))).toBeGreaterThanOrEqual(1);
      const found = await problem(refused);
      expect(found).toMatchObject({ status: 503, code: 'BUSY' });
      expect(found.detail).toContain(`${refused.headers.get('retry-after')} s`);
    }
    leave.abort();
    expect(await Promise.all(held)).toEqual(Array(1 + waiting).fill(null));
    await until(() => (running.jobs() === 0 ? true : undefined));
  });
});

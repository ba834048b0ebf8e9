/**
 * Files made to hold up the service: each is refused in one sentence, or read for what it is, and the service goes on
 * meanwhile and after.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LONG } from '../support/long.ts';
import { HOSTILE_DRAWINGS, HOSTILE_SOLIDS, type HostileFile } from './hostileFiles.ts';
import { postFile, postTray, problem, service, type TestService, tray } from './service.ts';

let running: TestService;
beforeAll(async () => {
  running = await service({ leaveTime: 1 });
});
afterAll(async () => {
  await running.stop();
  expect(running.faults).toEqual([]);
});

async function expectAnswered(
  { content, refused }: HostileFile,
  fields: Record<string, string>,
): Promise<void> {
  const { url } = running;
  const [response, health] = await Promise.all([
    postFile(`${url}/api/upload`, content(), 'a', fields),
    fetch(`${url}/api/health`),
  ]);
  expect(health.status).toBe(200);
  if (refused === undefined) {
    expect(response.status).toBe(200);
    await response.arrayBuffer();
  } else {
    const { code, says } = refused;
    const found = await problem(response);
    expect(found).toMatchObject({ status: code === 'TOO_LARGE' ? 413 : 422, code });
    expect(found.detail).toMatch(/^\S[^\n]{10,600}\.$/);
    expect(found.detail).toMatch(says);
    expect(found.errors).toHaveLength(1);
  }
  expect((await postTray(`${url}/api/check`, tray())).status).toBe(200);
  expect(running.jobs()).toBe(0);
}

describe('drawings', () => {
  test.each(HOSTILE_DRAWINGS)('$what', (file) =>
    expectAnswered(file, { base: JSON.stringify(tray()), units: 'mm' }),
  );
});

describe('solids', () => {
  test.each(HOSTILE_SOLIDS.filter(({ kernel }) => LONG || kernel !== 'long'))('$what', (file) =>
    expectAnswered(file, {}),
  );
});

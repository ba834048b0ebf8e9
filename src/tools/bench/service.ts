/**
 * How soon the service answers that it is well while strangers keep its threads busy, beside a bare server of Node that
 * answers the same bytes, in the same run on the same machine.
 */
import { Agent, createServer, request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { startServer } from '../../server/server.ts';
import { perforated } from './checks.ts';
import type { Measured } from './measure.ts';

const ASKED = 200;
/** Pause between two questions, ms. */
const PAUSE = 5;

export async function serviceTimes(): Promise<Measured[]> {
  const body = JSON.stringify({ status: 'ok' });
  const bare = createServer((_request, response) => {
    response.setHeader('Content-Type', 'application/json; charset=utf-8');
    response.end(body);
  }).listen(0, '127.0.0.1');
  await new Promise((resolve) => bare.once('listening', resolve));
  const bareUrl = `http://127.0.0.1:${(bare.address() as AddressInfo).port}/`;
  const running = await startServer({ version: 'bench', limits: { requestsPerMinute: 0 } });
  await running.warm();
  const measured: Measured[] = [];
  try {
    for (const [what, path, content] of [
      ['nothing', null, ''],
      ['trays', '/api/files/dxf', JSON.stringify({ ...perforated(1, 12), holes: [] })],
      ['40 holes of 40 corners', '/api/check', JSON.stringify(perforated(40, 40))],
      ['1 MB that is no JSON', '/api/check', '['.repeat(990_000)],
    ] as const) {
      let busy = path !== null;
      const clients = Array.from({ length: busy ? 8 : 0 }, async () => {
        while (busy) {
          const headers = { 'Content-Type': 'application/json' };
          const response = await fetch(running.url + path, { method: 'POST', headers, body: content });
          await response.arrayBuffer();
        }
      });
      const [own, plain] = [await times(`${running.url}/api/health`), await times(bareUrl)];
      busy = false;
      await Promise.all(clients);
      const share = (list: readonly number[]): number =>
        [...list].sort((a, b) => a - b)[Math.floor(0.99 * list.length)]!;
      measured.push({
        name: `health beside ${what}`,
        of: '99th percentile',
        median: share(own),
        unit: 'ms',
        runs: ASKED,
        bar: Number((2 * share(plain)).toPrecision(3)),
        note: `bare server ${share(plain).toFixed(2)} ms; the bar is twice that`,
      });
    }
  } finally {
    await running.stop();
    bare.close();
    bare.closeAllConnections();
  }
  return measured;
}

/** Times of answers on one open connection, ms. */
async function times(url: string): Promise<number[]> {
  const agent = new Agent({ keepAlive: true });
  const found: number[] = [];
  for (let i = 0; i < ASKED; i++) {
    const began = performance.now();
    await new Promise<void>((resolve, reject) => {
      request(url, { agent }, (response) => response.resume().on('end', resolve))
        .on('error', reject)
        .end();
    });
    found.push(performance.now() - began);
    await new Promise((resolve) => setTimeout(resolve, PAUSE));
  }
  agent.destroy();
  return found;
}

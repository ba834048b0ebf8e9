/**
 * How soon the service answers that it is well while strangers keep its threads busy, beside a bare server of Node that
 * answers the same bytes, in the same run on the same machine. Service, bare server, strangers and the one who asks are
 * processes of their own, so that none holds another up but by what it takes of the machine.
 */
import { type ChildProcess, fork, spawn } from 'node:child_process';
import { once } from 'node:events';
import { Agent, request } from 'node:http';
import { fileURLToPath } from 'node:url';
import { perforated } from './checks.ts';
import type { Measured } from './measure.ts';
import type { Asked } from './strangers.ts';

const ASKED = 200;
const CLIENTS = 8;
/** Pause between two questions, ms. */
const PAUSE = 5;

const beside = (name: string): ChildProcess => fork(fileURLToPath(new URL(name, import.meta.url)));

/** A service in a process of its own, on a port that the system chooses. */
export function startService(): ChildProcess {
  const main = fileURLToPath(new URL('../../command/gatherpan.js', import.meta.url));
  return spawn(process.execPath, [main, 'serve', '--port', '0', '--rate', '0'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
}

/** Its address, once it answers. */
export async function addressOf(service: ChildProcess): Promise<string> {
  const url = await addressIn(service);
  while (!(await fetch(`${url}/api/ready`)).ok) await new Promise((resolve) => setTimeout(resolve, 100));
  return url;
}

export async function serviceTimes(): Promise<Measured[]> {
  const service = startService();
  const bare = beside('./bareServer.js');
  const measured: Measured[] = [];
  try {
    const [port] = (await once(bare, 'message')) as [number];
    const url = await addressOf(service);
    for (const [what, path, body] of [
      ['nothing', null, ''],
      ['trays', '/api/files/dxf', JSON.stringify({ ...perforated(1, 12), holes: [] })],
      ['40 holes of 40 corners', '/api/check', JSON.stringify(perforated(40, 40))],
      ['1 MB that is no JSON', '/api/check', '['.repeat(990_000)],
    ] as const) {
      const strangers = path === null ? null : beside('./strangers.js');
      if (strangers !== null) {
        strangers.send({ url: url + path, body, clients: CLIENTS } satisfies Asked);
        await once(strangers, 'message');
      }
      const [own, plain] = await times(`${url}/api/health`, `http://127.0.0.1:${port}/`);
      strangers?.kill();
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
    bare.kill();
    service.kill('SIGTERM');
  }
  return measured;
}

function addressIn(service: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let output = '';
    service.on('close', () => reject(new Error('the service did not start')));
    service.stdout!.on('data', (chunk) => {
      output += chunk;
      const found = /http:\/\/[^\s/]+/.exec(output);
      if (found !== null) resolve(found[0]);
    });
  });
}

const share = (list: readonly number[]): number =>
  [...list].sort((a, b) => a - b)[Math.floor(0.99 * list.length)]!;

/** Times of answers on one open connection to each of two servers, asked in turn, ms. */
async function times(...urls: readonly [string, string]): Promise<[number[], number[]]> {
  const agent = new Agent({ keepAlive: true });
  const found: [number[], number[]] = [[], []];
  for (let i = 0; i < ASKED; i++) {
    for (const [k, url] of urls.entries()) {
      const began = performance.now();
      await new Promise<void>((resolve, reject) => {
        request(url, { agent }, (response) => response.resume().on('end', resolve))
          .on('error', reject)
          .end();
      });
      found[k]!.push(performance.now() - began);
      await new Promise((resolve) => setTimeout(resolve, PAUSE));
    }
  }
  agent.destroy();
  return found;
}

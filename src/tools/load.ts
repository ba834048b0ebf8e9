/**
 * Load figures of the HTTP interface: trays to DXF, as fast as some clients ask for them; or, for minutes on end, requests
 * and successful uploads of every kind by more clients than there is room for.
 *
 * Starts a service of its own on this machine and asks nobody else. `npm run load -- [requests] [clients]`, or
 * `npm run load -- soak [minutes]`.
 */
import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { Agent, type IncomingMessage, request } from 'node:http';
import { availableParallelism, cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { soak } from './soak.ts';

const MOST_REQUESTS = 1_000_000;
const MOST_CLIENTS = 64;

const requests = bounded(process.argv[2], 10_000, MOST_REQUESTS);
const clients = bounded(process.argv[3], 2 * availableParallelism(), MOST_CLIENTS);

function bounded(text: string | undefined, otherwise: number, most: number): number {
  const value = Number(text ?? otherwise);
  return Number.isInteger(value) && value > 0 ? Math.min(value, most) : otherwise;
}

/** Sizes of one family, so that what is measured is solving and not answering from a memory. */
const tray = (i: number): string =>
  JSON.stringify({
    name: `tray-${i}`,
    plan: { length: 300 + (i % 200), width: 200 + (i % 170), cornerRadius: 50 },
    section: { bottomRadius: 18, height: 25 + (i % 50) / 10 },
    sheet: { material: 'DC04', thickness: 1 },
  });

const main = fileURLToPath(new URL('../command/gatherpan.js', import.meta.url));
const child = spawn(process.execPath, [main, 'serve', '--port', '0', '--rate', '0'], {
  stdio: ['ignore', 'pipe', 'inherit'],
});
process.on('exit', () => child.kill());

const url = await new Promise<URL>((resolve, reject) => {
  let output = '';
  child.on('close', () => reject(new Error('the service did not start')));
  child.stdout.on('data', (chunk) => {
    output += chunk;
    const found = /http:\/\/\S+/.exec(output);
    if (found !== null) resolve(new URL(found[0]));
  });
});
const agent = new Agent({ keepAlive: true, maxSockets: clients + 1 });

/** Status and time of one request, ms; the answer is read to its end. */
function ask(method: string, path: string, body?: string): Promise<{ status: number; time: number }> {
  return new Promise((resolve, reject) => {
    const began = performance.now();
    const asked = request(
      {
        host: url.hostname,
        port: url.port,
        method,
        path,
        agent,
        headers:
          body === undefined
            ? {}
            : { 'Content-Type': 'application/json', 'Content-Length': Buffer.byteLength(body) },
      },
      (response: IncomingMessage) => {
        response.resume();
        response.on('end', () =>
          resolve({ status: response.statusCode ?? 0, time: performance.now() - began }),
        );
      },
    );
    asked.on('error', reject);
    asked.end(body);
  });
}

/** Resident memory of the service, MB; not to be had everywhere. */
function memory(): string {
  const file = `/proc/${child.pid}/status`;
  if (!existsSync(file)) return 'not known here';
  return `${Math.round(Number(/VmRSS:\s+(\d+)/.exec(readFileSync(file, 'utf8'))?.[1] ?? 0) / 1024)} MB`;
}

while ((await ask('GET', '/api/ready')).status !== 200) {
  await new Promise((resolve) => setTimeout(resolve, 50));
}
if (process.argv[2] === 'soak') {
  const ok = await soak(url, bounded(process.argv[3], 20, 600), memory);
  child.removeAllListeners('close');
  child.kill('SIGTERM');
  await new Promise((resolve) => child.on('close', resolve));
  process.exit(ok ? 0 : 1);
}
const before = memory();
const times: number[] = [];
const health: number[] = [];
const statuses = new Map<number, number>();
/** Each is taken by one client. */
const numbers = Array.from({ length: requests }).keys();
const began = performance.now();
const asking = Array.from({ length: clients }, async () => {
  for (const number of numbers) {
    const { status, time } = await ask('POST', '/api/files/dxf', tray(number));
    statuses.set(status, (statuses.get(status) ?? 0) + 1);
    times.push(time);
  }
});
const probing = (async () => {
  while (times.length < requests) {
    health.push((await ask('GET', '/api/health')).time);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
})();
await Promise.all([...asking, probing]);
const seconds = (performance.now() - began) / 1000;

const share = (list: number[], part: number): string => {
  const sorted = list.sort((a, b) => a - b);
  return `${(sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN).toFixed(1)} ms`;
};
console.log(`machine        ${availableParallelism()} cores, ${cpus()[0]?.model ?? 'unknown'}`);
console.log(`tray to DXF    ${times.length} requests by ${clients} clients in ${seconds.toFixed(1)} s`);
console.log(`rate           ${(times.length / seconds).toFixed(1)} requests/s`);
console.log(`time           p50 ${share(times, 0.5)}, p99 ${share(times, 0.99)}`);
console.log(`health beside  p50 ${share(health, 0.5)}, p99 ${share(health, 0.99)}`);
console.log(`memory         ${before} before, ${memory()} after`);
console.log(
  `answers        ${[...statuses].map(([status, count]) => `${count} of status ${status}`).join(', ')}`,
);
child.removeAllListeners('close');
child.kill('SIGTERM');
await new Promise((resolve) => child.on('close', resolve));
process.exit();

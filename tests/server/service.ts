/** A service for tests: the real app on a free port of this machine, or the built command as a process of its own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { ServerLimits } from '../../src/server/limits.ts';
import { type RunningServer, type ServerOptions, startServer } from '../../src/server/server.ts';

const root = new URL('../../', import.meta.url);
const BUILT_MAIN = fileURLToPath(new URL('dist/command/gatherpan.js', root));

export interface TestService extends RunningServer {
  /** Faults of the program that were reported. */
  readonly faults: unknown[];
}

/** A busy machine takes long over everything; only tests of a time limit set one. */
const PATIENT = {
  headersTime: 600_000,
  requestTime: 600_000,
  idleTime: 600_000,
  jobTime: 600_000,
  waitTime: 600_000,
  tableTime: 600_000,
  solids: { threads: 1, waiting: 4, waitTime: 600_000, jobTime: 600_000 },
} as const;

/** One thread, which is not warm: what a process warms is asked of one. */
export async function service(
  limits: Partial<ServerLimits> = {},
  options: Partial<ServerOptions> = {},
): Promise<TestService> {
  const faults: unknown[] = [];
  const running = await startServer({
    version: '1.2.3',
    fault: (error) => faults.push(error),
    warm: false,
    ...options,
    limits: { threads: 1, requestsPerMinute: 0, ...PATIENT, ...limits },
  });
  return { ...running, faults };
}

export interface Process {
  readonly url: string;
  readonly child: ChildProcess;
  readonly output: () => string;
  /** Exit code. */
  readonly ended: Promise<number | null>;
  /** Resident memory, MB. */
  memory(): number;
}

/** `gatherpan serve` on a free port, warm. */
export async function serveProcess(...argv: string[]): Promise<Process> {
  const child = spawn(process.execPath, [BUILT_MAIN, 'serve', '--port', '0', '--rate', '0', ...argv]);
  let output = '';
  child.stdout.on('data', (chunk) => {
    output += chunk;
  });
  child.stderr.on('data', (chunk) => {
    output += chunk;
  });
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  const url = await until(() => /http:\/\/\S+/.exec(output)?.[0]);
  await until(async () => ((await fetch(`${url}/api/ready`)).ok ? true : undefined));
  return {
    url,
    child,
    output: () => output,
    ended,
    memory: () => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8'))![1]) / 1024,
  };
}

/** The first answer that is not undefined, asked for again and again. */
export async function until<T>(
  find: () => T | undefined | Promise<T | undefined>,
  milliseconds = 300_000,
): Promise<T> {
  const end = performance.now() + milliseconds;
  for (;;) {
    const found = await find();
    if (found !== undefined) return found;
    if (performance.now() > end) throw new Error(`not so within ${milliseconds} ms: ${find}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** A small tray that solves fast. */
export const tray = (changes: Record<string, unknown> = {}): Record<string, unknown> => ({
  name: 'seedling-tray',
  measured: 'outside',
  plan: { length: 240, width: 160, cornerRadius: 40 },
  section: { bottomRadius: 15, height: 22 },
  sheet: { material: 'DC04', thickness: 1, grain: 0 },
  forming: { trim: 3 },
  ...changes,
});

export const postTray = (url: string, body: unknown = tray(), init: RequestInit = {}): Promise<Response> =>
  fetch(url, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: typeof body === 'string' ? body : JSON.stringify(body),
    ...init,
  });

export function postFile(
  url: string,
  content: string | Uint8Array<ArrayBuffer>,
  name = 'file.bin',
  fields: Record<string, string> = {},
  init: RequestInit = {},
): Promise<Response> {
  const form = new FormData();
  for (const [key, value] of Object.entries(fields)) form.append(key, value);
  form.append('file', new Blob([content]), name);
  return fetch(url, { method: 'POST', body: form, ...init });
}

/** A document of JSON, to be looked at with `expect`. */
// biome-ignore lint/suspicious/noExplicitAny: what comes is what the test finds out
export const json = async (response: Response | Promise<Response>): Promise<any> => (await response).json();

/** A problem document, with what every one of them must have. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly code: string;
  readonly errors: readonly { readonly path: string; readonly pointer: string; readonly detail: string }[];
}

export async function problem(response: Response): Promise<Problem> {
  if (!/^application\/problem\+json/.test(response.headers.get('content-type') ?? '')) {
    throw new Error(`no problem document but ${response.status} ${response.headers.get('content-type')}`);
  }
  const found = (await response.json()) as Problem;
  if (found.status !== response.status)
    throw new Error('the status of the problem is not that of the answer');
  if (/\n\s+at |node_modules|\.ts:\d|\.js:\d/.test(JSON.stringify(found)))
    throw new Error('a stack is shown');
  return found;
}

/**
 * Batch, worker and service end by themselves at the first signal, at every stage, whether the queue's server is
 * there or not. How soon is not asked here, because a machine may be busy; that it is the signal that was heard, is.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { connect } from '../../src/batch/queueConnection.ts';
import { LONG } from '../support/long.ts';
import { COMMAND, family } from './batches.ts';
import { addressOf, freePort, hasRedis, killRedis, startRedis } from './redis.ts';

interface Ended {
  readonly exit: number | null;
  /** By which signal it was ended, null when it ended by itself. */
  readonly killed: NodeJS.Signals | null;
  readonly out: string;
  readonly error: string;
}

let folder = '';
const started: ChildProcess[] = [];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'gatherpan-stop-'));
  await writeFile(join(folder, 'family.json'), family(12));
});

afterAll(async () => {
  for (const child of started) child.kill('SIGKILL');
  await rm(folder, { recursive: true, force: true });
});

/** Starts the command; `said` waits for a text on its standard output. */
function command(...argv: string[]) {
  const child = spawn(process.execPath, [COMMAND, ...argv], { cwd: folder });
  started.push(child);
  let out = '';
  let error = '';
  child.stdout.on('data', (part: Buffer) => {
    out += part.toString();
  });
  child.stderr.on('data', (part: Buffer) => {
    error += part.toString();
  });
  const ended = new Promise<Ended>((resolve) =>
    child.on('close', (exit, killed) => resolve({ exit, killed, out, error })),
  );
  return {
    child,
    ended,
    said: (text: string) => vi.waitFor(() => expect(out).toContain(text), { timeout: 300_000 }),
  };
}

const SIGNALS = ['SIGINT', 'SIGTERM'] as const;

describe('told to stop, without a queue,', () => {
  // That Ctrl-C ends it so is a test of its own, where the run is then completed.
  it.each(LONG ? SIGNALS : [SIGNALS[1]])('a batch ends while it solves: %s', async (signal) => {
    const out = `out-${signal}`;
    const { child, ended } = command('batch', 'family.json', '--out', out, '--jobs', '1');
    await vi.waitFor(async () => expect((await readdir(join(folder, out))).join()).toContain('.dxf'), {
      timeout: 300_000,
    });
    child.kill(signal);
    const { exit, killed, error } = await ended;
    expect([exit, killed]).toEqual([1, null]);
    expect(error).toMatch(
      /^Stopped after \d+ of 48 trays; the same command with --resume goes on from there\.\n$/,
    );
    expect((await readdir(join(folder, out))).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  // That it ends at SIGTERM is asked where it is in the middle of work, see tests/server/process.test.ts.
  it.each(LONG ? SIGNALS : [SIGNALS[0]])('the service ends: %s', async (signal) => {
    const { child, ended, said } = command('serve', '--port', '0', '--threads', '1');
    await said('http://');
    child.kill(signal);
    expect(await ended).toMatchObject({ exit: 0, killed: null, error: '' });
  });
});

describe.skipIf(!hasRedis)('told to stop', () => {
  let port = 0;
  let redis: ChildProcess;

  beforeAll(async () => {
    port = await freePort();
    redis = await startRedis(port, folder);
  });

  afterAll(() => void redis?.kill('SIGKILL'));

  /** What is done to the queue's server before the signal, and after the command has ended. */
  const states: Readonly<
    Record<string, { readonly before?: () => Promise<void>; readonly after?: () => Promise<void> }>
  > = {
    'is there': {},
    'has gone': {
      before: () => killRedis(redis),
      after: async () => {
        redis = await startRedis(port, folder);
      },
    },
    hangs: {
      before: async () => void redis.kill('SIGSTOP'),
      after: async () => void redis.kill('SIGCONT'),
    },
    'has gone and come back': {
      before: async () => {
        await killRedis(redis);
        redis = await startRedis(port, folder);
      },
    },
  };
  const cases = Object.keys(states).map((state, i) => [state, SIGNALS[i % 2]!] as const);
  const [there, gone, hanging, back] = cases;

  it.each(LONG ? cases : [there!, back!])(
    'a batch on a queue whose server %s ends: %s',
    async (state, signal) => {
      const { child, ended } = command('batch', 'family.json', '--out', 'queued', '--queue', addressOf(port));
      const client = await connect(addressOf(port));
      await vi.waitFor(
        async () => expect((await client.keys('*gatherpan-batch-*')).length).toBeGreaterThan(1),
        {
          timeout: 300_000,
        },
      );
      client.disconnect();
      await states[state]!.before?.();
      child.kill(signal);
      const { exit, killed, error } = await ended;
      await states[state]!.after?.();
      expect([exit, killed]).toEqual([1, null]);
      expect(error).toMatch(/^Stopped after 0 of 48 trays; [^\n]*\n$/);
      await clear();
    },
  );

  it.each(LONG ? cases : [gone!, hanging!])(
    'a worker with a chunk in hand on a queue whose server %s ends: %s',
    async (state, signal) => {
      const { child, ended, said } = command('worker', '--queue', addressOf(port));
      await said('\n');
      const batch = command('batch', 'family.json', '--out', 'for-worker', '--queue', addressOf(port));
      const client = await connect(addressOf(port));
      await vi.waitFor(async () => expect(await client.keys('*:lock')).not.toEqual([]), { timeout: 300_000 });
      client.disconnect();
      await states[state]!.before?.();
      child.kill(signal);
      const { exit, killed, error } = await ended;
      await states[state]!.after?.();
      expect([exit, killed, error]).toEqual([0, null, '']);
      batch.child.kill('SIGTERM');
      expect(await batch.ended).toMatchObject({ exit: 1, killed: null });
      await clear();
    },
  );

  async function clear(): Promise<void> {
    const client = await connect(addressOf(port));
    await client.flushall();
    client.disconnect();
  }
});

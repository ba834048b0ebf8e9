/** A queue's server for tests: Debian's redis-server, on a port of its own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { connect } from '../../src/batch/queueConnection.ts';
import { toolCommand } from '../support/tools.ts';

export const hasRedis = toolCommand('redis') !== null;

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as { port: number };
  await new Promise((resolve) => server.close(resolve));
  return port;
}

export const addressOf = (port: number): string => `redis://127.0.0.1:${port}`;

/** Started, and answering. */
export async function startRedis(port: number, folder: string): Promise<ChildProcess> {
  const redis = spawn(
    'redis-server',
    ['--port', String(port), '--bind', '127.0.0.1', '--save', '', '--dir', folder],
    { stdio: 'ignore' },
  );
  for (let tries = 0; ; tries++) {
    try {
      (await connect(addressOf(port))).disconnect();
      return redis;
    } catch (error) {
      if (tries > 200) throw error;
      await wait(50);
    }
  }
}

/** Ended at once, as by a failure of power. */
export async function killRedis(redis: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => redis.once('close', resolve));
  redis.kill('SIGKILL');
  await gone;
}

/** Answers on their way to clients that do not read them. */
import { createServer, type Server } from 'node:http';
import { type AddressInfo, createConnection, type Socket } from 'node:net';
import express, { type Response } from 'express';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createSending, type Sending } from '../../src/server/sending.ts';
import { until } from './service.ts';

/** More than the buffers of a connection on one machine take. */
const LARGE = 40_000_000;

let server: Server;
let sending: Sending;
let answers: Response[];
const sockets: Socket[] = [];

async function start(sendTime: number, sendMemory: number): Promise<void> {
  sending = createSending({ sendTime, sendMemory });
  const app = express();
  app.get('/', (_request, response) => {
    answers.push(response);
    sending.send(response, new Uint8Array(LARGE));
  });
  server = createServer(app).listen(0, '127.0.0.1');
  await new Promise((resolve) => server.once('listening', resolve));
}

beforeEach(() => {
  answers = [];
});
afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy();
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
});

const url = (): string => `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;

/** A client that asks and never reads. */
function ask(): Socket {
  const socket = createConnection((server.address() as AddressInfo).port, '127.0.0.1').pause();
  socket.on('error', () => {});
  socket.write('GET / HTTP/1.1\r\nHost: localhost\r\n\r\n');
  sockets.push(socket);
  return socket;
}

const answered = (count: number): Promise<true> => until(() => (answers.length === count ? true : undefined));

describe('an answer', () => {
  test('comes whole to whoever reads it, and holds nothing afterwards', async () => {
    await start(600_000, 10 * LARGE);
    const bytes = await (await fetch(url())).arrayBuffer();
    expect(bytes.byteLength).toBe(LARGE);
    await until(() => (sending.held === 0 ? true : undefined));
  });

  test('that is not read is cut off after its time', async () => {
    await start(300, 10 * LARGE);
    const socket = ask();
    await answered(1);
    await until(() => (answers[0]!.closed ? true : undefined));
    expect(sending.held).toBe(0);
    let read = 0;
    socket.on('data', (chunk) => {
      read += chunk.length;
    });
    socket.resume();
    await until(() => (socket.closed ? true : undefined));
    expect(read).toBeLessThan(LARGE);
  });

  test('that is not read gives way to others once there are too many, the oldest first', async () => {
    await start(600_000, 3 * LARGE);
    for (let i = 1; i <= 5; i++) {
      ask();
      await answered(i);
      expect(sending.held).toBe(Math.min(i, 3) * LARGE);
    }
    expect(answers.map((response) => response.destroyed)).toEqual([true, true, false, false, false]);
    // Whoever reads is served all the same, even when his answer alone is as large as all of them may be.
    expect((await (await fetch(url())).arrayBuffer()).byteLength).toBe(LARGE);
  });

  test('of a client that has gone is not held', async () => {
    await start(600_000, 10 * LARGE);
    ask();
    await answered(1);
    expect(sending.held).toBe(LARGE);
    for (const socket of sockets) socket.destroy();
    await until(() => (sending.held === 0 ? true : undefined));
  });
});

/** Starts and stops the service. Nothing is kept on disk, so any number of copies can stand behind a balancer. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import { GatherpanError } from '../errors.ts';
import { once } from '../once.ts';
import { words } from '../words/language.ts';
import { createApp } from './app.ts';
import { DEFAULT_LIMITS, type ServerLimits } from './limits.ts';
import { createPool, type Pool, WORKER_FILE } from './pool.ts';
import { HttpError, PROBLEM_TYPE, problemBody, problemOf } from './problem.ts';
import { SECURITY_HEADERS } from './security.ts';
import { createSending } from './sending.ts';
import { createTables } from './table.ts';
import { createBudget } from './upload.ts';

export interface ServerOptions {
  readonly version: string;
  /** Address to listen at; this machine only when left out. */
  readonly host?: string;
  /** 0 for any free port. */
  readonly port?: number;
  /** Host names the service answers to; by default those of this machine when only it is listened to, else any. */
  readonly hosts?: readonly string[];
  readonly proxies?: number;
  readonly limits?: Partial<ServerLimits>;
  readonly fault?: (error: unknown) => void;
  /** What a thread runs, for tests of threads that get stuck or speak otherwise; `worker.js` when left out. */
  readonly workerFile?: URL;
  /** Whether every thread solves a tray before somebody asks for one, a second of work each; so when left out. */
  readonly warm?: boolean;
}

export interface RunningServer {
  readonly url: string;
  readonly server: Server;
  /** Ends when every thread is warm. */
  warm(): Promise<void>;
  /** Jobs that run or wait. */
  jobs(): number;
  /** Tables that hold a place. */
  tables(): number;
  /** Bytes of answers that clients have not taken yet. */
  unsent(): number;
  /** Takes no new work, lets what runs end (within a limit), then closes. A second call waits for the first. */
  stop(): Promise<void>;
}

const LOOPBACK = ['localhost', '127.0.0.1', '[::1]'];

/** @throws GatherpanError BAD_INPUT when the address cannot be listened at */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const limits: ServerLimits = { ...DEFAULT_LIMITS, ...options.limits };
  const host = options.host ?? '127.0.0.1';
  const isLoopback = host === 'localhost' || host === '::1' || host.startsWith('127.');
  let stopping = false;
  const pool = createPool(limits, options.workerFile ?? WORKER_FILE, { warm: options.warm ?? true });
  let solids: Pool | null = null;
  const sending = createSending(limits);
  const tables = createTables(limits, pool);
  const app = createApp({
    version: options.version,
    limits,
    pool,
    solids: () => {
      solids ??= createPool({ ...limits, ...limits.solids }, options.workerFile ?? WORKER_FILE, {
        warm: false,
      });
      return solids;
    },
    budget: createBudget(limits.uploadMemory),
    sending,
    tables,
    stopping: () => stopping,
    hosts: options.hosts ?? (isLoopback ? [...LOOPBACK, host] : []),
    proxies: options.proxies ?? 0,
    fault: options.fault ?? (() => {}),
  });
  const server = createServer(
    {
      headersTimeout: limits.headersTime,
      requestTimeout: limits.requestTime,
      // How often the two limits above are looked at.
      connectionsCheckingInterval: Math.min(2_000, limits.headersTime),
      keepAliveTimeout: limits.idleTime,
      maxHeaderSize: 16_384,
      // The app refuses a request without a host itself, in the form of every other refusal.
      requireHostHeader: false,
    },
    app,
  );
  server.maxConnections = limits.connections;
  server.on('clientError', answerClientError);
  server.on('checkExpectation', app);
  server.on('connect', (_request, socket: Socket) => {
    answerBefore(
      socket,
      405,
      'Method Not Allowed',
      new HttpError('METHOD', words().messages.server.noTunnel),
    );
  });
  closeSilent(server, 2 * limits.headersTime);
  try {
    await listen(server, options.port ?? 0, host);
  } catch (error) {
    await pool.close();
    throw error;
  }
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://${host.includes(':') ? `[${host}]` : host}:${port}`,
    server,
    async warm() {
      while (!pool.ready) await new Promise((resolve) => setTimeout(resolve, 10));
    },
    jobs: () => [pool, solids].reduce((sum, each) => sum + (each?.running ?? 0) + (each?.waiting ?? 0), 0),
    tables: () => tables.taken,
    unsent: () => sending.held,
    stop: once(async () => {
      stopping = true;
      // What is on its way when the signal comes is still taken; a balancer learns from readiness to send no more.
      await new Promise((resolve) => setTimeout(resolve, limits.leaveTime));
      const closed = new Promise((resolve) => server.close(resolve));
      // A connection that was at work is idle only once it has its answer, and would be kept open for a minute.
      const idle = setInterval(() => server.closeIdleConnections(), 50);
      const time = setTimeout(() => server.closeAllConnections(), limits.stopTime);
      await closed;
      clearInterval(idle);
      clearTimeout(time);
      await Promise.all([pool.close(), solids?.close()]);
    }),
  };
}

/** Closes connections on which nothing is ever asked; Node's own limits begin with the first byte of a request. */
function closeSilent(server: Server, milliseconds: number): void {
  const timers = new WeakMap<Socket, NodeJS.Timeout>();
  server.on('connection', (socket: Socket) => {
    const closeAfter = (rounds: number): void => {
      const close = (): void => {
        // One that has begun a request has its answer (408) from Node within a round.
        if (socket.bytesRead === 0 || rounds === 0) socket.destroy();
        else closeAfter(rounds - 1);
      };
      timers.set(socket, setTimeout(close, milliseconds).unref());
    };
    closeAfter(1);
    socket.once('close', () => clearTimeout(timers.get(socket)));
  });
  server.on('request', ({ socket }) => clearTimeout(timers.get(socket)));
}

function listen(server: Server, port: number, host: string): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const said = words().messages.server.listen;
      const sentence = {
        EADDRINUSE: said.inUse,
        EACCES: said.refused,
        EADDRNOTAVAIL: said.noAddress,
        ENOTFOUND: said.noHost,
      }[error.code ?? ''];
      reject(
        new GatherpanError(
          'BAD_INPUT',
          sentence?.(host, String(port)) ?? said.other(host, String(port), String(error.code)),
        ),
      );
    });
    server.listen(port, host, resolve);
  });
}

/** What is wrong before there is a request: malformed, too large, or too slow. */
function answerClientError(error: NodeJS.ErrnoException, socket: Socket): void {
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy();
    return;
  }
  const said = words().messages.server;
  const [status, reason, message] =
    error.code === 'ERR_HTTP_REQUEST_TIMEOUT'
      ? ([408, 'Request Timeout', said.tooSlow] as const)
      : error.code === 'HPE_HEADER_OVERFLOW'
        ? ([431, 'Request Header Fields Too Large', said.headersTooLarge] as const)
        : ([400, 'Bad Request', said.malformed] as const);
  answerBefore(socket, status, reason, new HttpError('REFUSED', message, status));
}

/** Answers on the bare connection, in the form and with the headers that every refusal has, and closes it. */
function answerBefore(socket: Socket, status: number, reason: string, error: HttpError): void {
  const body = problemBody(problemOf(error));
  const headers = [
    ...SECURITY_HEADERS,
    ['Content-Type', PROBLEM_TYPE],
    ['Cache-Control', 'no-store'],
    ['Content-Length', String(body.length)],
    ['Connection', 'close'],
  ];
  socket.on('error', () => {}); // gone before it had its answer
  socket.write(
    `HTTP/1.1 ${status} ${reason}\r\n${headers.map(([name, value]) => `${name}: ${value}\r\n`).join('')}\r\n`,
  );
  socket.end(body);
}

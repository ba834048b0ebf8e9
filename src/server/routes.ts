/** The addresses of the HTTP interface, declared once: the app mounts them, the OpenAPI document describes them. */

import { create as contentDisposition } from 'content-disposition';
import express, { type Request, type RequestHandler, type Response } from 'express';
import { type BatchRow, isTray } from '../batch/rows.ts';
import { GatherpanError } from '../errors.ts';
import { listSheets, sheetDocument } from '../material/sheets.ts';
import { trayJsonSchema } from '../tray/schema.ts';
import { words } from '../words/language.ts';
import { ARCHIVE_TYPE } from './archive.ts';
import { baseFrom, trayFrom } from './contents.ts';
import { DEMO_TRAY } from './demoTray.ts';
import { registry } from './develop.ts';
import { downloadName, trayNameFrom } from './fileNames.ts';
import type { Base, DrawingAnswers, MadeFile } from './jobs.ts';
import type { ServerLimits } from './limits.ts';
import { openApi } from './openapi.ts';
import type { Pool } from './pool.ts';
import { HttpError } from './problem.ts';
import { streamTable, tableArchive } from './table.ts';
import { tableRows } from './tableRows.ts';
import { type Budget, withUpload } from './upload.ts';

export interface Services {
  readonly version: string;
  readonly limits: ServerLimits;
  readonly pool: Pool;
  /** A thread of its own for solids, begun with the first: reading them takes long and much memory. */
  readonly solids: () => Pool;
  readonly budget: Budget;
  /** Whether the service has been told to stop. */
  readonly stopping: () => boolean;
}

export interface Route {
  readonly method: 'get' | 'post';
  readonly path: string;
  readonly handlers: readonly RequestHandler[];
}

export function routes(services: Services): Route[] {
  const { limits, pool, budget, version } = services;
  const get = (path: string, handler: RequestHandler): Route => ({
    method: 'get',
    path,
    handlers: [handler],
  });
  const fixed = (path: string, value: unknown): Route => {
    const body = JSON.stringify(value);
    return get(path, (_request, response) => {
      response.type('application/json').set('Cache-Control', 'no-cache').send(body);
    });
  };
  const post = (path: string, ...handlers: RequestHandler[]): Route => ({ method: 'post', path, handlers });
  const tray = trayBody(limits);
  const said = () => words().messages.server;

  const rowsOf = (bytes: Uint8Array, fields: ReadonlyMap<string, string>, fileName: string): BatchRow[] => {
    const { name: _, ...base } = baseFrom(fields.get('base'));
    return tableRows(bytes, base, trayNameFrom(fileName), limits.tableRows);
  };

  /** Tables now being dealt with. */
  let tables = 0;
  const withTable = async <T>(
    request: Request,
    work: (rows: BatchRow[], fileName: string) => Promise<T>,
  ): Promise<T> => {
    if (tables >= limits.tables) {
      request.resume();
      throw new GatherpanError('BUSY', said().busyTables);
    }
    tables++;
    try {
      return await withUpload(request, limits, budget, async ({ kind, bytes, fileName, fields }) => {
        if (kind !== 'table') {
          throw new GatherpanError('BAD_INPUT', {
            path: 'file',
            message: said().upload.noTable,
          });
        }
        return work(rowsOf(bytes, fields, fileName), fileName);
      });
    } finally {
      tables--;
    }
  };

  /** A solid with what it does not say, for the addresses that take nothing else. */
  const withPart = <T>(
    request: Request,
    work: (part: { bytes: Uint8Array; name: string; base: Base }) => Promise<T>,
  ): Promise<T> =>
    withUpload(request, limits, budget, async ({ kind, bytes, fileName, fields }) => {
      if (kind !== 'solid') {
        throw new GatherpanError('BAD_INPUT', {
          path: 'file',
          message: said().upload.noSolid,
        });
      }
      return work({ bytes, name: trayNameFrom(fileName), base: baseFrom(fields.get('base')) });
    });

  return [
    get('/api/health', (_request, response) => {
      response.set('Cache-Control', 'no-store').json({ status: 'ok' });
    }),
    get('/api/ready', (_request, response) => {
      if (services.stopping()) throw new GatherpanError('BUSY', said().stopping);
      if (!pool.ready) throw new GatherpanError('BUSY', said().warming);
      response.set('Cache-Control', 'no-store').json({ status: 'ready' });
    }),
    fixed('/api/openapi.json', openApi(version, limits)),
    fixed('/api/about', { name: 'gatherpan', version }),
    fixed('/api/limits', limits),
    fixed(
      '/api/sheets',
      listSheets().map((material) => sheetDocument(material, words())),
    ),
    fixed(
      '/api/formats',
      registry()
        .list()
        .map(({ write: _, ...declared }) => declared),
    ),
    fixed('/api/schema', trayJsonSchema()),
    fixed('/api/demo', DEMO_TRAY),

    post('/api/preview', tray, async (request, response) => {
      const shown = await pool.run<'preview'>(
        { kind: 'preview', tray: trayFrom(request.body) },
        clientSignal(response),
      );
      response.set('Cache-Control', 'no-store').json(shown);
    }),

    post('/api/changes', tray, async (request, response) => {
      const found = await pool.run<'changes'>(
        { kind: 'changes', tray: trayFrom(request.body) },
        clientSignal(response),
      );
      response.set('Cache-Control', 'no-store').json(found);
    }),

    post('/api/check', tray, async (request, response) => {
      response.set('Cache-Control', 'no-store').json(trayFrom(request.body));
    }),

    post('/api/files/:format', tray, async (request, response) => {
      const { format } = request.params as { format: string };
      const exporter = registry().get(format);
      const { fileName, ...values } = query(request);
      const file = await pool.run<'file'>(
        { kind: 'file', tray: trayFrom(request.body), format, values },
        clientSignal(response),
      );
      sendFile(response, file, fileName ?? file.name, exporter.extension);
    }),

    post('/api/archive', tray, async (request, response) => {
      const { fileName, formats, quantity, ...others } = query(request);
      refuseUnknown(others, ['fileName', 'formats', 'quantity']);
      const file = await pool.run<'archive'>(
        {
          kind: 'archive',
          tray: trayFrom(request.body),
          formats: formatList(formats),
          quantity: pieces(quantity, limits),
        },
        clientSignal(response),
      );
      sendFile(response, file, fileName ?? file.name, 'zip');
    }),

    post('/api/upload', async (request, response) => {
      const signal = clientSignal(response);
      const read = await withUpload(request, limits, budget, async ({ kind, bytes, fileName, fields }) => {
        const name = trayNameFrom(fileName);
        switch (kind) {
          case 'tray':
            return { kind, tray: trayFrom(bytes, fileName) };
          case 'table': {
            const rows = rowsOf(bytes, fields, fileName);
            return { kind, rows: rows.length, wrong: rows.filter((row) => !isTray(row)).length };
          }
          case 'solid':
            return services
              .solids()
              .run<'solid'>({ kind, bytes, name, base: baseFrom(fields.get('base')) }, signal);
          case 'drawing':
            return pool.run<'drawing'>(
              { kind, bytes, name, base: baseFrom(fields.get('base')), said: drawingAnswers(fields) },
              signal,
            );
        }
      });
      response.set('Cache-Control', 'no-store').json(read);
    }),

    post('/api/part/files/:format', async (request, response) => {
      const { format } = request.params as { format: string };
      const exporter = registry().get(format);
      const { fileName, ...values } = query(request);
      const signal = clientSignal(response);
      const file = await withPart(request, (part) =>
        services.solids().run<'partFile'>({ kind: 'partFile', ...part, format, values }, signal),
      );
      sendFile(response, file, fileName ?? file.name, exporter.extension);
    }),

    post('/api/part/archive', async (request, response) => {
      const { fileName, formats, quantity, ...others } = query(request);
      refuseUnknown(others, ['fileName', 'formats', 'quantity']);
      const asked = { formats: formatList(formats), quantity: pieces(quantity, limits) };
      const signal = clientSignal(response);
      const file = await withPart(request, (part) =>
        services.solids().run<'partArchive'>({ kind: 'partArchive', ...part, ...asked }, signal),
      );
      sendFile(response, file, fileName ?? file.name, 'zip');
    }),

    post('/api/table', (request, response) =>
      withTable(request, (rows) => streamTable(rows, pool, limits, clientSignal(response), response)),
    ),

    post('/api/table/archive', async (request, response) => {
      const { formats, ...others } = query(request);
      refuseUnknown(others, ['formats']);
      const ids = formatList(formats);
      if (ids.length === 0) throw new GatherpanError('BAD_INPUT', said().noFormats);
      await withTable(request, async (rows, fileName) => {
        const signal = clientSignal(response);
        const stream = await tableArchive(rows, ids, pool, limits, signal);
        response.status(200).set({
          'Content-Type': ARCHIVE_TYPE,
          'Content-Disposition': contentDisposition(downloadName(fileName, 'zip')),
          'Cache-Control': 'no-store',
        });
        await new Promise<void>((resolve, reject) => {
          stream.on('error', reject);
          response.on('close', resolve);
          stream.pipe(response);
        });
      });
    }),
  ];
}

/** What a form says of a drawing; fields that are left empty say nothing. */
function drawingAnswers(fields: ReadonlyMap<string, string>): DrawingAnswers {
  const said = (['units', 'cornerRadius', 'layer'] as const)
    .map((field) => [field, fields.get(field) ?? ''] as const)
    .filter(([, value]) => value.trim() !== '');
  return Object.fromEntries(said);
}

/** A tray file as the body: its type is asked for, because pages of other sites may send plain text unasked. */
function trayBody(limits: ServerLimits): RequestHandler {
  const read = express.raw({ type: () => true, limit: limits.trayBytes, inflate: false });
  return (request, response, next) => {
    if (!/^application\/([\w.-]+\+)?json\s*(;|$)/i.test(request.headers['content-type'] ?? '')) {
      request.resume();
      throw new HttpError('MEDIA_TYPE', words().messages.server.takesTray);
    }
    read(request, response, (error?: unknown) => {
      if (error === undefined && !Buffer.isBuffer(request.body)) request.body = Buffer.alloc(0);
      next(error);
    });
  };
}

/** Aborted when the client goes before it has its answer. */
function clientSignal(response: Response): AbortSignal {
  const gone = new AbortController();
  response.on('close', () => {
    if (!response.writableFinished) gone.abort();
  });
  if (response.closed) gone.abort();
  return gone.signal;
}

/** The address's parameters, each given once. @throws GatherpanError BAD_INPUT */
function query(request: Request): Record<string, string> {
  const found: Record<string, string> = {};
  for (const [name, value] of Object.entries(request.query)) {
    if (typeof value !== 'string') {
      throw new GatherpanError('BAD_INPUT', {
        path: name,
        message: words().messages.server.givenTwice(name),
      });
    }
    found[name] = value;
  }
  return found;
}

function refuseUnknown(others: Readonly<Record<string, string>>, known: readonly string[]): void {
  const [name] = Object.keys(others);
  if (name === undefined) return;
  const said = words().messages.server;
  const sentence = known.length > 1 ? said.unknownNameOfSeveral : said.unknownName;
  throw new GatherpanError('BAD_INPUT', {
    path: name,
    message: sentence(JSON.stringify(name.slice(0, 40)), known.join(', ')),
  });
}

/** Formats separated by commas; all of them when none are named. @throws GatherpanError NOT_FOUND */
function formatList(text: string | undefined): string[] {
  if (text === undefined)
    return registry()
      .list()
      .map(({ id }) => id);
  const ids = [...new Set(text.split(',').map((id) => id.trim()))].filter((id) => id !== '');
  for (const id of ids) registry().get(id);
  return ids;
}

function pieces(text: string | undefined, limits: ServerLimits): number {
  if (text === undefined) return 1;
  const count = /^\d{1,6}$/.test(text) ? Number(text) : 0;
  if (count < 1 || count > limits.quantity) {
    throw new GatherpanError('BAD_INPUT', {
      path: 'quantity',
      message: words().messages.server.quantity(JSON.stringify(text.slice(0, 40)), String(limits.quantity)),
    });
  }
  return count;
}

function sendFile(response: Response, file: MadeFile, name: string, extension: string): void {
  response
    .status(200)
    .set({
      'Content-Type': file.mediaType,
      'Content-Disposition': contentDisposition(downloadName(name, extension)),
      'Cache-Control': 'no-store',
    })
    .end(file.bytes);
}

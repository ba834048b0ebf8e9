/** The addresses of the HTTP interface, declared once: the app mounts them, the OpenAPI document describes them. */

import { create as contentDisposition } from 'content-disposition';
import express, { type Request, type RequestHandler, type Response } from 'express';
import { escaped } from '../drawing/svg.ts';
import { ERROR_TABLE, GatherpanError } from '../errors.ts';
import { inUnit } from '../exporters/parameters.ts';
import { downloadName, trayNameFrom } from '../fileName.ts';
import { listSheets, sheetDocument } from '../material/sheets.ts';
import { LENGTH_UNITS, type LengthUnit } from '../papers/lengths.ts';
import { parseTray } from '../tray/readTray.ts';
import { trayJsonSchema } from '../tray/schema.ts';
import { fieldValue, isBox, postedTray } from '../tray/trayForm.ts';
import { inUnits, type TrayObject, unitsOf } from '../tray/writtenTray.ts';
import { words } from '../words/language.ts';
import { inLabels } from './answer.ts';
import { ARCHIVE_TYPE } from './archive.ts';
import { Busy } from './busy.ts';
import { DEMO_TRAY } from './demoTray.ts';
import { registry } from './formats.ts';
import type { DrawingAnswers, FileToRead, Json, MadeFile, MadeFormat, Upload } from './jobs.ts';
import type { ServerLimits } from './limits.ts';
import { NOTES_HEADER, openApi } from './openapi.ts';
import { labelsIn, withAnswer, withRows, withSheets, withTray } from './pageFiles.ts';
import type { Pool } from './pool.ts';
import { HttpError } from './problem.ts';
import type { Sending } from './sending.ts';
import type { FileKind } from './sniff.ts';
import type { Table, TablePlace, Tables } from './table.ts';
import { TRIAL } from './trialFields.ts';
import { type Budget, withUpload } from './upload.ts';
import { withOpenFile } from './uploadPage.ts';

export interface Services {
  readonly version: string;
  readonly limits: ServerLimits;
  readonly pool: Pool;
  /** A thread of its own for solids, begun with the first: reading them takes long and much memory. */
  readonly solids: () => Pool;
  readonly budget: Budget;
  readonly tables: Tables;
  readonly sending: Sending;
  /** The page as it is before a tray is in it. */
  readonly page: string;
  /** The page for the bench as it is before sheets are in it. */
  readonly bench: string;
  /** Whether the service has been told to stop. */
  readonly stopping: () => boolean;
}

/** Seconds in which a thread is likely to be warm. */
const WARMING = 5;

export interface Route {
  readonly method: 'get' | 'post';
  readonly path: string;
  readonly handlers: readonly RequestHandler[];
}

export function routes(services: Services): Route[] {
  const { limits, pool, budget, tables, sending, version } = services;
  const get = (path: string, handler: RequestHandler): Route => ({
    method: 'get',
    path,
    handlers: [handler],
  });
  const fixed = (path: string, value: unknown): Route => {
    const body = JSON.stringify(value);
    return get(path, (_request, response) => {
      sending.limit(response);
      response.type('application/json').set('Cache-Control', 'no-cache').send(body);
    });
  };
  const post = (path: string, ...handlers: RequestHandler[]): Route => ({ method: 'post', path, handlers });
  const tray = trayBody(limits);
  const said = () => words().messages.server;

  /** Sends what a thread made. */
  const send = (response: Response, bytes: Uint8Array, type: string, fileName?: string): void => {
    response.status(200).set({ 'Content-Type': type, 'Cache-Control': 'no-store' });
    if (fileName !== undefined) response.set('Content-Disposition', contentDisposition(fileName));
    sending.send(response, bytes);
  };
  const sendJson = (response: Response, bytes: Json): void =>
    send(response, bytes, 'application/json; charset=utf-8');
  const sendFile = (response: Response, file: MadeFile, name: string | undefined, extension: string): void =>
    send(response, file.bytes, file.mediaType, downloadName(name ?? file.name, extension));

  /** Notes go into a header, escaped as in an address: it takes no other letters than ASCII. */
  const sendFormat = (response: Response, file: MadeFormat, name: string | undefined): void => {
    if (file.notes.length > 0) response.set(NOTES_HEADER, file.notes.map(encodeURIComponent).join(' '));
    sendFile(response, file, name, file.extension);
  };

  /** A form's file and what it does not say, as they came; `kind` from the file's first bytes. */
  const withFile = <T>(
    request: Request,
    work: (
      upload: Upload,
      kind: FileKind,
      fileName: string,
      fields: ReadonlyMap<string, string>,
    ) => Promise<T>,
    wanted?: FileKind,
  ): Promise<T> =>
    withUpload(request, limits, budget, pool.secondsToRoom, async ({ kind, bytes, fileName, fields }) => {
      if (wanted !== undefined && kind !== wanted) {
        const message = wanted === 'table' ? said().upload.noTable : said().upload.noSolid;
        throw new GatherpanError('BAD_INPUT', { path: 'file', message });
      }
      return work({ bytes, name: trayNameFrom(fileName), base: fields.get('base') }, kind, fileName, fields);
    });

  const threadsFor = (file: FileKind) => (file === 'solid' ? services.solids() : pool);
  /** A file that a thread is to read. */
  const fileToRead = (
    upload: Upload,
    file: FileKind,
    fields: ReadonlyMap<string, string>,
    unit: LengthUnit,
  ): FileToRead => ({ ...upload, file, rows: limits.tableRows, said: drawingAnswers(fields), unit });

  /** A table as it was read, in the place that it holds. */
  const tableOf = async (upload: Upload, place: TablePlace, signal: AbortSignal): Promise<Table> => {
    const rows = await pool.run<'table'>({ kind: 'table', ...upload, rows: limits.tableRows }, signal);
    place.left = rows.length;
    return { rows, base: upload.base, place };
  };

  /** A table, read and with one of the places for tables until the work is done. */
  const withTable = async <T>(
    request: Request,
    signal: AbortSignal,
    work: (table: Table, fileName: string) => Promise<T>,
  ): Promise<T> => {
    try {
      return await tables.place((place) =>
        withFile(
          request,
          async (upload, _kind, fileName) => work(await tableOf(upload, place, signal), fileName),
          'table',
        ),
      );
    } catch (error) {
      if (error instanceof Busy) request.resume();
      throw error;
    }
  };

  const sendPage = (response: Response, page: string): void => {
    response.set({ 'Content-Type': 'text/html; charset=utf-8', 'Cache-Control': 'no-store' });
    sending.send(response, new TextEncoder().encode(page));
  };

  return [
    get('/api/health', (_request, response) => {
      response.set('Cache-Control', 'no-store').json({ status: 'ok' });
    }),
    get('/api/ready', (_request, response) => {
      if (services.stopping()) throw new Busy(() => said().stopping, limits.stopTime / 1000);
      if (!pool.ready) throw new Busy(said().warming, WARMING);
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
      const signal = clientSignal(response);
      const job = { kind: 'preview', tray: request.body, unit: onlyUnit(request) } as const;
      sendJson(response, await pool.run<'preview'>(job, signal));
    }),

    post('/api/changes', tray, async (request, response) => {
      const signal = clientSignal(response);
      // Half of what a job may take: the solve that is running then still ends in time.
      const milliseconds = limits.jobTime / 2;
      const job = { kind: 'changes', tray: request.body, milliseconds, unit: onlyUnit(request) } as const;
      sendJson(response, await pool.run<'changes'>(job, signal));
    }),

    post('/api/check', tray, async (request, response) => {
      const signal = clientSignal(response);
      sendJson(response, await pool.run<'check'>({ kind: 'check', tray: request.body }, signal));
    }),

    post('/api/files/:format', tray, async (request, response) => {
      const { format } = request.params as { format: string };
      registry().get(format);
      const { fileName, ...values } = query(request);
      const file = await pool.run<'file'>(
        { kind: 'file', tray: request.body, format, values },
        clientSignal(response),
      );
      sendFormat(response, file, fileName);
    }),

    post('/api/archive', tray, async (request, response) => {
      const { fileName, ...asked } = archiveAsked(request, limits);
      const file = await pool.run<'archive'>(
        { kind: 'archive', tray: request.body, ...asked },
        clientSignal(response),
      );
      sendFile(response, file, fileName, 'zip');
    }),

    post('/api/upload', async (request, response) => {
      const signal = clientSignal(response);
      const unit = onlyUnit(request);
      const read = await withFile(request, (upload, file, _name, fields) =>
        threadsFor(file).run<'upload'>({ kind: 'upload', ...fileToRead(upload, file, fields, unit) }, signal),
      );
      sendJson(response, read);
    }),

    post('/api/part/files/:format', async (request, response) => {
      const { format } = request.params as { format: string };
      registry().get(format);
      const { fileName, ...values } = query(request);
      const signal = clientSignal(response);
      const file = await withFile(
        request,
        (part) => services.solids().run<'partFile'>({ kind: 'partFile', ...part, format, values }, signal),
        'solid',
      );
      sendFormat(response, file, fileName);
    }),

    post('/api/part/archive', async (request, response) => {
      const { fileName, ...asked } = archiveAsked(request, limits);
      const signal = clientSignal(response);
      const file = await withFile(
        request,
        (part) => services.solids().run<'partArchive'>({ kind: 'partArchive', ...part, ...asked }, signal),
        'solid',
      );
      sendFile(response, file, fileName, 'zip');
    }),

    post('/page', posted(limits), async (request, response) => {
      const fields = [...new URLSearchParams(request.body as string)];
      const said = new Map(fields);
      const before = parseTray(said.get('base') || '{}') as TrayObject;
      const start = services.page;
      const labels = labelsIn(withRows(start, before, words()));
      // What was left as it was goes over into another unit; what was typed is in it. Others may post other names.
      const typed = fields.filter(
        ([name, value]) =>
          (isBox(name) || labels.some(([path]) => path === name)) &&
          value.trim() !== fieldValue(before, name),
      );
      const tray = postedTray(inUnits(before, said.get('page-unit') === 'in' ? 'in' : 'mm'), typed);
      const answer = await pool
        .run<'answer'>({ kind: 'answer', tray }, clientSignal(response))
        .catch((error: unknown) => refusal(response, error, labels));
      sendPage(response, withAnswer(withTray(start, tray, words()), answer));
    }),

    post('/open', async (request, response) => {
      const signal = clientSignal(response);
      let start = services.page;
      let before = DEMO_TRAY as TrayObject;
      const answer = await withFile(request, async (upload, file, fileName, fields) => {
        if (upload.base) before = parseTray(upload.base) as TrayObject;
        const unit = unitsOf(before) === 'in' ? 'inch' : 'mm';
        if (file === 'table') {
          const wanted = { formats: ['dxf'], unit } as const;
          return tables.place(async (place) => {
            const table = await tableOf(upload, place, signal);
            const bytes = await tables.archive(table, wanted, signal);
            return { bytes, name: downloadName(fileName, 'zip') };
          });
        }
        const { tray, asks, html } = await threadsFor(file).run<'open'>(
          { kind: 'open', ...fileToRead(upload, file, fields, unit) },
          signal,
        );
        if (asks) start = withOpenFile(start);
        if (tray === null) return html;
        before = inUnits({ ...tray }, unitsOf(before));
        return html + (await pool.run<'answer'>({ kind: 'answer', tray: before }, signal));
      }).catch((error: unknown) => refusal(response, error, labelsIn(start)));
      if (typeof answer === 'string')
        sendPage(response, withAnswer(withTray(start, before, words()), answer));
      else send(response, answer.bytes, ARCHIVE_TYPE, answer.name);
    }),

    post('/bench', posted(limits), async (request, response) => {
      const fields = new URLSearchParams(request.body as string);
      const body = new TextEncoder().encode(fields.get('tray') ?? '');
      const unit = unitFrom(fields.get('unit') ?? undefined);
      const trial = Object.fromEntries([...fields].filter(([name]) => name.startsWith(TRIAL)));
      const sheets = await pool
        .run<'bench'>({ kind: 'bench', tray: body, unit, trial }, clientSignal(response))
        .catch((error: unknown) => refusal(response, error, labelsIn(services.page)));
      sendPage(response, withSheets(services.bench, sheets));
    }),

    post('/page/file', posted(limits), async (request, response) => {
      const fields = new URLSearchParams(request.body as string);
      const body = new TextEncoder().encode(fields.get('tray') ?? '');
      const unit = unitFrom(fields.get('unit') ?? undefined);
      const format = fields.get('format') ?? '';
      const signal = clientSignal(response);
      if (format === '') {
        const all = { formats: formatList(undefined), quantity: 1, unit };
        const file = await pool.run<'archive'>({ kind: 'archive', tray: body, ...all }, signal);
        sendFile(response, file, undefined, 'zip');
        return;
      }
      const values = inUnit(registry().get(format), unit);
      const file = await pool.run<'file'>({ kind: 'file', tray: body, format, values }, signal);
      sendFormat(response, file, undefined);
    }),

    post('/api/table', async (request, response) => {
      const signal = clientSignal(response);
      const unit = onlyUnit(request);
      await withTable(request, signal, (table) => tables.stream(table, unit, signal, response));
      sending.limit(response);
    }),

    post('/api/table/archive', async (request, response) => {
      const { formats, unit: written, ...others } = query(request);
      refuseUnknown(others, ['formats', 'unit']);
      const unit = unitFrom(written);
      const ids = formatList(formats);
      if (ids.length === 0) throw new GatherpanError('BAD_INPUT', said().noFormats);
      const signal = clientSignal(response);
      const [bytes, fileName] = await withTable(
        request,
        signal,
        async (table, name) => [await tables.archive(table, { formats: ids, unit }, signal), name] as const,
      );
      send(response, bytes, ARCHIVE_TYPE, downloadName(fileName, 'zip'));
    }),
  ];
}

/** What was wrong, as a part of a document. @throws what is no fault of what was posted */
function refusal(response: Response, error: unknown, labels: ReturnType<typeof labelsIn>): string {
  if (!(error instanceof GatherpanError)) throw error;
  const said = error.faults.map(({ message }) => escaped(inLabels(message, labels)));
  response.status(ERROR_TABLE[error.code].http);
  return `<section class="result">${said.map((text) => `<p class="notice">${text}</p>`).join('')}</section>`;
}

/** What a form says of a drawing; fields that are left empty say nothing. */
function drawingAnswers(fields: ReadonlyMap<string, string>): DrawingAnswers {
  const said = (['units', 'cornerRadius', 'layer', 'loop'] as const)
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

/** A form of the page as a browser without scripts posts it, as text. */
const posted = (limits: ServerLimits): RequestHandler => {
  const read = express.text({
    type: 'application/x-www-form-urlencoded',
    limit: limits.trayBytes,
    inflate: false,
  });
  return (request, response, next) => {
    if (request.is('application/x-www-form-urlencoded') === false) {
      request.resume();
      throw new HttpError('MEDIA_TYPE', words().messages.server.takesFields);
    }
    read(request, response, (error?: unknown) => {
      if (error === undefined && typeof request.body !== 'string') request.body = '';
      next(error);
    });
  };
};

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

/** What the address says of an archive. @throws GatherpanError BAD_INPUT, NOT_FOUND */
function archiveAsked(request: Request, limits: ServerLimits) {
  const { fileName, formats, quantity, unit, ...others } = query(request);
  refuseUnknown(others, ['fileName', 'formats', 'quantity', 'unit']);
  return {
    fileName,
    formats: formatList(formats),
    quantity: pieces(quantity, limits),
    unit: unitFrom(unit),
  };
}

/** The unit of an address that has no other parameter. @throws GatherpanError BAD_INPUT */
function onlyUnit(request: Request): LengthUnit {
  const { unit, ...others } = query(request);
  refuseUnknown(others, ['unit']);
  return unitFrom(unit);
}

/** @throws GatherpanError BAD_INPUT */
function unitFrom(text: string | undefined): LengthUnit {
  if (text === undefined) return 'mm';
  const unit = LENGTH_UNITS.find((each) => each === text);
  if (unit !== undefined) return unit;
  throw new GatherpanError('BAD_INPUT', {
    path: 'unit',
    message: words().messages.server.unit(JSON.stringify(text.slice(0, 40)), LENGTH_UNITS.join(', ')),
  });
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

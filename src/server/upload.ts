/** Uploads: streamed through a multipart parser, bounded in every direction, kept in memory only. */
import { Busboy, type BusboyHeaders } from '@fastify/busboy';
import type { Request } from 'express';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { Busy } from './busy.ts';
import { megabytes, type ServerLimits } from './limits.ts';
import { HttpError } from './problem.ts';
import { type FileKind, kindOf, SNIFFED } from './sniff.ts';

export interface Upload {
  /** As the client gave it, without folders: for names only, never for deciding anything. */
  readonly fileName: string;
  readonly kind: FileKind;
  readonly bytes: Uint8Array;
  /** The form's other fields. */
  readonly fields: ReadonlyMap<string, string>;
}

/** The memory that all uploads share. */
export interface Budget {
  /** Whether there is room for so many bytes more; takes them if so. */
  take(bytes: number): boolean;
  give(bytes: number): void;
  readonly taken: number;
}

export function createBudget(limit: number): Budget {
  let taken = 0;
  return {
    take(bytes) {
      if (taken + bytes > limit) return false;
      taken += bytes;
      return true;
    },
    give(bytes) {
      taken -= bytes;
    },
    get taken() {
      return taken;
    },
  };
}

/** Characters of a form's Content-Type: its boundary, and room for what else may stand there. */
const LONGEST_TYPE = 150;

const bytesAllowed = (kind: FileKind, limits: ServerLimits): number =>
  ({
    tray: limits.trayBytes,
    table: limits.tableBytes,
    drawing: limits.drawingBytes,
    solid: limits.solidBytes,
  })[kind];

/**
 * The one file of a multipart form, in the field `file`.
 *
 * What the file is gets decided from its first bytes, and from then on that kind's own limit holds.
 *
 * @param secondsToRoom how long other uploads are likely to take, for whoever finds no room
 * @param work what is done with the upload; its memory counts until that has ended
 * @throws HttpError MEDIA_TYPE; GatherpanError TOO_LARGE, BAD_INPUT, CANCELLED (client gone); Busy (memory)
 */
export async function withUpload<T>(
  request: Request,
  limits: ServerLimits,
  budget: Budget,
  secondsToRoom: () => number,
  work: (upload: Upload) => Promise<T>,
): Promise<T> {
  let taken = 0;
  const take = (bytes: number): void => {
    if (!budget.take(bytes)) {
      throw new Busy(words().messages.server.busyUploads, secondsToRoom());
    }
    taken += bytes;
  };
  try {
    return await work(await received(request, limits, take));
  } finally {
    budget.give(taken);
  }
}

function received(request: Request, limits: ServerLimits, take: (bytes: number) => void): Promise<Upload> {
  const type = request.headers['content-type'];
  if (type === undefined || !/^multipart\/form-data\s*;/i.test(type)) {
    throw new HttpError('MEDIA_TYPE', words().messages.server.takesForm);
  }
  const said = words().messages.server.upload;
  const largest = Math.max(limits.trayBytes, limits.tableBytes, limits.drawingBytes, limits.solidBytes);
  const declared = Number(request.headers['content-length'] ?? 0);
  // Room for the form's other fields and the lines between its parts.
  if (declared > largest + limits.trayBytes + 10_000) {
    leave(request);
    throw fault('TOO_LARGE', said.tooLargeSaid(megabytes(declared), megabytes(largest)));
  }
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    const fields = new Map<string, string>();
    let size = 0;
    let fileName: string | null = null;
    let kind: FileKind | null = null;
    let parser: ReturnType<typeof Busboy>;
    const fail = (error: unknown): void => {
      request.off('close', gone);
      request.unpipe(parser);
      leave(request);
      reject(error);
    };
    const gone = (): void => {
      // A request that has come whole closes as well; the parser then says what it makes of it.
      if (!request.complete) fail(fault('CANCELLED', said.brokenOff));
    };
    const guarded = (step: () => void): void => {
      try {
        step();
      } catch (error) {
        fail(error);
      }
    };
    // A boundary has up to 70 characters (RFC 2046, 5.1.1); the time to look for one grows with its length.
    if (type.length > LONGEST_TYPE) {
      leave(request);
      reject(fault('BAD_INPUT', said.noBoundary));
      return;
    }
    try {
      parser = Busboy({
        headers: request.headers as BusboyHeaders,
        limits: {
          fileSize: largest + 1,
          files: 1,
          fields: 8,
          parts: 9,
          fieldNameSize: 100,
          fieldSize: limits.trayBytes,
          headerPairs: 50,
          headerSize: 8_000,
        },
      });
    } catch {
      leave(request);
      reject(fault('BAD_INPUT', said.noBoundary));
      return;
    }
    parser.on('file', (field, stream, name) => {
      stream.on('error', () => {}); // told by the parser as well
      if (field !== 'file') {
        stream.resume();
        fail(fault('BAD_INPUT', said.otherField(JSON.stringify(field.slice(0, 40)))));
        return;
      }
      fileName = name ?? '';
      stream.on('data', (chunk: Buffer) =>
        guarded(() => {
          take(chunk.length);
          chunks.push(chunk);
          size += chunk.length;
          if (kind === null && size >= SNIFFED) kind = kindOf(Buffer.concat(chunks).subarray(0, SNIFFED));
          if (size > (kind === null ? largest : bytesAllowed(kind, limits))) throw tooLarge(kind, limits);
        }),
      );
    });
    parser.on('field', (name, value, _nameTruncated, valueTruncated) =>
      guarded(() => {
        if (valueTruncated) throw fault('TOO_LARGE', said.fieldTooLong(JSON.stringify(name)));
        take(value.length);
        fields.set(name, value);
      }),
    );
    const many = (): void => fail(fault('BAD_INPUT', said.tooManyParts));
    parser.on('filesLimit', many);
    parser.on('fieldsLimit', many);
    parser.on('partsLimit', many);
    parser.on('error', () => fail(fault('BAD_INPUT', said.malformed)));
    parser.on('finish', () =>
      guarded(() => {
        request.off('close', gone);
        if (fileName === null) throw fault('BAD_INPUT', said.noFile);
        const bytes = joined(chunks, size);
        chunks.length = 0;
        kind ??= kindOf(bytes.subarray(0, SNIFFED));
        if (bytes.length > bytesAllowed(kind, limits)) throw tooLarge(kind, limits);
        resolve({ fileName, kind, bytes, fields });
      }),
    );
    request.on('close', gone);
    request.pipe(parser);
  });
}

/**
 * Reads and drops the rest of a request that is refused, so that the client gets to read the answer; the
 * server's time limit for a request ends it in any case.
 */
function leave(request: Request): void {
  request.resume();
}

/** In a buffer of its own, which can be handed to a thread without being copied again. */
function joined(chunks: readonly Uint8Array[], size: number): Uint8Array {
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}

const fault = (code: 'BAD_INPUT' | 'TOO_LARGE' | 'CANCELLED', message: string): GatherpanError =>
  new GatherpanError(code, { path: 'file', message });

function tooLarge(kind: FileKind | null, limits: ServerLimits): GatherpanError {
  const said = words().messages.server.upload;
  return fault(
    'TOO_LARGE',
    kind === null ? said.tooLarge : said.tooLargeFor[kind](megabytes(bytesAllowed(kind, limits))),
  );
}

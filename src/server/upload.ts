/** Uploads: streamed through a multipart parser, bounded in every direction, kept in memory only. */
import { Busboy, type BusboyHeaders } from '@fastify/busboy';
import type { Request } from 'express';
import { GatherpanError } from '../errors.ts';
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

const KIND_WORDS: Readonly<Record<FileKind, string>> = {
  tray: 'tray file',
  table: 'table of sizes',
  drawing: 'drawing',
  solid: 'solid',
};

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
 * @param work what is done with the upload; its memory counts until that has ended
 * @throws HttpError MEDIA_TYPE; GatherpanError TOO_LARGE, BAD_INPUT, BUSY (memory), CANCELLED (client gone)
 */
export async function withUpload<T>(
  request: Request,
  limits: ServerLimits,
  budget: Budget,
  work: (upload: Upload) => Promise<T>,
): Promise<T> {
  let taken = 0;
  const take = (bytes: number): void => {
    if (!budget.take(bytes)) {
      throw new GatherpanError('BUSY', 'Too many files are being uploaded at this moment; try again soon.');
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
    throw new HttpError(
      'MEDIA_TYPE',
      'This address takes multipart/form-data with the file in the field "file".',
    );
  }
  const largest = Math.max(limits.trayBytes, limits.tableBytes, limits.drawingBytes, limits.solidBytes);
  const declared = Number(request.headers['content-length'] ?? 0);
  // Room for the form's other fields and the lines between its parts.
  if (declared > largest + limits.trayBytes + 10_000) {
    leave(request);
    throw fault(
      'TOO_LARGE',
      `The file is ${megabytes(declared)}; a file of at most ${megabytes(largest)} is accepted.`,
    );
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
      if (!request.complete) fail(fault('CANCELLED', 'The upload was broken off.'));
    };
    const guarded = (step: () => void): void => {
      try {
        step();
      } catch (error) {
        fail(error);
      }
    };
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
      reject(fault('BAD_INPUT', 'The form is malformed: its Content-Type has no boundary.'));
      return;
    }
    parser.on('file', (field, stream, name) => {
      stream.on('error', () => {}); // told by the parser as well
      if (field !== 'file') {
        stream.resume();
        fail(
          fault(
            'BAD_INPUT',
            `The form has a file in the field ${JSON.stringify(field.slice(0, 40))}; the field "file" is accepted.`,
          ),
        );
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
        if (valueTruncated) throw fault('TOO_LARGE', `The field ${JSON.stringify(name)} is too long.`);
        take(value.length);
        fields.set(name, value);
      }),
    );
    const many = (): void => fail(fault('BAD_INPUT', 'The form has more parts than one file and 8 fields.'));
    parser.on('filesLimit', many);
    parser.on('fieldsLimit', many);
    parser.on('partsLimit', many);
    parser.on('error', () =>
      fail(fault('BAD_INPUT', 'The upload is malformed or ends too early; send it again.')),
    );
    parser.on('finish', () =>
      guarded(() => {
        request.off('close', gone);
        if (fileName === null)
          throw fault('BAD_INPUT', 'The form has no file; give one in the field "file".');
        const bytes = Buffer.concat(chunks);
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

const fault = (code: 'BAD_INPUT' | 'TOO_LARGE' | 'CANCELLED', message: string): GatherpanError =>
  new GatherpanError(code, { path: 'file', message });

const tooLarge = (kind: FileKind | null, limits: ServerLimits): GatherpanError =>
  kind === null
    ? fault('TOO_LARGE', 'The file is too large.')
    : fault(
        'TOO_LARGE',
        `The file is too large for a ${KIND_WORDS[kind]}; at most ${megabytes(bytesAllowed(kind, limits))} are accepted.`,
      );

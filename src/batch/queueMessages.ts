/**
 * What goes over the queue, and what of it is believed. Whoever reaches the queue's server can put anything there, so
 * a chunk that comes to a worker and the results that come back are a stranger's input: every field is looked at, and
 * what can be reckoned again is.
 */
import { isDeepStrictEqual } from 'node:util';
import { gunzipSync, gzipSync } from 'node:zlib';
import * as z from 'zod';
import { ERROR_TABLE, type ErrorCode, GatherpanError } from '../errors.ts';
import type { Registry } from '../exporters/registry.ts';
import { sourceOf } from '../jobs/exporterHost.ts';
import { fileNamesOf } from '../jobs/fileNames.ts';
import { sha256 } from '../jobs/manifest.ts';
import { isPlainFileName } from '../jobs/plainFileName.ts';
import { readTray } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import { type Chunk, MOST_CHUNK_ROWS, rowKey } from './plan.ts';
import {
  blankSchema,
  hashSchema,
  keySchema,
  outlineSchema,
  reportSchema,
  sentenceSchema,
} from './resultSchema.ts';
import type { RowResult } from './solveChunk.ts';

/** Queue of chunks; the number changes with the messages' form. */
export const QUEUE_NAME = 'gatherpan-batch-3';

/** Results of a chunk, unpacked, bytes: far more than 32 trays have in all formats. */
const MOST_UNPACKED = 400_000_000;

/** What a worker sends back: gzip of JSON, base64, file contents in it base64 as well. */
export interface ResultMessage {
  readonly program: string;
  readonly results: string;
}

/** Base64 as Node writes it (RFC 4648, section 4), told by its letters and its length. */
const base64Schema = z
  .string()
  .regex(/^[A-Za-z0-9+/]*={0,2}$/)
  .refine((text) => text.length % 4 === 0);

const messageSchema: z.ZodType<ResultMessage> = z.strictObject({
  program: hashSchema,
  results: base64Schema.refine((text) => text.length < MOST_UNPACKED),
});

const errorCodes = [...(Object.keys(ERROR_TABLE) as ErrorCode[]), 'FAULT'] as const;

const resultsSchema = z
  .array(
    z.discriminatedUnion('ok', [
      z.strictObject({
        row: z.int().positive(),
        key: keySchema,
        ok: z.literal(true),
        files: z
          .array(
            z.strictObject({
              name: z.string(),
              size: z.int().nonnegative(),
              sha256: hashSchema,
              bytes: base64Schema,
            }),
          )
          .max(100),
        report: reportSchema,
        outline: outlineSchema,
        blank: blankSchema.optional(),
        afterTimeout: z.literal(true).optional(),
      }),
      z.strictObject({
        row: z.int().positive(),
        key: keySchema,
        ok: z.literal(false),
        error: z.strictObject({
          code: z.enum(errorCodes),
          faults: z
            .array(z.strictObject({ path: sentenceSchema, message: sentenceSchema.min(1) }))
            .min(1)
            .max(100),
        }),
      }),
    ]),
  )
  .max(MOST_CHUNK_ROWS);

const chunkSchema = z.strictObject({
  number: z.int().nonnegative(),
  program: hashSchema,
  formats: z
    .array(
      z.strictObject({
        id: z.string().regex(/^[a-z][a-z0-9-]{0,60}$/),
        extension: z.string().regex(/^[a-z0-9]+([.-][a-z0-9]+)*$/),
        source: hashSchema.optional(),
        values: z.record(z.string().max(100), z.union([z.boolean(), z.number(), z.string().max(1000)])),
      }),
    )
    .max(100),
  rows: z
    .array(
      z.strictObject({ row: z.int().positive(), spec: z.unknown(), key: keySchema, wanted: z.boolean() }),
    )
    .min(1)
    .max(MOST_CHUNK_ROWS),
  blanks: z.boolean().optional(),
  limit: z.number().positive().max(1e6).optional(),
});

export function encodeResults(results: readonly RowResult[], program: string): ResultMessage {
  const plain = results.map((result) =>
    result.ok
      ? {
          ...result,
          files: result.files.map(({ name, bytes }) => ({
            name,
            size: bytes.length,
            sha256: sha256(bytes),
            bytes: Buffer.from(bytes).toString('base64'),
          })),
        }
      : result,
  );
  return { program, results: gzipSync(JSON.stringify(plain)).toString('base64') };
}

/**
 * The results of a chunk.
 *
 * @throws GatherpanError BAD_INPUT with one sentence when they are not those of this chunk by this program
 */
export function decodeResults(message: unknown, chunk: Chunk): RowResult[] {
  const { reasons } = words().messages.batch.queue;
  const refused = (reason: string): GatherpanError => {
    const rows = chunk.rows.filter(({ wanted }) => wanted).map(({ row }) => row);
    const { noResults } = words().messages.batch.queue;
    return new GatherpanError('BAD_INPUT', noResults(String(rows[0]), String(rows.at(-1)), reason));
  };
  const packed = messageSchema.safeParse(message);
  if (!packed.success) throw refused(reasons.form);
  if (packed.data.program !== chunk.program) throw refused(reasons.program);
  let unpacked: unknown;
  try {
    const bytes = gunzipSync(Buffer.from(packed.data.results, 'base64'), { maxOutputLength: MOST_UNPACKED });
    unpacked = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    throw refused(reasons.packing);
  }
  const read = resultsSchema.safeParse(unpacked);
  if (!read.success) throw refused(reasons.form);
  const wanted = chunk.rows.filter((row) => row.wanted);
  const results = read.data;
  const same =
    results.length === wanted.length &&
    results.every(({ row, key }, i) => row === wanted[i]!.row && key === wanted[i]!.key);
  if (!same) throw refused(reasons.rows);
  return results.map((result, i): RowResult => {
    if (!result.ok) return result;
    const names = fileNamesOf(wanted[i]!.spec.name, chunk.formats);
    if (result.files.length !== names.length) throw refused(reasons.files);
    const files = result.files.map((file, place) => {
      if (file.name !== names[place] || !isPlainFileName(file.name)) throw refused(reasons.files);
      const bytes = new Uint8Array(Buffer.from(file.bytes, 'base64'));
      if (bytes.length !== file.size || sha256(bytes) !== file.sha256) throw refused(reasons.bytes);
      return { name: file.name, bytes };
    });
    if ((result.blank !== undefined) !== (chunk.blanks === true)) throw refused(reasons.form);
    const { blank, afterTimeout, ...rest } = result;
    return {
      ...rest,
      files,
      ...(blank === undefined ? {} : { blank }),
      ...(afterTimeout === undefined ? {} : { afterTimeout }),
    };
  });
}

/** Why a worker does not take a chunk: it is another program's, of other formats, or no chunk at all. */
export class RefusedChunk extends GatherpanError {
  /** Whether another worker may take it. */
  readonly forOthers: boolean;

  constructor(message: string, forOthers: boolean) {
    super('BAD_INPUT', message);
    this.forOthers = forOthers;
  }
}

/**
 * A chunk that came over the queue. Its trays are read as if a person had written them, and its keys reckoned again.
 *
 * @param program of this worker
 * @throws RefusedChunk
 */
export function decodeChunk(data: unknown, program: string): Chunk {
  const said = words().messages.batch.queue;
  const asking = z.object({ program: z.string() }).safeParse(data);
  // The form of another program's chunk is not for this one to judge.
  if (asking.success && asking.data.program !== program) throw new RefusedChunk(said.otherProgram, true);
  const read = chunkSchema.safeParse(data);
  if (!read.success) throw new RefusedChunk(said.noChunk(said.reasons.form), false);
  const { rows, blanks, limit, formats, ...rest } = read.data;
  const chosen = formats.map(({ source, ...format }) => ({
    ...format,
    ...(source === undefined ? {} : { source }),
  }));
  let before = '';
  const checked = rows.map(({ spec: given, row, key, wanted }) => {
    const spec = traySpec(given);
    if (spec === null) throw new RefusedChunk(said.noChunk(said.reasons.tray), false);
    if (rowKey(spec, chosen, program, before) !== key)
      throw new RefusedChunk(said.noChunk(said.reasons.rows), false);
    before = key;
    return { row, spec, key, wanted };
  });
  return {
    ...rest,
    formats: chosen,
    rows: checked,
    ...(blanks === undefined ? {} : { blanks }),
    ...(limit === undefined ? {} : { limit }),
  };
}

/**
 * A format that this worker does not have, or has from another state of its module, is for another worker.
 *
 * @throws RefusedChunk
 */
export function refuseOtherFormats({ formats }: Chunk, registry: Registry): void {
  const said = words().messages.batch.queue;
  const own = new Map(registry.list().map((exporter) => [exporter.id, sourceOf(exporter)]));
  for (const { id, source } of formats) {
    if (!own.has(id)) throw new RefusedChunk(said.noFormat(id), true);
    if (source !== undefined && own.get(id) !== source) throw new RefusedChunk(said.otherModule(id), true);
  }
}

/** A complete tray reads as itself; null for anything else. */
function traySpec(given: unknown): TraySpec | null {
  try {
    const spec = readTray(given);
    return isDeepStrictEqual(JSON.parse(JSON.stringify(spec)), given) ? spec : null;
  } catch {
    return null;
  }
}

/** A failure's reason from the queue's server, when it can be shown to a person. */
export const shownReason = (reason: unknown): string =>
  sentenceSchema.min(1).safeParse(reason).data ?? words().messages.batch.queue.noReason;

/**
 * What is believed of a tray's result that comes from outside this process: from a worker on the queue, or from the
 * journal of an earlier run. The types are those of `solveChunk.ts` and `journalLines.ts`, so that a field that is
 * added there is missed here by the compiler.
 */
import * as z from 'zod';
import type { Vertex } from '../geometry/path.ts';
import type { MadeReport, RowFigures } from '../jobs/rowReport.ts';
import type { Blank } from './blank.ts';

/** More than any outline has; a list beyond it is no outline. */
const MOST_VERTICES = 100_000;

/** A sentence for a person: what would move a terminal's cursor or colour its text is none. */
export const sentenceSchema = z
  .string()
  .max(4000)
  .regex(/^[^\p{Cc}]*$/u);

export const keySchema = z.string().regex(/^[0-9a-f]{32}$/);
export const hashSchema = z.string().regex(/^[0-9a-f]{64}$/);

const vertexSchema: z.ZodType<Vertex> = z.strictObject({ x: z.number(), y: z.number(), bulge: z.number() });

export const outlineSchema: z.ZodType<readonly Vertex[]> = z.array(vertexSchema).min(2).max(MOST_VERTICES);

const pathSchema = z.strictObject({
  vertices: z.array(vertexSchema).max(MOST_VERTICES),
  closed: z.boolean(),
});

const figuresSchema: z.ZodType<RowFigures> = z.strictObject({
  material: z.string().max(200),
  thickness: z.number().positive(),
  blankLength: z.number().positive(),
  blankWidth: z.number().positive(),
  area: z.number().nonnegative(),
  mass: z.number().nonnegative(),
  cutLength: z.number().positive(),
  segments: z.int().positive(),
  rimToLose: z.number(),
  peakGather: z.number(),
  peakStretch: z.number(),
  thickest: z.number().positive(),
  thinnest: z.number().positive(),
  anneals: z.int().nonnegative().nullable(),
});

export const reportSchema: z.ZodType<MadeReport> = z.strictObject({
  verdict: z.enum(['can be worked', 'can be worked with care', 'not in one piece']),
  reasons: z.array(sentenceSchema).max(1000),
  warnings: z.array(sentenceSchema).max(1000),
  figures: figuresSchema,
});

export const blankSchema: z.ZodType<Blank> = z.strictObject({
  name: z.string().max(200),
  outline: pathSchema,
  holes: z.array(z.strictObject({ name: z.string().max(200), path: pathSchema })).max(10_000),
  scribeLines: z
    .array(
      z.strictObject({ kind: z.enum(['bend-begin', 'bend-end', 'net-rim', 'rim-mark']), path: pathSchema }),
    )
    .max(10_000),
  sheet: z.strictObject({
    material: z.strictObject({ name: z.string().max(200), density: z.number().positive() }),
    thickness: z.number().positive(),
    grain: z.number(),
  }),
});

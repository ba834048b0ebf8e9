/**
 * The measurements file: what was measured on one trial corner.
 *
 * mm inside; a file may be in inches. The corner was worked on a blank cut from the tray file (its hand, spread and trim), and is
 * measured before the rim is trimmed.
 */
import * as z from 'zod';
import { GatherpanError } from '../errors.ts';
import { CORNER_PATTERN, SIDE_PATTERN } from '../tray/cornerLetter.ts';
import { choice, length, meaning, object, UNITS, type Units } from '../tray/fields.ts';
import { LIMITS } from '../tray/limits.ts';
import { jsonSchemaByUnits } from '../tray/schema.ts';
import { faultsFromIssues } from '../tray/sentences.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import { words } from '../words/language.ts';
import type { HeightFrom, MarkPair } from './trial.ts';

export interface Measurements {
  /** Letter or number of a corner, or of a curved side. */
  readonly corner: string | number;
  /** Height of the blank's edge. */
  readonly rimHeight?: {
    /** Above the table the tray stands on, outside; else above the base, on the skin the tray file measures on. */
    readonly from?: HeightFrom;
    readonly middle?: number;
    readonly start?: number;
    readonly end?: number;
    readonly error: number;
  };
  /** Thickness of the blank's edge in the corner's middle. */
  readonly rimThickness?: { readonly middle: number; readonly error: number };
  readonly marks?: readonly (MarkPair & { readonly after: number; readonly error: number })[];
}

/** Measuring errors when none are given, mm: a steel rule, a micrometer (common practice, no source). */
export const RULE_ERROR = 0.3;
export const MICROMETER_ERROR = 0.02;

const ERROR_RANGE = [0.001, 10] as const;
const MOST_MARKS = 20;

const take = () => words().messages.gather.accepted;

const means = () => words().messages.gather.described;
const cornerWanted = (): string => take().corner;

const unitsMeaning = (): string => words().messages.tray.fields.described.units;

/** The schema of a measurements file in these units: two, so that limits are named in the person's own. */
function measurementsSchema(units: Units) {
  /** One standard error of measuring, in the file's units. */
  const error = (otherwise: number) =>
    length(units, ERROR_RANGE, () => means().error).default(
      units === 'mm' ? otherwise : otherwise / MILLIMETRES_PER_INCH,
    );
  const height = (meaning: () => string) => length(units, LIMITS.height, meaning).optional();
  return object(
    {
      units:
        units === 'mm'
          ? choice(['mm'], unitsMeaning, UNITS).default('mm')
          : choice(['in'], unitsMeaning, UNITS),
      corner: z
        .union(
          [
            z.string({ error: cornerWanted }).regex(CORNER_PATTERN, { error: cornerWanted }),
            z.string({ error: cornerWanted }).regex(SIDE_PATTERN, { error: cornerWanted }),
            z.int({ error: cornerWanted }).min(0, { error: cornerWanted }),
          ],
          { error: cornerWanted },
        )
        .meta(meaning(() => means().corner))
        .default(0),
      rimHeight: object(
        {
          from: choice(['table', 'base'], () => means().from).optional(),
          middle: height(() => means().middle),
          start: height(() => means().start),
          end: height(() => means().end),
          error: error(RULE_ERROR),
        },
        () => take().rimHeight,
        () => means().rimHeight,
      ).optional(),
      rimThickness: object(
        {
          middle: length(units, LIMITS.thickness, () => means().thickness),
          error: error(MICROMETER_ERROR),
        },
        () => take().rimThickness,
        () => means().rimThickness,
      ).optional(),
      marks: z
        .array(
          object(
            {
              direction: choice(['along', 'up'], () => means().direction),
              inset: length(units, [0, 2000], () => means().inset),
              before: length(units, [1, 2000], () => means().before),
              after: length(units, [0.1, 4000], () => means().after),
              skin: choice(['middle', 'outside', 'inside'], () => means().skin).optional(),
              error: error(RULE_ERROR),
            },
            () => take().mark,
          ),
          { error: () => take().marks },
        )
        .max(MOST_MARKS, { error: () => take().mostMarks(String(MOST_MARKS)) })
        .meta(meaning(() => means().marks))
        .optional(),
    },
    () => take().file,
    () => means().file,
  );
}

/** The JSON Schema (draft 2020-12) of measurements files, for editors. */
export const measurementsJsonSchema = (): Record<string, unknown> =>
  jsonSchemaByUnits(measurementsSchema, means().title, means().file);

/**
 * Checked measurements from the contents of a measurements file.
 *
 * @throws GatherpanError BAD_INPUT with one fault for every field that is not acceptable, or when nothing was
 *   measured
 */
export function readMeasurements(value: unknown): Measurements {
  const inInches = typeof value === 'object' && value !== null && 'units' in value && value.units === 'in';
  const schema = measurementsSchema(inInches ? 'in' : 'mm');
  const parsed = schema.safeParse(value);
  if (!parsed.success) {
    const { file } = words().messages.gather;
    throw new GatherpanError('BAD_INPUT', faultsFromIssues(parsed.error.issues, value, schema, file));
  }
  const { corner, rimHeight, rimThickness, marks } = parsed.data;
  const heights = [rimHeight?.middle, rimHeight?.start, rimHeight?.end].filter((each) => each !== undefined);
  if (heights.length === 0 && rimThickness === undefined && (marks ?? []).length === 0) {
    throw new GatherpanError('BAD_INPUT', words().messages.gather.nothingMeasured);
  }
  // In mm; properties that are absent are left out, not undefined.
  const mm = <T extends object>(given: T): Present<T> =>
    Object.fromEntries(
      Object.entries(given)
        .filter(([, each]) => each !== undefined)
        .map(([key, each]) => [
          key,
          inInches && typeof each === 'number' ? MILLIMETRES_PER_INCH * each : each,
        ]),
    ) as Present<T>;
  return {
    corner,
    ...(heights.length === 0 ? {} : { rimHeight: mm(rimHeight!) }),
    ...(rimThickness === undefined ? {} : { rimThickness: mm(rimThickness) }),
    ...(marks === undefined || marks.length === 0 ? {} : { marks: marks.map((mark) => mm(mark)) }),
  };
}

type Present<T> = { [K in keyof T]: Exclude<T[K], undefined> };

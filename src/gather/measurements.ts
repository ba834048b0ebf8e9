/**
 * The measurements file: what was measured on one trial corner.
 *
 * mm throughout. The corner was worked on a blank cut from the tray file (its hand, spread and trim), and is
 * measured before the rim is trimmed.
 */
import * as z from 'zod';
import { GatherpanError } from '../errors.ts';
import { CORNER_PATTERN, SIDE_PATTERN } from '../tray/cornerLetter.ts';
import { choice, number, object } from '../tray/fields.ts';
import { LIMITS } from '../tray/limits.ts';
import { faultsFromIssues } from '../tray/sentences.ts';
import { words } from '../words/language.ts';
import type { MarkPair } from './trial.ts';

export interface Measurements {
  /** Letter or number of a corner, or of a curved side. */
  readonly corner: string | number;
  /** Height of the blank's edge above the base, on the skin the tray file measures on. */
  readonly rimHeight?: {
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
const RULE_ERROR = 0.3;
const MICROMETER_ERROR = 0.02;

const ERROR_RANGE = [0.001, 10] as const;
const MOST_MARKS = 20;

const take = () => words().messages.gather.accepted;

/** One standard error of measuring. */
const error = (otherwise: number) => number(ERROR_RANGE, 'mm').default(otherwise);
/** Of the blank's edge above the base, before trimming. */
const height = number(LIMITS.height, 'mm').optional();
const cornerWanted = (): string => take().corner;

const schema = object(
  {
    corner: z
      .union(
        [
          z.string({ error: cornerWanted }).regex(CORNER_PATTERN, { error: cornerWanted }),
          z.string({ error: cornerWanted }).regex(SIDE_PATTERN, { error: cornerWanted }),
          z.int({ error: cornerWanted }).min(0, { error: cornerWanted }),
        ],
        { error: cornerWanted },
      )
      .default(0),
    rimHeight: object(
      { middle: height, start: height, end: height, error: error(RULE_ERROR) },
      () => take().rimHeight,
    ).optional(),
    rimThickness: object(
      { middle: number(LIMITS.thickness, 'mm'), error: error(MICROMETER_ERROR) },
      () => take().rimThickness,
    ).optional(),
    marks: z
      .array(
        object(
          {
            // Side by side along the rim, or one above the other.
            direction: choice(['along', 'up']),
            // From the cut edge to the marks on the flat blank.
            inset: number([0, 2000], 'mm'),
            // Distance on the flat blank, and over the formed surface.
            before: number([1, 2000], 'mm'),
            after: number([0.1, 4000], 'mm'),
            error: error(RULE_ERROR),
          },
          () => take().mark,
        ),
        { error: () => take().marks },
      )
      .max(MOST_MARKS, { error: () => take().mostMarks(String(MOST_MARKS)) })
      .optional(),
  },
  () => take().file,
);

/**
 * Checked measurements from the contents of a measurements file.
 *
 * @throws GatherpanError BAD_INPUT with one fault for every field that is not acceptable, or when nothing was
 *   measured
 */
export function readMeasurements(value: unknown): Measurements {
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
  return {
    corner,
    ...(heights.length === 0 ? {} : { rimHeight: withoutAbsent(rimHeight!) }),
    ...(rimThickness === undefined ? {} : { rimThickness }),
    ...(marks === undefined || marks.length === 0 ? {} : { marks }),
  };
}

/** Properties that are absent are left out, not undefined. */
function withoutAbsent(given: {
  middle?: number | undefined;
  start?: number | undefined;
  end?: number | undefined;
  error: number;
}): NonNullable<Measurements['rimHeight']> {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as NonNullable<
    Measurements['rimHeight']
  >;
}

/**
 * The measurements file: what was measured on one trial corner.
 *
 * mm throughout. The corner was worked on a blank cut from the tray file (its hand, spread and trim), and is
 * measured before the rim is trimmed.
 */
import { z } from 'zod';
import { GatherpanError } from '../errors.ts';
import { choice, number, object } from '../tray/fields.ts';
import { LIMITS } from '../tray/limits.ts';
import { faultsFromIssues } from '../tray/sentences.ts';
import type { MarkPair } from './trial.ts';

export interface Measurements {
  /** Number of the plan corner. */
  readonly corner: number;
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
const error = (otherwise: number) =>
  number(ERROR_RANGE, 'mm', 'Measuring error (one standard error).').default(otherwise);
const height = (where: string) =>
  number(LIMITS.height, 'mm', `Height of the blank's edge above the base ${where}.`).optional();

const schema = object(
  {
    corner: z
      .int({ error: 'the number of a plan corner, from 0' })
      .min(0, { error: 'the number of a plan corner, from 0' })
      .meta({ description: 'Number of the plan corner, counter-clockwise from 0.' })
      .default(0),
    rimHeight: object(
      {
        middle: height('in the middle of the corner'),
        start: height('where the corner begins'),
        end: height('where the corner ends'),
        error: error(RULE_ERROR),
      },
      'an object with middle, start and end',
      'Heights of the edge before trimming.',
    ).optional(),
    rimThickness: object(
      { middle: number(LIMITS.thickness, 'mm', 'Thickness of the edge.'), error: error(MICROMETER_ERROR) },
      'an object with middle',
      'Thickness of the edge in the middle of the corner.',
    ).optional(),
    marks: z
      .array(
        object(
          {
            direction: choice(['along', 'up'], 'Side by side along the rim, or one above the other.'),
            inset: number([0, 2000], 'mm', 'From the cut edge to the marks on the flat blank.'),
            before: number([1, 2000], 'mm', 'Distance on the flat blank.'),
            after: number([0.1, 4000], 'mm', 'Distance over the formed surface.'),
            error: error(RULE_ERROR),
          },
          'an object with direction, inset, before and after',
          'Two scribed marks.',
        ),
        { error: 'a list of marks' },
      )
      .max(20, { error: 'a list of at most 20 marks' })
      .optional(),
  },
  'an object with rimHeight, rimThickness or marks',
  'What was measured on one trial corner.',
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
    const faults = faultsFromIssues(parsed.error.issues, value, schema).map((fault) => ({
      ...fault,
      message: fault.message.replace(/^The tray file/, 'The measurements file'),
    }));
    throw new GatherpanError('BAD_INPUT', faults);
  }
  const { corner, rimHeight, rimThickness, marks } = parsed.data;
  const heights = [rimHeight?.middle, rimHeight?.start, rimHeight?.end].filter((each) => each !== undefined);
  if (heights.length === 0 && rimThickness === undefined && (marks ?? []).length === 0) {
    throw new GatherpanError(
      'BAD_INPUT',
      'The measurements file has no measurement; give rimHeight, rimThickness or marks.',
    );
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

/**
 * Trial corners kept under names: who worked one, of what sheet, what was measured and the hand that it gave. A blank of
 * the same or of another tray can then be cut for that hand. mm and per cent.
 */
import * as z from 'zod';
import { GatherpanError } from '../errors.ts';
import { resolveSheet } from '../material/sheets.ts';
import { meaning, number, object, text } from '../tray/fields.ts';
import { LIMITS } from '../tray/limits.ts';
import { faultsFromIssues } from '../tray/sentences.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import type { HandFit } from './handFit.ts';

/** Trials that are kept in one place at most. */
export const MOST_TRIALS = 1000;

const said = () => words().messages.gather.trials;
const name = () =>
  text(
    () => said().accepted.name,
    () => said().described.name,
  );

const schema = () =>
  object(
    {
      trials: z
        .array(
          object(
            {
              name: name(),
              person: text(
                () => said().accepted.name,
                () => said().described.person,
              ).optional(),
              date: text(
                () => said().accepted.name,
                () => said().described.date,
              ).optional(),
              tray: z
                .string({ error: () => said().accepted.name })
                .meta(meaning(() => said().described.tray)),
              sheet: object(
                {
                  material: text(
                    () => said().accepted.name,
                    () => said().described.material,
                  ),
                  thickness: number(LIMITS.thickness, 'mm', () => said().described.thickness),
                },
                () => said().accepted.sheet,
              ),
              hand: object(
                {
                  value: number([0, 1], '', () => said().described.hand),
                  low: number([0, 1], '', () => said().described.low),
                  high: number([0, 1], '', () => said().described.high),
                },
                () => said().accepted.hand,
              ),
              spread: number(LIMITS.spread, '%', () => said().described.spread).optional(),
              measurements: z.unknown().meta(meaning(() => said().described.measurements)),
            },
            () => said().accepted.trial,
          ),
          { error: () => said().accepted.trials },
        )
        .max(MOST_TRIALS, { error: () => said().accepted.most(String(MOST_TRIALS)) }),
    },
    () => said().accepted.file,
  );

export type KeptTrial = z.infer<ReturnType<typeof schema>>['trials'][number];

/** Whether what stands in a file are kept trials, and not the measurements of one. */
export const areTrials = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && 'trials' in value;

/** @throws GatherpanError BAD_INPUT with a fault for every field that is not acceptable, or for a name given twice */
export function readTrials(value: unknown): readonly KeptTrial[] {
  const wanted = schema();
  const parsed = wanted.safeParse(value);
  if (!parsed.success)
    throw new GatherpanError('BAD_INPUT', faultsFromIssues(parsed.error.issues, value, wanted, said().file));
  const { trials } = parsed.data;
  const twice = trials.find((trial, i) => trials.findIndex((each) => each.name === trial.name) !== i);
  if (twice !== undefined) throw new GatherpanError('BAD_INPUT', said().twice(JSON.stringify(twice.name)));
  return trials;
}

/** What is told of a trial beside what was measured. */
export interface TrialMark {
  readonly name: string;
  readonly person?: string;
  readonly date?: string;
}

/**
 * A trial to be kept.
 *
 * @param measurements as they were given
 * @throws GatherpanError BAD_INPUT for a name that is none
 */
export function keptTrial(spec: TraySpec, fit: HandFit, mark: TrialMark, measurements: unknown): KeptTrial {
  const { material, thickness } = resolveSheet(spec.sheet);
  const { low, high } = fit.hand;
  const { hand, ...spread } = formingFrom(fit);
  const trial = {
    ...mark,
    tray: spec.name,
    sheet: { material: material.name, thickness },
    hand: { value: hand, low: Number(low.toFixed(6)), high: Number(high.toFixed(6)) },
    ...spread,
    measurements,
  };
  return readTrials({ trials: [trial] })[0]!;
}

/** The trials with this one, in the place of the one of its name if there is one. @throws GatherpanError TOO_LARGE for too many */
export function withTrial(trials: readonly KeptTrial[], trial: KeptTrial): readonly KeptTrial[] {
  const others = trials.filter((each) => each.name !== trial.name);
  if (others.length >= MOST_TRIALS) throw new GatherpanError('TOO_LARGE', said().full(String(MOST_TRIALS)));
  return [...others, trial];
}

/** @throws GatherpanError NOT_FOUND */
export function trialNamed(trials: readonly KeptTrial[], wanted: string): KeptTrial {
  const found = trials.find((trial) => trial.name === wanted);
  if (found !== undefined) return found;
  const list = trials.map((trial) => trial.name).join(', ');
  throw new GatherpanError('NOT_FOUND', said().noSuch(JSON.stringify(wanted), list === '' ? '–' : list));
}

/** What a tray file's forming takes from a hand that was found. */
export const formingFrom = ({ hand, spread }: HandFit): { hand: number; spread?: number } => ({
  hand: Number(hand.value.toFixed(3)),
  ...(spread === null ? {} : { spread: Number(spread.value.toFixed(1)) }),
});

/** And from a kept trial. */
export const formingOf = ({ hand, spread }: KeptTrial): { hand: number; spread?: number } => ({
  hand: hand.value,
  ...(spread === undefined ? {} : { spread }),
});

/** Whether a tray is of another sheet than the one a trial was worked of. */
export function otherSheet({ sheet }: KeptTrial, spec: TraySpec): boolean {
  const { material, thickness } = resolveSheet(spec.sheet);
  return material.name !== sheet.material || Math.abs(thickness - sheet.thickness) > 1e-6;
}

/** The JSON Schema (draft 2020-12) of a file of kept trials. */
export const trialsJsonSchema = (): object => {
  const { $schema, ...rest } = z.toJSONSchema(schema(), { io: 'input' });
  return { $schema, title: said().described.title, ...rest };
};

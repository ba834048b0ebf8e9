/**
 * When to anneal: from the work since the last anneal against what the sheet takes.
 *
 * Every spot of the blank keeps its own account, and each anneal begins all of them anew. The anneals are as few as
 * that needs. Each comes at the end of a stage where that makes them no more, and otherwise where the share is used up. A hard sheet is annealed before the first stage when the work is more than it
 * takes as it comes.
 */
import type { SheetMaterial } from '../material/sheet.ts';
import type { Temper } from '../material/temper.ts';
import { type Statement, statement } from '../words/statement.ts';
import { ONE_GO } from './verdict.ts';
import type { Way } from './way.ts';

/** Where on the way to anneal. */
export interface AnnealPlace {
  /** Degrees to which the wall is turned up by then; 0 before the first stage. */
  readonly angle: number;
  /** True while the lip is turned. */
  readonly inLip: boolean;
  /** Share of the way to the wall's own angle, 0 to 1; while the lip is turned, of the work that it takes. */
  readonly part: number;
  /** Of the way, as `Way` has it. */
  readonly place: number;
  /** Work since the anneal before, logarithmic strain. */
  readonly strain: number;
}

/** One anneal of the plan. */
export interface AnnealStep extends AnnealPlace {
  /** Number of the stage (from 0) before, after or within which to anneal; before the first only a hard sheet is. */
  readonly stage: number;
  readonly when: 'before' | 'after' | 'within';
}

export interface AnnealPlan {
  /** Equivalent strain the sheet takes between anneals. */
  readonly budget: number;
  /** °C; null when the sheet must not be annealed in the workshop. */
  readonly temperature: readonly [number, number] | null;
  readonly steps: readonly AnnealStep[];
  /** Strain left on the hardest-worked spot of the finished tray since its last anneal. */
  readonly leftOver: number;
  readonly cue: Statement;
  /** What it comes to. */
  readonly sentences: readonly Statement[];
}

/** What is told of places, with the work between them as the tray's own way has it. */
export const annealsAt = (way: Way, places: readonly number[]): AnnealPlace[] =>
  places.map((place, i) => {
    const angle = way.angleOf(place);
    const inLip = place > 1;
    return {
      place,
      angle,
      inLip,
      part: inLip ? place - 1 : angle / way.wallAngle,
      strain: way.work(places[i - 1] ?? 0, place),
    };
  });

/**
 * The anneals of a tray with its stages.
 *
 * @param angles   degrees at which the stages end, without the one of the lip
 * @param leftOver work since the last anneal, logarithmic strain
 */
export function annealPlan(
  places: readonly AnnealPlace[],
  angles: readonly number[],
  leftOver: number,
  material: SheetMaterial,
  temper: Temper,
): AnnealPlan {
  const { temperature, cue } = material.anneal;
  const first: AnnealStep = {
    stage: 0,
    when: 'before',
    angle: 0,
    inLip: false,
    part: 0,
    place: 0,
    strain: 0,
  };
  const steps = [
    ...(temper.annealedFirst ? [first] : []),
    ...places.map((place): AnnealStep => {
      const stage = place.inLip ? angles.length : angles.findIndex((angle) => angle >= place.angle);
      const atEnd = !place.inLip && angles[stage] === place.angle;
      return { ...place, stage, when: atEnd ? 'after' : 'within' };
    }),
  ];
  return {
    budget: temper.strainBudget,
    temperature,
    steps,
    leftOver,
    cue,
    sentences: sentences(steps, leftOver, temper, material),
  };
}

function sentences(
  steps: readonly AnnealStep[],
  leftOver: number,
  { strainBudget: budget, name }: Temper,
  material: SheetMaterial,
): Statement[] {
  const { temperature, cue, instead } = material.anneal;
  const percentOf = (strain: number): string => ((100 * strain) / budget).toFixed(0);
  const figures = statement('plan.anneal.figures', percentOf(leftOver), name);
  if (temperature === null) {
    if (leftOver <= budget) return [statement('plan.anneal.none', figures)];
    const hard = leftOver > ONE_GO * budget ? 'tooMuch' : 'oneGo';
    return [statement(`plan.anneal.${hard}`, figures), ...(instead === undefined ? [] : [instead])];
  }
  if (steps.length === 0) return [statement('plan.anneal.none', figures)];
  const [low, high] = [String(temperature[0]), String(temperature[1])];
  const list = steps.map(({ stage, when, angle, inLip, part, strain }) =>
    when === 'before'
      ? statement('plan.anneal.before', low, high)
      : statement(
          'plan.anneal.onTheWay',
          statement(`plan.anneal.${when}`, String(stage + 1)),
          inLip
            ? statement('plan.anneal.lipTurned', (100 * part).toFixed(0))
            : part === 1
              ? statement('plan.anneal.wallAllUp')
              : statement('plan.anneal.wallUp', angleText(angle), (100 * part).toFixed(0)),
          low,
          high,
          percentOf(strain),
        ),
  );
  return [...list, statement('plan.anneal.seen', cue), statement('plan.anneal.afterLast', figures)];
}

/** Degrees, in tenths where they are not whole. */
export const angleText = (angle: number): string => String(Number(angle.toFixed(1)));

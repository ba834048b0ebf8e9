/**
 * When to anneal: from the work since the last anneal against what the sheet takes.
 *
 * The anneals are as few as the work needs. Each comes at the end of a stage where that needs no more of them, and
 * otherwise where the share is used up. A hard sheet is annealed before the first stage when the work is more than it
 * takes as it comes.
 */
import type { SheetMaterial } from '../material/sheet.ts';
import { annealsFound, type Temper, temperFor } from '../material/temper.ts';
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
  /** Work since the anneal before, and since the flat; logarithmic strain. */
  readonly strain: number;
  readonly work: number;
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

/** An anneal looked for leaves no more than this share of the budget unused; one at the end of a stage no more than this. */
const UNUSED = { lookedFor: 0.08, atEnd: 0.4 };

/**
 * Where to anneal on the way.
 *
 * @param ends degrees, ascending: angles at which stages end in any case
 */
export function annealPlaces(way: Way, material: SheetMaterial, ends: readonly number[]): AnnealPlace[] {
  const { work, wallWork, wallAngle } = way;
  const { annealedFirst, strainBudget: budget } = temperFor(material, work);
  const count = (annealsFound(material, work) ?? 0) - Number(annealedFirst);
  const places: AnnealPlace[] = [];
  let last = 0;
  for (let left = count; left > 0; left--) {
    const most = last + budget;
    // What remains has to do with the anneals that remain.
    const least = work - left * budget;
    const soonest = Math.max(least, most - UNUSED.atEnd * budget);
    const serves = (angle: number): boolean => way.workAt(angle) >= soonest && way.workAt(angle) <= most;
    const end = ends.filter((angle) => (angle < wallAngle || way.lip) && serves(angle)).at(-1);
    const inLip = end === undefined && most > wallWork;
    const angle =
      end ?? (inLip ? wallAngle : way.angleWithin(Math.max(least, most - UNUSED.lookedFor * budget), most));
    const reached = inLip ? most : way.workAt(angle);
    const part = inLip ? (most - wallWork) / (work - wallWork) : angle / wallAngle;
    places.push({ angle, inLip, part, strain: reached - last, work: reached });
    last = reached;
  }
  return places;
}

/**
 * The anneals of a tray with its stages.
 *
 * @param angles degrees at which the stages end, without the one of the lip
 */
export function annealPlan(
  places: readonly AnnealPlace[],
  angles: readonly number[],
  { work }: Pick<Way, 'work'>,
  material: SheetMaterial,
): AnnealPlan {
  const { temperature, cue } = material.anneal;
  const temper = temperFor(material, work);
  const first: AnnealStep = { stage: 0, when: 'before', angle: 0, inLip: false, part: 0, strain: 0, work: 0 };
  const steps = [
    ...(temper.annealedFirst ? [first] : []),
    ...places.map((place): AnnealStep => {
      const stage = place.inLip ? angles.length : angles.findIndex((angle) => angle >= place.angle);
      const atEnd = !place.inLip && angles[stage] === place.angle;
      return { ...place, stage, when: atEnd ? 'after' : 'within' };
    }),
  ];
  const leftOver = work - (places.at(-1)?.work ?? 0);
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
          statement(`plan.anneal.${inLip ? 'inLip' : when}`, String(stage + 1)),
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

/**
 * When to soften the sheet again: from the strain gathered since the last anneal against what the sheet takes.
 *
 * Every followed point of the blank keeps its own account. Before a stage that would take some point over the
 * sheet's budget, the zone is annealed and all accounts start again from nothing; a stage that is too much by
 * itself is interrupted for anneals. A hard sheet is annealed before the first stage when the work as a whole is
 * more than it takes as it comes.
 */
import type { SheetMaterial } from '../material/sheet.ts';
import { annealsFor, type Temper, temperFor } from '../material/temper.ts';
import { type Statement, statement } from '../words/statement.ts';
import { ONE_GO } from './verdict.ts';

/** One anneal of the plan. */
export interface AnnealStep {
  /** Number of the stage (from 0) before, after or within which to anneal; before the first only a hard sheet is. */
  readonly stage: number;
  readonly when: 'before' | 'after' | 'within';
  /** Strain gathered at the hardest-worked spot by then, logarithmic. */
  readonly strain: number;
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

/**
 * The anneals of a tray.
 *
 * @param added equivalent strain per stage and followed point (`StagePlan.added`); not changed
 */
export function annealPlan(added: readonly Float64Array[], material: SheetMaterial): AnnealPlan {
  const { temperature, cue } = material.anneal;
  const account = new Float64Array(added[0]?.length ?? 0);
  const whole = account.map((_, i) => added.reduce((sum, strains) => sum + strains[i]!, 0));
  const temper = temperFor(material, largest(whole));
  const { annealedFirst, strainBudget: budget } = temper;
  const steps: AnnealStep[] = annealedFirst ? [{ stage: 0, when: 'before', strain: 0 }] : [];
  const may = temperature !== null;
  for (const [stage, strains] of added.entries()) {
    const gathered = largest(account);
    const alone = largest(strains);
    // Either anneal before the stage, or interrupt it; the first when it takes no more heats.
    let within = may ? annealsFor(alone, budget) : 0;
    const over = (parts: number): boolean =>
      account.some((value, i) => value + strains[i]! / parts > budget * (1 + 1e-9));
    if (may && stage > 0 && gathered > SETTLED * budget && over(within + 1)) {
      steps.push({ stage: stage - 1, when: 'after', strain: gathered });
      account.fill(0);
    }
    while (may && within > 0 && within < MOST_WITHIN && over(within + 1)) within++;
    for (let k = 0; k < within; k++) {
      const first = k === 0 ? largest(account.map((value, i) => value + strains[i]! / (within + 1))) : 0;
      steps.push({ stage, when: 'within', strain: Math.max(first, alone / (within + 1)) });
    }
    for (let i = 0; i < account.length; i++)
      account[i] = (within > 0 ? 0 : account[i]!) + strains[i]! / (within + 1);
  }
  const leftOver = largest(account);
  return {
    budget,
    temperature,
    steps,
    leftOver,
    cue,
    sentences: sentences(steps, leftOver, temper, material),
  };
}

/** Less than this share of the budget is not worth an anneal. */
const SETTLED = 0.05;
/** Interruptions of one stage at most. */
const MOST_WITHIN = 10;

const largest = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, value), 0);

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
  const [low, high] = temperature;
  const list = steps.map(({ stage, when, strain }) =>
    when === 'before'
      ? statement('plan.anneal.before', String(low), String(high))
      : statement(`plan.anneal.${when}`, String(stage + 1), percentOf(strain), String(low), String(high)),
  );
  return [...list, statement('plan.anneal.seen', cue), statement('plan.anneal.afterLast', figures)];
}

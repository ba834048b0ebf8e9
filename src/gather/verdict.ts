/**
 * The verdict before cutting: can the tray be worked in one piece, and how much care does it take.
 *
 * Every finding is a number held against a limit. Where a limit is published it is named; where none is, the
 * limit is a rule of ours and says so.
 */
import { criticalEdgeStrain, formingLimit } from '../material/limits.ts';
import type { Sheet, SheetMaterial } from '../material/sheet.ts';
import { logStrainFromPercent, percentFromLogStrain } from '../units.ts';
import type { Reason, Verdict, VerdictWord, Weight } from './report.ts';

/** Nodal strains a verdict is drawn from; logarithmic, one per node. */
export interface Strains {
  readonly major: ArrayLike<number>;
  readonly minor: ArrayLike<number>;
  readonly thickness: ArrayLike<number>;
  readonly equivalent: ArrayLike<number>;
}

/** Share of the forming limit from which care is needed: the safety zone of 10 % strain is common practice. */
const STRETCH_CARE = 0.8;
/** Thickening, per cent, from which the rim is heavy to work, and from which we rule it out: no source. */
const THICKENING_CARE = 20;
const THICKENING_LIMIT = 50;
/** Anneals a corner may take at most before another way of making it is cheaper: no source. */
export const MOST_ANNEALS = 3;
/**
 * Strain budgets that a sheet takes in one go when it cannot be softened: common practice, no source. Gathered
 * metal is compressed and does not neck, so it goes on beyond the budget, which is a limit of stretching; it
 * only gets harder.
 */
export const ONE_GO = 3;

/** The figures of a solved blank that a verdict hangs on. */
export interface Peaks {
  /** Largest thickness strain; largest equivalent strain; largest shrink as a positive logarithmic strain. */
  readonly thickening: number;
  readonly equivalent: number;
  readonly shrink: number;
  /** Stretch nearest its limit: the stretch, the limit there, and their ratio. */
  readonly stretch: number;
  readonly stretchLimit: number;
  readonly stretchRatio: number;
}

/** Whether Keeler's limit holds: it is one of low-carbon steel. */
const isSteel = (material: SheetMaterial): boolean =>
  material.family === 'steel' || material.family === 'zinc-coated steel';

/** The peaks of a field of strains. */
export function peaksOf(strains: Strains, sheet: Sheet): Peaks {
  const { material, thickness } = sheet;
  const steel = isSteel(material);
  const uniform = logStrainFromPercent(material.uniformElongation);
  let [thickening, equivalent, shrink, stretch, stretchLimit, stretchRatio] = [0, 0, 0, 0, uniform, 0];
  if (steel) stretchLimit = formingLimit(0, thickness, material.n);
  for (let node = 0; node < strains.major.length; node++) {
    const major = strains.major[node]!;
    const minor = strains.minor[node]!;
    thickening = Math.max(thickening, strains.thickness[node]!);
    equivalent = Math.max(equivalent, strains.equivalent[node]!);
    shrink = Math.max(shrink, -minor);
    // Metal that gets thicker cannot neck; outside steel only that much is known.
    if (major <= 0 || (!steel && strains.thickness[node]! >= 0)) continue;
    const limit = steel ? formingLimit(minor, thickness, material.n) : uniform;
    if (major / limit <= stretchRatio) continue;
    stretchRatio = major / limit;
    stretch = major;
    stretchLimit = limit;
  }
  return { thickening, equivalent, shrink, stretch, stretchLimit, stretchRatio };
}

/** Anneals that a strain needs in between, for a budget between anneals. */
export const annealsFor = (strain: number, budget: number): number =>
  Math.max(0, Math.ceil(strain / budget - 1e-9) - 1);

/**
 * The verdict on a solved blank.
 *
 * @param freeWidth flat width of the wall from the bend's beginning to the rim, mm
 */
export function verdictOf(peaks: Peaks, sheet: Sheet, freeWidth: number): Verdict {
  const reasons = [
    thickeningReason(peaks, sheet),
    stretchReason(peaks, sheet),
    annealReason(peaks, sheet),
    ...edgeReasons(peaks, sheet, freeWidth),
  ];
  const order: readonly Weight[] = ['refuse', 'care', 'good'];
  reasons.sort((a, b) => order.indexOf(a.weight) - order.indexOf(b.weight));
  return { word: WORDS[reasons[0]!.weight], reasons };
}

const WORDS: Readonly<Record<Weight, VerdictWord>> = {
  good: 'can be worked',
  care: 'can be worked with care',
  refuse: 'not in one piece',
};

function thickeningReason(peaks: Peaks, sheet: Sheet): Reason {
  const value = percentFromLogStrain(peaks.thickening);
  const weight = value > THICKENING_LIMIT ? 'refuse' : value > THICKENING_CARE ? 'care' : 'good';
  const limit = weight === 'good' ? THICKENING_CARE : THICKENING_LIMIT;
  const found = `The metal thickens by at most ${value.toFixed(0)} %, to ${(sheet.thickness * Math.exp(peaks.thickening)).toFixed(2)} mm`;
  const rest = {
    refuse: `; more than ${THICKENING_LIMIT} % is taken as too much for hand work (a rule of this program, no published limit)`,
    care: `; from ${THICKENING_CARE} % the rim is heavy to work, up to ${THICKENING_LIMIT} % it is accepted (rules of this program, no published limit)`,
    good: `, below the ${THICKENING_CARE} % from which it gets heavy to work (a rule of this program, no published limit)`,
  }[weight];
  return { about: 'thickening', weight, value, limit, unit: '%', sentence: `${found}${rest}.` };
}

function stretchReason({ stretch, stretchLimit, stretchRatio }: Peaks, { material }: Sheet): Reason {
  const value = percentFromLogStrain(stretch);
  const limit = percentFromLogStrain(stretchLimit);
  const weight = stretchRatio > 1 ? 'refuse' : stretchRatio > STRETCH_CARE ? 'care' : 'good';
  const named = isSteel(material)
    ? `where it begins to neck at ${limit.toFixed(0)} % (forming limit of steel sheet, FLD0 after Keeler and Brazier)`
    : `where ${material.name} stretches evenly up to ${limit.toFixed(0)} % (its uniform elongation: no forming limit is published for it here)`;
  const sentence = {
    refuse: `The metal would have to stretch by ${value.toFixed(0)} % ${named}: it tears.`,
    care: `The metal stretches by up to ${value.toFixed(0)} % ${named}: shrink ahead of stretching.`,
    good: `The metal stretches by at most ${value.toFixed(0)} % ${named}.`,
  }[weight];
  return { about: 'stretch', weight, value, limit, unit: '%', sentence };
}

function annealReason({ equivalent }: Peaks, { material }: Sheet): Reason {
  const { strainBudget: budget, temperature, instead } = material.anneal;
  const figures = `The hardest-worked spot takes a strain of ${equivalent.toFixed(2)}`;
  const common = { about: 'strain between anneals', value: equivalent, unit: 'logarithmic strain' } as const;
  const needed = annealsFor(equivalent, budget);
  const takes = `${material.name} takes about ${budget.toFixed(2)} before it wants softening (common practice, no source)`;
  if (needed === 0) {
    return {
      ...common,
      weight: 'good',
      limit: budget,
      sentence: `${figures}; ${takes}: no anneal is needed.`,
    };
  }
  if (temperature === null) {
    const most = ONE_GO * budget;
    const refuse = equivalent > most;
    const why = `and must not be annealed in the workshop; up to ${most.toFixed(2)} is accepted in one go because gathered metal is pressed together (a rule of this program)`;
    const advice = instead === undefined ? '' : ` ${instead}`;
    return {
      ...common,
      weight: refuse ? 'refuse' : 'care',
      limit: refuse ? most : budget,
      sentence: `${figures}; ${takes}, ${why}.${advice}`,
    };
  }
  const refuse = needed > MOST_ANNEALS;
  const times = needed === 1 ? 'one anneal' : `${needed} anneals`;
  const end = refuse
    ? `that would take ${times} on the way, more than the ${MOST_ANNEALS} that are worth it (a rule of this program)`
    : `that takes ${times} on the way`;
  return {
    ...common,
    weight: refuse ? 'refuse' : 'care',
    limit: refuse ? (MOST_ANNEALS + 1) * budget : budget,
    sentence: `${figures}; ${takes}: ${end}.`,
  };
}

const unitStrains = new Map<number, number>();

/** The critical strain of a flange as wide as it is thick, by n; kept, because a millisecond counts in a check. */
function unitEdgeStrain(n: number): number {
  let known = unitStrains.get(n);
  if (known === undefined) {
    known = criticalEdgeStrain(1, 1, 'clamped', n);
    if (unitStrains.size > 100) unitStrains.clear();
    unitStrains.set(n, known);
  }
  return known;
}

/** What is published on shrinking a free edge, and how early it puckers. Neither rules a tray out. */
function edgeReasons({ shrink }: Peaks, sheet: Sheet, freeWidth: number): Reason[] {
  const value = -percentFromLogStrain(-shrink);
  const out: Reason[] = [
    {
      about: 'edge shrinking',
      weight: 'good',
      value,
      limit: null,
      unit: '%',
      sentence: `The sheet shrinks by at most ${value.toFixed(0)} %; no published limit of shrinking a free edge by hand was found for ${sheet.material.family} sheet of ${sheet.thickness} mm, so none is applied.`,
    },
  ];
  if (!(freeWidth > 0)) return out;
  const critical = unitEdgeStrain(sheet.material.n) * (sheet.thickness / freeWidth) ** 2;
  const puckers = shrink > critical;
  const limit = -percentFromLogStrain(-critical);
  const times = shrink / critical;
  out.push({
    about: 'buckling',
    weight: 'good',
    value,
    limit,
    unit: '%',
    sentence: puckers
      ? `A free wall of ${freeWidth.toFixed(0)} mm buckles from ${limit.toFixed(2)} % (plastic buckling of a flange, Stowell, NACA TN 1556), ${times < 10 ? times.toFixed(1) : times.toFixed(0)} times less than this corner needs: it always puckers when it is not held, so gather it in tucks and knock them down in small steps.`
      : `A free wall of ${freeWidth.toFixed(0)} mm buckles from ${limit.toFixed(2)} % (plastic buckling of a flange, Stowell, NACA TN 1556); this wall shrinks less and stays flat.`,
  });
  return out;
}

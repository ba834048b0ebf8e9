/**
 * The verdict before cutting: can the tray be worked in one piece, and how much care does it take.
 *
 * Every finding is a number held against a limit. Where a limit is published it is named; where none is, the
 * limit is a rule of ours and says so.
 */
import { largest } from '../largest.ts';
import { meanLankford, plasticLaw } from '../material/law.ts';
import { edgeBuckling, formingLimit } from '../material/neckingAndBuckling.ts';
import type { Sheet, SheetMaterial } from '../material/sheet.ts';
import { annealsNeeded, temperFor } from '../material/temper.ts';
import { shrinkLimit } from '../solve/ellipticity.ts';
import { logStrainFromPercent, percentFromLogStrain } from '../units.ts';
import { givenLength, length, type Statement, statement } from '../words/statement.ts';
import { workedMaterial } from './hand.ts';
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
/** Less stretch than this, per cent, is none. */
const LEAST_STRETCH = 0.5;
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
  /** Largest thickness strain; work on the way; largest shrink as a positive logarithmic strain. */
  readonly thickening: number;
  readonly work: number;
  readonly shrink: number;
  /** Stretch nearest its limit: the stretch, the limit there, and their ratio. */
  readonly stretch: number;
  readonly stretchLimit: number;
  readonly stretchRatio: number;
}

/** Whether Keeler's limit holds: it is one of low-carbon steel. */
const isSteel = (material: SheetMaterial): boolean => material.family === 'steel';

/**
 * The peaks of a field of strains.
 *
 * @param work of the hardest-worked place on its way; straight from the flat when left out
 */
export function peaksOf(strains: Strains, sheet: Sheet, work = largest(strains.equivalent)): Peaks {
  const { material, thickness } = sheet;
  const steel = isSteel(material);
  const worked = temperFor(material, work);
  const uniform = logStrainFromPercent(worked.uniformElongation);
  let [thickening, shrink, stretch, stretchLimit, stretchRatio] = [0, 0, 0, uniform, 0];
  if (steel) stretchLimit = formingLimit(0, thickness, material.n);
  for (let node = 0; node < strains.major.length; node++) {
    const major = strains.major[node]!;
    const minor = strains.minor[node]!;
    thickening = Math.max(thickening, strains.thickness[node]!);
    shrink = Math.max(shrink, -minor);
    // Every limit of stretching is one of necking, and metal that gets thicker does not neck.
    if (major <= 0 || strains.thickness[node]! >= 0) continue;
    const limit = steel ? formingLimit(minor, thickness, material.n) : uniform;
    if (major / limit <= stretchRatio) continue;
    stretchRatio = major / limit;
    stretch = major;
    stretchLimit = limit;
  }
  return { thickening, work, shrink, stretch, stretchLimit, stretchRatio };
}

/**
 * The largest stretch where the metal thins, when it is more than the sheet stretches evenly; null when it is not.
 * Logarithmic strains.
 */
export function unevenStretch(
  { major, thickness }: Pick<Strains, 'major' | 'thickness'>,
  material: SheetMaterial,
  work: number,
): { readonly stretch: number; readonly limit: number; readonly name: string } | null {
  const { uniformElongation, name } = temperFor(material, work);
  const limit = logStrainFromPercent(uniformElongation);
  let stretch = 0;
  for (let node = 0; node < major.length; node++)
    if (thickness[node]! < 0) stretch = Math.max(stretch, major[node]!);
  return stretch > limit ? { stretch, limit, name } : null;
}

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
    ...edgeNotes(peaks, sheet, freeWidth),
    STAR,
  ];
  const order: readonly Weight[] = ['refuse', 'care', 'good', 'note'];
  reasons.sort((a, b) => order.indexOf(a.weight) - order.indexOf(b.weight));
  const { weight } = reasons[0]!;
  return { word: WORDS[weight === 'note' ? 'good' : weight], reasons };
}

const gatherLimits = new Map<string, number>();

/**
 * Largest shrink to which a sheet gathers evenly, as a positive logarithmic strain: of its law with the mean r in
 * every direction, as a person of this hand works it; kept, because a millisecond counts in a check.
 */
export function gatherLimit(material: SheetMaterial, hand: number | undefined): number {
  const worked = workedMaterial(material, hand);
  const r = meanLankford(worked);
  const { K, epsilon0, n } = worked;
  const strengths = worked.strengths && { ...worked.strengths, at45: 1, at90: 1, biaxialR: 1 };
  const key = [epsilon0, n, r, strengths?.exponent, strengths?.biaxial].join();
  let known = gatherLimits.get(key);
  if (known === undefined) {
    known = shrinkLimit(
      plasticLaw({ K, epsilon0, n, r0: r, r45: r, r90: r, ...(strengths && { strengths }) }, 0),
    );
    if (gatherLimits.size > 100) gatherLimits.clear();
    gatherLimits.set(key, known);
  }
  return known;
}

/**
 * Shrink on a mesh over that on finer ones, about the limit: of 250 random trays the largest was 1.04. Where sides differ in
 * height it is below 1.
 */
export const COARSE_EXCESS = 1.06;

/**
 * Whether a tray shrinks further than its sheet gathers evenly: its flat is then not sure.
 *
 * @param excess what the shrink may be too large by, as a factor
 */
export const shrinksTooFar = (
  { shrink }: Peaks,
  { material }: Sheet,
  hand: number | undefined,
  excess = 1,
): boolean => shrink > excess * gatherLimit(material, hand);

/** The verdict on a tray without a flat. @param sentence why it has none */
export const noFlatVerdict = (sentence: Statement): Verdict => ({
  word: WORDS.refuse,
  reasons: [{ about: 'flat', weight: 'refuse', value: null, limit: null, unit: null, sentence }],
});

/** The verdict on a tray that shrinks too far. */
export function tooFarVerdict({ shrink }: Peaks, { material }: Sheet, hand: number | undefined): Verdict {
  const value = -percentFromLogStrain(-shrink);
  const limit = -percentFromLogStrain(-gatherLimit(material, hand));
  const sentence = statement('verdict.noFlat.shrinkage', value.toFixed(0), material.name, limit.toFixed(0));
  return {
    word: WORDS.refuse,
    reasons: [{ about: 'flat', weight: 'refuse', value, limit, unit: '%', sentence }],
  };
}

/** What the star at a limit means. */
const STAR: Reason = {
  about: 'limits',
  weight: 'note',
  value: null,
  limit: null,
  unit: null,
  sentence: statement('verdict.star'),
};

const WORDS: Readonly<Record<Exclude<Weight, 'note'>, VerdictWord>> = {
  good: 'can be worked',
  care: 'can be worked with care',
  refuse: 'not in one piece',
};

function thickeningReason(peaks: Peaks, sheet: Sheet): Reason {
  const value = percentFromLogStrain(peaks.thickening);
  const weight = value > THICKENING_LIMIT ? 'refuse' : value > THICKENING_CARE ? 'care' : 'good';
  const limit = weight === 'good' ? THICKENING_CARE : THICKENING_LIMIT;
  const percent = value.toFixed(0);
  const thickest = length(sheet.thickness * Math.exp(peaks.thickening), 2);
  const [care, most] = [String(THICKENING_CARE), String(THICKENING_LIMIT)];
  const found = {
    refuse: statement('verdict.thickening.refuse', percent, thickest, most),
    care: statement('verdict.thickening.care', percent, thickest, care, most),
    good: statement('verdict.thickening.good', percent, thickest, care),
  }[weight];
  return { about: 'thickening', weight, value, limit, unit: '%', sentence: found };
}

function stretchReason({ stretch, stretchLimit, stretchRatio, work }: Peaks, { material }: Sheet): Reason {
  const value = percentFromLogStrain(stretch);
  const limit = percentFromLogStrain(stretchLimit);
  const weight = stretchRatio > 1 ? 'refuse' : stretchRatio > STRETCH_CARE ? 'care' : 'good';
  const where = isSteel(material)
    ? statement('verdict.stretch.necks', limit.toFixed(0))
    : statement('verdict.stretch.evenly', temperFor(material, work).name, limit.toFixed(0));
  const said =
    value < LEAST_STRETCH
      ? statement('verdict.stretch.nowhere')
      : statement(`verdict.stretch.${weight}`, value.toFixed(0), where);
  return { about: 'stretch', weight, value, limit, unit: '%', sentence: said };
}

function annealReason({ work }: Peaks, { material }: Sheet): Reason {
  const { temperature, instead } = material.anneal;
  const { annealedFirst, strainBudget: budget } = temperFor(material, work);
  const percentOf = (taken: number): string => ((100 * work) / taken).toFixed(0);
  const found = annealedFirst
    ? statement(
        'verdict.strain.foundHard',
        percentOf(material.anneal.strainBudget),
        material.name,
        percentOf(budget),
      )
    : statement('verdict.strain.found', percentOf(budget), material.name);
  const common = { about: 'strain between anneals', value: work, unit: 'logarithmic strain' } as const;
  const needed = annealsNeeded(material, work);
  const onTheWay = needed - Number(annealedFirst);
  if (needed === 0)
    return {
      ...common,
      weight: 'good',
      limit: budget,
      sentence: statement('verdict.strain.noAnneal', found),
    };
  if (temperature === null) {
    const most = ONE_GO * budget;
    const refuse = work > most;
    const said =
      instead === undefined
        ? statement('verdict.strain.noHeat', found, String(100 * ONE_GO))
        : statement('verdict.strain.noHeatInstead', found, String(100 * ONE_GO), instead);
    return {
      ...common,
      weight: refuse ? 'refuse' : 'care',
      limit: refuse ? most : budget,
      sentence: said,
    };
  }
  const refuse = needed > MOST_ANNEALS;
  const times = (count: number): Statement =>
    count === 1
      ? statement('verdict.strain.oneAnneal')
      : statement('verdict.strain.manyAnneals', String(count));
  const said = refuse
    ? statement('verdict.strain.tooMany', found, times(needed), String(MOST_ANNEALS))
    : !annealedFirst
      ? statement('verdict.strain.anneals', found, times(needed))
      : onTheWay === 0
        ? statement('verdict.strain.firstOnly', found)
        : statement('verdict.strain.firstAndMore', found, times(onTheWay));
  return {
    ...common,
    weight: refuse ? 'refuse' : 'care',
    limit: refuse ? (MOST_ANNEALS + Number(!annealedFirst)) * budget : budget,
    sentence: said,
  };
}

/** Whether a family's name tells the metal. */
const isNamed = (family: SheetMaterial['family']): boolean => family !== 'other' && family !== 'not stated';

/** What is published on shrinking a free edge, and how early it puckers. Neither rules a tray out. */
function edgeNotes({ shrink }: Peaks, sheet: Sheet, freeWidth: number): Reason[] {
  const value = -percentFromLogStrain(-shrink);
  const out: Reason[] = [
    {
      about: 'edge shrinking',
      weight: 'note',
      value,
      limit: null,
      unit: '%',
      sentence: statement(
        'verdict.edge.shrinks',
        value.toFixed(0),
        isNamed(sheet.material.family)
          ? statement(`material.families.${sheet.material.family}`)
          : sheet.material.name,
        givenLength(sheet.thickness, 2),
      ),
    },
  ];
  if (!(freeWidth > 0)) return out;
  const { strain: critical, regime } = edgeBuckling(sheet.material, sheet.thickness / freeWidth);
  const puckers = shrink > critical;
  const limit = -percentFromLogStrain(-critical);
  const width = length(freeWidth, 0);
  const said = statement(
    `verdict.edge.${puckers ? 'puckers' : 'staysFlat'}`,
    width,
    limit.toFixed(2),
    statement(`verdict.edge.${regime}`),
  );
  out.push({
    about: 'buckling',
    weight: 'note',
    value,
    limit,
    unit: '%',
    sentence: said,
  });
  return out;
}

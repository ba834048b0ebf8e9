/**
 * How far apart the rims of different hands lie: what the trim has to cover.
 *
 * The same tray is solved for a hand that shrinks (0.2), for the hand the blank is made for, and for one that
 * stretches (0.8). A person who shrinks needs a larger blank, so the metal that is missing has to be in the trim;
 * for one who stretches the rim comes out too high and more is cut off.
 */
import { ifSolved } from '../errors.ts';
import { plasticLaw } from '../material/law.ts';
import type { Sheet } from '../material/sheet.ts';
import { equallyStrong } from '../material/strengths.ts';
import { ROUGH } from '../mesh/traySkeleton.ts';
import { rimDistances } from '../solve/rimDistances.ts';
import {
  DEFAULT_SOLVE,
  type SolveOptions,
  StructureCache,
  solveTray,
  type TraySolution,
} from '../solve/solveTray.ts';
import { StartCache } from '../solve/startCache.ts';
import { DEFAULTS } from '../tray/limits.ts';
import type { TraySpec } from '../tray/spec.ts';
import { givenLength, length, type Statement, statement } from '../words/statement.ts';
import { handOf, workedMaterial } from './hand.ts';
import type { StrengthBand, TrimBand } from './report.ts';
import { type SolvedTray, solveInput, solveSpec } from './solvedTray.ts';

/** Hands between which nearly everybody's lies: common practice, no source. */
export const BAND_HANDS = [0.2, 0.8] as const;
/** Trim is rounded up to a multiple of this, mm, and never less than the second: a rim has to be trued. */
const TRIM_STEP = 0.5;
const LEAST_TRIM = 1;

/**
 * All hands on one coarse mesh, so that their rims compare node by node. Against the once refined mesh the band is
 * within 6 % or 0.1 mm on straight rims, 0.25 mm on lips, for a tenth of a solve.
 */
export const BAND_SOLVE: Partial<SolveOptions> = {
  density: ROUGH,
  minimumRefinements: 0,
  maximumRefinements: 0,
  // The rim is within some 0.001 mm of that mesh's then; where the base hardly holds the walls only its moves tell.
  tolerance: 1e-3,
  largestMove: 0.05,
};

/**
 * The trim band of a tray, of its net rim; null when one of the hands has no equilibrium.
 *
 * @param structures found before for trays of its family; filled and used
 * @param cancelled  as in `SolveOptions`
 */
export function trimBand(
  spec: TraySpec,
  structures: StructureCache | null = null,
  cancelled: SolveOptions['cancelled'] = null,
): TrimBand | null {
  const net = netOf(spec);
  // Each hand starts from the one before.
  const options = {
    ...BAND_SOLVE,
    structures: structures ?? new StructureCache(2),
    starts: new StartCache(),
    cancelled,
  };
  const solve = (hand: number): SolvedTray =>
    solveSpec({ ...net, forming: { ...net.forming, hand } }, options);
  const [low, high] = BAND_HANDS;
  return ifSolved(() => {
    const own = solveSpec(net, options);
    const hand = handOf(spec, own.sheet.material);
    const outwards = hand > low ? farthest(own.solution, solve(low).solution, 1) : 0;
    const inwards = hand < high ? farthest(own.solution, solve(high).solution, -1) : 0;
    const strengths = openStrengths(net, own, options);
    const reach = reachOf({ outwards, strengths });
    return {
      hand,
      hands: BAND_HANDS,
      outwards,
      inwards,
      strengths,
      trim: Math.max(LEAST_TRIM, Math.ceil(reach / TRIM_STEP - 1e-9) * TRIM_STEP),
    };
  });
}

/** How far the rim may come to lie outside the solved one, mm: what the trim has to cover. */
const reachOf = ({ outwards, strengths }: Pick<TrimBand, 'outwards' | 'strengths'>): number =>
  outwards + (strengths?.outwards ?? 0);

/** The tray without its trim: what the rims of a band are those of. */
export const netOf = (spec: TraySpec): TraySpec => ({ ...spec, forming: { ...spec.forming, trim: 0 } });

function openStrengths(
  net: TraySpec,
  { sheet, solution }: SolvedTray,
  options: Partial<SolveOptions>,
): StrengthBand | null {
  if (!strengthsOpen(sheet, solution)) return null;
  return ifSolved(() => strengthBand(solution, solvedEquallyStrong(net, options).solution));
}

/** Whether a sheet differs by direction and only its r-values say how. */
export const strengthsOpen = ({ material }: Sheet, { law }: Pick<TraySolution, 'law'>): boolean =>
  material.strengths === undefined && !law.isotropicInPlane;

/** The tray as if the r-values of its sheet said nothing of its strength; measured sheets lie nearer to that. */
export function solvedEquallyStrong(
  spec: TraySpec,
  options: Partial<SolveOptions>,
): { readonly solution: TraySolution; readonly sheet: Sheet } {
  const { sheet, surface, symmetry, growth } = solveInput(spec);
  const law = plasticLaw(workedMaterial(equallyStrong(sheet.material), spec.forming.hand), sheet.grain);
  return { sheet, solution: solveTray(surface, symmetry, law, { ...DEFAULT_SOLVE, growth, ...options }) };
}

export const strengthBand = (own: TraySolution, equal: TraySolution): StrengthBand => ({
  outwards: farthest(own, equal, 1),
  inwards: farthest(own, equal, -1),
});

/** What is said of strengths left open, where that reaches a step of the trim. */
export function strengthNotes(band: TrimBand | null, { material }: Sheet): Statement[] {
  if (band === null || band.strengths === null) return [];
  const { outwards, inwards } = band.strengths;
  if (Math.max(outwards, inwards) < TRIM_STEP) return [];
  return [statement('pattern.strengthsOpen', material.name, length(-inwards, 1), length(outwards, 1))];
}

/**
 * A tray whose trim is a number: where the file says "auto", that of its trim band, which comes with it; the usual trim
 * where there is none.
 */
export function resolvedTrim(
  spec: TraySpec,
  structures: StructureCache | null = null,
  cancelled: SolveOptions['cancelled'] = null,
): { spec: TraySpec; trimBand: TrimBand | null } {
  const { autoTrim, ...forming } = spec.forming;
  if (autoTrim !== true) return { spec, trimBand: null };
  const band = trimBand(spec, structures, cancelled);
  return { spec: { ...spec, forming: { ...forming, trim: band?.trim ?? DEFAULTS.trim } }, trimBand: band };
}

/** Whether the trim of a tray covers the band, and a note where there is none. */
export function trimWarnings({ forming }: TraySpec, band: TrimBand | null): Statement[] {
  if (band === null) return [statement('pattern.noTrimBand', givenLength(forming.trim, 1))];
  const { outwards, inwards, strengths } = band;
  if (reachOf(band) <= forming.trim) return [];
  const hands = [length(-inwards, 1), length(outwards, 1)] as const;
  const trims = [givenLength(forming.trim, 1), givenLength(band.trim, 1)] as const;
  return strengths === null
    ? [statement('pattern.trimTooSmall', ...hands, ...trims)]
    : [
        statement(
          'pattern.trimTooSmallOpen',
          ...hands,
          length(-strengths.inwards, 1),
          length(strengths.outwards, 1),
          ...trims,
        ),
      ];
}

/** Largest distance, along the normal of the rim, by which another rim lies outside (1) or inside (−1) of it, mm. */
export const farthest = (own: TraySolution, other: TraySolution, side: 1 | -1): number =>
  rimDistances(own.mesh, own.flat, other.flat).reduce((most, each) => Math.max(most, side * each), 0);

/**
 * The work of a tray: the equivalent strain that its hardest-worked spots take on the way from the flat, logarithmic.
 * What a sheet takes between anneals is stated in the same measure, and each anneal begins the count of every spot anew:
 * so the work is what is used up before each anneal, and what is left over after the last.
 */

import { isUnsolved } from '../errors.ts';
import { largest } from '../largest.ts';
import { annealCount, temperFor } from '../material/temper.ts';
import { ROUGH } from '../mesh/traySkeleton.ts';
import type { SolveOptions } from '../solve/solveTray.ts';
import { StartCache } from '../solve/startCache.ts';
import type { TraySpec } from '../tray/spec.ts';
import { annealPlaces } from './annealPlaces.ts';
import { type SolvedTray, solveInput, solveSpec } from './solvedTray.ts';
import { hasLip } from './stageSurface.ts';
import { Way } from './way.ts';

export interface Work {
  /** Logarithmic strain. */
  readonly work: number;
  /** False where no flat was found on the way: the work is that of the straight way then. */
  readonly known: boolean;
}

const ROUGH_SOLVE = {
  density: ROUGH,
  minimumRefinements: 0,
  maximumRefinements: 0,
  tolerance: 1e-3,
} satisfies Partial<SolveOptions>;
/**
 * The metal of a lip is worked there and back in a narrow bend, that of a tall wall now here, now there: both take a finer
 * mesh. In 36 random trays the work was as a rule within 3 % of that on finer meshes with twice as many places.
 */
const FINER_SOLVE = { ...ROUGH_SOLVE, minimumRefinements: 1, maximumRefinements: 1 };
/**
 * Work of the way over that straight to its end, at most, for a wall that takes no more than so many budgets straight: of
 * 24 trays as a person draws them the largest was 1.08; only of taller walls it is more.
 */
const [MOST_EXCESS, STEADY] = [1.08, 3];

/** A way that is only held against its own end. */
export interface RoughWay {
  readonly way: Way;
  /** What the sheet takes between anneals, in the strains of that way. */
  readonly budget: number;
}

/** The work if every spot went straight to its end. */
export const straightWork = ({ equivalent }: SolvedTray['strains']): Work => ({
  work: largest(equivalent),
  known: true,
});

/**
 * The work of a solved tray. Where it is not plain how many anneals that takes, the way is solved on a coarse mesh, and
 * only held against its own end: the strains of the tray itself are those of its solve.
 *
 * @param structures found before for trays of its family; filled and used
 */
export function workOf(
  { spec, sheet, surface, strains }: Pick<SolvedTray, 'spec' | 'sheet' | 'surface' | 'strains'>,
  structures: SolveOptions['structures'] = null,
): Work {
  const plain = straightWork(strains);
  const straight = plain.work;
  const { strainBudget } = temperFor(sheet.material, straight);
  const clear = annealCount(MOST_EXCESS * straight, strainBudget) === annealCount(straight, strainBudget);
  const steady = straight <= STEADY * strainBudget && (clear || straight <= strainBudget);
  if (!hasLip(surface) && steady) return plain;
  try {
    const { way, budget } = roughWay(spec, straight, strainBudget, structures);
    const places = annealPlaces(way, budget, []);
    const rest = way.work(places.at(-1) ?? 0, way.end);
    return { work: strainBudget * (places.length + rest / budget), known: true };
  } catch (error) {
    if (isUnsolved(error)) return { ...plain, known: false };
    throw error;
  }
}

/**
 * The way on a coarse mesh.
 *
 * @param straight     equivalent strain of the hardest-worked spot of the tray as it was solved
 * @param strainBudget what the sheet takes between anneals
 * @throws GatherpanError NOT_SOLVED when it has no equilibrium somewhere
 */
export function roughWay(
  spec: TraySpec,
  straight: number,
  strainBudget: number,
  structures: SolveOptions['structures'] = null,
): RoughWay {
  const fine = straight > STEADY * strainBudget || hasLip(solveInput(spec).surface);
  const options = { ...(fine ? FINER_SOLVE : ROUGH_SOLVE), structures, starts: new StartCache() };
  const way = new Way(solveSpec(spec, options), options);
  way.solvePlaces();
  return { way, budget: (strainBudget * largest(way.final.strains.equivalent)) / straight };
}

/**
 * The work of a tray: the equivalent strain that its hardest-worked spots take on the way from the flat, logarithmic.
 * What a sheet takes between anneals is stated in the same measure, and each anneal begins the count of every spot anew:
 * so the work is what is used up before each anneal, and what is left over after the last.
 */
import { isUnsolved } from '../errors.ts';
import { largest } from '../largest.ts';
import { temperFor } from '../material/temper.ts';
import type { SolveOptions } from '../solve/solveTray.ts';
import { StartCache } from '../solve/startCache.ts';
import type { TraySpec } from '../tray/spec.ts';
import { solveInput, solveSpec } from './solvedTray.ts';
import { hasLip } from './stageSurface.ts';
import { BAND_SOLVE } from './trimBand.ts';
import { Way } from './way.ts';

export interface Work {
  /** Logarithmic strain. */
  readonly work: number;
  /** False where no flat was found on the way: the work is that of the straight way then. */
  readonly known: boolean;
}

/** The bend of a lip is narrow, and its metal is worked most: it takes the whole of the first mesh. */
const LIP_SOLVE: Partial<SolveOptions> = { minimumRefinements: 0, maximumRefinements: 0 };
/** Anneals that are counted at most. */
const MOST = 12;

/**
 * The work of a solved tray. Where it takes an anneal, the way is solved on a coarse mesh, and only held against its own
 * end: the strains of the tray itself are those of its solve.
 *
 * @param equivalent equivalent strain of the finished tray, one per node
 */
export function workOf(
  spec: TraySpec,
  equivalent: ArrayLike<number>,
  structures: SolveOptions['structures'] = null,
): Work {
  const straight = largest(equivalent);
  const { surface, sheet } = solveInput(spec);
  const { strainBudget: budget } = temperFor(sheet.material, straight);
  const lipped = hasLip(surface);
  if (!lipped && straight <= budget) return { work: straight, known: true };
  try {
    const way = roughWay(spec, lipped, structures);
    const scale = straight / largest(way.final.strains.equivalent);
    let [work, place] = [0, 0];
    for (let k = 0; k < MOST; k++) {
      const next = way.reach(place, budget / scale);
      if (next === way.end) break;
      work += budget;
      place = next;
    }
    return { work: work + scale * way.work(place, way.end), known: true };
  } catch (error) {
    if (isUnsolved(error)) return { work: straight, known: false };
    throw error;
  }
}

/** The way on a coarse mesh. @throws GatherpanError NOT_SOLVED when it has no equilibrium somewhere */
function roughWay(spec: TraySpec, isLipped: boolean, structures: SolveOptions['structures']): Way {
  const options = { ...(isLipped ? LIP_SOLVE : BAND_SOLVE), structures, starts: new StartCache() };
  const way = new Way(solveSpec(spec, options), options);
  way.solvePlaces();
  return way;
}

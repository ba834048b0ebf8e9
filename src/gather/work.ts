/**
 * The work of a tray: the equivalent strain that its hardest-worked place takes on the way from the flat, logarithmic.
 * What a sheet takes between anneals is stated in the same measure.
 */
import { isUnsolved } from '../errors.ts';
import { largest } from '../largest.ts';
import type { SolveOptions } from '../solve/solveTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { strainAt, strainBetween } from './followedStrain.ts';
import { solveInput, solveSpec } from './solvedTray.ts';
import { hasLip, stageSurface } from './stageSurface.ts';
import { wholeStrain } from './wholeStrain.ts';

export interface Work {
  /** Logarithmic strain. */
  readonly work: number;
  /** False for a lip whose way was not found: its work is that of the straight way then. */
  readonly known: boolean;
}

/** The way to a lip is only held against its end, which is solved as roughly. */
const ROUGH = { minimumRefinements: 0, maximumRefinements: 0 } as const;

/**
 * The work of a solved tray. Walls are turned up on a straight way. The metal of a lip is gathered with the wall and
 * stretched back when the lip is turned: both count, in their ratio on a coarse mesh.
 *
 * @param equivalent equivalent strain of the finished tray, one per node
 */
export function workOf(
  spec: TraySpec,
  equivalent: ArrayLike<number>,
  structures?: SolveOptions['structures'],
): Work {
  const straight = largest(equivalent);
  const { surface, law } = solveInput(spec);
  if (!hasLip(surface)) return { work: straight, known: true };
  const rough = { ...ROUGH, ...(structures === undefined ? {} : { structures }) };
  try {
    const finished = solveSpec(spec, rough);
    const wall = solveSpec(spec, rough, stageSurface(surface, Infinity));
    const { flat, tensor } = wholeStrain(finished);
    const up = strainAt(wholeStrain(wall), flat);
    const [there, back] = [strainBetween(law, null, up), strainBetween(law, up, tensor)];
    const both = largest(there.map((strain, i) => strain + back[i]!));
    return { work: (straight * both) / largest(finished.strains.equivalent), known: true };
  } catch (error) {
    if (isUnsolved(error)) return { work: straight, known: false };
    throw error;
  }
}

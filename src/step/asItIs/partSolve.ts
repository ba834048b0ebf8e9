/** The equilibrium of a part, from its first flat shape. */
import { GatherpanError } from '../../errors.ts';
import type { PlasticLaw } from '../../material/law.ts';
import type { NewtonResult } from '../../solve/newton.ts';
import { RESIDUAL_TOLERANCE } from '../../solve/solveTray.ts';

/** Share of its forces out of balance at which an eased solution is good enough to go on from. */
const EASED_TOLERANCE = 0.1;

/** Turn of the blank against the grain that makes no difference, radians. */
const LEAST_TURN = 1e-4;

/**
 * Newton's method by way of a law that hardens evenly: the first flat shape has small strains all over that come
 * from the net it was made on, and to a sheet that yields early these are forces as large as any. Where the last
 * step fails, the law is taken to the one wanted by degrees.
 *
 * The solver holds the blank at two nodes where they start, which turns it by what these are out of place; for a
 * sheet with a grain it is turned back and solved again.
 *
 * @param align lays the base where it is in the formed part, and tells the angle it was turned through
 */
export function solvedPart(
  law: PlasticLaw,
  start: Float64Array,
  align: (flat: Float64Array) => number,
  solve: (law: PlasticLaw, from: Float64Array, tolerance: number) => NewtonResult,
): NewtonResult {
  const rough = solve({ ...law, n: 1 }, start, EASED_TOLERANCE);
  align(rough.flat);
  let last = solve(law, rough.flat, RESIDUAL_TOLERANCE);
  let steps = rough.steps + last.steps;
  if (!last.converged) {
    last = byDegrees(law, start, solve);
    steps += last.steps;
  }
  for (
    let round = 0;
    Math.abs(align(last.flat)) > LEAST_TURN && !law.isotropicInPlane && round < 4;
    round++
  ) {
    const turned = solve(law, last.flat, RESIDUAL_TOLERANCE);
    steps += turned.steps;
    if (!turned.converged) break;
    last = turned;
  }
  return { ...last, steps };
}

/** @throws GatherpanError NOT_SOLVED */
function byDegrees(
  law: PlasticLaw,
  start: Float64Array,
  solve: (law: PlasticLaw, from: Float64Array, tolerance: number) => NewtonResult,
): NewtonResult {
  let last = solve({ ...law, n: 1 }, start, RESIDUAL_TOLERANCE);
  let n = 1;
  for (let factor = 0.6; last.converged && n > law.n && factor < 0.93; ) {
    const next = Math.max(law.n, n * factor);
    const result = solve({ ...law, n: next }, last.flat, RESIDUAL_TOLERANCE);
    if (result.converged) {
      n = next;
      last = result;
    } else factor = Math.sqrt(factor);
  }
  if (!last.converged || n > law.n) {
    throw new GatherpanError(
      'NOT_SOLVED',
      'No steady flat shape was found for this part; a lower wall, larger radii or a sheet that hardens more would help.',
    );
  }
  return last;
}

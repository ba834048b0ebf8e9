/**
 * The square cup of NUMISHEET'93: a square blank drawn with its flange left on, without friction and without a holder's
 * force, in one step and in many, by the forward judge. The program itself solves for a blank and not for a flange; its
 * one step is the judge's, see tests/forward.
 *
 * Sizes and sheets from memory (A. Makinouchi et al. (eds), Proc. NUMISHEET'93, Isehara 1993: not read). The draw-ins are
 * second-hand, from a general text on forming that says aluminium, and nearly the same figures are remembered for mild
 * steel: no test.
 */

import type { LawParameters } from '../../src/material/law.ts';
import { blankMesh } from '../forward/blankMesh.ts';
import { Judge } from '../forward/judge.ts';
import { drawnStages, type Loop } from '../forward/stage.ts';

const BLANK = 150;
const PUNCH = { side: 70, corner: 10, nose: 8 } as const;
const DIE = 5;

export const SHEETS: Readonly<Record<'mild steel' | 'aluminium', LawParameters & { thickness: number }>> = {
  'mild steel': { K: 565.32, epsilon0: 0.007117, n: 0.2589, r0: 1.79, r45: 1.51, r90: 2.27, thickness: 0.78 },
  aluminium: { K: 576.79, epsilon0: 0.01658, n: 0.3593, r0: 0.71, r45: 0.58, r90: 0.7, thickness: 0.81 },
};

/** Millimetres by which the edge comes in at the sides' middles (mean of both) and along the diagonal. */
export interface DrawIn {
  readonly side: number;
  readonly diagonal: number;
}

/** By travel of the punch; second-hand, see above. */
export const SAID: Readonly<Record<15 | 40, DrawIn>> = {
  15: { side: 5.3, diagonal: 3.3 },
  40: { side: 28.5, diagonal: 15 },
};

export function drawnSquare(
  sheet: keyof typeof SHEETS,
  travel: keyof typeof SAID,
  steps: number,
  around: number,
  out: number,
): { readonly oneStep: DrawIn; readonly manySteps: DrawIn } {
  const law = SHEETS[sheet];
  const half = law.thickness / 2;
  const straight = PUNCH.side / 2 - PUNCH.corner;
  const loop: Loop = { halfLength: straight, halfWidth: straight, radius: PUNCH.corner - PUNCH.nose };
  const edge = BLANK / 2;
  const points = 60;
  const rim = [
    ...Array.from({ length: points }, (_, k) => [edge, (edge * k) / points] as const),
    ...Array.from({ length: points + 1 }, (_, k) => [edge - (edge * k) / points, edge] as const),
  ];
  const mesh = blankMesh(loop, rim, around, out);
  const stages = drawnStages(loop, PUNCH.nose + half, DIE + half, travel, steps);
  const many = new Judge(mesh, law, { smoothing: 1e-3, steps });
  for (const stage of stages) many.work(stage);
  const one = new Judge(mesh, law, { smoothing: 1e-3, steps: 1 });
  one.work(stages.at(-1)!, many.laidOut);
  const drawIn = ({ position }: Judge): DrawIn => {
    const at = (ray: number): readonly [number, number] => {
      const node = ray * (2 * out + 1) + 2 * out;
      return [position[3 * node]!, position[3 * node + 1]!];
    };
    const [x] = at(0);
    const [, y] = at(2 * around);
    return { side: edge - (x + y) / 2, diagonal: Math.SQRT2 * edge - Math.hypot(...at(around)) };
  };
  return { oneStep: drawIn(one), manySteps: drawIn(many) };
}

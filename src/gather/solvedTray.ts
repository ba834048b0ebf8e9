/** A tray solved for its hand and spread, as the gather tools need it: without outlines. */

import type { Path } from '../geometry/path.ts';
import { type PlasticLaw, plasticLaw } from '../material/law.ts';
import type { Sheet } from '../material/sheet.ts';
import { resolveSheet } from '../material/sheets.ts';
import { findSymmetry, type Symmetry, symmetryVertices } from '../mesh/symmetry.ts';
import { DEFAULT_SOLVE, type SolveOptions, solveTray, type TraySolution } from '../solve/solveTray.ts';
import { type NodalStrains, nodalStrains } from '../solve/strains.ts';
import { type NeutralSurface, neutralSurface } from '../tray/neutralSurface.ts';
import type { TraySpec } from '../tray/spec.ts';
import { workedTray } from '../tray/workedTray.ts';
import { growthOf, workedMaterial } from './hand.ts';

export interface SolvedTray {
  readonly spec: TraySpec;
  readonly sheet: Sheet;
  /** With the trim as wall or lip. */
  readonly surface: NeutralSurface;
  readonly solution: TraySolution;
  readonly strains: NodalStrains;
}

/** What was solved for a pattern, by its worked rim: kept as long as somebody has the pattern. */
const kept = new WeakMap<Path, SolvedTray>();

/** Keeps what was solved for the pattern with this worked rim, so that its working plan need not solve it again. */
export const cacheSolved = (workedRim: Path, solved: SolvedTray): void => void kept.set(workedRim, solved);

/**
 * The tray as it was solved for its pattern; solved again for a copy of it, as another thread has one. That solve
 * shares no elimination order with what follows, so that what follows is the same to the last digit.
 */
export function solvedFor(
  { spec, workedRim }: { readonly spec: TraySpec; readonly workedRim: Path },
  options: Partial<SolveOptions> = {},
): SolvedTray {
  const known = kept.get(workedRim);
  return known?.spec === spec ? known : solveSpec(spec, { ...options, structures: null });
}

/** What a tray's solve starts from. */
export interface SolveInput {
  readonly sheet: Sheet;
  readonly law: PlasticLaw;
  readonly surface: NeutralSurface;
  readonly symmetry: Symmetry | null;
  readonly growth: number;
}

/** Sheet, law of the tray's hand, surface as it is worked, symmetry and growth of a tray. */
export function solveInput(spec: TraySpec): SolveInput {
  const sheet = resolveSheet(spec.sheet);
  const law = plasticLaw(workedMaterial(sheet.material, spec.forming.hand), sheet.grain);
  const surface = neutralSurface(workedTray(spec));
  const symmetry = findSymmetry(
    symmetryVertices(spec),
    surface.loop,
    law.isotropicInPlane ? null : sheet.grain,
  );
  return { sheet, law, surface, symmetry, growth: growthOf(spec.forming.spread ?? 0) };
}

/**
 * Solves a tray, or another surface for the same sheet and symmetry.
 *
 * @throws GatherpanError as `solveTray` and `resolveSheet`
 */
export function solveSpec(
  spec: TraySpec,
  options: Partial<SolveOptions> = {},
  surface?: NeutralSurface,
): SolvedTray {
  const input = solveInput(spec);
  const shape = surface ?? input.surface;
  const solution = solveTray(shape, input.symmetry, input.law, {
    ...DEFAULT_SOLVE,
    growth: input.growth,
    ...options,
  });
  const strains = nodalStrains(solution.mesh, solution.geometry, input.law, solution.flat);
  return { spec, sheet: input.sheet, surface: shape, solution, strains };
}

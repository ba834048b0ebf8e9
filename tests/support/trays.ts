/** Trays for the tests of the solver, in sizes of the neutral surface unless said otherwise. */
import { type LawParameters, type PlasticLaw, plasticLaw, REST_SMOOTHING } from '../../src/material/law.ts';
import { findSymmetry } from '../../src/mesh/symmetry.ts';
import { DEFAULT_SOLVE, type SolveOptions, solveTray, type TraySolution } from '../../src/solve/solveTray.ts';
import { neutralSurface } from '../../src/tray/neutralSurface.ts';
import { planVertices } from '../../src/tray/planLoop.ts';
import type { Measured, Plan, PlanVertex, TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import type { ShellLaw } from './shellOfRevolution.ts';

/** Sheet so thin that its neutral radius is the radius given, mm. */
export const FOIL = 1e-9;

export interface TraySizes {
  readonly bottomRadius: number;
  readonly height: number;
  /** degrees */
  readonly draft?: number;
  readonly thickness?: number;
  readonly measured?: Measured;
  /** degrees */
  readonly grain?: number;
}

export function trayWithPlan(plan: Plan, sizes: TraySizes): TraySpec {
  const { bottomRadius, height, draft = 0, thickness = FOIL, measured = 'inside', grain = 0 } = sizes;
  return {
    name: 'seedling-drip-tray',
    measured,
    plan,
    section: { bottomRadius, height, draft, rim: { kind: 'plain' } },
    sheet: { material: 'DC04', thickness, grain },
    forming: { trim: 0 },
    cut: { process: 'laser', kerf: 0, compensate: false },
  };
}

export const rectangle = (
  length: number,
  width: number,
  cornerRadius: number | readonly [number, number, number, number],
  sizes: TraySizes,
): TraySpec => trayWithPlan({ length, width, cornerRadius }, sizes);

export const polygon = (vertices: readonly PlanVertex[], sizes: TraySizes): TraySpec =>
  trayWithPlan({ vertices }, sizes);

/** A square plan with corners of half its width. */
export const roundPan = (diameter: number, sizes: TraySizes): TraySpec =>
  rectangle(diameter, diameter, diameter / 2, sizes);

/** A bowl without a flat. */
export const hemisphere = (radius: number): TraySpec =>
  roundPan(2 * radius, { bottomRadius: radius, height: radius });

/** Swift hardening of a deep-drawing steel, N/mm²; what the figures that need one were worked out with. */
export const HARDENING = { K: 520, epsilon0: 0.004, n: 0.2 } as const;

/** Sheet that is alike in all directions of its plane. */
export const planarIsotropic = (
  r: number,
  n: number,
  epsilon0: number = HARDENING.epsilon0,
): LawParameters => ({
  ...HARDENING,
  n,
  epsilon0,
  r0: r,
  r45: r,
  r90: r,
});

/** A sheet with ears: r differs by a factor of nearly two over the direction. */
export const EARING: LawParameters = { ...HARDENING, r0: 1.9, r45: 1.1, r90: 2.3 };

/** The same sheet for the one-dimensional problem. */
export function shellLaw(parameters: LawParameters): ShellLaw {
  const { K, epsilon0, n, r0 } = parameters;
  return { K, epsilon0, n, r: r0, smoothing: REST_SMOOTHING };
}

/** The law in plan axes for a tray's grain. */
export const lawFor = (spec: TraySpec, parameters: LawParameters): PlasticLaw =>
  plasticLaw(parameters, radians(spec.sheet.grain));

/** Solves a tray for a sheet, without fitting an outline. */
export function solveSpec(
  spec: TraySpec,
  parameters: LawParameters,
  options: Partial<SolveOptions> = {},
): TraySolution {
  const law = lawFor(spec, parameters);
  const surface = neutralSurface(spec);
  const symmetry = findSymmetry(
    planVertices(spec.plan),
    surface.loop,
    law.isotropicInPlane ? null : law.grain,
  );
  return solveTray(surface, symmetry, law, { ...DEFAULT_SOLVE, ...options });
}

/** As fine as `times` refinements make it, whatever the estimate says. */
export const refined = (times: number): Partial<SolveOptions> => ({
  accuracy: 0,
  minimumRefinements: times,
  maximumRefinements: times,
});

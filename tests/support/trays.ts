/** Trays for the tests of the solver, in sizes of the neutral surface unless said otherwise. */
import { type LawParameters, type PlasticLaw, plasticLaw, REST_SMOOTHING } from '../../src/material/law.ts';
import { type QuadraticMesh, quadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import { midpoints, refine } from '../../src/mesh/skeleton.ts';
import { findSymmetry, type Symmetry, symmetryVertices } from '../../src/mesh/symmetry.ts';
import { COARSE, traySkeleton } from '../../src/mesh/traySkeleton.ts';
import { DEFAULT_SOLVE, type SolveOptions, solveTray, type TraySolution } from '../../src/solve/solveTray.ts';
import { type NeutralSurface, neutralSurface } from '../../src/tray/neutralSurface.ts';
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
  const { K, epsilon0, n, r0, strengths } = parameters;
  const law = { K, epsilon0, n, r: r0, smoothing: REST_SMOOTHING };
  return strengths === undefined ? law : { ...law, exponent: strengths.exponent };
}

/** The law in plan axes for a tray's grain. */
export const lawFor = (spec: TraySpec, parameters: LawParameters): PlasticLaw =>
  plasticLaw(parameters, radians(spec.sheet.grain));

/** Mirror symmetry a solve may use; `grain` in radians, null when the sheet is alike in all directions. */
export const symmetryOf = (spec: TraySpec, grain: number | null = null): Symmetry | null =>
  findSymmetry(symmetryVertices(spec), neutralSurface(spec).loop, grain);

/** Mesh of the piece of a tray that symmetry leaves, refined so many times, without solving anything. */
export function meshOf(spec: TraySpec, refinements = 0): QuadraticMesh {
  const symmetry = symmetryOf(spec);
  let skeleton = traySkeleton(neutralSurface(spec), symmetry, COARSE);
  let middles = midpoints(skeleton);
  for (let k = 0; k < refinements; k++) {
    skeleton = refine(skeleton, middles);
    middles = midpoints(skeleton);
  }
  const lines =
    symmetry === null
      ? null
      : {
          centreX: symmetry.centreX,
          centreY: symmetry.centreY,
          firstAngle: symmetry.startAngle,
          lastAngle: symmetry.endAngle,
        };
  return quadraticMesh(skeleton, middles, lines);
}

/** Solves a tray for a sheet, without fitting an outline. */
export function solveSpec(
  spec: TraySpec,
  parameters: LawParameters,
  options: Partial<SolveOptions> = {},
): TraySolution {
  return solveSurface(spec, neutralSurface(spec), parameters, options);
}

/** The same for a surface of the spec's plan whose section is not a tray's. */
export function solveSurface(
  spec: TraySpec,
  surface: NeutralSurface,
  parameters: LawParameters,
  options: Partial<SolveOptions> = {},
): TraySolution {
  const law = lawFor(spec, parameters);
  const symmetry = symmetryOf(spec, law.isotropicInPlane ? null : law.grain);
  return solveTray(surface, symmetry, law, { ...DEFAULT_SOLVE, ...options });
}

/** Cap of a sphere from the pole to an angle, radians. */
export function solveCap(
  radius: number,
  angle: number,
  parameters: LawParameters,
  options: Partial<SolveOptions> = {},
): TraySolution {
  const spec = hemisphere(radius);
  const surface = neutralSurface(spec);
  const length = radius * angle;
  const section = {
    ...surface.section,
    pieces: [{ kind: 'bend' as const, length, radius, angle: 0, run: 0, height: 0, developed: 0 }],
    developed: length,
  };
  return solveSurface(spec, { ...surface, section }, parameters, options);
}

/** As fine as `times` refinements make it, whatever the estimate says. */
export const refined = (times: number): Partial<SolveOptions> => ({
  accuracy: 0,
  minimumRefinements: times,
  maximumRefinements: times,
});

/**
 * The material law: total-strain (deformation) plasticity with Hill's 1948 anisotropy in plane stress and
 * Swift hardening, written as a work density of the logarithmic strain.
 *
 *   w(E) = ∫ σ̄ dε̄,  σ̄ = K (ε0 + ε̄)^n,  ε̄² = eᵀ Q e,  e = (E11, E22, 2·E12)
 *
 * Q is the inverse of Hill's stress matrix P, σ̄² = sᵀ P s with s = (σ11, σ22, σ12), in the rolling axes:
 *
 *   P11 = 1, P12 = −r0/(1+r0), P22 = r0(1+r90)/(r90(1+r0)), P33 = (r0+r90)(1+2·r45)/(r90(1+r0))
 *
 * Source: R. Hill, "A theory of the yielding and plastic flow of anisotropic metals", Proc. Royal Society
 * A 193 (1948) 281–297, in its usual plane-stress form normalised to the rolling direction; H. W. Swift,
 * "Plastic instability under plane stress", J. Mech. Phys. Solids 1 (1952) 1–18 for the hardening law.
 * With r0 = r45 = r90 the form is ε̄² = (1+r)²/(1+2r)·(ε1² + ε2² + 2r/(1+r)·ε1·ε2).
 *
 * Near zero the equivalent strain is smoothed, ε̄ → √(ε̄² + δ²) − δ, so that the work density is smooth and
 * convex at rest; δ = 1e-3 is well below the strains that move an outline.
 */

/** Half-width of the smoothing at rest, logarithmic strain. */
export const REST_SMOOTHING = 1e-3;

/** A symmetric 3×3 matrix as [m11, m12, m13, m22, m23, m33]. */
export type Symmetric3 = readonly [number, number, number, number, number, number];

/** What the solver needs of a sheet. */
export interface PlasticLaw {
  /** N/mm² */
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  /** Q for strains in the plan's axes (rolling axes turned by the grain angle). */
  readonly strainForm: Symmetric3;
  /** True when r does not depend on direction, so the grain angle does not matter. */
  readonly isotropicInPlane: boolean;
  /** Rolling direction, radians from the plan's x axis. */
  readonly grain: number;
}

/** Lankford coefficients and hardening, as in the table of sheets. */
export interface LawParameters {
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  readonly r0: number;
  readonly r45: number;
  readonly r90: number;
}

/**
 * Hill's strain form Q in the rolling axes.
 *
 * @param r0 r45 r90 Lankford coefficients, all > 0
 */
export function hillStrainForm(r0: number, r45: number, r90: number): Symmetric3 {
  const p12 = -r0 / (1 + r0);
  const p22 = (r0 * (1 + r90)) / (r90 * (1 + r0));
  const p33 = ((r0 + r90) * (1 + 2 * r45)) / (r90 * (1 + r0));
  // det = P11·P22 − P12² written out, because the difference cancels for large r.
  const det = (r0 * (1 + r0 + r90)) / (r90 * (1 + r0) * (1 + r0));
  return [p22 / det, -p12 / det, 0, 1 / det, 0, 1 / p33];
}

/**
 * The strain form in axes from which the rolling direction is turned by `angle` (radians,
 * counter-clockwise): eᵀ Q' e with e in those axes.
 */
export function rotateStrainForm(form: Symmetric3, angle: number): Symmetric3 {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  // Rows give the rolling-axes strain (E11, E22, 2E12) from the strain in the turned axes.
  const rows = [
    [c * c, s * s, c * s],
    [s * s, c * c, -c * s],
    [-2 * c * s, 2 * c * s, c * c - s * s],
  ];
  const [q11, q12, q13, q22, q23, q33] = form;
  const q = [
    [q11, q12, q13],
    [q12, q22, q23],
    [q13, q23, q33],
  ];
  const entry = (i: number, j: number): number => {
    let sum = 0;
    for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) sum += rows[a]![i]! * q[a]![b]! * rows[b]![j]!;
    return sum;
  };
  return [entry(0, 0), entry(0, 1), entry(0, 2), entry(1, 1), entry(1, 2), entry(2, 2)];
}

/** The law of a sheet whose rolling direction lies `grain` radians from the plan's x axis. */
export function plasticLaw(parameters: LawParameters, grain: number): PlasticLaw {
  const { K, epsilon0, n, r0, r45, r90 } = parameters;
  const isotropicInPlane = r0 === r45 && r45 === r90;
  const form = hillStrainForm(r0, r45, r90);
  return {
    K,
    epsilon0,
    n,
    strainForm: isotropicInPlane ? form : rotateStrainForm(form, grain),
    isotropicInPlane,
    grain,
  };
}

/** Hill's equivalent strain of (E11, E22, 2·E12) in the plan's axes. */
export function equivalentStrain(law: PlasticLaw, e11: number, e22: number, e12Twice: number): number {
  const [q11, q12, q13, q22, q23, q33] = law.strainForm;
  const square =
    q11 * e11 * e11 +
    q22 * e22 * e22 +
    q33 * e12Twice * e12Twice +
    2 * (q12 * e11 * e22 + q13 * e11 * e12Twice + q23 * e22 * e12Twice);
  return Math.sqrt(Math.max(0, square));
}

/** Flow stress K (ε0 + ε̄)^n, N/mm². */
export function flowStress(law: PlasticLaw, strain: number): number {
  return law.K * (law.epsilon0 + strain) ** law.n;
}

/**
 * Lankford coefficient for a pull at `angle` radians from the rolling direction: the strain across over the
 * strain through the thickness of a uniaxial pull, from Hill's flow rule.
 */
export function lankfordAt(parameters: LawParameters, angle: number): number {
  const { r0, r45, r90 } = parameters;
  const p12 = -r0 / (1 + r0);
  const p22 = (r0 * (1 + r90)) / (r90 * (1 + r0));
  const p33 = ((r0 + r90) * (1 + 2 * r45)) / (r90 * (1 + r0));
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const s11 = c * c;
  const s22 = s * s;
  const s12 = c * s;
  // Flow rule: strain increments along P·s; the shear entry of P·s is the engineering shear.
  const e11 = s11 + p12 * s22;
  const e22 = p12 * s11 + p22 * s22;
  const gamma = p33 * s12;
  const across = e11 * s * s + e22 * c * c - gamma * c * s;
  const through = -(e11 + e22);
  return across / through;
}

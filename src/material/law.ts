/**
 * The material law: total-strain (deformation) plasticity with planar anisotropy and Swift hardening, written as a
 * work density of the logarithmic strain.
 *
 *   w(E) = ∫ σ̄ dε̄,  σ̄ = K (ε0 + ε̄)^n,  ε̄² = eᵀ Q e,  e = (E11, E22, 2·E12)
 *
 * Where the strengths of a sheet are known beside its r-values, ε̄ is the dual of a yield function fitted to both and Q
 * depends on the direction of e, see `yieldFunction.ts`. Where they are not, it is Hill's of 1948, whose r-values
 * dictate the strengths, and Q is a constant. It is the inverse of Hill's stress matrix P, σ̄² = sᵀ P s with s = (σ11, σ22, σ12), in the rolling axes:
 *
 *   P11 = 1, P12 = −r0/(1+r0), P22 = r0(1+r90)/(r90(1+r0)), P33 = (r0+r90)(1+2·r45)/(r90(1+r0))
 *
 * Source: R. Hill, "A theory of the yielding and plastic flow of anisotropic metals", Proc. Royal Society
 * A 193 (1948) 281–297, in its usual plane-stress form normalised to the rolling direction; H. W. Swift,
 * "Plastic instability under plane stress", J. Mech. Phys. Solids 1 (1952) 1–18 for the hardening law.
 * With r0 = r45 = r90 the form is ε̄² = (1+r)²/(1+2r)·(ε1² + ε2² + 2r/(1+r)·ε1·ε2).
 *
 * Near zero the equivalent strain is smoothed, ε̄ → √(ε̄² + δ²) − δ, so that the work density is smooth and
 * convex at rest; δ = 1e-3 is well below the strains that move an outline. With strengths the force stays continuous
 * there but its derivative depends on the direction, as Q does.
 */
import { pow } from '../elementary.ts';

import { biaxialStrength, fitYieldFunction, type Test, testOf } from './yieldFit.ts';
import {
  type DualStarts,
  dualForm,
  dualStarts,
  type Symmetric3,
  type YieldExponent,
  type YieldFunction,
} from './yieldFunction.ts';

/** Half-width of the smoothing at rest, logarithmic strain. */
export const REST_SMOOTHING = 1e-3;

/** What the solver needs of a sheet. */
export interface PlasticLaw {
  /** N/mm² */
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  /**
   * Q for strains in the plan's axes (rolling axes turned by the grain angle); with a `dual` a quadratic form near it.
   */
  readonly strainForm: Symmetric3;
  /** What takes the place of `strainForm` where strengths are known; null elsewhere. */
  readonly dual: Dual | null;
  /** True when r does not depend on direction, so the grain angle does not matter. */
  readonly isotropicInPlane: boolean;
  /** Rolling direction, radians from the plan's x axis. */
  readonly grain: number;
}

/** The dual of a yield function, as the solver evaluates it. */
export interface Dual {
  readonly function: YieldFunction;
  /** Where its search starts, see `dualForm`; `strainForm` is their diagonal in the plan's axes. */
  readonly starts: DualStarts;
  /** Cosine and sine of twice the angle from the plan's x axis to the rolling direction. */
  readonly cosine: number;
  readonly sine: number;
  /** Weight of the dual, 0 to 1; the rest is that of `strainForm`. Less than 1 on the way from an easier law only. */
  readonly share: number;
  /** Share of the sheet's unevenness that the function has, see `YieldFit.share`: less than 1 for some hands only. */
  readonly unevenness: number;
}

/** Yield stresses of a sheet over that along the rolling direction. */
export interface Strengths {
  /** 6 for a metal of body-centred cubic crystals (steel), 8 for face-centred ones (aluminium, copper, brass, 1.4301). */
  readonly exponent: YieldExponent;
  /** At 45° to the rolling direction, and across it. */
  readonly at45: number;
  readonly at90: number;
  /** In balanced biaxial tension; Hosford's for the mean r and the exponent where it is not given. */
  readonly biaxial?: number;
  /** ε22/ε11 in balanced biaxial tension; r0/r90 where it is not given, which Hill's function and Hosford's agree on. */
  readonly biaxialR?: number;
}

/** Lankford coefficients and hardening, as in the table of sheets. */
export interface LawParameters {
  /** Strengths by direction, where they are known; without them Hill's function of the r-values dictates them. */
  readonly strengths?: Strengths;
  /** Swift hardening: flow stress = K (ε0 + ε̄)^n. K in N/mm². */
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  /** Lankford coefficients along, at 45° to and across the rolling direction; all > 0. */
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

/** Mean Lankford coefficient r̄ = (r0 + 2·r45 + r90)/4. */
export const meanLankford = ({ r0, r45, r90 }: Pick<LawParameters, 'r0' | 'r45' | 'r90'>): number =>
  (r0 + 2 * r45 + r90) / 4;

/**
 * What is known of a sheet with strengths, in the order 0°, 45°, 90°, balanced biaxial, with what stands for what is not
 * given.
 */
export function testsOf(parameters: Pick<LawParameters, 'r0' | 'r45' | 'r90'>, strengths: Strengths): Test[] {
  const { r0, r45, r90 } = parameters;
  const { exponent, at45, at90, biaxialR = r0 / r90 } = strengths;
  const { biaxial = biaxialStrength(exponent, meanLankford(parameters)) } = strengths;
  return [
    { angle: 0, strength: 1, r: r0 },
    { angle: Math.PI / 4, strength: at45, r: r45 },
    { angle: Math.PI / 2, strength: at90, r: r90 },
    { angle: null, strength: biaxial, r: biaxialR },
  ];
}

/** The law of a sheet whose rolling direction lies `grain` radians from the plan's x axis. */
export function plasticLaw(parameters: LawParameters, grain: number): PlasticLaw {
  const { K, epsilon0, n, r0, r45, r90, strengths } = parameters;
  const even = r0 === r45 && r45 === r90;
  if (strengths === undefined) {
    const form = hillStrainForm(r0, r45, r90);
    const strainForm = even ? form : rotateStrainForm(form, grain);
    return { K, epsilon0, n, strainForm, dual: null, isotropicInPlane: even, grain };
  }
  const isotropicInPlane =
    even && strengths.at45 === 1 && strengths.at90 === 1 && (strengths.biaxialR ?? 1) === 1;
  const turned = isotropicInPlane ? 0 : grain;
  const fitted = fittedDual(parameters, strengths);
  const dual: Dual = { ...fitted, cosine: Math.cos(2 * turned), sine: Math.sin(2 * turned), share: 1 };
  const [sum, gap, shear] = dual.starts.scale.map((scale) => scale * scale) as [number, number, number];
  const form: Symmetric3 = [sum + gap, sum - gap, 0, sum + gap, 0, shear];
  return { K, epsilon0, n, strainForm: rotateStrainForm(form, turned), dual, isotropicInPlane, grain };
}

type FittedDual = Pick<Dual, 'function' | 'starts' | 'unevenness'>;

/** The latest fits by what they were made of: a tray asks for the same sheet many times. */
const fits = new Map<string, FittedDual>();
const MOST_FITS = 16;

function fittedDual(parameters: LawParameters, strengths: Strengths): FittedDual {
  const tests = testsOf(parameters, strengths);
  const { exponent } = strengths;
  const key = JSON.stringify([exponent, tests]);
  const known = fits.get(key);
  if (known !== undefined) return known;
  const { function: f, share: unevenness } = fitYieldFunction(exponent, meanLankford(parameters), tests);
  const made: FittedDual = { function: f, starts: dualStarts(f), unevenness };
  if (fits.size >= MOST_FITS) fits.delete(fits.keys().next().value!);
  fits.set(key, made);
  return made;
}

const rolling = new Float64Array(6);
const turnedForm = new Float64Array(6);

/**
 * Q at the strain (E11, E22, 2·E12) in the plan's axes: ε̄² = eᵀQe and ½∇ε̄² = Qe. What is returned may change with
 * the next call. The same in AssemblyScript is ../solve/kernel/dualKernel.as.ts.
 */
export function strainFormAt(law: PlasticLaw, e11: number, e22: number, e12Twice: number): ArrayLike<number> {
  const { dual, strainForm } = law;
  if (dual === null) return strainForm;
  const { cosine: c, sine: s, share } = dual;
  const gap = e11 - e22;
  dualForm(dual.function, dual.starts, e11 + e22, c * gap + s * e12Twice, c * e12Twice - s * gap, rolling);
  // Back to the plan's axes, still for (E11 + E22, E11 − E22, 2·E12) …
  const a = rolling[0]!;
  const b = c * rolling[1]! - s * rolling[2]!;
  const d = s * rolling[1]! + c * rolling[2]!;
  const cc = c * c;
  const ss = s * s;
  const cs = c * s;
  const twice = 2 * cs * rolling[4]!;
  const g = cc * rolling[3]! - twice + ss * rolling[5]!;
  const h = cs * (rolling[3]! - rolling[5]!) + (cc - ss) * rolling[4]!;
  const k = ss * rolling[3]! + twice + cc * rolling[5]!;
  // … and for (E11, E22, 2·E12).
  const rest = 1 - share;
  turnedForm[0] = share * (a + 2 * b + g) + rest * strainForm[0];
  turnedForm[1] = share * (a - g) + rest * strainForm[1];
  turnedForm[2] = share * (d + h) + rest * strainForm[2];
  turnedForm[3] = share * (a - 2 * b + g) + rest * strainForm[3];
  turnedForm[4] = share * (d - h) + rest * strainForm[4];
  turnedForm[5] = share * k + rest * strainForm[5];
  return turnedForm;
}

/** The law's equivalent strain of (E11, E22, 2·E12) in the plan's axes. */
export function equivalentStrain(law: PlasticLaw, e11: number, e22: number, e12Twice: number): number {
  const form = strainFormAt(law, e11, e22, e12Twice);
  const square =
    form[0]! * e11 * e11 +
    form[3]! * e22 * e22 +
    form[5]! * e12Twice * e12Twice +
    2 * (form[1]! * e11 * e22 + form[2]! * e11 * e12Twice + form[4]! * e22 * e12Twice);
  return Math.sqrt(Math.max(0, square));
}

/**
 * How much narrower a pull along the rolling direction makes the sheet, over how much longer: r0/(1 + r0).
 *
 * @param law with the rolling direction along the plan's x axis
 */
export function narrowing({ dual, strainForm }: PlasticLaw): number {
  if (dual === null) return strainForm[1] / strainForm[3];
  const { r } = testOf(dual.function, 0);
  return r / (1 + r);
}

/** Flow stress K (ε0 + ε̄)^n, N/mm². */
export function flowStress(law: PlasticLaw, strain: number): number {
  return law.K * pow(law.epsilon0 + strain, law.n);
}

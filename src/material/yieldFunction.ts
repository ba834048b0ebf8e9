/**
 * A yield function that takes strengths beside r-values: Yld2000-2d in plane stress, and its dual, which is what a
 * law of total strain is made of.
 *
 *   2 φ(s)^a = |X1′ − X2′|^a + |2 X2″ + X1″|^a + |2 X1″ + X2″|^a,    a = 6 (bcc) or 8 (fcc)
 *
 * X′ and X″ are the principal values of two linear maps of the stress with eight coefficients; all 1 is Hosford's
 * isotropic function, a = 2 then von Mises's. It is convex for every choice of coefficients, being a sum of convex functions of linear
 * maps. Source: F. Barlat, J. C. Brem, J. W. Yoon, K. Chung, R. E. Dick, D. J. Lege, F. Pourboghrat, S.-H. Choi, E. Chu,
 * "Plane stress yield function for aluminum alloy sheets, part 1: theory", Int. J. Plasticity 19 (2003) 1297–1319.
 *
 * The dual is ψ(e) = max e·s over φ(s) ≤ 1: the equivalent strain whose work is σ̄ψ. With F = φ²/2 its conjugate is
 * ψ²/2 (R. T. Rockafellar, Convex Analysis (1970), sec. 15), so ∇F(s) = e gives s = ½∇ψ² and Q = (∇²F)⁻¹ = ½∇²ψ².
 * Q is homogeneous of degree 0, hence s = Q e and ψ² = eᵀQe as for a quadratic function, only that Q depends on the
 * direction of e.
 */
import { pow } from '../elementary.ts';

/** A symmetric 3×3 matrix as [m11, m12, m13, m22, m23, m33]. */
export type Symmetric3 = readonly [number, number, number, number, number, number];

/** The exponents there are formulas for: a quadratic function, bcc and fcc metals. */
export type YieldExponent = 2 | 6 | 8;

/** α1 … α8 of the source. */
export type YieldCoefficients = readonly [number, number, number, number, number, number, number, number];

/**
 * The function written for even exponents, where φ^a is a polynomial: with p = (σ11 + σ22)/2, t = (σ11 − σ22)/2,
 * τ = σ12 in the rolling axes,
 *
 *   φ^a = ½ (m² + m̂²)^(a/2) + ½ [(q + d)^a + (q − d)^a],   d² = n² + n̂²
 *
 * m = mp·p + mt·t, m̂ = ms·τ, q = qp·p + qt·t, n = np·p + nt·t, n̂ = ns·τ.
 */
export interface YieldFunction {
  readonly exponent: YieldExponent;
  readonly mp: number;
  readonly mt: number;
  readonly ms: number;
  readonly qp: number;
  readonly qt: number;
  readonly np: number;
  readonly nt: number;
  readonly ns: number;
}

export function yieldFunction(exponent: YieldExponent, alpha: YieldCoefficients): YieldFunction {
  const [a1, a2, a3, a4, a5, a6, a7, a8] = alpha;
  // X″11 + X″22 and X″11 − X″22 as factors of σ11 and σ22.
  const sum1 = (2 * a3 - 2 * a4 + 4 * a5 - a6) / 9;
  const sum2 = (-a3 + 4 * a4 - 2 * a5 + 2 * a6) / 9;
  const gap1 = (-6 * a3 + 6 * a4 + 12 * a5 - 3 * a6) / 9;
  const gap2 = (3 * a3 - 12 * a4 - 6 * a5 + 6 * a6) / 9;
  return {
    exponent,
    mp: (a1 - a2) / 3,
    mt: a1 + a2,
    ms: 2 * a7,
    qp: 1.5 * (sum1 + sum2),
    qt: 1.5 * (sum1 - sum2),
    np: (gap1 + gap2) / 2,
    nt: (gap1 - gap2) / 2,
    ns: a8,
  };
}

/** φ^a with half its gradient and half its Hessian in (p, t, τ), see `expand`. */
export interface Expansion {
  value: number;
  gp: number;
  gt: number;
  gs: number;
  kpp: number;
  kpt: number;
  kps: number;
  ktt: number;
  kts: number;
  kss: number;
}

export const newExpansion = (): Expansion => ({
  value: 0,
  gp: 0,
  gt: 0,
  gs: 0,
  kpp: 0,
  kpt: 0,
  kps: 0,
  ktt: 0,
  kts: 0,
  kss: 0,
});

/**
 * φ^a at a stress, half its gradient and half its Hessian.
 *
 * @param p t s (σ11 + σ22)/2, (σ11 − σ22)/2, σ12 in the rolling axes
 */
export function expand(f: YieldFunction, p: number, t: number, s: number, out: Expansion): void {
  const m = f.mp * p + f.mt * t;
  const ms = f.ms * s;
  const q = f.qp * p + f.qt * t;
  const n = f.np * p + f.nt * t;
  const ns = f.ns * s;
  const A = m * m + ms * ms;
  const z = q * q;
  const D = n * n + ns * ns;
  // Half of A^(a/2) with its derivatives, and the other half B(z, D) with its own.
  let a0: number;
  let a1: number;
  let a2: number;
  let b0: number;
  let bz: number;
  let bd: number;
  let bzz: number;
  let bzd: number;
  let bdd: number;
  if (f.exponent === 8) {
    const AA = A * A;
    const zz = z * z;
    const zD = z * D;
    const DD = D * D;
    a0 = 0.5 * AA * AA;
    a1 = 2 * AA * A;
    a2 = 6 * AA;
    b0 = zz * (zz + 28 * zD + 70 * DD) + DD * (28 * zD + DD);
    bz = z * (4 * zz + 84 * zD + 140 * DD) + 28 * DD * D;
    bd = 28 * zz * z + D * (140 * zz + 84 * zD + 4 * DD);
    bzz = 12 * zz + 168 * zD + 140 * DD;
    bzd = 84 * zz + 280 * zD + 84 * DD;
    bdd = 140 * zz + 168 * zD + 12 * DD;
  } else if (f.exponent === 6) {
    const AA = A * A;
    const zz = z * z;
    const zD = z * D;
    const DD = D * D;
    a0 = 0.5 * AA * A;
    a1 = 1.5 * AA;
    a2 = 3 * A;
    b0 = z * (zz + 15 * zD + 15 * DD) + DD * D;
    bz = 3 * zz + 30 * zD + 15 * DD;
    bd = 15 * zz + 30 * zD + 3 * DD;
    bzz = 6 * z + 30 * D;
    bzd = 30 * z + 30 * D;
    bdd = 30 * z + 6 * D;
  } else {
    a0 = 0.5 * A;
    a1 = 0.5;
    a2 = 0;
    b0 = z + D;
    bz = 1;
    bd = 1;
    bzz = 0;
    bzd = 0;
    bdd = 0;
  }
  // Half the gradients of A and of D.
  const ap = m * f.mp;
  const at = m * f.mt;
  const as = ms * f.ms;
  const dp = n * f.np;
  const dt = n * f.nt;
  const ds = ns * f.ns;
  const qz = q * bz;
  out.value = a0 + b0;
  out.gp = a1 * ap + qz * f.qp + bd * dp;
  out.gt = a1 * at + qz * f.qt + bd * dt;
  out.gs = a1 * as + bd * ds;
  const aa = 2 * a2;
  const qq = 2 * z * bzz + bz;
  const qd = 2 * q * bzd;
  const dd = 2 * bdd;
  out.kpp =
    aa * ap * ap + a1 * f.mp * f.mp + qq * f.qp * f.qp + 2 * qd * f.qp * dp + dd * dp * dp + bd * f.np * f.np;
  out.kpt =
    aa * ap * at +
    a1 * f.mp * f.mt +
    qq * f.qp * f.qt +
    qd * (f.qp * dt + f.qt * dp) +
    dd * dp * dt +
    bd * f.np * f.nt;
  out.ktt =
    aa * at * at + a1 * f.mt * f.mt + qq * f.qt * f.qt + 2 * qd * f.qt * dt + dd * dt * dt + bd * f.nt * f.nt;
  out.kps = aa * ap * as + qd * f.qp * ds + dd * dp * ds;
  out.kts = aa * at * as + qd * f.qt * ds + dd * dt * ds;
  out.kss = aa * as * as + a1 * f.ms * f.ms + dd * ds * ds + bd * f.ns * f.ns;
}

const place = newExpansion();

/** φ of (σ11, σ22, σ12) in the rolling axes. */
export function yieldStress(f: YieldFunction, s11: number, s22: number, s12: number): number {
  expand(f, (s11 + s22) / 2, (s11 - s22) / 2, s12, place);
  return pow(place.value, 1 / f.exponent);
}

/** The direction of strain that goes with (σ11, σ22, σ12): ∇φ as (ε11, ε22, 2·ε12), in the rolling axes. */
export function yieldGradient(
  f: YieldFunction,
  s11: number,
  s22: number,
  s12: number,
): [number, number, number] {
  expand(f, (s11 + s22) / 2, (s11 - s22) / 2, s12, place);
  const { value, gp, gt, gs } = place;
  const factor = (2 / f.exponent) * pow(value, 1 / f.exponent - 1);
  return [(factor * (gp + gt)) / 2, (factor * (gp - gt)) / 2, factor * gs];
}

/** Relative misfit of ∇F and e at which the direction of the stress counts as found: what follows squares it. */
const DIRECTION_FOUND = 1e-7;
/** Two to four evaluations are the rule. */
const MOST_EVALUATIONS = 60;
/** φ^a may grow by this much between two steps without being halved: rounding. */
const NO_WORSE = 1 + 1e-12;
/** Below this length a strain is none. */
const NO_STRAIN = 1e-150;
/** Places along an edge of the cube of directions: with 12, one evaluation in eight more; filling them goes with the square. */
const PLACES = 20;
/** Entries of all forms round the directions, see `DualStarts`. */
export const FORMS_SIZE = 3 * PLACES * PLACES * 6;

/** Where the search of `dualForm` starts. */
export interface DualStarts {
  /** Square roots of the diagonal of a quadratic dual near this one. */
  readonly scale: readonly [number, number, number];
  /**
   * ½∇²ψ² at directions of strain all round, six entries each; none where only the diagonal is known. The directions are
   * the middles of squares on three sides of a cube, that of strains times `scale`; opposite strains have the same.
   */
  readonly forms: Float64Array;
}

/**
 * ½∇²ψ² at a strain, in the coordinates (ε11 + ε22, ε11 − ε22, 2·ε12) of the rolling axes. The same in AssemblyScript
 * is ../solve/kernel/dualKernel.as.ts.
 *
 * Newton's method on the plane e·s = 1, where ∇F ∥ e is the point of least φ: the step from s goes to the direction
 * (∇²F)⁻¹e, and is halved until φ is no more than before.
 *
 * @param starts where the search starts; their diagonal is the result where there is no strain
 * @param out    six entries as of a `Symmetric3`
 */
export function dualForm(
  f: YieldFunction,
  { scale: [scaleSum, scaleGap, scaleShear], forms }: DualStarts,
  sum: number,
  gap: number,
  shear: number,
  out: Float64Array,
): void {
  const size = Math.sqrt(sum * sum + gap * gap + shear * shear);
  if (!(size > NO_STRAIN)) {
    out.fill(0);
    out[0] = scaleSum * scaleSum;
    out[3] = scaleGap * scaleGap;
    out[5] = scaleShear * scaleShear;
    return;
  }
  const u = sum / size;
  const v = gap / size;
  const w = shear / size;
  let p = scaleSum * scaleSum * u;
  let t = scaleGap * scaleGap * v;
  let s = scaleShear * scaleShear * w;
  if (forms.length > 0) {
    const at = 6 * placeOf(scaleSum * u, scaleGap * v, scaleShear * w);
    p = forms[at]! * u + forms[at + 1]! * v + forms[at + 2]! * w;
    t = forms[at + 1]! * u + forms[at + 3]! * v + forms[at + 4]! * w;
    s = forms[at + 2]! * u + forms[at + 4]! * v + forms[at + 5]! * w;
  }
  let p0 = p;
  let t0 = t;
  let s0 = s;
  let before = Infinity;
  for (let left = MOST_EVALUATIONS; ; left--) {
    const work = 1 / (p * u + t * v + s * w);
    p *= work;
    t *= work;
    s *= work;
    expand(f, p, t, s, place);
    const { value, gp, gt, gs } = place;
    if (value > NO_WORSE * before && left > 0) {
      p = 0.5 * (p + p0);
      t = 0.5 * (t + t0);
      s = 0.5 * (s + s0);
      continue;
    }
    // ∇F is parallel to e where half the gradient of φ^a is (a/2)·φ^a·e, since e·s = 1.
    const scale = 0.5 * f.exponent * value;
    const misfit = Math.abs(gp - scale * u) + Math.abs(gt - scale * v) + Math.abs(gs - scale * w);
    const factor = (2 * (f.exponent - 2)) / (f.exponent * value);
    const c11 = place.kpp - factor * gp * gp;
    const c12 = place.kpt - factor * gp * gt;
    const c13 = place.kps - factor * gp * gs;
    const c22 = place.ktt - factor * gt * gt;
    const c23 = place.kts - factor * gt * gs;
    const c33 = place.kss - factor * gs * gs;
    const i11 = c22 * c33 - c23 * c23;
    const i12 = c13 * c23 - c12 * c33;
    const i13 = c12 * c23 - c13 * c22;
    const i22 = c11 * c33 - c13 * c13;
    const i23 = c12 * c13 - c11 * c23;
    const i33 = c11 * c22 - c12 * c12;
    if (misfit <= DIRECTION_FOUND * scale || left <= 0) {
      const det = c11 * i11 + c12 * i12 + c13 * i13;
      const q = (0.5 * f.exponent * valueOverSquare(f.exponent, value)) / det;
      out[0] = q * i11;
      out[1] = q * i12;
      out[2] = q * i13;
      out[3] = q * i22;
      out[4] = q * i23;
      out[5] = q * i33;
      return;
    }
    before = value;
    p0 = p;
    t0 = t;
    s0 = s;
    p = i11 * u + i12 * v + i13 * w;
    t = i12 * u + i22 * v + i23 * w;
    s = i13 * u + i23 * v + i33 * w;
  }
}

/** φ^a over φ², from φ^a: by roots where they do, since a power takes as long as an evaluation. */
function valueOverSquare(exponent: YieldExponent, value: number): number {
  if (exponent !== 8) return pow(value, 1 - 2 / exponent);
  const half = Math.sqrt(value);
  return half * Math.sqrt(half);
}

/** Number of the square on the cube that a direction goes through. */
export function placeOf(x: number, y: number, z: number): number {
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  const az = Math.abs(z);
  let side = 2;
  let a = x / z;
  let b = y / z;
  if (ax >= ay && ax >= az) {
    side = 0;
    a = y / x;
    b = z / x;
  } else if (ay >= az) {
    side = 1;
    a = x / y;
    b = z / y;
  }
  const along = (share: number): number => Math.min(PLACES - 1, Math.trunc((share + 1) * (PLACES / 2)));
  return (side * PLACES + along(a)) * PLACES + along(b);
}

/** The starts for a yield function: ψ² along the three coordinates of `dualForm`, and the forms all round. */
export function dualStarts(f: YieldFunction): DualStarts {
  const out = new Float64Array(6);
  const size = (sum: number, gap: number, shear: number): number => {
    dualForm(f, { scale: [1, THIRD, THIRD], forms: new Float64Array(0) }, sum, gap, shear, out);
    return Math.sqrt(out[0]! * sum + out[3]! * gap + out[5]! * shear);
  };
  const scale = [size(1, 0, 0), size(0, 1, 0), size(0, 0, 1)] as const;
  const rough: DualStarts = { scale, forms: new Float64Array(0) };
  const forms = new Float64Array(FORMS_SIZE);
  const middle = (place: number): number => (2 * place + 1) / PLACES - 1;
  for (let side = 0; side < 3; side++) {
    for (let i = 0; i < PLACES; i++) {
      for (let j = 0; j < PLACES; j++) {
        const direction = [middle(i), middle(j)];
        direction.splice(side, 0, 1);
        const [x, y, z] = direction as [number, number, number];
        const at = 6 * ((side * PLACES + i) * PLACES + j);
        dualForm(f, rough, x / scale[0], y / scale[1], z / scale[2], forms.subarray(at, at + 6));
      }
    }
  }
  return { scale, forms };
}

const THIRD = Math.sqrt(1 / 3);

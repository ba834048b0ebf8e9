/**
 * What a sheet takes before it fails: necking where it is stretched, buckling where it is gathered.
 *
 * Necking is a limit of steel sheet only, and not the one that matters in a gathered corner: there the metal
 * is compressed along the rim and the free flange buckles long before. The buckling part tells how early
 * and in what half-wave, so that tucks can be set where the flange wants to pucker anyway. It treats the
 * flange as a long flat plate; a corner is curved, so take the figures as the first guess they are.
 */

import { GatherpanError } from '../errors.ts';
import { goldenSection, halved } from '../search.ts';
import { logStrainFromPercent } from '../units.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';

// ---- necking of steel sheet ------------------------------------------------------------------------

/** n above which the plane-strain limit no longer grows. */
const N_CAP = 0.21;
/** Thickness above which the plane-strain limit no longer grows, mm. */
const THICKNESS_CAP = 3;
/** Minor strain up to which the right branch rises, engineering per cent. */
const RIGHT_BRANCH_END = 20;

/**
 * Major strain at which steel sheet begins to neck in plane strain (FLD0), engineering per cent:
 * (23.3 + 14.13 t) n/0.21, with n taken as 0.21 when it is more.
 *
 * Source: Keeler and Brazier (1977), Relationship between laboratory material characterization and
 * press-shop formability, Microalloying 75, as quoted in public notes; not read ourselves. For steel only,
 * t up to about 3 mm (from memory): thicker sheet gets the value of 3 mm, which is on the safe side.
 *
 * @param thickness mm
 * @param n hardening exponent
 * @throws GatherpanError BAD_INPUT unless both are positive
 */
export function formingLimitPlaneStrain(thickness: number, n: number): number {
  requirePositive('thickness', thickness);
  requirePositive('hardeningExponent', n);
  return ((23.3 + 14.13 * Math.min(thickness, THICKNESS_CAP)) * Math.min(n, N_CAP)) / 0.21;
}

/**
 * Major logarithmic strain at which steel sheet begins to neck, for a given minor one.
 *
 * Left of plane strain the thickness strain is constant in logarithmic strain, ε1 + ε2 = ln(1 + FLD0); right
 * of it the limit rises by 0.6 in engineering strain up to a minor strain of 20 % and then stays. Source of
 * the branches: AHSS Application Guidelines (WorldAutoSteel), forming limit diagrams, as quoted. For steel
 * only.
 *
 * @param minorStrain logarithmic, tension positive
 * @param thickness mm
 * @param n hardening exponent
 */
export function formingLimit(minorStrain: number, thickness: number, n: number): number {
  const planeStrain = formingLimitPlaneStrain(thickness, n);
  if (minorStrain <= 0) return logStrainFromPercent(planeStrain) - minorStrain;
  const minor = Math.min(100 * Math.expm1(minorStrain), RIGHT_BRANCH_END);
  return logStrainFromPercent(planeStrain + 0.6 * minor);
}

// ---- buckling of a free flange ---------------------------------------------------------------------

/** How the root of a flange is held: free to turn, or held so that it cannot. The rim is free. */
export type FlangeRoot = 'hinged' | 'clamped';

/** The plate's law at the moment it buckles. */
export interface PlateLaw {
  /** Poisson's ratio, 0 to 0.5. */
  readonly poisson: number;
  /**
   * Tangent modulus over secant modulus, 0 to 1: 1 for an elastic sheet, n for one that hardens by a power
   * law.
   */
  readonly tangentRatio: number;
}

const ELASTIC: PlateLaw = { poisson: 0.3, tangentRatio: 1 };

/** Shortest half-wave in widths: below it nothing is left but the wave along the rim, and numbers run over. */
const SHORTEST_WAVE = 0.005;

/**
 * Buckling coefficient k of a compressed flange that buckles in half-waves of a given length:
 * N = k π² D/b², N the force a unit of width, b the width, D the bending stiffness (E t³/12(1 − ν²) elastic,
 * E_s t³/9 plastic).
 *
 * With w = f(y) sin(πx/ℓ), β = π/ℓ, the plate equation C β⁴f − 2β²f″ + f⁗ = (N/D) β²f has the solutions
 * cosh αy, cos γy with α² = R + β², γ² = R − β², R² = (N/D)β² + (1 − C)β⁴; at the free rim f″ = νβ²f and
 * f‴ = (2 − ν)β²f′. Source: Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. (1961), sec. 9.4 (C = 1;
 * their two transcendental equations, derived again here). Plastic: Stowell, A unified theory of plastic
 * buckling of columns and plates, NACA TN 1556 (1948), C = ¼ + ¾ E_t/E_s and ν = ½. A short half-wave stays
 * near the rim: γ² is negative then, and cos and sin are those of the hyperbola.
 *
 * @param halfWave length of a half-wave over the width of the flange, at least 0.005
 * @throws GatherpanError BAD_INPUT for a shorter half-wave or a law out of its range
 */
export function bucklingCoefficient(halfWave: number, root: FlangeRoot, law: PlateLaw = ELASTIC): number {
  const { poisson, tangentRatio } = law;
  if (!(halfWave >= SHORTEST_WAVE && Number.isFinite(halfWave))) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.material.halfWave(String(halfWave), String(SHORTEST_WAVE)),
    );
  }
  checkLaw(law);
  const beta = Math.PI / halfWave; // the width is 1
  /** @param cosine cos γ; @param sine sin γ over γ */
  const characteristic = (square: number, cosine: number, sine: number): number => {
    const alpha = Math.sqrt(square + 2 * beta ** 2);
    const p = alpha ** 2 - poisson * beta ** 2;
    const q = square + poisson * beta ** 2;
    // divided by γ and by cosh α, so that it stays finite at γ = 0 and for short waves
    if (root === 'hinged') return p ** 2 * Math.tanh(alpha) * cosine - alpha * q ** 2 * sine;
    return (
      (2 * p * q) / Math.cosh(alpha) +
      (p ** 2 + q ** 2) * cosine +
      (Math.tanh(alpha) * sine * (square * p ** 2 - alpha ** 2 * q ** 2)) / alpha
    );
  };
  const waving = (gamma: number): number =>
    characteristic(gamma ** 2, Math.cos(gamma), Math.sin(gamma) / gamma);
  const fading = (rate: number): number =>
    -characteristic(-(rate ** 2), Math.cosh(rate), (Math.tanh(rate) * Math.cosh(rate)) / rate);
  // The lowest buckling shape has no node between root and rim, which keeps γ below these bounds.
  const square =
    waving(NO_WAVE) > 0
      ? bisect(waving, NO_WAVE, root === 'hinged' ? Math.PI / 2 : Math.PI) ** 2
      : -(bisect(fading, NO_WAVE, beta / 2) ** 2);
  const R = square + beta ** 2;
  const stiffening = (1 - bendingRatio(tangentRatio)) * beta ** 2 * beta ** 2;
  return (R ** 2 - stiffening) / (Math.PI * beta) ** 2;
}

/** γ at which a shape counts as straight from root to rim. */
const NO_WAVE = 1e-9;

/** C of Stowell's plate equation: bending stiffness along the compression over that across it. */
const bendingRatio = (tangentRatio: number): number => 0.25 + 0.75 * tangentRatio;

/**
 * The half-wave in which a long flange buckles first, and its coefficient.
 *
 * A clamped flange has one, about 1.64 widths while elastic and shorter when plastic. A hinged one gets
 * easier to buckle the longer the wave, k → 6(1 − ν)/π²: it twists in a single half-wave over its full
 * length, so its half-wave is Infinity.
 *
 * @returns halfWave in widths, and k as in `bucklingCoefficient`
 */
export function criticalWave(
  root: FlangeRoot,
  law: PlateLaw = ELASTIC,
): { readonly halfWave: number; readonly k: number } {
  checkLaw(law);
  if (root === 'hinged') return { halfWave: Infinity, k: (6 * (1 - law.poisson)) / Math.PI ** 2 };
  // k has one minimum over the half-wave; in all of 0 ≤ ν ≤ ½, 0 ≤ E_t/E_s ≤ 1 it is well within 0.5 … 4.
  const coefficient = (log: number): number => bucklingCoefficient(Math.exp(log), root, law);
  // To about 1e-8.
  const { low, high } = goldenSection(coefficient, Math.log(0.5), Math.log(4), 40);
  const halfWave = Math.exp((low + high) / 2);
  return { halfWave, k: bucklingCoefficient(halfWave, root, law) };
}

/**
 * Length of the half-waves a long flange wants to buckle in, mm; Infinity when the root is hinged (see
 * `criticalWave`).
 *
 * @param width from root to free rim, mm
 * @param poisson Poisson's ratio; ½ for a sheet that flows
 * @param tangentRatio tangent over secant modulus: 1 elastic, n for a sheet that flows by a power law
 */
export function naturalHalfWave(width: number, root: FlangeRoot, poisson = 0.3, tangentRatio = 1): number {
  requirePositive('flangeWidth', width);
  return width * criticalWave(root, { poisson, tangentRatio }).halfWave;
}

/**
 * Number of half-waves, 1 or more, a flange of that length buckles in when its ends are held: the number
 * that needs the least force.
 *
 * @param length along the rim, mm
 * @param width from root to free rim, mm
 */
export function naturalWaves(
  length: number,
  width: number,
  root: FlangeRoot,
  poisson = 0.3,
  tangentRatio = 1,
): number {
  requirePositive('flangeLength', length);
  requirePositive('flangeWidth', width);
  if (root === 'hinged') return 1;
  const fewer = Math.max(1, Math.floor(length / naturalHalfWave(width, root, poisson, tangentRatio)));
  // k falls and then rises with the half-wave, so the best number is next to length / half-wave
  const law = { poisson, tangentRatio };
  const k = (waves: number): number => {
    const halfWave = length / waves / width;
    return halfWave < SHORTEST_WAVE ? Infinity : bucklingCoefficient(halfWave, root, law);
  };
  return k(fewer + 1) < k(fewer) ? fewer + 1 : fewer;
}

/**
 * Compressive strain along the rim, as a positive number, at which a long free flange of soft sheet begins
 * to buckle: k π²/9 (t/b)². For a hinged root this is (1/3)(t/b)²; a clamped one stands about 2 to 3
 * times as much, the more the sheet hardens.
 *
 * Deformation theory of plasticity: only the secant modulus enters for a flange that twists, the tangent
 * modulus too for one that also bends, so K drops out. Source: Stowell, NACA TN 1556 (1948). A tray corner
 * shrinks by 20 to 40 % at its rim, hundreds of times this: unsupported it always puckers.
 *
 * @param thickness mm
 * @param freeWidth from the root to the free rim, mm
 * @param n hardening exponent; no influence on a hinged flange
 * @throws GatherpanError BAD_INPUT unless thickness and width are positive and n is between 0 and 1
 */
export function criticalEdgeStrain(thickness: number, freeWidth: number, root: FlangeRoot, n = 0.2): number {
  requirePositive('thickness', thickness);
  requirePositive('flangeWidth', freeWidth);
  const { k } = criticalWave(root, { poisson: 0.5, tangentRatio: n });
  return plasticStrain(k) * (thickness / freeWidth) ** 2;
}

/** Whether a flange buckles before its sheet yields, or after. */
export type BucklingRegime = 'elastic' | 'plastic';

/** What an edge needs to know of its sheet to buckle. */
export interface EdgeSheet {
  /** Yield strength and Young's modulus, N/mm². */
  readonly yieldStrength: number;
  readonly youngsModulus: number;
  /** Hardening exponent. */
  readonly n: number;
}

/**
 * Compressive strain along the rim, positive, at which a free flange held at its root begins to buckle, and
 * whether its sheet is still elastic then: k π²/(12(1 − ν²)) (t/b)² with ν = 0.3 (Timoshenko and Gere, Theory of
 * Elastic Stability, 2nd ed. 1961, sec. 9.4) up to the strain at yield, beyond it `criticalEdgeStrain`, which is not
 * less than that strain. A run of it between two places that hold it buckles in the half-waves that fit into the run.
 *
 * @param slenderness thickness over free width
 * @param run its length over the free width; long when left out
 * @throws GatherpanError BAD_INPUT as `criticalEdgeStrain`
 */
export function edgeBuckling(
  { yieldStrength, youngsModulus, n }: EdgeSheet,
  slenderness: number,
  run = Infinity,
): { readonly strain: number; readonly regime: BucklingRegime } {
  requirePositive('thickness', slenderness);
  const atYield = yieldStrength / youngsModulus;
  const elastic = (run === Infinity ? ELASTIC_EDGE : elasticStrain(leastOf(run, ELASTIC))) * slenderness ** 2;
  if (elastic <= atYield) return { strain: elastic, regime: 'elastic' };
  const plastic =
    run === Infinity ? unitEdgeStrain(n) : plasticStrain(leastOf(run, { poisson: 0.5, tangentRatio: n }));
  return { strain: Math.max(atYield, plastic * slenderness ** 2), regime: 'plastic' };
}

/** Least coefficient of a run held at its ends; half-waves shorter than half a width never need the least force. */
function leastOf(run: number, law: PlateLaw): number {
  let least = Infinity;
  for (let waves = 1; waves <= Math.max(1, 2 * run); waves++)
    least = Math.min(least, bucklingCoefficient(run / waves, 'clamped', law));
  return least;
}

/** Strains of a flange as wide as it is thick, from its coefficient. */
const elasticStrain = (k: number): number => (k * Math.PI ** 2) / (12 * (1 - ELASTIC.poisson ** 2));
const plasticStrain = (k: number): number => (k * Math.PI ** 2) / 9;

const unitStrains = new Map<number, number>();

/** The critical strain of a flange as wide as it is thick, by n; kept, because a millisecond counts in a check. */
function unitEdgeStrain(n: number): number {
  let known = unitStrains.get(n);
  if (known === undefined) {
    known = criticalEdgeStrain(1, 1, 'clamped', n);
    if (unitStrains.size > 100) unitStrains.clear();
    unitStrains.set(n, known);
  }
  return known;
}

/** Of a long flange as wide as it is thick: k = 1.28. */
const ELASTIC_EDGE = elasticStrain(criticalWave('clamped').k);

// ---- small tools -----------------------------------------------------------------------------------

function checkLaw({ poisson, tangentRatio }: PlateLaw): void {
  if (!(poisson >= 0 && poisson <= 0.5)) {
    throw new GatherpanError('BAD_INPUT', words().messages.material.poisson(String(poisson)));
  }
  if (!(tangentRatio >= 0 && tangentRatio <= 1)) {
    throw new GatherpanError('BAD_INPUT', words().messages.material.tangentRatio(String(tangentRatio)));
  }
}

function requirePositive(what: keyof Words['messages']['material']['notPositive'], value: number): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new GatherpanError('BAD_INPUT', words().messages.material.notPositive[what](String(value)));
  }
}

/** Zero of a function that is positive at `low` and negative at `high`, to rounding. */
function bisect(f: (x: number) => number, low: number, high: number): number {
  if (!(f(low) > 0 && f(high) < 0)) throw new Error('bisect: no sign change between the bounds');
  const [a, b] = halved(low, high, (x) => f(x) > 0);
  return (a + b) / 2;
}

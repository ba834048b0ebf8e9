/**
 * The gathered shell of revolution as a one-dimensional problem: the same plasticity, no elements.
 *
 * Formed: radius ρ(s) over the meridian's length s. Flat: radius R(s). Strains ε_m = ln(ds/dR), ε_θ = ln(ρ/R),
 * thickness over flat thickness exp(−ε_m − ε_θ). Equilibrium along the meridian, d(T_m ρ)/ds = T_θ dρ/ds, with
 * T = ∂w/∂ε · exp(−ε_m − ε_θ) the force per length over flat thickness. On a sphere this is the textbook
 * d(T_m sin φ)/dφ = T_θ cos φ (S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed.
 * 1959, chapter on shells without bending, from memory).
 *
 * Unknowns R and ε_m are integrated from the pole with a guessed strain there, and the guess is bisected until
 * the rim carries no force.
 */
import { bracket, integrate } from './integrator.ts';

/**
 * Planar-isotropic sheet with Swift hardening, smoothed at rest over δ: Hill's of 1948, or with an exponent Hosford's of
 * 1979, |σ1|^a + |σ2|^a + r·|σ1 − σ2|^a = (1 + r)·σ̄^a.
 */
export interface ShellLaw {
  readonly exponent?: number;
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  readonly r: number;
  readonly smoothing: number;
}

/** A piece of the meridian: length, radius and its slope dρ/ds at a length along the piece. */
export interface MeridianPiece {
  readonly length: number;
  readonly radius: (s: number) => number;
  readonly slope: (s: number) => number;
}

/** Arc of radius `bend` from direction `from` to `to` (0 outwards, π/2 up), starting at radius `start`. */
export const arc = (start: number, bend: number, from: number, to: number): MeridianPiece => ({
  length: bend * (to - from),
  radius: (s) => start + bend * (Math.sin(from + s / bend) - Math.sin(from)),
  slope: (s) => Math.cos(from + s / bend),
});

/** Straight piece in one direction. */
export const straight = (start: number, length: number, direction: number): MeridianPiece => ({
  length,
  radius: (s) => start + s * Math.cos(direction),
  slope: () => Math.cos(direction),
});

/** Base of radius `base` (0 for none), bottom bend, wall, given as a round tray. */
export function roundTray(base: number, bend: number, height: number, draft = 0): MeridianPiece[] {
  const angle = Math.PI / 2 - draft;
  const wall = (height - bend * (1 - Math.cos(angle))) / Math.sin(angle);
  const pieces = [arc(base, bend, 0, angle)];
  if (wall > 1e-9) pieces.push(straight(base + bend * Math.sin(angle), wall, angle));
  return pieces;
}

/** What holds at the rim: no force (equilibrium), or the edge condition of least plastic work over the blank. */
export type RimCondition = 'free' | 'least work';

export interface ShellSolution {
  readonly flatRadius: number;
  /** Flat radius at the end of every piece of the meridian; the last is that of the rim. */
  readonly flatRadii: readonly number[];
  /** Thickness over flat thickness. */
  readonly poleThickness: number;
  readonly rimThickness: number;
  readonly rimHoop: number;
}

interface Membrane {
  /** T_m and its derivatives by ε_m and ε_θ. */
  readonly meridional: number;
  readonly byMeridional: number;
  readonly byHoop: number;
  readonly hoop: number;
  /** ∂w/∂ε_m and w, N/mm². */
  readonly stress: number;
  readonly work: number;
}

/** Half the square of the equivalent strain: its derivatives by ε_m and ε_θ, and the second ones that a shell needs. */
function halfSquare(
  { r, exponent }: ShellLaw,
  em: number,
  eh: number,
): { m: number; h: number; mm: number; mh: number } {
  if (exponent === undefined) {
    const a = (1 + r) ** 2 / (1 + 2 * r);
    const b = r / (1 + r);
    return { m: a * (em + b * eh), h: a * (eh + b * em), mm: a, mh: a * b };
  }
  const power = (x: number, a: number): number => Math.sign(x) * Math.abs(x) ** a;
  // Direction of the stress, (cos, sin) of an angle, by halving: that of the strain turns the same way, since the
  // function is convex, and is never farther from it than a right angle.
  const slopes = (angle: number): [number, number, number, number, number, number] => {
    const [x, y] = [Math.cos(angle), Math.sin(angle)];
    const a = exponent - 1;
    const [px, py, pd] = [power(x, a), power(y, a), r * power(x - y, a)];
    const [kx, ky, kd] = [x, y, x - y].map((v) => a * Math.abs(v) ** (a - 1)) as [number, number, number];
    return [px + pd, py - pd, kx + r * kd, -r * kd, ky + r * kd, x * px + y * py + (x - y) * pd];
  };
  const strain = Math.atan2(eh, em);
  let [low, high] = [strain - Math.PI / 2, strain + Math.PI / 2];
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    const [gx, gy] = slopes(middle);
    if (gx * eh - gy * em > 0) low = middle;
    else high = middle;
  }
  const angle = (low + high) / 2;
  const [gx, gy, kxx, kxy, kyy, sum] = slopes(angle);
  // F = φ²/2 with φ^a = S/(1 + r) at the unit stress: ∇F = φ^(2−a)/(1 + r)·g, ∇²F = φ^(2−a)/(1 + r)·(k + (2 − a)·ggᵀ/S).
  const factor = (sum / (1 + r)) ** ((2 - exponent) / exponent) / (1 + r);
  const rank = (2 - exponent) / sum;
  const [fxx, fxy, fyy] = [kxx + rank * gx * gx, kxy + rank * gx * gy, kyy + rank * gy * gy].map(
    (v) => factor * v,
  ) as [number, number, number];
  const det = fxx * fyy - fxy * fxy;
  const size = Math.hypot(em, eh) / (factor * Math.hypot(gx, gy));
  return { m: size * Math.cos(angle), h: size * Math.sin(angle), mm: fyy / det, mh: -fxy / det };
}

function membrane(law: ShellLaw, em: number, eh: number): Membrane {
  const { K, epsilon0, n, smoothing } = law;
  const { m, h, mm, mh } = halfSquare(law, em, eh);
  const radius = Math.sqrt(m * em + h * eh + smoothing * smoothing);
  const strain = radius - smoothing;
  const flow = K * (epsilon0 + strain) ** n;
  const slope = (n * flow) / (epsilon0 + strain);
  const secant = flow / radius;
  const change = (slope - secant) / (radius * radius); // of the secant, by half the square of the strain
  const thickness = Math.exp(-em - eh);
  const stress = secant * m;
  return {
    meridional: stress * thickness,
    byMeridional: (change * m * m + secant * mm - stress) * thickness,
    byHoop: (change * m * h + secant * mh - stress) * thickness,
    hoop: secant * h * thickness,
    stress,
    work: (K * ((epsilon0 + strain) ** (n + 1) - epsilon0 ** (n + 1))) / (n + 1),
  };
}

/** The solution of `findShell` where there must be one. */
export function solveShell(
  law: ShellLaw,
  base: number,
  pieces: readonly MeridianPiece[],
  rim: RimCondition = 'free',
): ShellSolution {
  const solution = findShell(law, base, pieces, rim);
  if (solution === null) throw new Error('the shell has no equilibrium');
  return solution;
}

/**
 * Flat radius and thickness of a shell of revolution, or null when the metal parts before the rim is free.
 *
 * @param base radius of a flat base in front of the pieces, 0 when the first piece starts at the pole
 */
export function findShell(
  law: ShellLaw,
  base: number,
  pieces: readonly MeridianPiece[],
  rim: RimCondition = 'free',
): ShellSolution | null {
  /** [flat radius, ε_m, ε_θ] at the rim for a strain at the pole; null where the metal parts on the way. */
  const shoot = (pole: number, flatRadii: number[] = []): readonly [number, number, number] | null => {
    let state: number[] | null = null;
    let rimRadius = base;
    for (const piece of pieces) {
      let from = 0;
      if (state === null) {
        // A flat base is stretched evenly; a pole is started on its even stretch, one short step out.
        if (base === 0) from = 1e-5 * piece.length;
        state = [piece.radius(from) * Math.exp(-pole), pole];
      }
      state = integrate(
        (s, [flat, em]) => {
          const radius = piece.radius(s);
          const at = membrane(law, em!, Math.log(radius / flat!));
          // Past the strain of the largest pull the piece necks: no equilibrium beyond.
          if (!(at.byMeridional > 0)) return [Number.NaN, Number.NaN];
          const flatSlope = Math.exp(-em!);
          const rate = piece.slope(s) / radius;
          const hoopRate = rate - flatSlope / flat!;
          return [flatSlope, ((at.hoop - at.meridional) * rate - at.byHoop * hoopRate) / at.byMeridional];
        },
        from,
        piece.length,
        state,
      );
      if (state === null) return null;
      flatRadii.push(state[0]!);
      rimRadius = piece.radius(piece.length);
    }
    return [state![0]!, state![1]!, Math.log(rimRadius / state![0]!)];
  };
  /** Excess of the rim's stress over what it may carry, relative to K. */
  const excess = (pole: number): number => {
    const at = shoot(pole);
    if (at === null) return Number.POSITIVE_INFINITY; // stretched too far: too much pull
    const { stress, work } = membrane(law, at[1], at[2]);
    return (rim === 'free' ? stress : stress - work) / law.K;
  };
  // The pole is stretched by most shapes and pressed together by a lip that turns inwards.
  const [low, high] = bracket(excess, -0.1, 0.4);
  const flatRadii: number[] = [];
  const at = shoot(low, flatRadii);
  // A jump from too little pull straight to a parted shell is no equilibrium.
  if (at === null || high - low > 1e-12 || !(Math.abs(excess(low)) < 1e-6)) return null;
  return {
    flatRadius: at[0],
    flatRadii,
    poleThickness: Math.exp(-2 * low),
    rimThickness: Math.exp(-at[1] - at[2]),
    rimHoop: at[2],
  };
}

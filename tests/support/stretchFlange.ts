/**
 * The flange around a round opening, drawn inwards and stretched, as a one-dimensional problem: the same plasticity
 * as `shellOfRevolution.ts`, written another way round.
 *
 * The meridian runs from the edge of the base, whose radius is kept, over the bend towards the axis and up the
 * wall. Flat radius R and the force T_m ρ are integrated; the meridional strain is what carries that force. The
 * force at the edge of the base is found by bisection so that the rim carries none.
 */
import { bracket, integrate } from './integrator.ts';
import type { ShellLaw } from './shellOfRevolution.ts';

export interface StretchFlange {
  /** Flat radius of the rim. */
  readonly flatRadius: number;
  /** Logarithmic hoop strain and thickness over flat thickness at the rim. */
  readonly hoop: number;
  readonly thickness: number;
}

/** Forces per length over flat thickness along the meridian and around, planar-isotropic Hill 1948. */
function forces(law: ShellLaw, em: number, eh: number): readonly [meridional: number, hoop: number] {
  const { K, epsilon0, n, r, smoothing } = law;
  const b = r / (1 + r);
  const a = (1 + r) ** 2 / (1 + 2 * r);
  const radius = Math.sqrt(a * (em * em + eh * eh + 2 * b * em * eh) + smoothing * smoothing);
  const secant = (K * (epsilon0 + radius - smoothing) ** n) / radius;
  const thickness = Math.exp(-em - eh);
  return [secant * a * (em + b * eh) * thickness, secant * a * (eh + b * em) * thickness];
}

/** Meridional strain that carries a force, between the hoop's own thinning and the strain of the largest pull. */
function meridionalStrain(law: ShellLaw, force: number, eh: number): number {
  const neck = 0.5 * law.n; // the membrane still hardens faster than it thins
  const [low] = bracket((em) => forces(law, em, eh)[0] - force, -2, neck);
  return low;
}

/**
 * @param base   radius of the opening in the base where the bend begins
 * @param bend   radius of the bend
 * @param height of the upright wall's rim above the base
 */
export function stretchFlange(law: ShellLaw, base: number, bend: number, height: number): StretchFlange {
  const shoot = (push: number): readonly [flat: number, rho: number, force: number] | null => {
    const end = integrate(
      (s, [flat, pull]) => {
        const angle = s / bend;
        const rho = base - bend * Math.sin(angle);
        const eh = Math.log(rho / flat!);
        const em = meridionalStrain(law, pull! / rho, eh);
        // d(T_m ρ)/ds = T_θ dρ/ds, and dR = −ds / e^ε_m.
        return [-Math.exp(-em), -forces(law, em, eh)[1] * Math.cos(angle)];
      },
      0,
      (bend * Math.PI) / 2,
      [base, push],
      1e-9,
    );
    return end === null ? null : [end[0]!, base - bend, end[1]!];
  };
  // Above the bend dρ/ds = 0: T_m ρ stays what it is, so it must be none already at the bend's end.
  const [low] = bracket((push) => shoot(push)?.[2] ?? Number.POSITIVE_INFINITY, 0, 0.5 * law.K * bend);
  const at = shoot(low);
  if (at === null || Math.abs(at[2]) > 1e-3) throw new Error('the flange has no equilibrium');
  const rho = at[1];
  // Uniaxial hoop tension: ε_m = −r/(1+r)·ln(ρ/R), which integrates to a power of R.
  const q = law.r / (1 + law.r);
  const flatRadius = (at[0] ** (1 + q) - (1 + q) * rho ** q * (height - bend)) ** (1 / (1 + q));
  const hoop = Math.log(rho / flatRadius);
  return { flatRadius, hoop, thickness: Math.exp(-hoop / (1 + law.r)) };
}

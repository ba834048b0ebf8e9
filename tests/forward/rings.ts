/**
 * A round pan worked in many small steps as a problem of one dimension: rings of the blank that keep their volume, each
 * with the work that stands behind it. The judge's theory without its surfaces, quadrilaterals and frames.
 *
 * Places are lengths along the meridian from the axis. On every stage the wall leaves the base at radius `base` over an
 * arc of radius `bend` and goes on straight. Even sheet, Hill's function of 1948, Swift's hardening.
 */
import type { ShellLaw } from '../support/shellOfRevolution.ts';

interface Meridian {
  readonly radius: number;
  readonly slope: number;
  readonly curve: number;
}

/** Distance from the axis at a place of the meridian, with its derivatives. */
function meridian(base: number, bend: number, angle: number, place: number): Meridian {
  const up = place - base;
  if (up <= 0) return { radius: place, slope: 1, curve: 0 };
  const turned = Math.min(angle, up / bend);
  const straight = up - bend * turned;
  return {
    radius: base + bend * Math.sin(turned) + straight * Math.cos(turned),
    slope: Math.cos(turned),
    curve: straight > 0 ? 0 : -Math.sin(turned) / bend,
  };
}

/** Place of the rim of a blank after each of these wall angles, and its thickness over that of the blank. */
export function workedRings(
  law: ShellLaw,
  base: number,
  bend: number,
  flatRadius: number,
  angles: readonly number[],
  count: number,
): { readonly rim: number; readonly rimThickness: number } {
  const flat = Float64Array.from({ length: count + 1 }, (_, i) => (flatRadius * i) / count);
  let places = Float64Array.from(flat);
  let radii = Float64Array.from({ length: count }, (_, i) => (flat[i]! + flat[i + 1]!) / 2);
  const strain = new Float64Array(count);
  const { K, epsilon0, n, r } = law;
  const smoothing = law.smoothing / angles.length;
  const [a, b] = [(1 + r) ** 2 / (1 + 2 * r), r / (1 + r)];
  for (const angle of angles) {
    const start = places;
    /** Work; with `system` also gradient and the two bands of its derivative, eased as `ease` says. */
    const assemble = (
      at: Float64Array,
      ease: number,
      system: { gradient: Float64Array; diagonal: Float64Array; beside: Float64Array } | null,
    ): number => {
      let work = 0;
      for (const band of system === null ? [] : Object.values(system)) band.fill(0);
      for (let i = 0; i < count; i++) {
        const length = at[i + 1]! - at[i]!;
        if (!(length > 0)) return Number.POSITIVE_INFINITY;
        const { radius, slope, curve } = meridian(base, bend, angle, (at[i]! + at[i + 1]!) / 2);
        const em = Math.log(length / (start[i + 1]! - start[i]!));
        const eh = Math.log(radius / radii[i]!);
        const [pm, ph] = [a * (em + b * eh), a * (eh + b * em)];
        const size = Math.sqrt(pm * em + ph * eh + smoothing * smoothing);
        const behind = strain[i]! + size - smoothing;
        const flow = K * (epsilon0 + behind) ** n;
        const area = (flat[i + 1]! ** 2 - flat[i]! ** 2) / 2;
        work += (area * (flow * (epsilon0 + behind) - K * (epsilon0 + strain[i]!) ** (n + 1))) / (n + 1);
        if (system === null) continue;
        const secant = flow / size;
        const change = ((1 - ease) * ((n * flow) / (epsilon0 + behind) - secant)) / (size * size);
        const [gm, gh] = [secant * pm, secant * ph];
        const mm = secant * a + change * pm * pm;
        const mh = secant * a * b + change * pm * ph;
        const hh = secant * a + change * ph * ph;
        // By the inner and outer place of the ring.
        const bm = [-1 / length, 1 / length] as const;
        const bh = slope / (2 * radius);
        const hoopBend = curve / (4 * radius) - bh * bh;
        const entry = (p: 0 | 1, q: 0 | 1): number =>
          area *
          (mm * bm[p] * bm[q] +
            mh * bh * (bm[p] + bm[q]) +
            hh * bh * bh -
            gm * bm[p] * bm[q] +
            gh * hoopBend);
        for (const p of [0, 1] as const) {
          system.gradient[i + p]! += area * (gm * bm[p] + gh * bh);
          system.diagonal[i + p]! += entry(p, p);
        }
        system.beside[i]! += entry(0, 1);
      }
      return work;
    };
    const now = Float64Array.from(start);
    const system = {
      gradient: new Float64Array(count + 1),
      diagonal: new Float64Array(count + 1),
      beside: new Float64Array(count + 1),
    };
    let ease = 0;
    for (let step = 0; step < 200; step++) {
      const work = assemble(now, ease, system);
      const { gradient, diagonal, beside } = system;
      // The axis stays; elimination from it outwards.
      const pivot = Float64Array.from(diagonal);
      const move = gradient.map((g) => -g);
      for (let i = 2; i <= count; i++) {
        const factor = beside[i - 1]! / pivot[i - 1]!;
        pivot[i]! -= factor * beside[i - 1]!;
        move[i]! -= factor * move[i - 1]!;
      }
      move[0] = 0;
      for (let i = count; i > 0; i--)
        move[i] = (move[i]! - (i < count ? beside[i]! * move[i + 1]! : 0)) / pivot[i]!;
      const promised = -move.reduce((sum, value, i) => sum + value * gradient[i]!, 0);
      if (Math.abs(promised) < 1e-11 * work) break;
      let share = 1;
      while (
        !(
          assemble(
            now.map((place, i) => place + share * move[i]!),
            ease,
            null,
          ) <
          work - 1e-4 * share * promised
        )
      ) {
        share /= 2;
        if (share < 1e-9) throw new Error(`the rings are not settled at ${angle}`);
      }
      for (let i = 0; i <= count; i++) now[i]! += share * move[i]!;
      ease = share < 1 ? (1 + ease) / 2 : ease > 0.1 ? ease / 4 : 0;
    }
    const next = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      next[i] = meridian(base, bend, angle, (now[i]! + now[i + 1]!) / 2).radius;
      const em = Math.log((now[i + 1]! - now[i]!) / (start[i + 1]! - start[i]!));
      const eh = Math.log(next[i]! / radii[i]!);
      strain[i]! += Math.sqrt(a * (em * em + eh * eh + 2 * b * em * eh) + smoothing ** 2) - smoothing;
    }
    places = now;
    radii = next;
  }
  const last = count - 1;
  const stretched =
    ((places[count]! - places[last]!) / (flat[count]! - flat[last]!)) *
    (radii[last]! / ((flat[count]! + flat[last]!) / 2));
  return { rim: places[count]! - base, rimThickness: 1 / stretched };
}

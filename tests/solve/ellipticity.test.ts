/** How far a sheet gathers evenly, against a determinant that was worked out by hand; and rounds beyond it. */
import { describe, expect, it } from 'vitest';
import { plasticLaw } from '../../src/material/law.ts';
import { verdictOn } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { shrinkLimit } from '../../src/solve/ellipticity.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { closeTo } from '../support/closeTo.ts';
import { customMaterial } from '../tray/trayFiles.ts';

/**
 * Uniaxial compression e of a sheet of normal anisotropy r and hardening ε^n (derived): with g₁ = exp e,
 * g₂ = exp(−e·r/(1+r)), q = (1+r)²/(1+2r), s = q·r/(1+r), moduli over the secant one and the thickness, the
 * characteristic polynomial is biquadratic and stays positive as long as its middle term is above −2√(outer terms).
 */
function margin(e: number, r: number, n: number): number {
  const [g1, g2] = [Math.exp(e), Math.exp((-e * r) / (1 + r))];
  const q = (1 + r) ** 2 / (1 + 2 * r);
  const s = (q * r) / (1 + r);
  const shear = e / (g1 * g1 - g2 * g2);
  const [a11, a22] = [(q + n - 1 + e) / g1, q / g2];
  const [a12, a21] = [(s + e) / g2, s / g1];
  const middle = a11 * a22 + shear * shear * g1 * g2 - (a12 + shear * g2) * (a21 + shear * g1);
  return middle + 2 * shear * Math.sqrt(a11 * g2 * g1 * a22);
}

describe('the limit of gathering evenly', () => {
  it.each([
    [1, 0.2],
    [1.8, 0.22],
    [0.7, 0.25],
    [2.3, 0.27],
    [0.9, 0.44],
  ])('of r %d and n %d is where the equations stop being elliptic', (r, n) => {
    let [low, high] = [0.05, 2];
    for (let k = 0; k < 40; k++) {
      const middle = (low + high) / 2;
      if (margin(middle, r, n) > 0) low = middle;
      else high = middle;
    }
    // ε0 small, so that the law is a power law at these strains.
    const law = plasticLaw({ K: 500, epsilon0: 1e-6, n, r0: r, r45: r, r90: r }, 0);
    closeTo(
      shrinkLimit(law),
      low,
      { why: 'smoothing at rest, and steps of 1° in direction', relative: 4e-3 },
      'limit',
    );
  });
});

describe('rounds that shrink far', () => {
  // R0 = rw·(1 + m·H/rw)^(1/m), m = (1 + 2r)/(1 + r), for a sharp bottom (derived): past the limit by far at 28 mm.
  const round = (height: number, bottomRadius: number) =>
    developTray(
      readTray({
        name: 'round',
        measured: 'outside',
        plan: { length: 20, width: 20, cornerRadius: 10 },
        section: { bottomRadius, height },
        sheet: {
          material: { ...customMaterial, n: 0.22, r0: 1.8, r45: 1.8, r90: 1.8 },
          thickness: 1,
        },
      }),
    );

  it.each([10, 5, 2])('are refused from one height on, bottom radius %d', (bottomRadius) => {
    const heights = Array.from({ length: 20 }, (_, k) => 12 + 2 * k);
    const flats = heights.map((height) => round(height, bottomRadius));
    const kinds = flats.map(({ kind }) => kind);
    const first = kinds.indexOf('no flat');
    expect(first).toBeGreaterThan(0);
    expect(kinds.slice(first).every((kind) => kind === 'no flat')).toBe(true);
    for (const each of flats.slice(first)) expect(verdictOn(each).word).toBe('not in one piece');
  });
});

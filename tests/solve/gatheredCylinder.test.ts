/**
 * The frictionless gathered cylinder in closed form.
 *
 * A ring of the wall of radius w is in uniaxial hoop compression (dr/ds = 0 and a free rim leave no force up the
 * wall), so its thickness is t/t0 = (R/w)^(1/(1+r)), R the flat radius of the ring; volume then gives
 * (R/w)^m = (R_s/w)^m + m·h/w, m = (1+2r)/(1+r), h the height above the ring that came from R_s. With a sharp
 * bottom R_s = w. Neither K nor n is in it. Derived; figures worked by hand and confirmed with constant-strain
 * triangles of another program.
 */
import { describe, expect, test } from 'vitest';
import { closeTo, FINE_MESH, type Tolerance } from '../support/closeTo.ts';
import { meanRimRadius, roundNodes } from '../support/measures.ts';
import { planarIsotropic, roundPan, solveSpec } from '../support/trays.ts';

const FINE = { accuracy: 1e-3 };
const THICKNESS: Tolerance = { why: 'strains extrapolated to nodes', relative: 1e-3 };

const exponent = (r: number): number => (1 + 2 * r) / (1 + r);

const sharpCylinder = (wall: number, height: number, r: number): number =>
  wall * (1 + (height / wall) * exponent(r)) ** (1 / exponent(r));

test.each([
  [25, 20, 1, 42.2885],
  [25, 20, 1.8, 41.6638],
  [20, 30, 1, 43.8819],
  [20, 10, 1.8, 28.8099],
  [25, 20, 100, 40.3453],
] as const)('the formula is the one tabled: wall %d, height %d, r = %d', (wall, height, r, tabled) => {
  closeTo(sharpCylinder(wall, height, r), tabled, { why: 'four decimals', absolute: 5e-5 }, 'flat radius');
});

describe('pan of wall radius 25, height 20', () => {
  // Flat radius of the rim for bottom radii of 6, 2, 1, 0.5, by constant-strain triangles of another program.
  test.each([
    [6, 1, 0.2, 40.239],
    [2, 1, 0.2, 41.621],
    [1, 1, 0.2, 41.957],
    [0.5, 1, 0.2, 42.123],
    [6, 1.8, 0.22, 39.729],
  ] as const)('bottom radius %d, r = %d, n = %d', (bottomRadius, r, n, expected) => {
    const solution = solveSpec(roundPan(50, { bottomRadius, height: 20 }), planarIsotropic(r, n), FINE);
    closeTo(meanRimRadius(solution), expected, FINE_MESH, 'flat radius of the rim');
  });

  test('the base stays as it is', () => {
    const solution = solveSpec(
      roundPan(50, { bottomRadius: 6, height: 20 }),
      planarIsotropic(1, 0.2, 1e-5),
      FINE,
    );
    const base = roundNodes(solution).filter((node) => node.height < 1e-9 && node.formedRadius < 15);
    expect(base.length).toBeGreaterThan(10);
    for (const { thickness } of base) {
      closeTo(thickness, 1, { why: 'smoothing at rest, 0.001', absolute: 1e-3 }, 'thickness of the base');
    }
  });
});

describe('the limit of a sharp bottom', () => {
  // The flat radius falls off linearly with the bottom radius, so two small ones extrapolate to none.
  test.each([
    [25, 20, 1, 0.2],
    [25, 20, 1, 0.35],
    [25, 20, 1.8, 0.22],
    [25, 20, 0.6, 0.15],
    [20, 30, 1, 0.2],
    [20, 10, 1.8, 0.2],
    [25, 20, 100, 0.2],
    [25, 20, 0.001, 0.3],
  ] as const)('wall %d, height %d, r = %d, n = %d', (wall, height, r, n) => {
    const at = (bottomRadius: number): number =>
      meanRimRadius(solveSpec(roundPan(2 * wall, { bottomRadius, height }), planarIsotropic(r, n), FINE));
    const limit = 2 * at(0.5) - at(1);
    closeTo(
      limit,
      sharpCylinder(wall, height, r),
      { why: 'extrapolated from 1 and 0.5 mm', relative: 5e-4 },
      'flat radius',
    );
  });

  test('is arc length for r → 0 and equal area for large r', () => {
    closeTo(sharpCylinder(25, 20, 1e-9), 45, { why: 'limit', absolute: 1e-6 }, 'wall laid out flat');
    closeTo(
      sharpCylinder(25, 20, 1e9),
      Math.sqrt(25 ** 2 + 2 * 25 * 20),
      { why: 'limit', absolute: 1e-6 },
      'equal area',
    );
  });
});

describe('every ring of the wall', () => {
  test.each([
    [1, 0.2],
    [1.8, 0.22],
    [0.5, 0.3],
    [4, 0.2],
  ] as const)('r = %d, n = %d', (r, n) => {
    const [wall, bottomRadius, height] = [25, 6, 20];
    const solution = solveSpec(roundPan(2 * wall, { bottomRadius, height }), planarIsotropic(r, n), FINE);
    const rings = roundNodes(solution).filter((node) => node.height > bottomRadius - 1e-9);
    expect(rings.length).toBeGreaterThan(50);
    const first = rings.filter((node) => node.height < bottomRadius + 1e-9);
    const start = first.reduce((sum, node) => sum + node.flatRadius, 0) / first.length;
    const m = exponent(r);
    for (const { height: h, flatRadius, thickness } of rings) {
      const expected = wall * ((start / wall) ** m + (m * (h - bottomRadius)) / wall) ** (1 / m);
      closeTo(
        flatRadius,
        expected,
        { why: 'mesh', relative: 1e-4 },
        `flat radius of the ring at height ${h}`,
      );
      if (h < bottomRadius + 1) continue; // nodes where the bend ends share strains with the bend
      closeTo(thickness, (flatRadius / wall) ** (1 / (1 + r)), THICKNESS, `thickness at height ${h}`);
    }
  });
});

/**
 * The two classical flat patterns of a sphere as limits: thickness kept (large r) gives Lambert's azimuthal
 * equal-area projection; the azimuthal equidistant one, in which meridians keep their length, bounds from above.
 *
 * J. P. Snyder, Map Projections: A Working Manual, U.S. Geological Survey Professional Paper 1395 (1987), chapter
 * 24 (equations 24-1 to 24-4) and chapter 25.
 */
import { describe, expect, test } from 'vitest';
import type { TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { flatAreaByOutline, formedAreaByQuadrature, meanRimRadius, roundNodes } from '../support/measures.ts';
import { hemisphere, planarIsotropic, rectangle, roundPan, solveCap, solveSpec } from '../support/trays.ts';

const FINE = { accuracy: 1e-3 };
const THOUSANDTH: Tolerance = { why: 'r is large, not infinite', relative: 1e-3 };

/** Lambert's azimuthal equal-area projection about (φ1, λ0): Snyder 24-2 and 22-4, 22-5. */
function lambert(R: number, phi1: number, lambda0: number, phi: number, lambda: number) {
  const cosine = Math.sin(phi1) * Math.sin(phi) + Math.cos(phi1) * Math.cos(phi) * Math.cos(lambda - lambda0);
  const k = Math.sqrt(2 / (1 + cosine));
  return {
    k,
    x: R * k * Math.cos(phi) * Math.sin(lambda - lambda0),
    y: R * k * (Math.cos(phi1) * Math.sin(phi) - Math.sin(phi1) * Math.cos(phi) * Math.cos(lambda - lambda0)),
    c: Math.acos(cosine),
  };
}

/** Snyder 24-1: distance from the centre of the map. */
const lambertRadius = (R: number, c: number): number => 2 * R * Math.sin(c / 2);
const equidistantRadius = (R: number, c: number): number => R * c;

test('Snyder’s numerical example of the equal-area projection, R = 3', () => {
  const found = lambert(3, radians(40), radians(-100), radians(-20), radians(100));
  closeTo(found.k, 4.3912175, { why: 'printed with 7 decimals', absolute: 1e-6 }, 'k′');
  closeTo(found.x, -4.2339303, { why: 'printed with 7 decimals', absolute: 1e-6 }, 'x');
  closeTo(found.y, 4.0257775, { why: 'printed with 7 decimals', absolute: 1e-6 }, 'y');
  // His inverse of the same point: ρ = 5.8423497, c = 153.6733917°; ρ = 2R sin(c/2) is the limit used below.
  closeTo(Math.hypot(found.x, found.y), 5.8423497, { why: 'printed with 7 decimals', absolute: 1e-6 }, 'ρ');
  closeTo(found.c, radians(153.6733917), { why: 'printed with 7 decimals', absolute: 1e-7 }, 'c');
  closeTo(
    lambertRadius(3, found.c),
    5.8423497,
    { why: 'printed with 7 decimals', absolute: 1e-6 },
    '2R sin(c/2)',
  );
});

test.each([
  [30, 0.517638, 0.523599],
  [60, 1, 1.047198],
  [90, Math.SQRT2, 1.570796],
] as const)('polar distances of both projections at %d°', (c, equalArea, equidistant) => {
  closeTo(lambertRadius(1, radians(c)), equalArea, { why: 'six decimals', absolute: 6e-7 }, 'equal-area');
  closeTo(
    equidistantRadius(1, radians(c)),
    equidistant,
    { why: 'six decimals', absolute: 6e-7 },
    'equidistant',
  );
});

describe('large r', () => {
  test('a hemisphere becomes Lambert’s map, ring by ring', () => {
    const nodes = roundNodes(solveSpec(hemisphere(50), planarIsotropic(100, 0.2), FINE));
    for (const { flatRadius, formedRadius, height } of nodes) {
      const colatitude = Math.atan2(formedRadius, 50 - height);
      closeTo(
        flatRadius,
        lambertRadius(50, colatitude),
        { ...THOUSANDTH, absolute: 0.005 },
        `flat radius of the ring at ${colatitude} rad`,
      );
    }
  });

  test('the disc for a cap is the chord from pole to rim', () => {
    // F. Atkins, Practical Sheet and Plate Metal Work, "Spherical bowl": the radius of the disc is the hypotenuse
    // of half the rim's diameter and the depth. Lambert's ρ by another name: √(43.301² + 25²) = 50 for 60° of 50.
    const chord = Math.hypot(50 * Math.sin(radians(60)), 25);
    closeTo(chord, lambertRadius(50, radians(60)), { why: 'rounding', relative: 1e-14 }, 'chord');
    closeTo(
      meanRimRadius(solveCap(50, radians(60), planarIsotropic(100, 0.2), FINE)),
      chord,
      THOUSANDTH,
      'disc',
    );
  });

  const trays: readonly (readonly [string, TraySpec])[] = [
    ['square, corners of the bottom radius', rectangle(150, 150, 25, { bottomRadius: 25, height: 25 })],
    ['rectangle', rectangle(300, 200, 30, { bottomRadius: 20, height: 40 })],
  ];
  test.each(trays)('%s: flat area = formed area to 0.1 %%', (_, spec) => {
    const ratio = (r: number): number => {
      const solution = solveSpec(spec, planarIsotropic(r, 0.4));
      return flatAreaByOutline(solution) / formedAreaByQuadrature(solution);
    };
    const at50 = ratio(50);
    closeTo(at50, 1, THOUSANDTH, 'flat over formed area');
    // What is left falls as 1/r: it is the law's and not the mesh's.
    const at10 = ratio(10);
    expect((at10 - 1) / (at50 - 1)).toBeGreaterThan(4);
    expect((at10 - 1) / (at50 - 1)).toBeLessThan(6);
  });
});

describe('small r', () => {
  // A free cylinder wall keeps the length of its rulings exactly as r → 0 (see gatheredCylinder.test.ts). On a
  // sphere the hoop compression of the upper rings pulls on the lower ones whatever r is, so the meridians stay
  // a few per cent longer than in the flat: the equidistant map is a bound that is not reached.
  const flatRadius = (r: number): number =>
    meanRimRadius(solveSpec(hemisphere(50), planarIsotropic(r, 0.2), FINE)) / 50;

  test('the hemisphere grows towards the equidistant map and stays inside it', () => {
    const radii = [100, 4, 1, 0.3, 0.1, 0.01, 0.001].map(flatRadius);
    for (let i = 1; i < radii.length; i++) expect(radii[i]!).toBeGreaterThan(radii[i - 1]!);
    for (const radius of radii) {
      expect(radius).toBeGreaterThan(Math.SQRT2);
      expect(radius).toBeLessThan(Math.PI / 2);
    }
    // The limit is approached in proportion to r.
    closeTo(radii[6]!, radii[5]!, { why: 'r small enough', relative: 1e-3 }, 'limit');
    expect(radii[6]!).toBeGreaterThan(1.5);
  });

  test('a pan whose wall is most of it comes to arc length', () => {
    const [wall, height, bottomRadius] = [25, 20, 2];
    const solution = solveSpec(
      roundPan(2 * wall, { bottomRadius, height }),
      planarIsotropic(0.001, 0.3),
      FINE,
    );
    const arcLength = wall - bottomRadius + (Math.PI / 2) * bottomRadius + height - bottomRadius;
    const flat = meanRimRadius(solution);
    expect(flat).toBeLessThan(arcLength);
    closeTo(flat, arcLength, { why: 'the bend stretches a little', relative: 1e-3 }, 'flat radius');
  });
});

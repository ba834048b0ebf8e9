/** Curvatures of surfaces in closed form, and neutral lengths of bends by DIN 6935: 0.65 + ½ log10(r/s), 1 from r = 5 s on. */
import { describe, expect, it } from 'vitest';
import { cross, dot, moved, scaled, type Vector3 } from '../../../src/geometry/vector3.ts';
import {
  curvaturesOf,
  neutralLength,
  neutralRadiusOf,
  neutralShare,
} from '../../../src/step/freeForm/neutralFibre.ts';
import { extruded, plane, revolved, type Surface } from './patches.ts';

const ratesOf = (surface: Surface, u: number, v: number): Float64Array =>
  Float64Array.from(surface(u, v).flat());

describe('the radius of the neutral fibre', () => {
  it.each([
    ['of an inside radius of one thickness: 0.325 thicknesses from the inside', 1.5 * 2, 2, 2 + 0.325 * 2],
    ['of half a thickness', 1 * 2, 2, 1 + ((0.65 + Math.log10(0.5) / 2) / 2) * 2],
    ['from five thicknesses on: the middle', 5.5 * 2, 2, 5.5 * 2],
    ['above that', 40, 2, 40],
    // k = 0.15 at a tenth of the thickness, and no less below.
    ['tighter than the rule goes: as at a tenth of the thickness', 0.55 * 2, 2, 0.55 * 2 - 0.425 * 2],
    ['sharper still', 0.51 * 2, 2, 0.51 * 2 - 0.425 * 2],
  ])('%s', (_, middle, thickness, expected) => {
    expect(neutralRadiusOf(middle, thickness)).toBeCloseTo(expected, 12);
  });
});

describe('principal curvatures', () => {
  const R = 8;
  const arc = { x: 20, z: 0, angle: 0.3, curvature: 1 / R };

  it('of a plane are none', () => {
    expect(
      curvaturesOf(ratesOf(plane([0, 0, 0], [1, 1, 0], [0, 3, 1]), 1, 1), 1).values.map(Math.abs),
    ).toEqual([0, 0]);
  });

  it('of a cylinder: one over its radius, across its axis, positive where the normal points at it', () => {
    const rates = ratesOf(extruded(arc), 2, 5);
    const { values, directions } = curvaturesOf(rates, 1);
    expect(values[0]).toBeCloseTo(1 / R, 12);
    expect(values[1]).toBeCloseTo(0, 12);
    expect(Math.abs(directions[1][1])).toBeCloseTo(1, 12);
    // From behind it is the other one that is largest.
    const behind = curvaturesOf(rates, -1);
    expect(behind.values[0]).toBeCloseTo(0, 12);
    expect(behind.values[1]).toBeCloseTo(-1 / R, 12);
  });

  it('of a sphere: the same all round', () => {
    const sphere = revolved({ x: 0, z: -R, angle: 0, curvature: 1 / R });
    for (const value of curvaturesOf(ratesOf(sphere, 6, 1), 1).values) expect(value).toBeCloseTo(1 / R, 12);
  });

  it('of a torus by Meusnier, however its parameters are slanted', () => {
    const surface = revolved(arc);
    const [u, v] = [4, 0.8];
    const angle = arc.angle + u / R;
    const r = arc.x + R * (Math.sin(angle) - Math.sin(arc.angle));
    // Textbook (from memory): 1/R along the section, −n·(radial)/r round the axis; the normal leans inwards by sin.
    const expected = [1 / R, Math.sin(angle) / r];
    const [at, normal, pu, pv, nu, nv] = surface(u, v);
    const slanted = [at, normal, moved(pu, 0.2, pv), moved(scaled(0.5, pv), 3, pu)] as const;
    const turned = [moved(nu, 0.2, nv), moved(scaled(0.5, nv), 3, nu)] as const;
    for (const rates of [
      [at, normal, pu, pv, nu, nv],
      [...slanted, ...turned],
    ]) {
      const { values, directions } = curvaturesOf(Float64Array.from(rates.flat()), 1);
      expect(values[0]).toBeCloseTo(expected[0]!, 12);
      expect(values[1]).toBeCloseTo(expected[1]!, 12);
      expect(Math.abs(dot(directions[0], pu))).toBeCloseTo(1, 12);
      // Square to each other and to the normal, by the right hand.
      expect(dot(cross(directions[0], directions[1]), normal)).toBeCloseTo(1, 12);
    }
  });
});

describe('the neutral share of a length', () => {
  it('is 1 where the bend is wide and the neutral radius over the middle one where it is tight', () => {
    expect(neutralShare(0, 0.5, 1)).toBe(1);
    expect(neutralShare(1 / 11, 0.5, 1)).toBe(1);
    // A skin inside the bend with radius 2, and one outside with radius 3: the same middle.
    const expected = neutralRadiusOf(2.5, 1) / 2.5;
    expect(expected).toBeLessThan(0.99);
    expect(neutralShare(1 / 2, 0.5, 1)).toBeCloseTo(expected, 12);
    expect(neutralShare(-1 / 3, 0.5, 1)).toBeCloseTo(expected, 12);
  });

  it('is 1 where the skin is bent so sharply that there is no middle', () => {
    expect(neutralShare(-1 / 0.4, 0.5, 1)).toBe(1);
  });
});

describe('the neutral length between two points of the middle', () => {
  const length = (
    a: readonly [Vector3, Vector3],
    b: readonly [Vector3, Vector3],
    thickness: number,
  ): number => neutralLength([...a[0], ...b[0]], [...a[1], ...b[1]], 0, 1, thickness);
  const onCylinder = (radius: number, angle: number, y: number, sign = 1): [Vector3, Vector3] => [
    [radius * Math.cos(angle), y, radius * Math.sin(angle)],
    [sign * Math.cos(angle), 0, sign * Math.sin(angle)],
  ];

  it('is the distance on a plane and along a cylinder', () => {
    expect(
      length(
        [
          [0, 0, 0],
          [0, 0, 1],
        ],
        [
          [3, 4, 0],
          [0, 0, 1],
        ],
        1,
      ),
    ).toBeCloseTo(5, 12);
    expect(length(onCylinder(3, 0.4, 0), onCylinder(3, 0.4, 7), 1)).toBeCloseTo(7, 12);
  });

  it('is radius times angle across a wide bend, and on a helix by Pythagoras', () => {
    for (const sign of [1, -1]) {
      expect(length(onCylinder(30, 0.1, 0, sign), onCylinder(30, 1.3, 0, sign), 2)).toBeCloseTo(36, 10);
      expect(length(onCylinder(30, 0.1, 2, sign), onCylinder(30, 1.3, 17, sign), 2)).toBeCloseTo(39, 10);
    }
  });

  it('is that of the neutral fibre across a tight bend', () => {
    const [middle, thickness, angle] = [3, 2, 0.9];
    expect(length(onCylinder(middle, 0, 0), onCylinder(middle, angle, 0), thickness)).toBeCloseTo(
      (2 + 0.325 * 2) * angle,
      10,
    );
  });
});

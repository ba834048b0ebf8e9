/** Fibres and areas of the neutral surface in closed form: planes and cylinders unrolled, a ring and a dish of revolution. */
import { describe, expect, it } from 'vitest';
import { neutralRadiusOf } from '../../../src/step/freeForm/neutralFibre.ts';
import { UprightCuts } from '../../../src/step/freeForm/wedge.ts';
import { AS_DRAWN, bend, livePart, type Patch, revolved, roundDish, skinOf } from './patches.ts';

const cutsOf = (
  patches: readonly Patch[],
  thickness: number,
  centre = { x: 0, y: 0 },
  turned = false,
): UprightCuts => {
  const live = livePart(patches);
  const skin = skinOf(live, { thickness, depth: thickness / 2, turned });
  return new UprightCuts({ live, skin, frame: AS_DRAWN }, centre);
};

describe('a bent strip with a tight bend', () => {
  const [A, B, R, WIDTH, T] = [20, 15, 2, 30, 2];
  const cuts = cutsOf(bend([A, B], R, WIDTH), T, { x: 8, y: 13 });
  // The inside of the bend is the skin: its neutral fibre by DIN 6935 with r/s = 1.
  const neutral = (Math.PI / 2) * (R + 0.325 * T);

  it('has fibres as long as their straight lengths and radius times angle of the neutral fibre', () => {
    expect(cuts.fibreLength([1, 0])).toBeCloseTo(A - 8 + neutral + B, 9);
    expect(cuts.fibreLength([-3, 0])).toBeCloseTo(8, 9);
    expect(cuts.fibreLength([0, 1])).toBeCloseTo(WIDTH - 13, 9);
    expect(cuts.fibreLength([-3, -4])).toBeCloseTo((8 * 5) / 3, 9);
  });

  it('has as much area in four wedges as its blank, and in one of the base that of a triangle', () => {
    const directions = [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ] as const;
    const areas = directions.map((from, i) => cuts.wedgeArea(from, directions[(i + 1) % 4]!));
    expect(areas.reduce((sum, area) => sum + area, 0)).toBeCloseTo((A + neutral + B) * WIDTH, 9);
    expect(areas[0]).toBeCloseTo((A - 8 + neutral + B) * (WIDTH - 13), 9);
    expect(areas[2]).toBeCloseTo(8 * 13, 9);
    expect(cuts.wedgeArea([-8, 5], [-8, -5])).toBeCloseTo(40, 9);
  });
});

describe('a dish of revolution', () => {
  const T = 1;

  it('has fibres alike all round, of the section’s own lengths', () => {
    const [hole, base, R, wall] = [2, 12, 3, 8];
    const cuts = cutsOf(roundDish(hole, base, R, wall, 192), T);
    const expected = base - hole + (Math.PI / 2) * neutralRadiusOf(R + T / 2, T) + wall;
    for (const turn of [0.1, 1.3, 2.9, 4.4])
      expect(cuts.fibreLength([Math.cos(turn), Math.sin(turn)])).toBeCloseTo(expected, 2);
  });

  it('has the area of a zone in a wedge, of its middle surface, whichever side the normals point to', () => {
    // Archimedes: 2π R h of a sphere; wide bends have their neutral fibre in the middle. The skin is the inside.
    const [R, from, to] = [40, 0.1, 0.7];
    const zone: Patch = {
      surface: revolved({ x: R * Math.sin(from), z: -R * Math.cos(from), angle: from, curvature: 1 / R }),
      u: [0, R * (to - from)],
      v: [0, 2 * Math.PI],
      cells: [12, 72],
    };
    const area = (turned: boolean): number =>
      cutsOf([zone], T, { x: 0, y: 0 }, turned).wedgeArea([1, 0], [0, 1]);
    const half = T / 2;
    const exact = (radius: number): number => (Math.PI / 2) * radius ** 2 * (Math.cos(from) - Math.cos(to));
    expect(area(false) / exact(R + half)).toBeCloseTo(1, 4);
    expect(area(true) / exact(R - half)).toBeCloseTo(1, 4);
  });
});

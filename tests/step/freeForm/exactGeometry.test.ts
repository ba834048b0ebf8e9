import { describe, expect, it } from 'vitest';
import {
  type ElementGeometry,
  elementGeometry,
  POINT_SIZE,
  POINTS_PER_TRIANGLE,
} from '../../../src/solve/elements.ts';
import { exactGeometry } from '../../../src/step/freeForm/exactGeometry.ts';
import { neutralRadiusOf } from '../../../src/step/freeForm/neutralFibre.ts';
import type { PartMesh } from '../../../src/step/freeForm/partMesh.ts';
import { type Meshed, meshed } from './meshed.ts';
import { bend } from './patches.ts';

const [BASE, WALL, WIDTH] = [20, 15, 30];

/** A bend far wider than its sheet is thick: its neutral fibre is the middle, here the skin itself. */
const WIDE = meshed(bend([BASE, WALL], 8, WIDTH));
const WIDE_ARC = 4 * Math.PI;

/** A bend as tight as its sheet is thick, from the inner skin: laid out by the neutral fibre. */
const TIGHT_RADIUS = neutralRadiusOf(1.5, 1);
const TIGHT_ARC = (Math.PI / 2) * TIGHT_RADIUS;
const TIGHT = meshed(bend([BASE, WALL], 1, WIDTH), { thickness: 1, depth: 0.5 }, (length) => {
  const arc = Math.PI / 2;
  return length < BASE
    ? length
    : BASE + Math.min(1, (length - BASE) / arc) * TIGHT_ARC + Math.max(0, length - BASE - arc);
});

const geometryOf = ({ atlas }: Meshed, { mesh, places, start }: PartMesh): ElementGeometry =>
  exactGeometry(mesh, places, start, atlas);

const areaOf = ({ points }: ElementGeometry): number =>
  points.reduce((sum, value, i) => (i % POINT_SIZE === 0 ? sum + value : sum), 0);

/** The largest stretch or shear of any integration point between the flat and the formed sheet. */
function largestStrain({ points }: ElementGeometry, { mesh, start }: PartMesh): number {
  let worst = 0;
  for (let p = 0; p < points.length / POINT_SIZE; p++) {
    const t = Math.floor(p / POINTS_PER_TRIANGLE);
    let [xx, xy, yx, yy] = [0, 0, 0, 0];
    for (let i = 0; i < 6; i++) {
      const node = mesh.triangles[6 * t + i]!;
      const [g1, g2] = [points[POINT_SIZE * p + 1 + 2 * i]!, points[POINT_SIZE * p + 2 + 2 * i]!];
      xx += start[2 * node]! * g1;
      xy += start[2 * node]! * g2;
      yx += start[2 * node + 1]! * g1;
      yy += start[2 * node + 1]! * g2;
    }
    // FᵀF − 1 of the flat by the formed sheet's own lengths.
    worst = Math.max(
      worst,
      Math.abs(xx * xx + yx * yx - 1),
      Math.abs(xy * xy + yy * yy - 1),
      Math.abs(xx * xy + yx * yy),
    );
  }
  return worst;
}

describe('a blank that is only bent', () => {
  it.each([
    ['wide', WIDE, WIDE_ARC, 40],
    ['wide', WIDE, WIDE_ARC, 6],
    ['tight, on its neutral fibre', TIGHT, TIGHT_ARC, 40],
    ['tight, on its neutral fibre', TIGHT, TIGHT_ARC, 6],
  ])('a %s bend has no strain and its whole area, by triangles of any size (%#)', (_, sheet, arc, size) => {
    const part = sheet.mesh(size);
    const geometry = geometryOf(sheet, part);
    expect(largestStrain(geometry, part)).toBeLessThan(1e-6);
    expect(areaOf(geometry)).toBeCloseTo((BASE + arc + WALL) * WIDTH, 4);
    // Triangles in space have some.
    expect(largestStrain(elementGeometry(part.mesh), part)).toBeGreaterThan(1e-5);
  });

  it('hands on a pull: directions of the nodes stay square and whole at the points', () => {
    for (const sheet of [WIDE, TIGHT]) {
      const { points } = geometryOf(sheet, sheet.mesh(40));
      for (let p = 0; p < points.length; p += POINT_SIZE) {
        for (let i = 0; i < 6; i++) {
          const [a, b, c, d] = points.subarray(p + 13 + 4 * i) as unknown as [number, number, number, number];
          expect(Math.hypot(a, b)).toBeCloseTo(1, 9);
          expect(Math.hypot(c, d)).toBeCloseTo(1, 9);
          expect(a * c + b * d).toBeCloseTo(0, 9);
        }
      }
    }
  });
});

describe('a triangle that lies on no one face', () => {
  it('is the one in space where the neutral fibre is the middle', () => {
    const part = WIDE.mesh(10);
    const { points } = geometryOf(WIDE, { ...part, places: part.places.map(() => []) });
    const inSpace = elementGeometry(part.mesh).points;
    for (let i = 0; i < points.length; i++)
      if (i % POINT_SIZE < 13) expect(points[i]!).toBeCloseTo(inSpace[i]!, 9);
  });

  it('is shorter across a tight bend, by the share of the neutral fibre', () => {
    const part = TIGHT.mesh(3);
    const by = geometryOf(TIGHT, { ...part, places: part.places.map(() => []) });
    expect(areaOf(by) / ((BASE + TIGHT_ARC + WALL) * WIDTH)).toBeCloseTo(1, 2);
    expect(areaOf(elementGeometry(part.mesh)) - areaOf(by)).toBeGreaterThan(
      0.9 * (1.5 - TIGHT_RADIUS) * (Math.PI / 2) * WIDTH,
    );
  });

  it('a parameter that jumps at a seam does not serve', () => {
    // The same faces, but some nodes tell a place a turn away: the triangles that have them are those in space.
    const part = WIDE.mesh(10);
    const jumped = part.places.map((own, node) =>
      own.map((place) => (node % 3 === 0 ? { ...place, v: place.v + 400 } : place)),
    );
    const { points } = geometryOf(WIDE, { ...part, places: jumped });
    expect(
      Math.abs(areaOf({ points, direction: new Float64Array() }) / ((BASE + WIDE_ARC + WALL) * WIDTH) - 1),
    ).toBeLessThan(0.01);
  });
});

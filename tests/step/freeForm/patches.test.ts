/** The surfaces that the tests of this folder are made of: their derivatives against differences of their points. */
import { expect, it } from 'vitest';
import { cross, distance, scaled, unit, type Vector3, vectorAt } from '../../../src/geometry/vector3.ts';
import { bend, extruded, livePart, openBox, plane, revolved, skinOf, turnedOver } from './patches.ts';

const ARC = { x: 12, z: 3, angle: 0.4, curvature: -1 / 7 };

it.each([
  ['plane', plane([1, 2, 3], [1, 0, 1], [0, 2, 0])],
  ['extruded arc', extruded(ARC)],
  ['torus', revolved(ARC)],
  ['cone', revolved({ ...ARC, curvature: 0 })],
  ['torus from behind', turnedOver(revolved(ARC))],
])('%s', (_, surface) => {
  const [u, v, h] = [0.7, 0.3, 1e-5];
  const [, normal, ...rates] = surface(u, v);
  const difference = (vector: 0 | 1, du: number, dv: number): Vector3 => {
    const [after, before] = [surface(u + du, v + dv)[vector], surface(u - du, v - dv)[vector]];
    return scaled(1 / (2 * h), [after[0] - before[0], after[1] - before[1], after[2] - before[2]]);
  };
  const expected = [difference(0, h, 0), difference(0, 0, h), difference(1, h, 0), difference(1, 0, h)];
  for (const [i, vector] of expected.entries()) expect(distance(rates[i]!, vector)).toBeLessThan(1e-8);
  expect(distance(normal, unit(cross(rates[0]!, rates[1]!)))).toBeLessThan(1e-12);
});

it('edges that two faces share are one, and points are moved to the nearest of an edge', () => {
  // A box without a lid has twelve edges; three faces in a row have ten.
  expect(livePart(openBox(40, 30, 10)).part.edges).toHaveLength(12);
  const live = livePart(bend([20, 15], 6, 30));
  expect(live.part.edges).toHaveLength(10);
  const arc = live.part.edges.findIndex(
    ({ samples }) => samples[1] === 0 && samples[25] === 0 && samples[12]! > 20 && samples[14]! > 0,
  );
  const point = Float64Array.of(20, 5, 6 - 9);
  live.snapToEdge(arc, point);
  expect(distance(point, [20, 0, 0])).toBeLessThan(1e-6);
  expect(skinOf(live).mesh.face).toHaveLength(3 * 32);
  expect(distance(vectorAt(live.part.faces[1]!.normals, 0), [0, 0, 1])).toBeLessThan(1e-12);
});

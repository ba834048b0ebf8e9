/** The first flat shape: what can be unrolled is, and what cannot has no triangle turned over. */
import { describe, expect, it } from 'vitest';
import { distance, vectorAt } from '../../../src/geometry/vector3.ts';
import { flatten } from '../../../src/step/freeForm/flatten.ts';
import { neutralLength } from '../../../src/step/freeForm/neutralFibre.ts';
import { boundaryLoops, edgeMap } from '../../../src/step/freeForm/skinMesh.ts';
import { neutralVertices } from '../../../src/step/freeForm/solvedSkin.ts';
import { AS_DRAWN, bend, livePart, type Patch, plane, revolved, skinOf } from './patches.ts';

/** The flat of some faces, and what stands beside it in space. */
function flattened(patches: readonly Patch[], thickness: number) {
  const live = livePart(patches);
  const skin = skinOf(live, { thickness, depth: thickness / 2 });
  const { mesh } = skin;
  const { position, normals } = neutralVertices({ live, skin, frame: AS_DRAWN });
  const flat = flatten(position, mesh.triangles, boundaryLoops(mesh), normals, thickness);
  const apart = (i: number, j: number): number =>
    Math.hypot(flat[2 * i]! - flat[2 * j]!, flat[2 * i + 1]! - flat[2 * j + 1]!);
  const count = position.length / 3;
  const areas = mesh.face.map((_, t) => {
    const [i, j, k] = [0, 1, 2].map((corner) => 2 * mesh.triangles[3 * t + corner]!) as [
      number,
      number,
      number,
    ];
    const [ax, ay] = [flat[j]! - flat[i]!, flat[j + 1]! - flat[i + 1]!];
    const [bx, by] = [flat[k]! - flat[i]!, flat[k + 1]! - flat[i + 1]!];
    return (ax * by - ay * bx) / 2;
  });
  /** Of all edges the largest share by which one is longer or shorter than the neutral fibre over it. */
  const stretch = Math.max(
    ...[...edgeMap(mesh.triangles, count).keys()].map((key) => {
      const [i, j] = [Math.floor(key / count), key % count];
      return Math.abs(apart(i, j) / neutralLength(position, normals, i, j, thickness) - 1);
    }),
  );
  return { mesh, apart, areas, stretch, position };
}

/** A piece of a cone's side, half-angle 30°, a quarter round. */
const cone: Patch = {
  surface: revolved({ x: 20, z: 0, angle: Math.PI / 3, curvature: 0 }),
  u: [0, 60],
  v: [0, Math.PI / 2],
  cells: [8, 12],
};

describe('the first flat shape', () => {
  it.each<[string, Patch[], number]>([
    [
      'a plane',
      [{ surface: plane([1, 2, 3], [1, 0, 1], [0, 1, 0]), u: [0, 30], v: [0, 20], cells: [5, 4] }],
      1,
    ],
    [
      'a plane with a hole',
      [
        {
          surface: plane([0, 0, 0], [1, 0, 0], [0, 0, 1]),
          u: [0, 30],
          v: [0, 30],
          cells: [6, 6],
          hole: { u: [2, 4], v: [1, 3] },
        },
      ],
      1,
    ],
    ['a wide bend', bend([20, 15], 12, 30), 1],
    ['a bend as tight as the sheet is thick', bend([20, 15], 2, 30), 2],
  ])('%s unrolls without stretch', (_, patches, thickness) => {
    const { stretch, areas } = flattened(patches, thickness);
    expect(stretch).toBeLessThan(0.01);
    expect(Math.min(...areas)).toBeGreaterThan(0);
  });

  it('of a bend is as long as its legs and radius times angle of its neutral fibre', () => {
    const { mesh, apart } = flattened(bend([20, 15], 2, 30), 2);
    const [near, far] = [0, 1].map((end) =>
      [...Array(mesh.position.length / 3).keys()].filter((vertex) => {
        const [x, , z] = vectorAt(mesh.position, 3 * vertex);
        return end === 0 ? x === 0 : z > 17 - 1e-9;
      }),
    ) as [number[], number[]];
    // DIN 6935 with r/s = 1: k = 0.65.
    const expected = 20 + (Math.PI / 2) * (2 + 0.325 * 2) + 15;
    expect(near).toHaveLength(5);
    expect(far).toHaveLength(5);
    for (const i of near) {
      const least = Math.min(...far.map((j) => apart(i, j)));
      expect(Math.abs(least / expected - 1)).toBeLessThan(0.01);
    }
  });

  it('of a cone is the sector that rolls up into it', () => {
    const { mesh, apart } = flattened([cone], 0.01);
    const at = (x: number, y: number): number =>
      [...Array(mesh.position.length / 3).keys()].find((vertex) => {
        const [px, py] = vectorAt(mesh.position, 3 * vertex);
        return Math.hypot(px - x, py - y) < 1e-6;
      })!;
    // Slant 40 to 100; sector angle 90° · sin 30° = 45°, so the chord of the outer arc is 2·100·sin 22.5°.
    expect(apart(at(50, 0), at(0, 50))).toBeCloseTo(200 * Math.sin(Math.PI / 8), 0);
    expect(apart(at(20, 0), at(50, 0))).toBeCloseTo(60, 0);
  });

  it('of a cap of a sphere has all triangles the right way round and about its area, longer at the rim than formed', () => {
    const [R, arc] = [30, 30];
    const quarters = [0, 1, 2, 3].map(
      (i): Patch => ({
        surface: revolved({ x: 0, z: -R, angle: 0, curvature: 1 / R }),
        u: [0, arc],
        v: [(i * Math.PI) / 2, ((i + 1) * Math.PI) / 2],
        cells: [5, 5],
      }),
    );
    const { areas, mesh, apart, position } = flattened(quarters, 0.2);
    expect(Math.min(...areas)).toBeGreaterThan(0);
    const formed = 2 * Math.PI * R ** 2 * (1 - Math.cos(arc / R));
    const flat = areas.reduce((sum, area) => sum + area, 0);
    expect(Math.abs(flat / formed - 1)).toBeLessThan(0.05);
    const rim = boundaryLoops(mesh)[0]!;
    const around = (length: (i: number, j: number) => number): number =>
      rim.reduce((sum, vertex, i) => sum + length(vertex, rim[(i + 1) % rim.length]!), 0);
    // As flat as it can lie, a cap must open at its rim and be gathered there: Gauss.
    expect(around(apart)).toBeGreaterThan(
      1.02 * around((i, j) => distance(vectorAt(position, 3 * i), vectorAt(position, 3 * j))),
    );
  });
});

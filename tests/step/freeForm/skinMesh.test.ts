/** The net of a skin: joined, divided and turned without tearing it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  angleBetween,
  cross,
  distance,
  minus,
  norm,
  type Vector3,
  vectorAt,
} from '../../../src/geometry/vector3.ts';
import {
  boundaryLoops,
  edgeMap,
  flipToDelaunay,
  type SkinMesh,
  splitLongEdges,
  stitch,
  submesh,
} from '../../../src/step/freeForm/skinMesh.ts';
import type { LivePart } from '../../../src/step/occt/livePart.ts';
import { bend, between, livePart, openBox, type Patch, plane, revolved, skinOf } from './patches.ts';

const corner = ({ position, triangles }: SkinMesh, at: number): Vector3 =>
  vectorAt(position, 3 * triangles[at]!);

/** Twice the area of a triangle as a vector: it points to where the net is seen from. */
const areaVector = (mesh: SkinMesh, t: number): Vector3 =>
  cross(
    minus(corner(mesh, 3 * t + 1), corner(mesh, 3 * t)),
    minus(corner(mesh, 3 * t + 2), corner(mesh, 3 * t)),
  );

const areaOf = (mesh: SkinMesh): number =>
  mesh.face.reduce((sum, _, t) => sum + norm(areaVector(mesh, t)) / 2, 0);

const edgesOf = ({ triangles, position }: SkinMesh): number[][] => [
  ...edgeMap(triangles, position.length / 3).values(),
];

/** Vertices less edges plus triangles. */
const euler = (mesh: SkinMesh): number =>
  mesh.position.length / 3 - edgesOf(mesh).length + mesh.triangles.length / 3;

/** How far the net's corners are from the points at their parameters, at the most. */
function offSurface(live: LivePart, mesh: SkinMesh): number {
  const value = new Float64Array(6);
  return Math.max(
    ...mesh.triangles.map((_, at) => {
      live.evaluate(
        mesh.face[Math.floor(at / 3)]!,
        mesh.parameters[2 * at]!,
        mesh.parameters[2 * at + 1]!,
        value,
      );
      return distance(value, corner(mesh, at));
    }),
  );
}

/** Two quarters of a cap of a sphere, radius 30, from the pole or from where a length up the meridian leaves off. */
const cap = (from = 0): LivePart =>
  livePart(
    [0, 1].map((i) => ({
      surface: revolved({ x: 0, z: -30, angle: 0, curvature: 1 / 30 }),
      u: [from, 25],
      v: [(i * Math.PI) / 2, ((i + 1) * Math.PI) / 2],
      cells: [3, 4],
    })),
  );

describe('stitching', () => {
  it('makes one vertex of points that faces share, and drops triangles that are none at a pole', () => {
    const box = skinOf(livePart(openBox(40, 30, 10, 3)));
    // A disc by its topology: a box without its lid.
    expect(euler(box.mesh)).toBe(1);
    const live = cap();
    const { mesh } = skinOf(live);
    expect(euler(mesh)).toBe(1);
    expect(mesh.face).toHaveLength(2 * (3 * 4 * 2 - 4));
    expect(offSurface(live, mesh)).toBeLessThan(1e-12);
  });

  it('joins what is nearer than the tolerance and nothing else, wherever its cells lie', () => {
    const tolerance = 0.01;
    const square = (x: number, y: number): Patch => ({
      surface: plane([x, y, x - y], [1, 0, 0], [0, 1, 0]),
      u: [0, 1],
      v: [0, 1],
      cells: [1, 1],
    });
    fc.assert(
      fc.property(
        between(-1, 1),
        between(-1, 1),
        between(0, 6.28),
        fc.constantFrom(0.95, 1.05),
        (x, y, turn, share) => {
          const away = share * tolerance;
          const [one, other] = [square(x, y), square(x, y)];
          const shifted: Patch = {
            ...other,
            surface: (u, v) => {
              const [[px, py, pz], ...rest] = other.surface(u, v);
              return [[px + 1 + away * Math.cos(turn), py, pz + away * Math.sin(turn)], ...rest];
            },
          };
          const { part } = livePart([one, shifted]);
          expect(stitch(part, tolerance).mesh.position).toHaveLength(3 * (share < 1 ? 6 : 8));
        },
      ),
      { seed: 12, numRuns: 100 },
    );
  });

  it('has the normals of the faces at each corner', () => {
    const { mesh, normals } = stitch(livePart(openBox(40, 30, 10)).part, 1e-6);
    for (const t of mesh.face.keys())
      for (let k = 0; k < 3; k++)
        expect(angleBetween(vectorAt(normals, 9 * t + 3 * k), areaVector(mesh, t))).toBeLessThan(1e-6);
  });
});

it('some faces of a net stand alone, seen from the side that is asked for', () => {
  const { mesh } = stitch(livePart(openBox(40, 30, 10, 2)).part, 1e-6);
  const base = submesh(mesh, new Set([0]), false);
  expect(base.position).toHaveLength(27);
  expect(areaOf(base)).toBeCloseTo(1200, 9);
  const behind = submesh(mesh, new Set([0]), true);
  for (const t of base.face.keys()) {
    expect(areaVector(base, t)[2]).toBeGreaterThan(0);
    expect(areaVector(behind, t)[2]).toBeLessThan(0);
  }
  // On a plane the parameters are coordinates from its corner, on either side.
  for (const own of [base, behind])
    for (const at of own.triangles.keys()) {
      expect(own.parameters[2 * at]! - 20).toBeCloseTo(corner(own, at)[0], 12);
      expect(own.parameters[2 * at + 1]! - 15).toBeCloseTo(corner(own, at)[1], 12);
    }
});

describe('halving long edges', () => {
  it('leaves none that is longer, no tear, and all points on the surface', () => {
    const live = cap(5);
    const { mesh } = skinOf(live);
    const value = new Float64Array(6);
    splitLongEdges(mesh, 3, (face, u, v) => {
      live.evaluate(face, u, v, value);
      return [...vectorAt(value)];
    });
    for (const [at] of edgesOf(mesh)) {
      const to = at! % 3 === 2 ? at! - 2 : at! + 1;
      expect(distance(corner(mesh, at!), corner(mesh, to))).toBeLessThanOrEqual(3);
    }
    expect(euler(mesh)).toBe(1);
    expect(boundaryLoops(mesh)).toHaveLength(1);
    expect(Math.max(...edgesOf(mesh).map(({ length }) => length))).toBe(2);
    expect(offSurface(live, mesh)).toBeLessThan(1e-9);
    // Archimedes: a zone has the area 2π R h, here half of it.
    const h = 30 * (Math.cos(5 / 30) - Math.cos(25 / 30));
    expect(areaOf(mesh) / (Math.PI * 30 * h)).toBeGreaterThan(0.99);
    expect(areaOf(mesh) / (Math.PI * 30 * h)).toBeLessThan(1);
  });

  it('changes nothing where all are short enough', () => {
    const { mesh } = skinOf(livePart(bend([20, 15], 6, 30)));
    const before = structuredClone(mesh);
    splitLongEdges(mesh, 50, () => {
      throw new Error('no point is wanted');
    });
    expect(mesh).toEqual(before);
  });
});

describe('turning diagonals', () => {
  /** Two faces of a plane whose inner vertices are moved about, seen from above. */
  function shaken(): SkinMesh {
    const { mesh } = skinOf(
      livePart(
        [0, 10].map((x) => ({
          surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]),
          u: [x, x + 10],
          v: [0, 10],
          cells: [5, 5],
        })),
      ),
    );
    for (let v = 0; v < mesh.position.length / 3; v++) {
      const [x, y] = vectorAt(mesh.position, 3 * v);
      if (x % 10 === 0 || y % 10 === 0) continue;
      // Close to the border of the two faces the angles opposite its edges are wide: those are not turned.
      mesh.position[3 * v] = Math.abs(x - 10) === 2 ? 10 + (x - 10) / 4 : x + 0.9 * Math.sin(3 * v);
      mesh.position[3 * v + 1] = y + 0.9 * Math.cos(7 * v);
    }
    for (const at of mesh.triangles.keys()) {
      const [x, y] = corner(mesh, at);
      mesh.parameters.splice(2 * at, 2, x, y);
    }
    return mesh;
  }
  const opposite = (mesh: SkinMesh, at: number): number => {
    const t = Math.floor(at / 3);
    const [a, b, c] = [at % 3, (at + 1) % 3, (at + 2) % 3].map((k) => corner(mesh, 3 * t + k)) as [
      Vector3,
      Vector3,
      Vector3,
    ];
    return angleBetween(minus(a, c), minus(b, c));
  };
  const sums = (mesh: SkinMesh): number[] =>
    edgesOf(mesh)
      .filter(
        (uses) => uses.length === 2 && new Set(uses.map((at) => mesh.face[Math.floor(at / 3)])).size === 1,
      )
      .map(([a, b]) => opposite(mesh, a!) + opposite(mesh, b!));

  it('leaves no two opposite angles of more than 180° within a face, and keeps faces, area and parameters', () => {
    const mesh = shaken();
    expect(Math.max(...sums(mesh))).toBeGreaterThan(Math.PI + 0.1);
    flipToDelaunay(mesh);
    expect(Math.max(...sums(mesh))).toBeLessThan(Math.PI + 1e-5);
    for (const t of mesh.face.keys()) {
      expect(areaVector(mesh, t)[2]).toBeGreaterThan(0);
      for (let k = 0; k < 3; k++) {
        const [x, y] = corner(mesh, 3 * t + k);
        expect(mesh.parameters.slice(6 * t + 2 * k, 6 * t + 2 * k + 2)).toEqual([x, y]);
        expect(mesh.face[t] === 0 ? x <= 10 : x >= 10).toBe(true);
      }
    }
    expect(areaOf(mesh)).toBeCloseTo(200, 9);
    expect(euler(mesh)).toBe(1);
  });

  it('turns none across the seam of a closed face, where parameters jump', () => {
    const mesh = shaken();
    // The same net, each triangle with parameters of its own.
    for (const at of mesh.triangles.keys()) {
      mesh.parameters[2 * at] = mesh.parameters[2 * at]! + 100 * Math.floor(at / 3);
    }
    const before = [...mesh.triangles];
    flipToDelaunay(mesh);
    expect(mesh.triangles).toEqual(before);
  });
});

it('boundaries are closed, the longest first, with the surface on their left', () => {
  const { mesh } = skinOf(
    livePart([
      {
        surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]),
        u: [0, 40],
        v: [0, 40],
        cells: [8, 8],
        hole: { u: [1, 3], v: [2, 6] },
      },
    ]),
  );
  const loops = boundaryLoops(mesh);
  const area = loops.map((loop) =>
    loop.reduce((sum, vertex, i) => {
      const [a, b] = [
        vectorAt(mesh.position, 3 * vertex),
        vectorAt(mesh.position, 3 * loop[(i + 1) % loop.length]!),
      ];
      return sum + (a[0] * b[1] - a[1] * b[0]) / 2;
    }, 0),
  );
  // Counter-clockwise outside, clockwise round the hole of 10 × 20.
  expect(area).toEqual([1600, -200]);
  const free = edgesOf(mesh).filter(({ length }) => length === 1).length;
  expect(loops.reduce((sum, { length }) => sum + length, 0)).toBe(free);
});

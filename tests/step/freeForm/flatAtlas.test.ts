/** From the flat to the part and back, on a bent strip unrolled in closed form. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cross, distance, dot, moved, norm, type Vector3, vectorAt } from '../../../src/geometry/vector3.ts';
import { flatAtlas, newPlaced } from '../../../src/step/freeForm/flatAtlas.ts';
import { neutralRadiusOf } from '../../../src/step/freeForm/neutralFibre.ts';
import type { TrayFrame } from '../../../src/step/freeForm/skin.ts';
import { bend, between, livePart, revolved, skinOf } from './patches.ts';

const [A, B, R, WIDTH, T] = [20, 15, 2, 30, 2];
const live = livePart(bend([A, B], R, WIDTH, 6));
const skin = skinOf(live, { thickness: T, depth: T / 2 });
/** x of the tray is y of the part, turned about z and moved. */
const FRAME: TrayFrame = {
  axes: [
    [0, 1, 0],
    [-1, 0, 0],
    [0, 0, 1],
  ],
  origin: [1, 2, -T / 2],
  base: 0,
};
const starts = [0, A, A + (Math.PI / 2) * R, A + (Math.PI / 2) * R + B];
/** Length along the section and across: parameters of each face from where it starts. */
const flat = new Float64Array((2 * skin.mesh.position.length) / 3);
for (const [at, vertex] of skin.mesh.triangles.entries()) {
  const face = skin.mesh.face[Math.floor(at / 3)]!;
  flat[2 * vertex] = starts[face]! + skin.mesh.parameters[2 * at]!;
  flat[2 * vertex + 1] = skin.mesh.parameters[2 * at + 1]!;
}
const atlas = flatAtlas({ live, skin, frame: FRAME }, flat);

const along = between(0, starts[3]!);
const across = between(0, WIDTH);
const RUNS = { seed: 3, numRuns: 100 };

describe('a flat point', () => {
  it('is found in its triangle, and on the face and at the parameters it was unrolled from', () => {
    fc.assert(
      fc.property(along, across, (x, y) => {
        // What is even between the vertices is so in the triangles.
        const sloping = Float64Array.from(
          { length: flat.length / 2 },
          (_, i) => 3 * flat[2 * i]! - flat[2 * i + 1]!,
        );
        expect(atlas.interpolate(x, y, sloping)).toBeCloseTo(3 * x - y, 8);
        const place = atlas.onPart(x, y);
        expect(starts[place.face]! + place.u).toBeCloseTo(x, 9);
        expect(place.v).toBeCloseTo(y, 9);
      }),
      RUNS,
    );
  });

  it('outside the sheet goes to its edge near by', () => {
    const { u, v } = atlas.onPart(10, -0.5);
    expect(Math.hypot(u - 10, v)).toBeLessThan(5);
    expect(v).toBeGreaterThanOrEqual(-1e-12);
  });

  it('is placed on the middle of the sheet, with flat x and y as unit vectors square to each other in it', () => {
    const out = newPlaced();
    fc.assert(
      fc.property(along, across, (x, y) => {
        atlas.place(x, y, out);
        const [px, py, pz] = atlas.inPart(out);
        expect(py).toBeCloseTo(y, 9);
        // By construction: half a thickness below the legs, and round the bend's axis at its middle radius.
        if (x < starts[1]!) expect([px, pz]).toEqual([expect.closeTo(x, 9), expect.closeTo(-T / 2, 9)]);
        else if (x > starts[2]!) expect(px).toBeCloseTo(A + R + T / 2, 9);
        else expect(Math.hypot(px - A, pz - R)).toBeCloseTo(R + T / 2, 9);
        const [r1, r2] = [vectorAt(out, 3), vectorAt(out, 6)];
        expect([norm(r1), norm(r2), dot(r1, r2)]).toEqual([1, 1, 0].map((v) => expect.closeTo(v, 9)));
        // In the tray's frame y of the part is x.
        expect(r2[0]).toBeCloseTo(1, 6);
        expect(cross(r1, r2)[2]).toBeGreaterThanOrEqual(-1e-9);
        expect([out[9], out[10]]).toEqual([x, y]);
      }),
      RUNS,
    );
  });
});

describe('a placed point', () => {
  it('is found again from a guess near by, and not from a face that it is not on', () => {
    const out = newPlaced();
    fc.assert(
      fc.property(along, across, (x, y) => {
        atlas.place(x, y, out);
        const { face, u, v } = atlas.onPart(x, y);
        const foot = atlas.footOn({ face, u: u + 0.05, v: v - 0.7 }, out);
        expect(foot).toEqual({ face, u: expect.closeTo(u, 4), v: expect.closeTo(v, 4) });
      }),
      RUNS,
    );
    atlas.place(5, 5, out);
    expect(atlas.footOn({ face: 2, u: 5, v: 5 }, out)).toBe(null);
  });

  it('is not found where a parameter says nothing: at a pole', () => {
    const cap = livePart([
      {
        surface: revolved({ x: 0, z: 0, angle: 0, curvature: 1 / 30 }),
        u: [0, 20],
        v: [0, Math.PI / 2],
        cells: [3, 3],
      },
    ]);
    const own = skinOf(cap);
    const seen = Float64Array.from(own.mesh.position.filter((_, i) => i % 3 < 2));
    const pole = flatAtlas({ live: cap, skin: own, frame: FRAME }, seen);
    expect(pole.footOn({ face: 0, u: 0, v: 0.5 }, newPlaced())).toBe(null);
  });
});

it('tangents are those of the middle, shortened across a tight bend by the radii of neutral fibre and middle', () => {
  const out = new Float64Array(15);
  for (const [face, u] of [
    [0, 7],
    [1, 1.1],
    [2, 4],
  ] as const) {
    atlas.tangents({ face, u, v: 11 }, out);
    const expected = face === 1 ? neutralRadiusOf(R + T / 2, T) / R : 1;
    expect(norm(vectorAt(out, 0))).toBeCloseTo(expected, 9);
    expect(vectorAt(out, 3)).toEqual([1, 0, 0].map((value) => expect.closeTo(value, 9)));
    // The matrix does that to steps along the middle, and leaves those along the bend.
    const matrix = [6, 9, 12].map((row) => vectorAt(out, row));
    const across = vectorAt(out, 0);
    const middle = moved([0, 0, 0], (face === 1 ? (R + T / 2) / R : 1) / norm(across), across);
    const image = matrix.map((row) => dot(row, middle)) as unknown as Vector3;
    expect(distance(image, across)).toBeLessThan(1e-9);
    expect(matrix.map((row) => row[0])).toEqual([1, 0, 0].map((value) => expect.closeTo(value, 9)));
  }
});

it('a point on a triangle’s edge at the boundary is moved to the part’s own edge, elsewhere it is where it is', () => {
  // A disc by x and y: the net's sides are chords of its rim.
  const disc = livePart([
    {
      surface: revolved({ x: 4, z: 0, angle: 0, curvature: 0 }),
      u: [0, 6],
      v: [0, 2 * Math.PI],
      cells: [1, 12],
    },
  ]);
  const { points } = disc.part.faces[0]!;
  const level: typeof disc = {
    ...disc,
    part: {
      ...disc.part,
      faces: [{ ...disc.part.faces[0]!, parameters: points.filter((_, i) => i % 3 < 2) }],
    },
    evaluate: (_, u, v, out) => out.set([u, v, 0, 0, 0, 1]),
    differentiate: (_, u, v, out) => out.set([u, v, 0, 0, 0, 1, 1, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0]),
  };
  const own = skinOf(level);
  const seen = Float64Array.from(own.mesh.position.filter((_, i) => i % 3 < 2));
  const on = flatAtlas({ live: level, skin: own, frame: { ...FRAME, origin: [0, 0, 0] } }, seen);
  const { triangles } = own.mesh;
  const radius = (vertex: number): number => Math.hypot(seen[2 * vertex]!, seen[2 * vertex + 1]!);
  const edge = [...triangles.keys()].find(
    (at) => radius(triangles[at]!) > 9 && radius(triangles[at % 3 === 2 ? at - 2 : at + 1]!) > 9,
  )!;
  const out = newPlaced();
  on.placeOnEdge(Math.floor(edge / 3), edge % 3, 0.3, out);
  expect(norm(vectorAt(out))).toBeCloseTo(10, 6);
  // The flat place is that of the chord, and so are the parameters that are told.
  const [from, to] = [edge, edge % 3 === 2 ? edge - 2 : edge + 1].map((at) => 2 * triangles[at]!) as [
    number,
    number,
  ];
  const chord = [0, 1].map((axis) => expect.closeTo(0.7 * seen[from + axis]! + 0.3 * seen[to + axis]!, 9));
  expect([out[9], out[10]]).toEqual(chord);
  const { u, v } = on.onPartEdge(Math.floor(edge / 3), edge % 3, 0.3);
  expect([u, v]).toEqual(chord);
});

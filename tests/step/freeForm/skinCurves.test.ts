/** The boundary of a skin and the lines in it, cut at their corners: whole, each edge once, each with its triangles. */
import { describe, expect, it } from 'vitest';
import { vectorAt } from '../../../src/geometry/vector3.ts';
import { faceBorders } from '../../../src/step/freeForm/faceBorders.ts';
import { edgeAt, pointAt, type SkinCurve, skinCurves } from '../../../src/step/freeForm/skinCurves.ts';
import { bend, livePart, plane, revolved, skinOf, vertexAt } from './patches.ts';

const R = 6;
const [A, B, WIDTH] = [20, 15, 30];
const live = livePart(bend([A, B], R, WIDTH));
const skin = skinOf(live);
/** The bend unrolled: what is above the base's end lies beyond it. */
const flat = Float64Array.from(
  Array.from({ length: skin.mesh.position.length / 3 }, (_, i) => {
    const [x, y, z] = vectorAt(skin.mesh.position, 3 * i);
    if (x <= A + 1e-9) return [x, y];
    const arc = z <= R + 1e-9 ? R * Math.atan2(x - A, R - z) : (Math.PI / 2) * R + z - R;
    return [A + arc, y];
  }).flat(),
);
const curves = skinCurves(skin, flat, faceBorders(live, skin), new Set());
const lengthOf = ({ along }: SkinCurve): number => along[along.length - 1]!;

describe('the curves of a bent strip', () => {
  const total = A + B + (Math.PI / 2) * R;

  it('are its sides, cut at its corners and where the bend begins and ends, and the two lines of the bend', () => {
    const boundary = curves.filter(({ inside }) => inside === null);
    const lengths = boundary.map(lengthOf).sort((a, b) => a - b);
    const expected = [A, A, B, B, (Math.PI / 2) * R, (Math.PI / 2) * R, WIDTH, WIDTH].sort((a, b) => a - b);
    expect(lengths).toHaveLength(8);
    for (const [i, length] of lengths.entries()) expect(length).toBeCloseTo(expected[i]!, 9);
    expect(lengths.reduce((sum, length) => sum + length, 0)).toBeCloseTo(2 * (total + WIDTH), 9);
    const lines = curves.filter(({ inside }) => inside !== null);
    expect(lines.map(lengthOf)).toEqual([expect.closeTo(WIDTH, 9), expect.closeTo(WIDTH, 9)]);
    expect(lines.map(({ x }) => x[0]!).sort((a, b) => a - b)).toEqual([
      expect.closeTo(A, 9),
      expect.closeTo(A + (Math.PI / 2) * R, 9),
    ]);
  });

  it('know the triangles of each edge and where in them it starts', () => {
    const { triangles, face } = skin.mesh;
    const ends = (t: number, k: number, backward: boolean): number[] => {
      const way = [triangles[3 * t + k]!, triangles[3 * t + ((k + 1) % 3)]!];
      return backward ? way.reverse() : way;
    };
    for (const { vertices, owner, other, inside } of curves) {
      expect(owner).toHaveLength(vertices.length - 1);
      expect(other).toHaveLength(inside === null ? 0 : vertices.length - 1);
      for (const list of [owner, other])
        for (const [i, { triangle, edge, backward }] of list.entries())
          expect(ends(triangle, edge, backward)).toEqual(vertices.slice(i, i + 2));
      if (inside === null) continue;
      for (const [i, { triangle, backward }] of owner.entries()) {
        expect(face[triangle]).toBeLessThan(face[other[i]!.triangle]!);
        // A triangle lies to the left of its own edges.
        expect(backward).toBe(!inside.lowerLeft);
      }
    }
  });

  it('stop at vertices at which the boundary is said to turn', () => {
    const middle = vertexAt(skin.mesh, [0, WIDTH / 2, 0]);
    const more = skinCurves(skin, flat, faceBorders(live, skin), new Set([middle]));
    expect(more).toHaveLength(curves.length + 1);
    expect(more.filter(({ vertices }) => vertices[0] === middle || vertices.at(-1) === middle)).toHaveLength(
      2,
    );
  });
});

it('a point along a curve is that of its edge and share', () => {
  const curve = curves.find((each) => each.inside === null && Math.abs(lengthOf(each) - WIDTH) < 1e-9)!;
  const step = WIDTH / 4;
  for (const s of [0, 0.3 * step, step, 2.05 * step, WIDTH]) {
    const [x, y] = pointAt(curve, s);
    expect(Math.hypot(x - curve.x[0]!, y - curve.y[0]!)).toBeCloseTo(s, 9);
  }
  expect(edgeAt(curve, 2.75 * step)).toEqual({ edge: 2, fraction: expect.closeTo(0.75, 9) });
  // Beyond its ends it stays on them.
  expect(edgeAt(curve, -1)).toEqual({ edge: 0, fraction: 0 });
  expect(edgeAt(curve, WIDTH + 1)).toEqual({ edge: 3, fraction: 1 });
});

it('a round boundary without corners is one curve that comes back; a square hole has four', () => {
  const disc = livePart([
    {
      surface: revolved({ x: 0, z: 0, angle: 0, curvature: 0 }),
      u: [0, 10],
      v: [0, 2 * Math.PI],
      cells: [2, 24],
    },
  ]);
  const plate = livePart([
    {
      surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]),
      u: [0, 6],
      v: [0, 6],
      cells: [6, 6],
      hole: { u: [2, 4], v: [2, 4] },
    },
  ]);
  const of = (own: ReturnType<typeof livePart>): SkinCurve[] => {
    const { mesh } = skinOf(own);
    return skinCurves(
      skinOf(own),
      Float64Array.from(mesh.position.filter((_, i) => i % 3 < 2)),
      [],
      new Set(),
    );
  };
  const [circle, ...others] = of(disc);
  expect(others).toEqual([]);
  expect(circle!.vertices).toHaveLength(25);
  expect(circle!.vertices[24]).toBe(circle!.vertices[0]);
  // A polygon of 24 sides.
  expect(lengthOf(circle!)).toBeCloseTo(24 * 2 * 10 * Math.sin(Math.PI / 24), 9);
  expect(of(plate).map(lengthOf).sort()).toEqual([2, 2, 2, 2, 6, 6, 6, 6]);
});

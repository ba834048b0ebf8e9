/** Sizes that a shape and an error ask for, in closed form on planes, cylinders and spheres; and how they grow. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plasticLaw } from '../../../src/material/law.ts';
import { elementGeometry } from '../../../src/solve/elements.ts';
import type { TraySolution } from '../../../src/solve/solveTray.ts';
import { flatAtlas } from '../../../src/step/freeForm/flatAtlas.ts';
import { sizeField, sizesByError, sizesByShape } from '../../../src/step/freeForm/meshSizes.ts';
import { planarIsotropic } from '../../support/trays.ts';
import { troughMesh } from '../../support/troughMesh.ts';
import { AS_DRAWN, between, extruded, livePart, type Patch, plane, revolved, skinOf } from './patches.ts';

const ANGLES = { strained: 0.5, bent: 1.2 };

/** Sizes of a face whose flat is a rectangle of its parameters; those of its inner vertices. */
function innerSizes(patch: Patch): number[] {
  const live = livePart([patch]);
  const skin = skinOf(live);
  const flat = new Float64Array((2 * skin.mesh.position.length) / 3);
  for (const [at, vertex] of skin.mesh.triangles.entries())
    flat.set(skin.mesh.parameters.slice(2 * at, 2 * at + 2), 2 * vertex);
  const sizes = sizesByShape(live, skin, flat, ANGLES);
  return [...sizes].filter((_, vertex) => {
    const [u, v] = [flat[2 * vertex]!, flat[2 * vertex + 1]!];
    return u > patch.u[0] && u < patch.u[1] && v > patch.v[0] && v < patch.v[1];
  });
}

describe('the size that a shape asks for', () => {
  const arc = (radius: number): Patch => ({
    surface: extruded({ x: 0, z: 0, angle: 0, curvature: 1 / radius }),
    u: [0, 40],
    v: [0, 80],
    cells: [4, 4],
  });

  it.each<[string, Patch, number]>([
    [
      'in a plane is an eighth of the extent',
      { surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]), u: [0, 40], v: [0, 80], cells: [4, 4] },
      10,
    ],
    ['on a wide cylinder too', arc(100), 10],
    ['on a cylinder is its radius times the angle for bends', arc(5), 6],
    ['on a tight one is no less than a fortieth of the extent', arc(1), 2],
  ])('%s', (_, patch, expected) => {
    const sizes = innerSizes(patch);
    expect(sizes).toHaveLength(9);
    for (const size of sizes) expect(size).toBeCloseTo(expected, 9);
  });

  it('on a sphere is its radius times the angle for what is curved both ways', () => {
    const R = 8;
    const live = livePart([
      {
        surface: revolved({ x: R * Math.sin(0.3), z: 0, angle: 0.3, curvature: 1 / R }),
        u: [0, 10],
        v: [0, 2],
        cells: [4, 4],
      },
    ]);
    const skin = skinOf(live);
    // Laid out 80 wide, so that corners apart no boundary bends.
    const flat = Float64Array.from(
      Array.from({ length: skin.mesh.position.length / 3 }, (_, i) => [
        20 * Math.floor(i / 5),
        20 * (i % 5),
      ]).flat(),
    );
    for (const size of sizesByShape(live, skin, flat, ANGLES)) expect(size).toBeCloseTo(R / 2, 9);
  });

  it('along a bending boundary is half its radius, and at corners nothing', () => {
    const disc = livePart([
      {
        surface: revolved({ x: 4, z: 0, angle: 0, curvature: 0 }),
        u: [0, 20],
        v: [0, 2 * Math.PI],
        cells: [2, 36],
      },
    ]);
    const skin = skinOf(disc);
    const flat = Float64Array.from(skin.mesh.position.filter((_, i) => i % 3 < 2));
    const sizes = sizesByShape(disc, skin, flat, ANGLES);
    for (const [vertex, size] of sizes.entries()) {
      const radius = Math.hypot(flat[2 * vertex]!, flat[2 * vertex + 1]!);
      // Chord over the angle between chords: r to a hundredth here; an eighth of 48 is the most.
      if (radius < 4.1) expect(size / 2).toBeCloseTo(1, 2);
      else expect(size).toBeCloseTo(6, 9);
    }
    const plate = livePart([
      { surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]), u: [0, 40], v: [0, 80], cells: [4, 4] },
    ]);
    const square = skinOf(plate);
    const own = Float64Array.from(square.mesh.position.filter((_, i) => i % 3 < 2));
    for (const size of sizesByShape(plate, square, own, ANGLES)) expect(size).toBeCloseTo(10, 9);
  });
});

describe('the size that an error asks for', () => {
  const mesh = troughMesh({ base: 60, length: 40, bendRadius: 0, wall: 0 }, 6, 4, 0.2);
  const start = Float64Array.from(
    Array.from({ length: mesh.nodeCount }, (_, i) => [mesh.placed[11 * i]!, mesh.placed[11 * i + 1]!]).flat(),
  );
  const solution = (flat: Float64Array): TraySolution => ({
    mesh,
    geometry: elementGeometry(mesh),
    law: plasticLaw(planarIsotropic(1, 0.2), 0),
    flat,
    unknowns: 0,
    refinements: 0,
    steps: 0,
    residual: 0,
    estimate: Number.NaN,
  });
  /** Edge of the equilateral triangle as large as each triangle. */
  const own = Array.from({ length: mesh.triangles.length / 6 }, (_, t) => {
    const [i, j, k] = [0, 1, 2].map((c) => 2 * mesh.triangles[6 * t + c]!) as [number, number, number];
    const [ax, ay, bx, by] = [
      start[j]! - start[i]!,
      start[j + 1]! - start[i + 1]!,
      start[k]! - start[i]!,
      start[k + 1]! - start[i + 1]!,
    ];
    return Math.sqrt((2 * Math.abs(ax * by - ay * bx)) / Math.sqrt(3));
  });
  const shares = (flat: Float64Array, error: number, even = 1): number[] =>
    sizesByError(solution(flat), start, error, even).map(({ size }, t) => size / own[t]!);
  const bent = start.map((value, i) => value + (i % 2 === 0 ? 0.00002 * value ** 3 : 0));

  it('is twice the size where the strain is even, at the middles of triangles', () => {
    const even = start.map((value, i) => (i % 2 === 0 ? 0.95 : 1.03) * value);
    for (const share of shares(even, 0.004)) expect(share).toBeCloseTo(2, 6);
    const found = sizesByError(solution(even), start, 0.004, 1);
    for (const [t, { x, y }] of found.entries()) {
      const mean = (axis: number): number =>
        [0, 1, 2].reduce((sum, k) => sum + start[2 * mesh.triangles[6 * t + k]! + axis]! / 3, 0);
      expect([x, y]).toEqual([expect.closeTo(mean(0), 9), expect.closeTo(mean(1), 9)]);
    }
  });

  it('grows with the third root of the error that is let pass, between a third and twice of what is', () => {
    const [coarse, fine] = [shares(bent, 8 * 1e-3), shares(bent, 1e-3)];
    let between = 0;
    for (const [t, share] of coarse.entries()) {
      expect(share).toBeLessThanOrEqual(2 + 1e-12);
      expect(fine[t]).toBeGreaterThanOrEqual(0.3 - 1e-12);
      if (share >= 2 || fine[t]! <= 0.3) continue;
      between++;
      expect(share / fine[t]!).toBeCloseTo(2, 9);
    }
    expect(between).toBeGreaterThan(5);
    for (const share of shares(bent, 1e-9)) expect(share).toBeCloseTo(0.3, 9);
  });

  it('is no smaller than it was where the metal necks', () => {
    // Any stretch at all is above an even elongation of none.
    for (const share of shares(
      bent.map((value) => value * 0.9),
      1e-9,
      0,
    ))
      expect(share).toBeGreaterThanOrEqual(1 - 1e-9);
  });
});

it('a field of sizes is nowhere larger than at any other point plus growth times the distance', () => {
  const live = livePart([
    { surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]), u: [0, 40], v: [0, 30], cells: [8, 6] },
  ]);
  const skin = skinOf(live);
  const flat = Float64Array.from(skin.mesh.position.filter((_, i) => i % 3 < 2));
  const atlas = flatAtlas({ live, skin, frame: AS_DRAWN }, flat);
  const count = flat.length / 2;
  const size = between(0.2, 12);
  const place = fc.record({
    x: between(0, 40),
    y: between(0, 30),
    size,
  });
  fc.assert(
    fc.property(
      fc.array(size, { minLength: count, maxLength: count }),
      fc.array(place, { maxLength: 5 }),
      fc.constantFrom(0.2, 0.5),
      (sizes, points, growth) => {
        const field = sizeField(flat, atlas, Float64Array.from(sizes), points, growth);
        const all = [
          ...points,
          ...sizes.map((own, i) => ({ x: flat[2 * i]!, y: flat[2 * i + 1]!, size: own })),
        ];
        for (let i = 0; i < count; i++) {
          const [x, y] = [flat[2 * i]!, flat[2 * i + 1]!];
          const least = Math.min(
            ...all.map((other) => other.size + growth * Math.hypot(other.x - x, other.y - y)),
          );
          expect(field(x, y)).toBeCloseTo(least, 9);
        }
      },
    ),
    { seed: 9, numRuns: 15 },
  );
});

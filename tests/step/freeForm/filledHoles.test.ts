/** Holes in a bent sheet made of functions: in its base, in its bend, and over the line where the bend begins. */
import { describe, expect, it } from 'vitest';
import { cross, distance, minus, norm, vectorAt } from '../../../src/geometry/vector3.ts';
import { fillHoles, inFrame, onBridge } from '../../../src/step/freeForm/filledHoles.ts';
import { boundaryLoops, edgeMap } from '../../../src/step/freeForm/skinMesh.ts';
import { bend, livePart, openBox, type Patch, skinOf } from './patches.ts';

const [BASE, RADIUS, WALL, WIDTH, CELLS] = [24, 10, 15, 30, 6];
const ARC = (Math.PI / 2) * RADIUS;
const DEPTH = 0.5;

type Holes = readonly (Patch['hole'] | undefined)[];
const withHoles = (patches: readonly Patch[], holes: Holes): Patch[] =>
  patches.map((patch, i) => (holes[i] === undefined ? patch : { ...patch, hole: holes[i] }));

/** How far a point is from the skin of the bend, outwards positive. */
function offSkin([x, , z]: readonly [number, number, number]): number {
  if (x < BASE) return -z;
  if (z > RADIUS) return x - BASE - RADIUS;
  return Math.hypot(x - BASE, z - RADIUS) - RADIUS;
}

/** A hole of two cells by two; over the line half of it on either side. */
const middle = { u: [2, 4], v: [2, 4] } as const;
const cellArea = (length: number): number => (length / CELLS) * (WIDTH / CELLS);

describe.each([
  ['in the base', [middle], 4 * cellArea(BASE), [0]],
  ['in the bend', [undefined, middle], 4 * cellArea(ARC), [1]],
  [
    'over the line where the bend begins',
    [
      { u: [5, 6], v: [2, 4] },
      { u: [0, 1], v: [2, 4] },
    ],
    2 * cellArea(BASE) + 2 * cellArea(ARC),
    [0, 1],
  ],
] as readonly [string, Holes, number, number[]][])('a hole %s', (_, holes, area, faces) => {
  const live = livePart(withHoles(bend([BASE, WALL], RADIUS, WIDTH, CELLS), holes));
  const skin = skinOf(live, { depth: DEPTH });
  const { mesh } = skin;
  const [vertices, triangles] = [mesh.position.length / 3, mesh.face.length];
  const loop = boundaryLoops(mesh)[1]!;
  const filled = fillHoles(live, skin, new Set());

  it('is closed by triangles of its own faces, on their surfaces, with the net’s sense', () => {
    expect(filled.unfilled).toEqual([]);
    expect(boundaryLoops(mesh)).toHaveLength(1);
    // Each edge once each way, or once on the rim.
    const count = mesh.position.length / 3;
    for (const uses of edgeMap(mesh.triangles, count).values()) {
      if (uses.length === 1) continue;
      const starts = uses.map((use) => mesh.triangles[use]);
      expect(uses).toHaveLength(2);
      expect(new Set(starts).size).toBe(2);
    }
    expect([...new Set(mesh.face.slice(triangles))].sort()).toEqual(faces);
    for (let v = vertices; v < count; v++)
      expect(Math.abs(offSkin(vectorAt(mesh.position, 3 * v)))).toBeLessThan(1e-9);
    let cover = 0;
    for (let t = triangles; t < mesh.face.length; t++) {
      const [a, b, c] = [0, 1, 2].map((k) => vectorAt(mesh.position, 3 * mesh.triangles[3 * t + k]!));
      cover += norm(cross(minus(b!, a!), minus(c!, a!))) / 2;
    }
    // Chords of the bend are shorter.
    expect(cover).toBeLessThan(area * (1 + 1e-9));
    expect(cover).toBeGreaterThan(0.98 * area);
  });

  it('has its edge in the middle of the sheet, counter-clockwise, with its four corners', () => {
    const [hole] = filled.holes;
    expect(hole!.loop).toBe(1);
    expect(hole!.points).toHaveLength(4 * loop.length);
    for (const point of hole!.points) expect(offSkin(point)).toBeCloseTo(DEPTH, 6);
    expect(hole!.corners).toHaveLength(4);
    // By the section's length and y: its area, seen from above and inside.
    const flat = hole!.points.map(([x, y, z]) => [
      x < BASE ? x : BASE + Math.atan2(x - BASE, RADIUS - z) * RADIUS,
      y,
    ]);
    const twice = flat.reduce((sum, [x, y], i) => {
      const [nextX, nextY] = flat[(i + 1) % flat.length]!;
      return sum + x! * nextY! - nextX! * y!;
    }, 0);
    expect(twice / 2 / area).toBeCloseTo(1, 6);
  });

  it('is bridged by lines of both faces where it crosses their border', () => {
    expect(filled.bridges.map(({ face }) => face).sort()).toEqual(faces.length === 1 ? [] : [0, 1]);
    const ends = filled.bridges.map(({ face, from, to }) =>
      [from, to].map(([u, v]) => {
        const value = new Float64Array(6);
        live.evaluate(face, u, v, value);
        return vectorAt(value);
      }),
    );
    for (const line of ends) {
      expect(new Set(line.map(([, y]) => Math.round(y)))).toEqual(new Set([10, 20]));
      for (const point of line) expect(distance(point, [BASE, point[1], 0])).toBeLessThan(1e-9);
    }
  });
});

it('a hole that is to stay open is left as it is', () => {
  const live = livePart(withHoles(bend([BASE, WALL], RADIUS, WIDTH, CELLS), [middle, middle]));
  const skin = skinOf(live);
  const before = structuredClone(skin.mesh);
  expect(fillHoles(live, skin, new Set([1, 2]))).toEqual({ holes: [], bridges: [], unfilled: [] });
  expect(skin.mesh).toEqual(before);
  expect(fillHoles(live, skin, new Set([1])).holes.map(({ loop }) => loop)).toEqual([2]);
  expect(boundaryLoops(skin.mesh)).toHaveLength(2);
});

it('a hole over a point where three faces meet is told with its middle, and left as it is', () => {
  const cells = 4;
  const corner = { u: [3, 4], v: [3, 4] } as const;
  const live = livePart(
    withHoles(openBox(40, 30, 12, cells), [
      corner,
      undefined,
      { u: [0, 1], v: [0, 1] },
      { u: [3, 4], v: [0, 1] },
    ]),
  );
  const skin = skinOf(live);
  const before = structuredClone(skin.mesh);
  const { holes, bridges, unfilled } = fillHoles(live, skin, new Set());
  expect([holes, bridges]).toEqual([[], []]);
  expect(unfilled).toHaveLength(1);
  // Six vertices round the corner, a cell of 10 × 7.5 × 3 away from it.
  expect(distance(unfilled[0]!, [20 - 10 / 2, 15 - 7.5 / 2, 3 / 2])).toBeLessThan(1e-9);
  expect(skin.mesh).toEqual(before);
});

it('a piece of a bridge is on its line, between its ends, of its face', () => {
  const bridge = { face: 3, from: [1, 2], to: [5, 4] } as const;
  expect(
    onBridge(bridge, 3, [
      [1, 2],
      [3, 3],
    ]),
  ).toBe(true);
  expect(
    onBridge(bridge, 2, [
      [1, 2],
      [3, 3],
    ]),
  ).toBe(false);
  expect(
    onBridge(bridge, 3, [
      [1, 2],
      [3, 3.01],
    ]),
  ).toBe(false);
  expect(
    onBridge(bridge, 3, [
      [3, 3],
      [7, 5],
    ]),
  ).toBe(false);
  expect(
    onBridge(bridge, 3, [
      [-1, 1],
      [3, 3],
    ]),
  ).toBe(false);
});

it('its points are told in the tray’s frame', () => {
  const frame = {
    axes: [
      [0, 1, 0],
      [0, 0, 1],
      [1, 0, 0],
    ] as const,
    origin: [10, 20, 30] as const,
    base: 0,
  };
  expect(inFrame({ loop: 1, points: [[11, 22, 33]], corners: [] }, frame)).toEqual([[2, 3, 1]]);
});

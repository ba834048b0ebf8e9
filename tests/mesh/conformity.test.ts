/** Meshes as sheets of metal: one piece, no tears, no folds, one rim. */
import { describe, expect, test } from 'vitest';
import { arcLengthFlat, type QuadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import { ON_FIRST, ON_LAST } from '../../src/mesh/skeleton.ts';
import { PLACED_SIZE } from '../../src/tray/neutralSurface.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { eachPlace, formedPoint } from '../support/measures.ts';
import { EARING, hemisphere, meshOf, polygon, rectangle, roundPan, solveSpec } from '../support/trays.ts';

const SHAPES: readonly (readonly [string, TraySpec])[] = [
  ['rectangle', rectangle(300, 200, 40, { bottomRadius: 20, height: 60 })],
  ['square, corners of the bottom radius', rectangle(150, 150, 25, { bottomRadius: 25, height: 25 })],
  ['four radii', rectangle(360, 240, [60, 45, 30, 25], { bottomRadius: 22, height: 45 })],
  ['long and narrow', rectangle(2000, 60, 30, { bottomRadius: 3, height: 9 })],
  ['round', roundPan(120, { bottomRadius: 20, height: 40 })],
  ['hemisphere', hemisphere(25)],
  ['trough with round bottom', rectangle(200, 40, 20, { bottomRadius: 20, height: 30 })],
  [
    'triangle',
    polygon(
      [
        { x: -200, y: -120, radius: 40 },
        { x: 220, y: -100, radius: 25 },
        { x: 10, y: 210, radius: 25 },
      ],
      { bottomRadius: 20, height: 50 },
    ),
  ],
];

const wholeMesh = (spec: TraySpec): QuadraticMesh =>
  solveSpec(spec, EARING, {
    accuracy: 1e9,
    symmetryUse: 'none',
    minimumRefinements: 0,
    maximumRefinements: 0,
  }).mesh;

const MESHES: readonly (readonly [string, () => QuadraticMesh])[] = [
  ...SHAPES.flatMap(([name, spec]): (readonly [string, () => QuadraticMesh])[] => [
    [`${name}, coarse`, () => meshOf(spec)],
    [`${name}, refined`, () => meshOf(spec, 1)],
  ]),
  ['rectangle, unfolded to the whole', () => wholeMesh(SHAPES[0]![1])],
  ['square, unfolded to the whole', () => wholeMesh(SHAPES[1]![1])],
  ['hemisphere, unfolded to the whole', () => wholeMesh(SHAPES[5]![1])],
];

/** Triangles on each edge, keyed by the node in its middle, and the edge's ends. */
function edgesOf(mesh: QuadraticMesh): Map<number, { ends: Set<number>; count: number }> {
  const edges = new Map<number, { ends: Set<number>; count: number }>();
  for (let t = 0; t < mesh.triangles.length / 6; t++) {
    for (let e = 0; e < 3; e++) {
      const middle = mesh.triangles[6 * t + 3 + e]!;
      const known = edges.get(middle) ?? { ends: new Set<number>(), count: 0 };
      known.ends.add(mesh.triangles[6 * t + e]!).add(mesh.triangles[6 * t + ((e + 1) % 3)]!);
      known.count++;
      edges.set(middle, known);
    }
  }
  return edges;
}

describe.each(MESHES)('%s', (_, make) => {
  const mesh = make();
  const edges = edgesOf(mesh);
  const corners = new Set(Array.from(mesh.triangles).filter((_, i) => i % 6 < 3));

  test('is one disc: corners − edges + triangles = 1 (Euler), every edge between two triangles or free', () => {
    expect(corners.size - edges.size + mesh.triangles.length / 6).toBe(1);
    for (const { ends, count } of edges.values()) {
      expect(ends.size).toBe(2);
      expect([1, 2]).toContain(count);
    }
    expect(corners.size + edges.size).toBe(mesh.nodeCount);
  });

  test('every triangle lies the right way up in the flat', () => {
    let smallest = Infinity;
    eachPlace({ mesh, flat: arcLengthFlat(mesh) }, ({ flatArea }) => {
      smallest = Math.min(smallest, flatArea);
    });
    expect(smallest).toBeGreaterThan(0);
  });

  test('free edges are the rim or lie on a mirror line', () => {
    const rimMiddles = new Set(Array.from(mesh.rim).filter((_, i) => i % 2 === 1));
    const lines = mesh.mirrorLines;
    for (const [middle, { count }] of edges) {
      if (count === 2) expect(rimMiddles.has(middle)).toBe(false);
      else if (!rimMiddles.has(middle)) {
        expect(lines).not.toBeNull();
        expect(mesh.mirror[middle]! & (ON_FIRST | ON_LAST)).toBeGreaterThan(0);
      }
    }
    expect(rimMiddles.size).toBeGreaterThan(0);
  });

  test('the rim is one chain along the top, counter-clockwise', () => {
    const heights = Array.from(mesh.rim, (node) => formedPoint(mesh, node)[2]);
    const top = Math.max(...Array.from({ length: mesh.nodeCount }, (_, node) => formedPoint(mesh, node)[2]));
    for (const height of heights) expect(Math.abs(height - top)).toBeLessThan(1e-9);
    expect(new Set(mesh.rim).size).toBe(mesh.rim.length);
    // Every node at the top is on it.
    const atTop = Array.from({ length: mesh.nodeCount }, (_, node) => node).filter(
      (node) => formedPoint(mesh, node)[2] > top - 1e-9,
    );
    expect(atTop.length).toBe(mesh.rim.length);
    const closed = mesh.mirrorLines === null;
    expect(mesh.rim.length % 2).toBe(closed ? 0 : 1);
    let turn = 0;
    const angle = (i: number): number => {
      const [x, y] = formedPoint(mesh, mesh.rim[i % mesh.rim.length]!);
      const lines = mesh.mirrorLines;
      return Math.atan2(y - (lines?.centreY ?? 0), x - (lines?.centreX ?? 0));
    };
    for (let i = 0; i + (closed ? 0 : 1) < mesh.rim.length; i++) {
      const step = angle(i + 1) - angle(i);
      turn += step - 2 * Math.PI * Math.round(step / (2 * Math.PI));
    }
    const whole = closed ? 2 * Math.PI : mesh.mirrorLines!.lastAngle - mesh.mirrorLines!.firstAngle;
    expect(turn).toBeCloseTo(whole, 9);
  });

  test('nodes marked as on a mirror line are on it, in the tray and in the flat', () => {
    const lines = mesh.mirrorLines;
    for (let node = 0; node < mesh.nodeCount; node++) {
      if (lines === null) {
        expect(mesh.mirror[node]).toBe(0);
        continue;
      }
      for (const [bit, angle] of [
        [ON_FIRST, lines.firstAngle],
        [ON_LAST, lines.lastAngle],
      ] as const) {
        if ((mesh.mirror[node]! & bit) === 0) continue;
        for (const k of [0, 9]) {
          const x = mesh.placed[PLACED_SIZE * node + k]! - lines.centreX;
          const y = mesh.placed[PLACED_SIZE * node + k + 1]! - lines.centreY;
          expect(Math.abs(x * Math.sin(angle) - y * Math.cos(angle))).toBeLessThan(1e-6);
        }
      }
    }
  });
});

test('the same tray gives the same mesh, bit for bit', () => {
  for (const [, spec] of SHAPES) {
    const [a, b] = [meshOf(spec), meshOf(spec)];
    expect(b.triangles).toEqual(a.triangles);
    expect(b.placed).toEqual(a.placed);
  }
});

test('refinement keeps the nodes it has, quarters every triangle and puts new nodes on the surface', () => {
  for (const [, spec] of SHAPES) {
    const [coarse, fine] = [meshOf(spec), meshOf(spec, 1)];
    expect(fine.triangles.length).toBe(4 * coarse.triangles.length);
    expect(fine.placed.slice(0, coarse.placed.length)).toEqual(coarse.placed);
    const outer = Math.max(...Array.from(coarse.rim, (node) => formedPoint(coarse, node)[2]));
    expect(formedPoint(fine, fine.rim[0]!)[2]).toBeCloseTo(outer, 9);
  }
});

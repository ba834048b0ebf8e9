/**
 * Gauss–Bonnet on the meshed surface: whatever the shape, curvature inside plus turning of the rim is 2π for a
 * disc. For triangles that holds exactly only when the mesh is one watertight piece without holes; how much of it
 * lies inside, corner by corner, is the check of the geometry.
 *
 * Sources: M. P. do Carmo, Differential Geometry of Curves and Surfaces, 1976, section 4-5 (theorem; from memory).
 * Area of the Gauss image of a corner that turns by w in plan while the section turns from level to an angle a:
 * w·(1 − cos a), the area of a sector of a spherical cap (derived).
 */
import { describe, expect, test } from 'vitest';
import { type QuadraticMesh, quadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import { midpoints } from '../../src/mesh/skeleton.ts';
import { COARSE, traySkeleton } from '../../src/mesh/traySkeleton.ts';
import { unfoldSkeleton } from '../../src/mesh/unfold.ts';
import { neutralSurface } from '../../src/tray/neutralSurface.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import { closeTo, ROUNDING } from '../support/closeTo.ts';
import { formedPoint } from '../support/measures.ts';
import { symmetryOf } from '../support/trays.ts';

const tray = (plan: object, section: object = {}, forming: object = {}): TraySpec =>
  readTray({
    name: 'drip-tray',
    plan,
    section: { bottomRadius: 12, height: 30, ...section },
    sheet: { material: 'DC04', thickness: 1 },
    forming,
  });

const RECTANGLE = { length: 240, width: 160, cornerRadius: 35 };
const L_SHAPE = {
  vertices: [
    { x: 0, y: 0, radius: 40 },
    { x: 300, y: 0, radius: 40 },
    { x: 300, y: 130, radius: 30 },
    { x: 140, y: 130, radius: 60 },
    { x: 140, y: 260, radius: 40 },
    { x: 0, y: 260, radius: 40 },
  ],
};
const D_SHAPE = {
  vertices: [
    { x: 100, y: 0, radius: 0, bulge: 1 },
    { x: -100, y: 0 },
    { x: -100, y: -80, radius: 30 },
    { x: 100, y: -80, radius: 30 },
  ],
};
const HEXAGON = {
  vertices: [0, 1, 2, 3, 4, 5].map((k) => ({
    x: 120 * Math.cos((k * Math.PI) / 3),
    y: 120 * Math.sin((k * Math.PI) / 3),
    radius: 30,
  })),
};
const LIP = { rim: { kind: 'lip', direction: 'out', bendRadius: 5, width: 14 } };

/** Name, tray, turn in plan of what is gathered or stretched (all of 2π unless corners are cut out), rim angle. */
const SHAPES: readonly (readonly [string, TraySpec, number, number])[] = [
  ['rectangle', tray(RECTANGLE), 2 * Math.PI, 90],
  ['rectangle with draft', tray(RECTANGLE, { draft: 15 }), 2 * Math.PI, 75],
  ['L', tray(L_SHAPE), 2 * Math.PI, 90],
  ['D', tray(D_SHAPE), 2 * Math.PI, 90],
  ['hexagon', tray(HEXAGON), 2 * Math.PI, 90],
  // The lip lies level again: what the bottom bend has curved, the lip's bend undoes.
  ['lip outwards', tray(RECTANGLE, LIP), 2 * Math.PI, 0],
  [
    'lip inwards',
    tray(RECTANGLE, { rim: { kind: 'lip', direction: 'in', bendRadius: 5, width: 14 } }),
    2 * Math.PI,
    180,
  ],
  ['L with a lip', tray(L_SHAPE, LIP), 2 * Math.PI, 0],
  ['heights by side', tray(RECTANGLE, { heights: { top: 40 }, runOut: 30 }), 2 * Math.PI, 90],
  // Cut out or open corners have no double curvature.
  ['all corners notched', tray(RECTANGLE, {}, { corners: 'notch', weldGap: 0.6 }), 0, 90],
  [
    'one corner notched',
    tray(RECTANGLE, {}, { corners: ['notch', 'gather', 'gather', 'gather'] }),
    1.5 * Math.PI,
    90,
  ],
  ['open at one end', tray({ ...RECTANGLE, openEdges: ['left'] }), Math.PI, 90],
  ['open at both ends', tray({ ...RECTANGLE, openEdges: ['left', 'right'] }), 0, 90],
];

describe.each(SHAPES)('%s', (_, spec, turn, rimAngle) => {
  test.each(['without symmetry', 'unfolded from its symmetry'] as const)(
    'is a watertight disc, %s',
    (how) => {
      const mesh = wholeMesh(spec, how === 'without symmetry');
      if (mesh === null) return; // No symmetry to unfold: covered by the other case.
      const { eulerCharacteristic, inside, rim, worstEdge } = curvature(mesh);
      expect(worstEdge).toBe('each edge once each way, or once on the rim');
      expect(eulerCharacteristic).toBe(1);
      closeTo(
        inside + rim,
        2 * Math.PI,
        { why: 'rounding of 10,000 angles', absolute: 1e-8 },
        'total curvature',
      );
      // Exact where the facets at the rim are upright or level, as the surface is; a leaning wall is a cone, whose
      // chords lean a little more (measured 1.6e-3).
      closeTo(
        inside,
        turn * (1 - Math.cos(radians(rimAngle))),
        { why: 'facets of a cone', absolute: rimAngle === 75 ? 4e-3 : 1e-8 },
        'curvature inside the rim',
      );
    },
  );
});

test('each corner of the L has its own share, the inward one a negative one', () => {
  const { defects } = curvature(wholeMesh(tray(L_SHAPE), true)!);
  const shares = L_SHAPE.vertices.map(() => 0);
  for (const { at, defect } of defects) {
    const far = L_SHAPE.vertices.map((vertex) => Math.hypot(at[0] - vertex.x, at[1] - vertex.y));
    shares[far.indexOf(Math.min(...far))]! += defect;
  }
  for (const [corner, share] of shares.entries()) {
    const turn = corner === 3 ? -Math.PI / 2 : Math.PI / 2;
    closeTo(share, turn, { why: 'rounding', absolute: 1e-8 }, `corner ${corner}`);
  }
});

test('the count notices a hole in the mesh', () => {
  const whole = wholeMesh(SHAPES[0]![1], true)!;
  const inner = innerTriangle(whole);
  const triangles = whole.triangles.filter((_, i) => Math.floor(i / 6) !== inner);
  expect(curvature({ ...whole, triangles }).eulerCharacteristic).toBe(0);
});

test('half a ring is unfolded from its symmetry', () => {
  const symmetry = symmetryOf(
    tray({
      vertices: [
        { x: 170, y: 0, radius: 25, bulge: 1 },
        { x: -170, y: 0, radius: 25 },
        { x: -80, y: 0, radius: 25, bulge: -1 },
        { x: 80, y: 0, radius: 25 },
      ],
    }),
  )!;
  closeTo(symmetry.endAngle - symmetry.startAngle, Math.PI / symmetry.order, ROUNDING, 'wedge');
});

/** A triangle none of whose nodes are on the rim. */
function innerTriangle({ triangles, rim }: QuadraticMesh): number {
  const onRim = new Set(rim);
  for (let t = 0; t < triangles.length / 6; t++) {
    if (triangles.subarray(6 * t, 6 * t + 6).every((node) => !onRim.has(node))) return t;
  }
  throw new Error('every triangle touches the rim');
}

/** Mesh of the whole tray, or null when it is to be unfolded and has no symmetry. */
function wholeMesh(spec: TraySpec, plain: boolean): QuadraticMesh | null {
  const surface = neutralSurface(spec);
  const symmetry = symmetryOf(spec);
  if (plain) {
    const skeleton = traySkeleton(surface, null, COARSE);
    return quadraticMesh(skeleton, midpoints(skeleton), null);
  }
  if (symmetry === null) return null;
  const { centreX, centreY, startAngle: firstAngle, endAngle: lastAngle } = symmetry;
  const wedge = traySkeleton(surface, symmetry, COARSE);
  const lines = { centreX, centreY, firstAngle, lastAngle };
  const skeleton = unfoldSkeleton(wedge, lines, 2 * symmetry.order);
  return quadraticMesh(skeleton, midpoints(skeleton), null);
}

/** Angle defects of the facets through all nodes: four to a six-node triangle. */
function curvature(mesh: QuadraticMesh): {
  eulerCharacteristic: number;
  inside: number;
  rim: number;
  worstEdge: string;
  /** Every vertex inside the rim. */
  defects: { at: readonly [number, number, number]; defect: number }[];
} {
  const angles = new Map<number, number>();
  const edges = new Map<string, number>();
  let facets = 0;
  let worstEdge = 'each edge once each way, or once on the rim';
  const addFacet = (nodes: readonly number[]): void => {
    facets++;
    const points = nodes.map((node) => formedPoint(mesh, node));
    for (const k of [0, 1, 2]) {
      const [at, next, before] = [k, (k + 1) % 3, (k + 2) % 3];
      const u = points[next]!.map((value, axis) => value - points[at]![axis]!);
      const v = points[before]!.map((value, axis) => value - points[at]![axis]!);
      const dot = u[0]! * v[0]! + u[1]! * v[1]! + u[2]! * v[2]!;
      const cosine = dot / (Math.hypot(...u) * Math.hypot(...v));
      angles.set(nodes[at]!, (angles.get(nodes[at]!) ?? 0) + Math.acos(Math.max(-1, Math.min(1, cosine))));
      const key = `${nodes[at]} ${nodes[next]}`;
      if (edges.has(key)) worstEdge = `edge ${key} is run along twice`;
      edges.set(key, 1);
    }
  };
  for (let t = 0; t < mesh.triangles.length; t += 6) {
    const [a, b, c, ab, bc, ca] = mesh.triangles.subarray(t, t + 6) as unknown as number[];
    addFacet([a!, ab!, ca!]);
    addFacet([ab!, b!, bc!]);
    addFacet([ca!, bc!, c!]);
    addFacet([ab!, bc!, ca!]);
  }
  const onRim = new Set<number>();
  let count = 0;
  for (const key of edges.keys()) {
    const [from, to] = key.split(' ').map(Number) as [number, number];
    if (edges.has(`${to} ${from}`)) {
      count += 0.5;
      continue;
    }
    count++;
    onRim.add(from);
    onRim.add(to);
  }
  let [inside, rim] = [0, 0];
  const defects: { at: readonly [number, number, number]; defect: number }[] = [];
  for (const [node, sum] of angles) {
    if (onRim.has(node)) {
      rim += Math.PI - sum;
    } else {
      inside += 2 * Math.PI - sum;
      defects.push({ at: formedPoint(mesh, node), defect: 2 * Math.PI - sum });
    }
  }
  return { eulerCharacteristic: angles.size - count + facets, inside, rim, worstEdge, defects };
}

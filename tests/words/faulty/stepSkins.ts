/** Nets that are no one sheet, as plain data: what is told of a part that is to be unfolded as it is, without a kernel. */
import type { Path } from '../../../src/geometry/path.ts';
import { stitch } from '../../../src/step/freeForm/skinMesh.ts';
import { findSkin } from '../../../src/step/freeForm/skins.ts';
import { refuseOverlap } from '../../../src/step/freeForm/solvedSkin.ts';
import type { LivePart } from '../../../src/step/occt/livePart.ts';
import type { Part, PartFace } from '../../../src/step/part.ts';
import { refuseOdd, refuseUneven } from '../../../src/step/sheet/oddRegion.ts';
import { checkVolume } from '../../../src/step/sheet/volume.ts';
import type { Work } from './work.ts';

type Point = readonly [x: number, y: number, z: number];

const difference = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const across = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** A face of triangles, each with corners and a normal of its own. */
function face(...triangles: readonly (readonly [Point, Point, Point])[]): PartFace {
  const normals = triangles.map(([a, b, c]) => across(difference(b, a), difference(c, a)));
  const unit = normals.map((normal) => normal.map((value) => value / Math.hypot(...normal)));
  return {
    points: Float64Array.from(triangles.flat(2)),
    normals: Float64Array.from(unit.flatMap((normal) => [...normal, ...normal, ...normal])),
    parameters: Float64Array.from(triangles.flat().flatMap((point) => point.slice(0, 2))),
    triangles: Uint32Array.from(triangles.flatMap((_, t) => [3 * t, 3 * t + 1, 3 * t + 2])),
    area: normals.reduce((sum, normal) => sum + Math.hypot(...normal) / 2, 0),
    wires: [],
  };
}

/** A part whose faces are level, at these heights (mm); the first one is seen from above, the others from below. */
function live(kind: Part['kind'], faces: readonly PartFace[], heights: readonly number[] = []): LivePart {
  const area = faces.reduce((sum, each) => sum + each.area, 0);
  return {
    part: { kind, faces, edges: [], volume: 0, area },
    evaluate: (number, u, v, out) => out.set([u, v, heights[number] ?? 0, 0, 0, number === 0 ? 1 : -1]),
    differentiate: () => {},
    snapToEdge: () => {},
  };
}

const [o, x, y, z]: readonly Point[] = [
  [0, 0, 0],
  [50, 0, 0],
  [0, 50, 0],
  [0, 0, 50],
];
const triangleAt = (left: number, height: number): [Point, Point, Point] => [
  [left, 0, height],
  [left + 50, 0, height],
  [left, 50, height],
];
const level = face(triangleAt(0, 0));
const upright = face([o, y, z]);
const apart = face(triangleAt(0, 0), triangleAt(200, 0));
const fan = face([o, y, x], [o, y, z], [o, y, [-50, 0, 0]]);
const closed = face([o, y, x], [o, x, z], [o, z, y], [x, y, z]);

/** A level net of squares, each of two triangles. */
function net(along: number): PartFace {
  const squares = Array.from({ length: along * along }, (_, i): [Point, Point, Point][] => {
    const [left, near] = [i % along, Math.floor(i / along)];
    const at = (dx: number, dy: number): Point => [left + dx, near + dy, 0];
    return [
      [at(0, 0), at(1, 0), at(1, 1)],
      [at(0, 0), at(1, 1), at(0, 1)],
    ];
  });
  return face(...squares.flat());
}

const skin =
  (kind: Part['kind'], faces: readonly PartFace[], thickness: number | null = 1): Work =>
  () =>
    findSkin(live(kind, faces), thickness);

/** Two level triangles back to back, the upper one twice; the volume of nothing. */
const under = face([
  [0, 0, -1],
  [0, 50, -1],
  [50, 0, -1],
]);
const volume: Work = () => {
  const { part } = live('solid', [level, under], [0, -1]);
  const none = [new Set<number>(), new Set<number>()];
  checkVolume(live('solid', [level, under], [0, -1]), {
    inner: new Set([0]),
    outer: new Set([1]),
    thickness: 1,
    stitched: stitch(part, 1e-3),
    probes: [],
    neighbours: none,
    smoothNeighbours: none,
  });
};

/** Crosses itself in the middle. */
const bow: Path = {
  closed: true,
  vertices: [
    [0, 0],
    [10, 10],
    [10, 0],
    [0, 10],
  ].map(([x, y]) => ({ x: x!, y: y!, bulge: 0 })),
};

export const stepSkins: readonly Work[] = [
  skin('surface', [level, upright]),
  skin('surface', [level], null),
  skin('solid', [level], null),
  // A skin of two faces that meet at a sharp edge, and one of two that do not meet at all.
  () => {
    const seam = { ...live('solid', [level, upright]).part, edges: [{ samples: new Float64Array(27) }] };
    const part = {
      ...live('solid', []),
      part: { ...seam, faces: seam.faces.map((each) => ({ ...each, wires: [[0]] })) },
    };
    const alone = [new Set<number>(), new Set<number>()];
    findSkin(part, null, {
      inner: new Set([0, 1]),
      outer: new Set(),
      thickness: 1,
      stitched: stitch(part.part, 1e-3),
      probes: [],
      smoothNeighbours: alone,
    });
  },
  () => {
    const part = live('solid', [level, upright]);
    const alone = [new Set<number>(), new Set<number>()];
    findSkin(part, null, {
      inner: new Set([0, 1]),
      outer: new Set(),
      thickness: 1,
      stitched: stitch(part.part, 1e-3),
      probes: [],
      smoothNeighbours: alone,
    });
  },
  skin('surface', [fan]),
  skin('surface', [net(101)]),
  skin('surface', [closed]),
  skin('surface', [apart]),
  () => findSkin(live('solid', [apart, under], [0, -1]), null),
  () => refuseUneven(1, { distance: 1.3, at: [200, 20, 0] }),
  ...(
    [
      'boss',
      'rib',
      'tube',
      'handle',
      'pocket',
      'collar',
      'edge',
      'sharpBend',
      'turnedHole',
      'closedHem',
      'fold',
    ] as const
  ).map(
    (kind): Work =>
      () =>
        refuseOdd(kind, '20', [40, 10, 2]),
  ),
  volume,
  () => refuseOverlap(bow),
];

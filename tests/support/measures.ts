/** Lengths, areas and distances of a solved mesh, worked out apart from the solver's own routines. */
import { arcLengthFlat, type QuadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import type { TraySolution } from '../../src/solve/solveTray.ts';
import { nodalStrains } from '../../src/solve/strains.ts';
import { PLACED_SIZE } from '../../src/tray/neutralSurface.ts';

export type Point2 = readonly [x: number, y: number];

export const flatPoint = (solution: TraySolution, node: number): Point2 => [
  solution.flat[2 * node]!,
  solution.flat[2 * node + 1]!,
];

export const formedPoint = (mesh: QuadraticMesh, node: number): readonly [number, number, number] => [
  mesh.placed[PLACED_SIZE * node]!,
  mesh.placed[PLACED_SIZE * node + 1]!,
  mesh.placed[PLACED_SIZE * node + 2]!,
];

/** Distance of a node from the plan's origin, in the flat and formed (seen from above), mm. */
export const flatRadius = (solution: TraySolution, node: number): number =>
  Math.hypot(...flatPoint(solution, node));
export const formedRadius = (mesh: QuadraticMesh, node: number): number => {
  const [x, y] = formedPoint(mesh, node);
  return Math.hypot(x, y);
};

export const rimPoints = (solution: TraySolution): Point2[] =>
  Array.from(solution.mesh.rim, (node) => flatPoint(solution, node));

/** Mean distance of the rim from the origin, weighted as Simpson's rule does along each edge. */
export function meanRimRadius(solution: TraySolution): number {
  const { rim } = solution.mesh;
  let sum = 0;
  let weight = 0;
  for (let i = 0; i + 2 < rim.length; i += 2) {
    sum +=
      flatRadius(solution, rim[i]!) +
      4 * flatRadius(solution, rim[i + 1]!) +
      flatRadius(solution, rim[i + 2]!);
    weight += 6;
  }
  return sum / weight;
}

/** Points of the parabola that runs from a over m (half-way) to b. */
export function onParabola(a: Point2, m: Point2, b: Point2, at: number): Point2 {
  const ka = (1 - at) * (1 - 2 * at);
  const km = 4 * at * (1 - at);
  const kb = at * (2 * at - 1);
  return [ka * a[0] + km * m[0] + kb * b[0], ka * a[1] + km * m[1] + kb * b[1]];
}

/** A chain of parabolas (corner, middle, corner, …) as a fine polyline. */
export function alongParabolas(points: readonly Point2[], perEdge: number, closed = false): Point2[] {
  const out: Point2[] = [];
  const count = points.length;
  for (let i = 0; closed ? i < count : i + 2 < count; i += 2) {
    for (let k = 0; k < perEdge; k++) {
      out.push(onParabola(points[i]!, points[i + 1]!, points[(i + 2) % count]!, k / perEdge));
    }
  }
  if (!closed) out.push(points[count - 1]!);
  return out;
}

/** Distance of a point from a polyline. */
export function distanceToPolyline([x, y]: Point2, line: readonly Point2[]): number {
  let nearest = Infinity;
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1]!;
    const dx = line[i]![0] - ax;
    const dy = line[i]![1] - ay;
    const square = dx * dx + dy * dy;
    const s = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / square));
    nearest = Math.min(nearest, Math.hypot(x - ax - s * dx, y - ay - s * dy));
  }
  return nearest;
}

/** Largest distance of one rim (its edges, not only its nodes) from another. */
export function rimDistance(from: TraySolution, to: TraySolution): number {
  const closed = from.mesh.mirrorLines === null;
  const line = alongParabolas(rimPoints(to), 8, closed);
  if (closed) line.push(line[0]!);
  return alongParabolas(rimPoints(from), 4, closed).reduce(
    (worst, point) => Math.max(worst, distanceToPolyline(point, line)),
    0,
  );
}

/**
 * Area of the flat between the mesh's outer edges by Green's theorem, exact for edges that are parabolas: the
 * chord polygon plus two thirds of the height of every bulge. Mirror lines are edges too.
 */
export function flatAreaByOutline(solution: TraySolution): number {
  const { triangles } = solution.mesh;
  const owners = new Map<number, number>();
  for (let t = 0; t < triangles.length / 6; t++) {
    for (let e = 0; e < 3; e++) {
      const middle = triangles[6 * t + 3 + e]!;
      owners.set(middle, (owners.get(middle) ?? 0) + 1);
    }
  }
  let twice = 0;
  for (let t = 0; t < triangles.length / 6; t++) {
    for (let e = 0; e < 3; e++) {
      const middle = triangles[6 * t + 3 + e]!;
      if (owners.get(middle) !== 1) continue;
      const [ax, ay] = flatPoint(solution, triangles[6 * t + e]!);
      const [mx, my] = flatPoint(solution, middle);
      const [bx, by] = flatPoint(solution, triangles[6 * t + ((e + 1) % 3)]!);
      twice += ax * by - bx * ay;
      twice += (4 / 3) * ((mx - ax) * (by - ay) - (my - ay) * (bx - ax));
    }
  }
  return twice / 2;
}

// Gauss rule of degree 5 on the triangle: O. C. Zienkiewicz and R. L. Taylor, The Finite Element Method, table
// of triangle rules, seven points (from memory); its weights are checked by the areas of the tests.
const [A1, B1, W1] = [0.05971587178977, 0.470142064105115, 0.132394152788506];
const [A2, B2, W2] = [0.797426985353087, 0.101286507323456, 0.125939180544827];
const SEVEN_POINTS: readonly (readonly [u: number, v: number, weight: number])[] = [
  [1 / 3, 1 / 3, 0.225],
  [A1, B1, W1],
  [B1, A1, W1],
  [B1, B1, W1],
  [A2, B2, W2],
  [B2, A2, W2],
  [B2, B2, W2],
];

/** Derivatives by u and v of a quadratic triangle's interpolation of one coordinate. */
function slopes(values: readonly number[], u: number, v: number): readonly [number, number] {
  const [c0, c1, c2, m01, m12, m20] = values as [number, number, number, number, number, number];
  // Barycentric w = 1 − u − v; polynomial written out.
  const w = 1 - u - v;
  const du = c0 * (1 - 4 * w) + c1 * (4 * u - 1) + 4 * (m01 * (w - u) + m12 * v - m20 * v);
  const dv = c0 * (1 - 4 * w) + c2 * (4 * v - 1) + 4 * (-m01 * u + m12 * u + m20 * (w - v));
  return [du, dv];
}

function shapesAt(u: number, v: number): readonly number[] {
  const w = 1 - u - v;
  return [w * (2 * w - 1), u * (2 * u - 1), v * (2 * v - 1), 4 * w * u, 4 * u * v, 4 * v * w];
}

/** What one finds at a place on the sheet. */
export interface Place {
  readonly triangle: number;
  /** Formed and flat area of the place's share of the triangle, mm². */
  readonly formedArea: number;
  readonly flatArea: number;
  /** Shares of the triangle's six nodes in a value interpolated here. */
  readonly shape: readonly number[];
}

/** Walks over seven places in every triangle, with areas from the two interpolated shapes. */
export function eachPlace(
  { mesh, flat: flatPositions }: Pick<TraySolution, 'mesh' | 'flat'>,
  visit: (place: Place) => void,
): void {
  for (let triangle = 0; triangle < mesh.triangles.length / 6; triangle++) {
    const nodes = Array.from(mesh.triangles.subarray(6 * triangle, 6 * triangle + 6));
    const coordinate = (of: (node: number) => number): number[] => nodes.map(of);
    const formed = [0, 1, 2].map((k) => coordinate((node) => mesh.placed[PLACED_SIZE * node + k]!));
    const flat = [0, 1].map((k) => coordinate((node) => flatPositions[2 * node + k]!));
    for (const [u, v, weight] of SEVEN_POINTS) {
      const [x, y, z] = formed.map((values) => slopes(values, u, v)) as [
        readonly [number, number],
        readonly [number, number],
        readonly [number, number],
      ];
      const [p, q] = flat.map((values) => slopes(values, u, v)) as [
        readonly [number, number],
        readonly [number, number],
      ];
      const formedArea = Math.hypot(
        y[0] * z[1] - z[0] * y[1],
        z[0] * x[1] - x[0] * z[1],
        x[0] * y[1] - y[0] * x[1],
      );
      visit({
        triangle,
        formedArea: (weight / 2) * formedArea,
        flatArea: (weight / 2) * (p[0] * q[1] - q[0] * p[1]),
        shape: shapesAt(u, v),
      });
    }
  }
}

/** Area of the formed surface of a mesh, from its interpolated shape. */
export function formedAreaByQuadrature({ mesh }: Pick<TraySolution, 'mesh'>): number {
  let area = 0;
  eachPlace({ mesh, flat: arcLengthFlat(mesh) }, (place) => {
    area += place.formedArea;
  });
  return area;
}

/** A node of the mesh as seen from the axis of a round part, mm; thickness over flat thickness. */
export interface RoundNode {
  readonly flatRadius: number;
  readonly formedRadius: number;
  readonly height: number;
  readonly thickness: number;
}

/** Every node of a round part, nearest the pole first. */
export function roundNodes(solution: TraySolution): RoundNode[] {
  const { mesh } = solution;
  const strains = nodalStrains(mesh, solution.geometry, solution.law, solution.flat);
  return Array.from({ length: mesh.nodeCount }, (_, node) => ({
    flatRadius: flatRadius(solution, node),
    formedRadius: formedRadius(mesh, node),
    height: formedPoint(mesh, node)[2],
    thickness: Math.exp(strains.thickness[node]!),
  })).sort((a, b) => a.flatRadius - b.flatRadius);
}

/** One edge of the rim between two corners of the mesh. */
export interface RimEdge {
  /** Logarithmic strain along the edge: formed over flat length. */
  readonly hoop: number;
  /** Logarithmic strain through the thickness at its middle. */
  readonly thickness: number;
  /** Direction of the flat edge at its middle, radians from the plan's x axis. */
  readonly direction: number;
  /** Its middle in the flat. */
  readonly at: Point2;
}

/** Strains along the free edge, the hoop strain from lengths alone. */
export function rimEdges(solution: TraySolution): RimEdge[] {
  const { mesh } = solution;
  const { rim } = mesh;
  const strains = nodalStrains(mesh, solution.geometry, solution.law, solution.flat);
  const closed = mesh.mirrorLines === null;
  const edges: RimEdge[] = [];
  for (let i = 0; closed ? i < rim.length : i + 2 < rim.length; i += 2) {
    const nodes = [rim[i]!, rim[i + 1]!, rim[(i + 2) % rim.length]!] as const;
    const [a, m, b] = nodes.map((node) => flatPoint(solution, node)) as [Point2, Point2, Point2];
    const formed = nodes.map((node) => formedPoint(mesh, node));
    const flatLength = polylineLength(alongParabolas([a, m, b], 16));
    // The formed rim is level, so its length is seen from above.
    const formedLength = polylineLength(
      alongParabolas(
        formed.map(([x, y]) => [x, y] as const),
        16,
      ),
    );
    edges.push({
      hoop: Math.log(formedLength / flatLength),
      thickness: strains.thickness[nodes[1]]!,
      direction: Math.atan2(b[1] - a[1], b[0] - a[0]),
      at: m,
    });
  }
  return edges;
}

const polylineLength = (points: readonly Point2[]): number =>
  points.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - points[i]![0], y - points[i]![1]), 0);

/** The rim of the whole tray, counter-clockwise, pieces mirrored where the solve used symmetry. */
export function wholeRim(solution: TraySolution): Point2[] {
  const lines = solution.mesh.mirrorLines;
  const piece = rimPoints(solution);
  if (lines === null) return piece;
  const { centreX, centreY, firstAngle, lastAngle } = lines;
  const mirroredIn = (points: readonly Point2[], angle: number): Point2[] => {
    const [c, s] = [Math.cos(2 * angle), Math.sin(2 * angle)];
    return points.map(([px, py]): Point2 => {
      const [x, y] = [px - centreX, py - centreY];
      return [centreX + c * x + s * y, centreY + s * x - c * y];
    });
  };
  const wedge = lastAngle - firstAngle;
  const out: Point2[] = [];
  let copy = piece;
  for (let k = 0; k < Math.round((2 * Math.PI) / wedge); k++) {
    out.push(...copy.slice(0, -1));
    // The next piece is this one in the mirror line where it ends, run the other way.
    copy = mirroredIn(copy, firstAngle + (k + 1) * wedge).reverse();
  }
  return out;
}

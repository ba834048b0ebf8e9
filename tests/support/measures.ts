/** Lengths, areas and distances of a solved mesh, worked out apart from the solver's own routines. */
import type { QuadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import type { TraySolution } from '../../src/solve/solveTray.ts';
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

/** What one finds at a place on the sheet. */
export interface Place {
  readonly triangle: number;
  /** Formed and flat area of the place's share of the triangle, mm². */
  readonly formedArea: number;
  readonly flatArea: number;
}

/** Walks over seven places in every triangle, with areas from the two interpolated shapes. */
export function eachPlace(solution: TraySolution, visit: (place: Place) => void): void {
  const { mesh } = solution;
  for (let triangle = 0; triangle < mesh.triangles.length / 6; triangle++) {
    const nodes = Array.from(mesh.triangles.subarray(6 * triangle, 6 * triangle + 6));
    const coordinate = (of: (node: number) => number): number[] => nodes.map(of);
    const formed = [0, 1, 2].map((k) => coordinate((node) => mesh.placed[PLACED_SIZE * node + k]!));
    const flat = [0, 1].map((k) => coordinate((node) => solution.flat[2 * node + k]!));
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
      });
    }
  }
}

export function formedAreaByQuadrature(solution: TraySolution): number {
  let area = 0;
  eachPlace(solution, (place) => {
    area += place.formedArea;
  });
  return area;
}

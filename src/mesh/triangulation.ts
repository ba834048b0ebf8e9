/**
 * Triangles of a wanted size inside closed polygons, the same for the same input.
 *
 * Delaunay triangles of the given points; the centres of the circumscribed circles of triangles that are too
 * large or too thin are added a batch at a time (L. P. Chew, "Guaranteed-quality mesh generation for curved
 * surfaces", Proc. 9th Symposium on Computational Geometry, 1993), then the inner vertices are evened out.
 */
import Delaunator from 'delaunator';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';

const ROUNDS = 60;
const SMOOTHING = 4;
/** Circumscribed radius of a triangle over the wanted edge length; 0.577 in an equilateral one. */
const LARGEST = 0.75;
/** Circumscribed radius over shortest edge; above √2 a triangle counts as thin. */
const THINNEST = 1.5;
/** Growth of the wanted edge length with the distance from a polygon's vertices. */
const GROWTH = 1;

export interface PlanarTriangulation {
  /** x y per vertex: the given points first, in their order, then new ones. */
  readonly points: number[];
  /** Three vertex numbers a triangle, counter-clockwise. */
  readonly triangles: number[];
}

/** A straight piece between two given points, by their numbers. */
export type Segment = readonly [number, number];

/**
 * @param given    x y per point that must be a vertex; not changed
 * @param boundary closed chains of segments that enclose the material
 * @param inner    segments inside that no vertex should come too near to
 * @param wanted   edge length wanted at a point, mm
 * @returns the given points first, in their order
 */
export function triangulate(
  given: readonly number[],
  boundary: readonly Segment[],
  inner: readonly Segment[],
  wanted: (x: number, y: number) => number,
): PlanarTriangulation {
  const fixed = given.length;
  const wallsOf = (segments: readonly Segment[]): Walls =>
    Float64Array.from(
      segments.flatMap(([i, j]) => [given[2 * i]!, given[2 * i + 1]!, given[2 * j]!, given[2 * j + 1]!]),
    );
  const walls = wallsOf(boundary);
  const lines = wallsOf([...boundary, ...inner]);
  let points = [...given];
  let triangles = inside(points, walls);
  for (let round = 0; round < ROUNDS; round++) {
    const before = points.length;
    for (const centre of badCentres(points, triangles, wanted)) {
      const { x, y, size } = centre;
      if (isNear(lines, x, y, 0.45 * size) || !isInside(walls, x, y)) continue;
      if (isApart(centre, points, fixed)) points.push(x, y);
    }
    if (points.length === before) break;
    triangles = inside(points, walls);
  }
  for (let round = 0; round < SMOOTHING && points.length > fixed; round++) {
    points = smooth(points, triangles, fixed / 2);
    triangles = inside(points, walls);
  }
  return { points, triangles };
}

/**
 * Triangles inside one polygon, graded from its own edges to long ones inside.
 *
 * @param boundary x y per vertex of a simple polygon, counter-clockwise, without repeated vertices
 */
export function triangulatePolygon(boundary: Float64Array): PlanarTriangulation {
  const count = boundary.length / 2;
  const spacing = boundarySpacing(boundary);
  const wanted = (x: number, y: number): number => {
    let size = Infinity;
    for (let i = 0; i < count; i++) {
      const distance = hypotenuse(x - boundary[2 * i]!, y - boundary[2 * i + 1]!);
      size = Math.min(size, spacing[i]! + GROWTH * distance);
    }
    return size;
  };
  const segments = Array.from({ length: count }, (_, i): Segment => [i, (i + count - 1) % count]);
  return triangulate(Array.from(boundary), segments, [], wanted);
}

/** Wanted edge length at each boundary vertex: the mean of its two edges. */
function boundarySpacing(boundary: Float64Array): Float64Array {
  const count = boundary.length / 2;
  const spacing = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count;
    const length = hypotenuse(
      boundary[2 * j]! - boundary[2 * i]!,
      boundary[2 * j + 1]! - boundary[2 * i + 1]!,
    );
    spacing[i] = spacing[i]! + length / 2;
    spacing[j] = spacing[j]! + length / 2;
  }
  return spacing;
}

/** Segments as ax ay bx by each. */
type Walls = Float64Array;

const cross = (p: readonly number[], i: number, j: number, k: number): number =>
  (p[2 * j]! - p[2 * i]!) * (p[2 * k + 1]! - p[2 * i + 1]!) -
  (p[2 * j + 1]! - p[2 * i + 1]!) * (p[2 * k]! - p[2 * i]!);

const squared = (p: readonly number[], i: number, j: number): number =>
  (p[2 * i]! - p[2 * j]!) ** 2 + (p[2 * i + 1]! - p[2 * j + 1]!) ** 2;

function isInside(walls: Walls, x: number, y: number): boolean {
  let out = false;
  for (let i = 0; i < walls.length; i += 4) {
    const ay = walls[i + 1]!;
    const by = walls[i + 3]!;
    if (ay > y === by > y) continue;
    const ax = walls[i]!;
    if (x < ax + ((walls[i + 2]! - ax) * (y - ay)) / (by - ay)) out = !out;
  }
  return out;
}

/** Whether a point lies nearer to a segment than `reach`. */
function isNear(walls: Walls, x: number, y: number, reach: number): boolean {
  for (let i = 0; i < walls.length; i += 4) {
    const ax = walls[i]!;
    const bx = walls[i + 2]!;
    if (Math.min(ax, bx) - x > reach || x - Math.max(ax, bx) > reach) continue;
    const ay = walls[i + 1]!;
    const by = walls[i + 3]!;
    if (Math.min(ay, by) - y > reach || y - Math.max(ay, by) > reach) continue;
    if (distanceToStraight(x, y, walls, i / 2, i / 2 + 1) < reach) return true;
  }
  return false;
}

function inside(points: number[], walls: Walls): number[] {
  const { triangles } = new Delaunator(points);
  const out: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const [i, j, k] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    const x = (points[2 * i]! + points[2 * j]! + points[2 * k]!) / 3;
    const y = (points[2 * i + 1]! + points[2 * j + 1]! + points[2 * k + 1]!) / 3;
    if (!isInside(walls, x, y)) continue;
    const area = cross(points, i, j, k);
    // A sliver on a straight stretch of boundary is no triangle.
    const longest = Math.max(squared(points, i, j), squared(points, j, k), squared(points, k, i));
    if (Math.abs(area) < 1e-9 * longest) continue;
    if (area > 0) out.push(i, j, k);
    else out.push(i, k, j);
  }
  return out;
}

/** A centre of a circumscribed circle, and the edge length wanted there. */
interface Centre {
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

/** The centres of triangles that are too large or too thin, the worst first. */
function badCentres(
  points: readonly number[],
  triangles: readonly number[],
  wanted: (x: number, y: number) => number,
): Centre[] {
  const found: (Centre & { readonly badness: number })[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const [i, j, k] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    const [ax, ay] = [points[2 * i]!, points[2 * i + 1]!];
    const [bx, by, cx, cy] = [
      points[2 * j]! - ax,
      points[2 * j + 1]! - ay,
      points[2 * k]! - ax,
      points[2 * k + 1]! - ay,
    ];
    const d = 2 * (bx * cy - by * cx);
    const ux = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / d;
    const uy = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / d;
    const radius = hypotenuse(ux, uy);
    const size = wanted(ax + ux, ay + uy);
    const shortest = Math.sqrt(Math.min(squared(points, i, j), squared(points, j, k), squared(points, k, i)));
    const badness = Math.max(radius / size / LARGEST, radius / shortest / THINNEST);
    if (badness > 1) found.push({ x: ax + ux, y: ay + uy, size, badness });
  }
  return found.sort((p, q) => q.badness - p.badness || p.x - q.x || p.y - q.y);
}

/** Whether a centre is no nearer to a point than its size asks. */
function isApart({ x, y, size }: Centre, points: readonly number[], from: number): boolean {
  const reach = 0.6 * size;
  for (let i = from; i < points.length; i += 2) {
    const dx = points[i]! - x;
    const dy = points[i + 1]! - y;
    if (dx * dx + dy * dy <= reach * reach) return false;
  }
  return true;
}

/** Moves every inner vertex to the mean of its neighbours. */
function smooth(points: readonly number[], triangles: readonly number[], fixed: number): number[] {
  const sum = new Float64Array(points.length);
  const count = new Float64Array(points.length / 2);
  for (let t = 0; t < triangles.length; t++) {
    const from = triangles[t]!;
    const to = triangles[t % 3 === 2 ? t - 2 : t + 1]!;
    sum[2 * from] = sum[2 * from]! + points[2 * to]!;
    sum[2 * from + 1] = sum[2 * from + 1]! + points[2 * to + 1]!;
    count[from] = count[from]! + 1;
  }
  return points.map((value, at) => {
    const vertex = at >> 1;
    return vertex < fixed || count[vertex] === 0 ? value : sum[at]! / count[vertex]!;
  });
}

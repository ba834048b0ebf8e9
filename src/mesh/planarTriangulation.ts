/**
 * Triangulates the flat of the base: any simple polygon whose edges are given, graded from short edges near
 * the corners to long ones inside, the same for the same input.
 *
 * Vertices are added at the centres of the circumscribed circles of triangles that are too large or too thin
 * (L. P. Chew, "Guaranteed-quality mesh generation for curved surfaces", Proc. 9th Symposium on Computational
 * Geometry, 1993), a batch at a time, then evened out.
 */

import Delaunator from 'delaunator';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';

const GROWTH = 1; // growth of wanted edge length with distance from the boundary
const ROUNDS = 40;
const SMOOTHING = 4;
/** Circumscribed radius of a triangle over the wanted edge length; 0.577 in an equilateral one. */
const LARGEST = 0.75;
/** Circumscribed radius over shortest edge; above √2 a triangle counts as thin. */
const THINNEST = 1.5;

export interface PlanarTriangulation {
  /** x y per vertex: the boundary's vertices first, in their order, then the inner ones. */
  readonly points: Float64Array;
  /** Three vertex numbers a triangle, counter-clockwise. */
  readonly triangles: Uint32Array;
}

/**
 * @param boundary x y per vertex of a simple polygon, counter-clockwise, without repeated vertices
 */
export function triangulatePlanar(boundary: Float64Array): PlanarTriangulation {
  const edgeCount = boundary.length / 2;
  const spacing = boundarySpacing(boundary);
  const wanted = (x: number, y: number): number => {
    let size = Infinity;
    for (let i = 0; i < edgeCount; i++) {
      const distance = hypotenuse(x - boundary[2 * i]!, y - boundary[2 * i + 1]!);
      size = Math.min(size, spacing[i]! + GROWTH * distance);
    }
    return size;
  };
  let points = Array.from(boundary);
  let triangles = insideTriangles(points, boundary);
  for (let round = 0; round < ROUNDS; round++) {
    const added = addCentres(points, triangles, boundary, wanted);
    if (added === 0) break;
    triangles = insideTriangles(points, boundary);
  }
  for (let round = 0; round < SMOOTHING && points.length > boundary.length; round++) {
    points = smooth(points, triangles, edgeCount);
    triangles = insideTriangles(points, boundary);
  }
  return { points: Float64Array.from(points), triangles: Uint32Array.from(triangles) };
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

function insideTriangles(points: number[], boundary: Float64Array): number[] {
  const { triangles } = new Delaunator(points);
  const inside: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const i = triangles[t]!;
    const j = triangles[t + 1]!;
    const k = triangles[t + 2]!;
    const x = (points[2 * i]! + points[2 * j]! + points[2 * k]!) / 3;
    const y = (points[2 * i + 1]! + points[2 * j + 1]! + points[2 * k + 1]!) / 3;
    if (!insidePolygon(boundary, x, y)) continue;
    const area = cross(points, i, j, k);
    // A sliver on a straight stretch of boundary is no triangle.
    const longest = Math.max(squared(points, i, j), squared(points, j, k), squared(points, k, i));
    if (Math.abs(area) < 1e-9 * longest) continue;
    if (area > 0) inside.push(i, j, k);
    else inside.push(i, k, j);
  }
  return inside;
}

const cross = (p: readonly number[], i: number, j: number, k: number): number =>
  (p[2 * j]! - p[2 * i]!) * (p[2 * k + 1]! - p[2 * i + 1]!) -
  (p[2 * j + 1]! - p[2 * i + 1]!) * (p[2 * k]! - p[2 * i]!);

const squared = (p: readonly number[], i: number, j: number): number =>
  (p[2 * i]! - p[2 * j]!) ** 2 + (p[2 * i + 1]! - p[2 * j + 1]!) ** 2;

function insidePolygon(boundary: Float64Array, x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = boundary.length - 2; i < boundary.length; j = i, i += 2) {
    const yi = boundary[i + 1]!;
    const yj = boundary[j + 1]!;
    if (yi > y === yj > y) continue;
    if (x < boundary[i]! + ((boundary[j]! - boundary[i]!) * (y - yi)) / (yj - yi)) inside = !inside;
  }
  return inside;
}

/** Adds the centres of the worst triangles, none nearer to another or to the boundary than its spacing asks. */
function addCentres(
  points: number[],
  triangles: readonly number[],
  boundary: Float64Array,
  wanted: (x: number, y: number) => number,
): number {
  const candidates: { x: number; y: number; size: number; badness: number }[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const i = triangles[t]!;
    const j = triangles[t + 1]!;
    const k = triangles[t + 2]!;
    const ax = points[2 * i]!;
    const ay = points[2 * i + 1]!;
    const bx = points[2 * j]! - ax;
    const by = points[2 * j + 1]! - ay;
    const cx = points[2 * k]! - ax;
    const cy = points[2 * k + 1]! - ay;
    const d = 2 * (bx * cy - by * cx);
    const ux = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / d;
    const uy = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / d;
    const radius = hypotenuse(ux, uy);
    const size = wanted(ax + ux, ay + uy);
    const shortest = Math.sqrt(Math.min(squared(points, i, j), squared(points, j, k), squared(points, k, i)));
    const badness = Math.max(radius / size / LARGEST, radius / shortest / THINNEST);
    if (badness > 1) candidates.push({ x: ax + ux, y: ay + uy, size, badness });
  }
  candidates.sort((p, q) => q.badness - p.badness || p.x - q.x || p.y - q.y);
  let added = 0;
  for (const { x, y, size } of candidates) {
    if (!insidePolygon(boundary, x, y) || distanceToBoundary(boundary, x, y) < 0.45 * size) continue;
    let free = true;
    for (let i = boundary.length; i < points.length && free; i += 2) {
      free = hypotenuse(points[i]! - x, points[i + 1]! - y) > 0.6 * size;
    }
    if (!free) continue;
    points.push(x, y);
    added++;
  }
  return added;
}

function distanceToBoundary(boundary: Float64Array, x: number, y: number): number {
  let nearest = Infinity;
  for (let i = 0, j = boundary.length - 2; i < boundary.length; j = i, i += 2) {
    const distance = distanceToStraight(x, y, boundary[j]!, boundary[j + 1]!, boundary[i]!, boundary[i + 1]!);
    nearest = Math.min(nearest, distance);
  }
  return nearest;
}

/** Moves every inner vertex to the mean of its neighbours. */
function smooth(points: readonly number[], triangles: readonly number[], fixed: number): number[] {
  const sumX = new Float64Array(points.length / 2);
  const sumY = new Float64Array(points.length / 2);
  const count = new Float64Array(points.length / 2);
  for (let t = 0; t < triangles.length; t++) {
    const from = triangles[t]!;
    const to = triangles[t % 3 === 2 ? t - 2 : t + 1]!;
    // Inner edges are met once in each direction, so every neighbour counts once for an inner vertex.
    sumX[from] = sumX[from]! + points[2 * to]!;
    sumY[from] = sumY[from]! + points[2 * to + 1]!;
    count[from] = count[from]! + 1;
  }
  return points.map((value, at) => {
    const vertex = at >> 1;
    if (vertex < fixed || count[vertex] === 0) return value;
    return (at % 2 === 0 ? sumX : sumY)[vertex]! / count[vertex]!;
  });
}

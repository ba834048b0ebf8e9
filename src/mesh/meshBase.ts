/** The flat of the base, as triangles graded from its edge to long ones inside. */

import { hypotenuse } from '../geometry/hypotenuse.ts';
import { gradedFractions } from './gradedSpacing.ts';
import { type Chart, ON_FIRST, ON_LAST } from './skeleton.ts';
import type { Column, Corner, SkeletonBuilder } from './skeletonBuilder.ts';
import type { Symmetry } from './symmetry.ts';
import { triangulatePolygon } from './triangulation.ts';

/** A base narrower than this, in mm, is none. */
const NARROW = 0.015;

/** Meshes the flat of the base, from the feet of the wall's columns and, where there are mirror lines, along these. */
export function meshBase(
  builder: SkeletonBuilder,
  columns: readonly Column[],
  symmetry: Symmetry | null,
  growth: number,
): void {
  const chart = builder.charts[0]!;
  const ring: number[] = [];
  for (const [foot] of columns) if (ring[ring.length - 1] !== foot) ring.push(foot!);
  if (!hasFlat(builder, ring, symmetry)) {
    if (symmetry !== null) markOnMirrorLines(builder, ring, symmetry);
    return;
  }
  if (symmetry === null) {
    if (ring[0] === ring[ring.length - 1]) ring.pop();
  } else {
    ring.push(...mirrorVertices(builder, chart, ring, symmetry, growth));
  }
  const boundary = new Float64Array(2 * ring.length);
  for (const [i, vertex] of ring.entries()) {
    boundary[2 * i] = builder.x(vertex);
    boundary[2 * i + 1] = builder.y(vertex);
  }
  const { points, triangles } = triangulatePolygon(boundary);
  const numbers = [...ring];
  for (let i = ring.length; i < points.length / 2; i++) {
    numbers.push(builder.addVertex(chart, points[2 * i]!, points[2 * i + 1]!));
  }
  for (let t = 0; t < triangles.length; t += 3) {
    builder.addTriangle(
      0,
      [0, 1, 2].map((k): Corner => {
        const vertex = numbers[triangles[t + k]!]!;
        return [vertex, builder.x(vertex), builder.y(vertex)];
      }),
    );
  }
}

/** Vertices along the mirror lines, from the loop's last station through the centre to its first. */
function mirrorVertices(
  builder: SkeletonBuilder,
  chart: Chart,
  ring: readonly number[],
  symmetry: Symmetry,
  growth: number,
): number[] {
  const [first, last] = [ring[0]!, ring[ring.length - 1]!];
  const end = (vertex: number, neighbour: number): LineEnd => {
    const [x, y] = [builder.x(vertex), builder.y(vertex)];
    return { x, y, spacing: hypotenuse(x - builder.x(neighbour), y - builder.y(neighbour)) };
  };
  const [from, to] = [end(last, ring[ring.length - 2]!), end(first, ring[1]!)];
  const between = (a: LineEnd, b: LineEnd, bit: number): number[] => {
    const length = hypotenuse(b.x - a.x, b.y - a.y);
    const grading = { atStart: a.spacing, atEnd: b.spacing, longest: length, growth };
    const vertices = gradedFractions(length, grading)
      .slice(1, -1)
      .map((fraction) =>
        builder.addVertex(chart, a.x + fraction * (b.x - a.x), a.y + fraction * (b.y - a.y)),
      );
    builder.mark(vertices, bit);
    return vertices;
  };
  if (symmetry.order === 1) {
    builder.mark([first, last], ON_FIRST | ON_LAST);
    return between(from, to, ON_FIRST | ON_LAST);
  }
  const middle = { x: symmetry.centreX, y: symmetry.centreY, spacing: Infinity };
  const inward = between(from, middle, ON_LAST);
  const centre = builder.addVertex(chart, middle.x, middle.y);
  builder.mark([centre], ON_FIRST | ON_LAST);
  return [...inward, centre, ...between(middle, to, ON_FIRST)];
}

/** An end of the vertices along a mirror line, and how far from it the first of them stands, mm. */
interface LineEnd {
  readonly x: number;
  readonly y: number;
  readonly spacing: number;
}

/** False for a tray whose bend takes the whole half-width, a bowl or a trough with a round bottom. */
function hasFlat(builder: SkeletonBuilder, ring: readonly number[], symmetry: Symmetry | null): boolean {
  const corners = ring.map((vertex) => [builder.x(vertex), builder.y(vertex)] as const);
  // Between two mirror lines the base reaches to the centre; the ring alone may well be straight.
  if (symmetry !== null && symmetry.order > 1) corners.push([symmetry.centreX, symmetry.centreY]);
  const [firstX, firstY] = corners[0]!;
  let size = 0;
  let span = 0;
  for (const [x, y] of corners) {
    span = Math.max(span, hypotenuse(x - firstX, y - firstY));
    for (const [otherX, otherY] of corners) {
      size = Math.max(size, Math.abs((x - firstX) * (otherY - firstY) - (y - firstY) * (otherX - firstX)));
    }
  }
  return size > NARROW * span;
}

/** Without a flat base the mirror lines run along the base's edge itself. */
function markOnMirrorLines(builder: SkeletonBuilder, ring: readonly number[], symmetry: Symmetry): void {
  for (const vertex of ring) {
    const x = builder.x(vertex) - symmetry.centreX;
    const y = builder.y(vertex) - symmetry.centreY;
    for (const [angle, bit] of [
      [symmetry.startAngle, ON_FIRST],
      [symmetry.endAngle, ON_LAST],
    ] as const) {
      if (Math.abs(x * Math.sin(angle) - y * Math.cos(angle)) < NARROW) builder.mark([vertex], bit);
    }
  }
}

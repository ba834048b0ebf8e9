/**
 * Joints that are meant to be smooth and are not quite, because numbers in files end somewhere: the bulge of a
 * quarter circle is written 0.4142 and is 0.41421356…
 */

import { edgeSweep } from '../geometry/edgeMeasures.ts';
import { planEdge } from '../geometry/planEdges.ts';
import { SMOOTH_TURN } from './planLoop.ts';
import type { PlanVertex } from './spec.ts';

/** Less turn than this is no corner: what is between is a slip or rounding. Radians. */
export const SMALLEST_TURN = Math.PI / 180;

/** Points of the plan are moved no further than this, mm: below what anybody can measure on a tray. */
const FURTHEST = 0.01;

const STEPS = 8;

/** Angle the plan turns through at every vertex, from −π to π, positive to the left. */
export function turns(vertices: readonly PlanVertex[]): number[] {
  const count = vertices.length;
  const edges = vertices.map((vertex, i) => planEdge(vertex, vertices[(i + 1) % count]!));
  return edges.map((after, i) => {
    const before = edges[(i + count - 1) % count]!;
    const end = chordAngle(before) + edgeSweep(before) / 2;
    const start = chordAngle(after) - edgeSweep(after) / 2;
    return Math.atan2(Math.sin(start - end), Math.cos(start - end));
  });
}

const chordAngle = (edge: { x0: number; y0: number; x1: number; y1: number }): number =>
  Math.atan2(edge.y1 - edge.y0, edge.x1 - edge.x0);

/**
 * The plan with its nearly smooth joints made smooth by the smallest movement of vertices and arcs that does
 * it. Joints between straight edges, and joints with a radius, are left alone; so is the whole plan when it is
 * smooth as it stands, or when anything would have to move by more than 0.01 mm.
 *
 * Newton steps of least length: every step solves J·Jᵀ·λ = −turn and moves by Jᵀ·λ.
 *
 * @param vertices mm; not changed
 */
export function smoothed(vertices: readonly PlanVertex[]): readonly PlanVertex[] {
  const count = vertices.length;
  const isArc = (i: number): boolean => (vertices[(i + count) % count]!.bulge ?? 0) !== 0;
  const given = turns(vertices);
  const joints = given.flatMap((turn, i) =>
    Math.abs(turn) < SMALLEST_TURN && vertices[i]!.radius === 0 && (isArc(i) || isArc(i - 1)) ? [i] : [],
  );
  if (joints.every((i) => Math.abs(given[i]!) < SMOOTH_TURN / 2)) return vertices;
  let moved = vertices;
  for (let step = 0; step < STEPS; step++) {
    const turn = turns(moved);
    if (joints.every((i) => Math.abs(turn[i]!) < 1e-12)) break;
    const rows = joints.map((i) => turnGradient(moved, i));
    const multipliers = solve(
      rows.map((a) => rows.map((b) => dot(a, b))),
      joints.map((i) => -turn[i]!),
    );
    const by = new Map<number, number>();
    rows.forEach((row, k) => {
      for (const [unknown, value] of row) by.set(unknown, (by.get(unknown) ?? 0) + multipliers[k]! * value);
    });
    moved = moved.map((vertex, i) => {
      const bulge = vertex.bulge ?? 0;
      const at = { ...vertex, x: vertex.x + (by.get(3 * i) ?? 0), y: vertex.y + (by.get(3 * i + 1) ?? 0) };
      if (bulge === 0) return at;
      return { ...at, bulge: bulge + (by.get(3 * i + 2) ?? 0) / rise(moved, i) };
    });
  }
  const turn = turns(moved);
  const smooth = joints.every((i) => Math.abs(turn[i]!) < SMOOTH_TURN / 2);
  const near = vertices.every((vertex, i) => {
    const to = moved[i]!;
    const arc = Math.abs((to.bulge ?? 0) - (vertex.bulge ?? 0)) * rise(vertices, i);
    return Math.hypot(to.x - vertex.x, to.y - vertex.y) <= FURTHEST && arc <= FURTHEST;
  });
  return smooth && near ? moved : vertices;
}

/** Rise of the edge's middle per bulge, mm: half its chord. */
function rise(vertices: readonly PlanVertex[], i: number): number {
  const from = vertices[i]!;
  const to = vertices[(i + 1) % vertices.length]!;
  return Math.hypot(to.x - from.x, to.y - from.y) / 2;
}

type Row = ReadonlyMap<number, number>;

const dot = (a: Row, b: Row): number =>
  [...a].reduce((sum, [unknown, value]) => sum + value * (b.get(unknown) ?? 0), 0);

/**
 * Change of the turn at vertex `i` with x (unknown 3·j), y (3·j + 1) of a vertex, and with the rise of the arc
 * that starts there (3·j + 2).
 */
function turnGradient(vertices: readonly PlanVertex[], i: number): Row {
  const count = vertices.length;
  const row = new Map<number, number>();
  const add = (unknown: number, value: number): void => {
    row.set(unknown, (row.get(unknown) ?? 0) + value);
  };
  // The edge before ends at chord + sweep/2, the one after starts at chord − sweep/2.
  for (const [edge, sign] of [
    [(i + count - 1) % count, -1],
    [i, 1],
  ] as const) {
    const next = (edge + 1) % count;
    const [from, to] = [vertices[edge]!, vertices[next]!];
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    const square = dx * dx + dy * dy;
    add(3 * next, (sign * -dy) / square);
    add(3 * next + 1, (sign * dx) / square);
    add(3 * edge, (sign * dy) / square);
    add(3 * edge + 1, (sign * -dx) / square);
    const bulge = from.bulge ?? 0;
    if (bulge !== 0) add(3 * edge + 2, -2 / (1 + bulge * bulge) / rise(vertices, edge));
  }
  return row;
}

/**
 * Solution of a symmetric positive (semi-)definite system, by Cholesky with a ridge that only matters where
 * equations say the same twice, as those of a full circle do.
 *
 * @param matrix workspace, changed
 * @param right  workspace, changed; the output
 */
function solve(matrix: number[][], right: number[]): number[] {
  const count = right.length;
  const ridge = 1e-12 * Math.max(...matrix.map((row, i) => row[i]!));
  for (let i = 0; i < count; i++) {
    const row = matrix[i]!;
    for (let j = 0; j <= i; j++) {
      let sum = row[j]! + (i === j ? ridge : 0);
      for (let k = 0; k < j; k++) sum -= row[k]! * matrix[j]![k]!;
      row[j] = i === j ? Math.sqrt(Math.max(sum, ridge)) : sum / matrix[j]![j]!;
    }
  }
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < i; k++) right[i] = right[i]! - matrix[i]![k]! * right[k]!;
    right[i] = right[i]! / matrix[i]![i]!;
  }
  for (let i = count - 1; i >= 0; i--) {
    for (let k = i + 1; k < count; k++) right[i] = right[i]! - matrix[k]![i]! * right[k]!;
    right[i] = right[i]! / matrix[i]![i]!;
  }
  return right;
}

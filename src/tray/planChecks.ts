/**
 * Whether a plan is one that can be formed: a simple polygon, counter-clockwise, whose corner arcs fit.
 *
 * Lengths in mm, angles in radians. Every function returns faults instead of throwing, so that a person sees
 * all of them at once.
 */
import type { Fault } from '../errors.ts';
import { degrees } from '../units.ts';
import type { Plan, PlanVertex } from './spec.ts';

/** Writes a length in the units of the file; `atLeast` and `atMost` round to the side that is accepted. */
export interface LengthText {
  exact(mm: number): string;
  atLeast(mm: number): string;
  atMost(mm: number): string;
}

/** Rounding of conversion and of sums of lengths; far below what anybody can measure. */
export const ROUNDING = 1e-9;

/** Nearer than this, two vertices are one. */
const SMALLEST_EDGE = 0.01;

/** Less turn than this is no corner. */
const SMALLEST_TURN = Math.PI / 180;

/** Faults of a general polygon's shape, the radii aside; empty when it is sound. */
export function polygonFaults(vertices: readonly PlanVertex[]): Fault[] {
  const repeated = repeatedVertices(vertices);
  if (repeated.length > 0) return repeated;
  const crossing = crossingEdges(vertices);
  if (crossing !== undefined) {
    const [i, j] = crossing;
    return [
      {
        path: 'plan.vertices',
        message: `plan.vertices crosses itself: the side that starts at plan.vertices.${i} meets the side that starts at plan.vertices.${j}; give the corners in the order one walks around the plan.`,
      },
    ];
  }
  if (signedArea(vertices) < 0) {
    return [
      {
        path: 'plan.vertices',
        message:
          'plan.vertices runs clockwise; give the vertices counter-clockwise (the same list in reverse order).',
      },
    ];
  }
  return [...straightCorners(vertices), ...concaveCorners(vertices)];
}

/** Corners that turn inwards: the part of the check to lift when they can be solved. */
function concaveCorners(vertices: readonly PlanVertex[]): Fault[] {
  return vertices.flatMap((_, i) => {
    const turn = turnAt(vertices, i);
    if (turn > -SMALLEST_TURN) return [];
    return [
      {
        path: `plan.vertices.${i}`,
        message: `plan.vertices.${i} turns inwards by ${Math.round(degrees(-turn))} degrees; only corners that turn outwards are accepted.`,
      },
    ];
  });
}

function straightCorners(vertices: readonly PlanVertex[]): Fault[] {
  return vertices.flatMap((_, i) =>
    Math.abs(turnAt(vertices, i)) >= SMALLEST_TURN
      ? []
      : [
          {
            path: `plan.vertices.${i}`,
            message: `plan.vertices.${i} lies on a straight side (it turns by less than 1 degree); leave this vertex out or move it.`,
          },
        ],
  );
}

function repeatedVertices(vertices: readonly PlanVertex[]): Fault[] {
  return vertices.flatMap(({ x, y }, i) => {
    const j = vertices.findIndex((other) => Math.hypot(other.x - x, other.y - y) < SMALLEST_EDGE);
    return j === i
      ? []
      : [
          {
            path: `plan.vertices.${i}`,
            message: `plan.vertices.${i} is at the same place as plan.vertices.${j}; leave one of them out (the first vertex is not repeated at the end).`,
          },
        ];
  });
}

/** Angle the outline turns through at vertex `i`, from −π to π, positive to the left. */
function turnAt(vertices: readonly PlanVertex[], i: number): number {
  const before = vertices[(i + vertices.length - 1) % vertices.length]!;
  const at = vertices[i]!;
  const after = vertices[(i + 1) % vertices.length]!;
  const inX = at.x - before.x;
  const inY = at.y - before.y;
  const outX = after.x - at.x;
  const outY = after.y - at.y;
  return Math.atan2(inX * outY - inY * outX, inX * outX + inY * outY);
}

/** Area of the polygon, positive when it runs counter-clockwise. */
function signedArea(vertices: readonly PlanVertex[]): number {
  let twice = 0;
  vertices.forEach((a, i) => {
    const b = vertices[(i + 1) % vertices.length]!;
    twice += a.x * b.y - a.y * b.x;
  });
  return twice / 2;
}

/** Numbers of two edges that meet elsewhere than at a vertex they share, or undefined. */
function crossingEdges(vertices: readonly PlanVertex[]): readonly [number, number] | undefined {
  const count = vertices.length;
  const at = (i: number): PlanVertex => vertices[i % count]!;
  for (let i = 0; i < count; i++) {
    // Neighbouring edges can only meet elsewhere when one folds back on the other.
    if (Math.abs(turnAt(vertices, (i + 1) % count)) > Math.PI - SMALLEST_TURN) return [i, (i + 1) % count];
    for (let j = i + 2; j < count; j++) {
      if (i === 0 && j === count - 1) continue;
      if (segmentsMeet(at(i), at(i + 1), at(j), at(j + 1))) return [i, j];
    }
  }
  return undefined;
}

/**
 * Whether two segments have a point in common.
 *
 * Signs of the four triangles. Source: J. O'Rourke, Computational Geometry in C, 2nd edition 1998,
 * section 1.5 (from memory).
 */
function segmentsMeet(a: PlanVertex, b: PlanVertex, c: PlanVertex, d: PlanVertex): boolean {
  const abc = side(a, b, c);
  const abd = side(a, b, d);
  const cda = side(c, d, a);
  const cdb = side(c, d, b);
  if (abc !== abd && cda !== cdb && abc * abd <= 0 && cda * cdb <= 0) return true;
  return (
    (abc === 0 && within(a, b, c)) ||
    (abd === 0 && within(a, b, d)) ||
    (cda === 0 && within(c, d, a)) ||
    (cdb === 0 && within(c, d, b))
  );
}

/** 1 when c lies to the left of a→b, −1 to the right, 0 on the line within `SMALLEST_EDGE`. */
function side(a: PlanVertex, b: PlanVertex, c: PlanVertex): number {
  const cross = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  return Math.abs(cross) < SMALLEST_EDGE * Math.hypot(b.x - a.x, b.y - a.y) ? 0 : Math.sign(cross);
}

/** Whether p, known to be on the line through a and b, is between them. */
const within = (a: PlanVertex, b: PlanVertex, p: PlanVertex): boolean =>
  Math.min(a.x, b.x) - SMALLEST_EDGE <= p.x &&
  p.x <= Math.max(a.x, b.x) + SMALLEST_EDGE &&
  Math.min(a.y, b.y) - SMALLEST_EDGE <= p.y &&
  p.y <= Math.max(a.y, b.y) + SMALLEST_EDGE;

/**
 * Sides too short for the arcs at their two ends.
 *
 * A corner of radius R that turns through τ takes R·tan(τ/2) of each side that meets there.
 *
 * @param vertices of `plan`, counter-clockwise, all convex
 */
export function cornersThatDoNotFit(plan: Plan, vertices: readonly PlanVertex[], text: LengthText): Fault[] {
  const taken = vertices.map((vertex, i) => vertex.radius * Math.tan(turnAt(vertices, i) / 2));
  const faults = vertices.flatMap((vertex, i) => {
    const j = (i + 1) % vertices.length;
    const next = vertices[j]!;
    const length = Math.hypot(next.x - vertex.x, next.y - vertex.y);
    const needed = taken[i]! + taken[j]!;
    if (needed <= length + ROUNDING) return [];
    if ('vertices' in plan) {
      return [
        {
          path: `plan.vertices.${i}.radius`,
          message: `plan.vertices.${i}.radius is ${text.exact(vertex.radius)} and plan.vertices.${j}.radius is ${text.exact(next.radius)}, which take ${text.exact(needed)} of the side between them, but it is ${text.exact(length)} long; give smaller radii there or a longer side.`,
        },
      ];
    }
    const sideName = i % 2 === 0 ? 'length' : 'width';
    if (typeof plan.cornerRadius === 'number') {
      return [
        {
          path: 'plan.cornerRadius',
          message: `plan.cornerRadius is ${text.exact(plan.cornerRadius)}, more than half the ${sideName} of ${text.exact(length)}; give at most ${text.atMost(length / 2)}.`,
        },
      ];
    }
    return [
      {
        path: `plan.cornerRadius.${i}`,
        message: `plan.cornerRadius.${i} and plan.cornerRadius.${j} add up to ${text.exact(needed)}, more than the ${sideName} of ${text.exact(length)} they share; give radii that add up to at most ${text.atMost(length)}.`,
      },
    ];
  });
  if ('vertices' in plan || typeof plan.cornerRadius !== 'number') return faults;
  // One radius for all: the shorter side rules, and opposite sides would only say the same again.
  const tighter = plan.width <= plan.length ? 'half the width' : 'half the length';
  return faults.filter((fault) => fault.message.includes(tighter)).slice(0, 1);
}

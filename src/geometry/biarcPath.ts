/**
 * Traced points to a smooth path of arcs, fast: pairs of arcs between picked points, as far apart as the
 * tolerance allows.
 *
 * A contour is a mark for the eye, drawn by the dozen on every check, and its points carry the small unevenness
 * of nodal strains. So this follows it loosely and quickly; the outline itself goes through `outline/fit.ts`,
 * which follows its samples closely with the fewest pieces.
 */

import { distanceToPiece } from './arc.ts';
import { biarc, type Piece, type Pose } from './biarc.ts';
import { hypotenuse } from './hypotenuse.ts';
import type { Path, Vertex } from './path.ts';

/** Largest distance of a contour from the traced points, mm: from the first to the second, a share of its length. */
const TOLERANCE = [0.25, 0.5] as const;
const TOLERANCE_SHARE = 2.5e-3;
/** Points closer together than this share of the mean spacing only blur the direction. */
const SPACING_SHARE = 0.6;

/**
 * The path through the points.
 *
 * @param points mm, x y per point, at least two; a closed row does not repeat its first point; not changed
 * @returns tangent-continuous, except at the first point of a closed path
 */
export function biarcPath(points: Float64Array, closed: boolean): Path {
  const row = closed ? Float64Array.of(...points, points[0]!, points[1]!) : points;
  const length = lengthOf(row);
  const kept = thinned(row, length);
  // Too little of a curve for directions: chords do.
  if (!(length > 0) || kept.length < (closed ? 10 : 4)) return chords(points, closed);
  const tolerance = Math.min(TOLERANCE[1], Math.max(TOLERANCE[0], TOLERANCE_SHARE * length));
  const poses = directed(smoothed(kept, closed, tolerance / 2), closed);
  const vertices: Vertex[] = [];
  const last = poses.length - 1;
  for (let from = 0; from < last; ) {
    // Longest stretch that holds: doubled while it holds, then halved back.
    let good = from + 1;
    let pieces = between(poses, kept, from, good, tolerance);
    for (let stride = 1; stride >= 1; ) {
      const to = Math.min(last, good + stride);
      const longer = to > good ? between(poses, kept, from, to, tolerance) : null;
      if (longer !== null) {
        good = to;
        pieces = longer;
        stride *= 2;
      } else stride = stride > 1 ? Math.floor(stride / 4) : 0;
    }
    vertices.push(...(pieces ?? [{ x: poses[from]!.x, y: poses[from]!.y, bulge: 0 }]));
    from = good;
  }
  if (!closed) vertices.push({ x: poses[last]!.x, y: poses[last]!.y, bulge: 0 });
  return { vertices, closed };
}

function chords(points: Float64Array, closed: boolean): Path {
  const vertices: Vertex[] = [];
  for (let i = 0; i < points.length; i += 2) vertices.push({ x: points[i]!, y: points[i + 1]!, bulge: 0 });
  return { vertices, closed };
}

function lengthOf(row: Float64Array): number {
  let length = 0;
  for (let i = 2; i < row.length; i += 2)
    length += hypotenuse(row[i]! - row[i - 2]!, row[i + 1]! - row[i - 1]!);
  return length;
}

/** The points without those that crowd others; first and last stay. */
function thinned(row: Float64Array, length: number): number[] {
  const least = (SPACING_SHARE * length) / Math.max(1, row.length / 2 - 1);
  const out = [row[0]!, row[1]!];
  const n = row.length;
  for (let i = 2; i < n - 2; i += 2) {
    const k = out.length;
    if (hypotenuse(row[i]! - out[k - 2]!, row[i + 1]! - out[k - 1]!) < least) continue;
    if (hypotenuse(row[i]! - row[n - 2]!, row[i + 1]! - row[n - 1]!) < least) continue;
    out.push(row[i]!, row[i + 1]!);
  }
  out.push(row[n - 2]!, row[n - 1]!);
  return out;
}

/** Strength of a smoothing step and of the step back, and how many of them. */
const SMOOTHING = [0.5, -0.53] as const;
const SMOOTHING_ROUNDS = 12;

/**
 * The points without their small unevenness. Each step moves a point towards the line between its neighbours
 * and then nearly as far back, which keeps large curves where they are. Source of the idea: G. Taubin, "A signal
 * processing approach to fair surface design", Proc. SIGGRAPH 95 (from memory). No point ends up farther from where
 * it was than `farthest`.
 */
function smoothed(points: readonly number[], closed: boolean, farthest: number): number[] {
  const n = points.length / 2;
  let out = [...points];
  for (let round = 0; round < SMOOTHING_ROUNDS; round++) {
    for (const strength of SMOOTHING) {
      const next = [...out];
      for (let i = 0; i < n; i++) {
        if ((i === 0 || i === n - 1) && !closed) continue;
        const before = i === 0 ? n - 2 : i - 1;
        const after = i === n - 1 ? 1 : i + 1;
        const a = hypotenuse(out[2 * i]! - out[2 * before]!, out[2 * i + 1]! - out[2 * before + 1]!);
        const b = hypotenuse(out[2 * i]! - out[2 * after]!, out[2 * i + 1]! - out[2 * after + 1]!);
        const share = a / (a + b);
        for (let k = 0; k < 2; k++) {
          const line = (1 - share) * out[2 * before + k]! + share * out[2 * after + k]!;
          next[2 * i + k] = out[2 * i + k]! + strength * (line - out[2 * i + k]!);
        }
      }
      out = next;
    }
  }
  for (let i = 0; i < n; i++) {
    const dx = out[2 * i]! - points[2 * i]!;
    const dy = out[2 * i + 1]! - points[2 * i + 1]!;
    const share = Math.min(1, farthest / Math.max(hypotenuse(dx, dy), 1e-12));
    out[2 * i] = points[2 * i]! + share * dx;
    out[2 * i + 1] = points[2 * i + 1]! + share * dy;
  }
  return out;
}

/** Each point with the direction of the parabola through it and its neighbours. */
function directed(points: readonly number[], closed: boolean): Pose[] {
  const n = points.length / 2;
  const poses: Pose[] = [];
  const chord = (i: number): [x: number, y: number, length: number] => {
    const x = points[2 * i + 2]! - points[2 * i]!;
    const y = points[2 * i + 3]! - points[2 * i + 1]!;
    return [x, y, hypotenuse(x, y)];
  };
  for (let i = 0; i < n; i++) {
    const inner = i > 0 && i < n - 1;
    const before = inner || !closed ? Math.min(Math.max(i - 1, 0), n - 2) : n - 2;
    const after = inner || !closed ? Math.min(i, n - 2) : 0;
    const [ax, ay, a] = chord(before);
    const [bx, by, b] = chord(after);
    // Slopes of the two chords, weighted by the other chord's length.
    const tx = (ax / a) * (b / a) * a + (bx / b) * (a / b) * b;
    const ty = (ay / a) * (b / a) * a + (by / b) * (a / b) * b;
    let angle = Math.atan2(ty, tx);
    if (!inner && !closed && n > 2) {
      // At an end: the end chord turned by half the turn to the next one.
      const [cx, cy] = chord(i === 0 ? 1 : n - 3);
      const turn = Math.atan2(ax * cy - ay * cx, ax * cx + ay * cy);
      const [, , c] = chord(i === 0 ? 1 : n - 3);
      angle -= (turn * a) / (a + c);
    }
    poses.push({ x: points[2 * i]!, y: points[2 * i + 1]!, angle });
  }
  return poses;
}

/** The two arcs from one pose to another as vertices, or null when points between lie off them. */
function between(
  poses: readonly Pose[],
  points: readonly number[],
  from: number,
  to: number,
  tolerance: number,
): Vertex[] | null {
  const pair = biarc(poses[from]!, poses[to]!);
  if (pair === null) return null;
  const end: Vertex = { ...poses[to]!, bulge: 0 };
  const vertices = pair.map(({ x, y, curvature, length }: Piece) => ({
    x,
    y,
    bulge: Math.tan((curvature * length) / 4),
  }));
  for (let i = from + 1; i < to; i++) {
    const x = points[2 * i]!;
    const y = points[2 * i + 1]!;
    const off = Math.min(
      distanceToPiece(x, y, vertices[0]!, vertices[1]!),
      distanceToPiece(x, y, vertices[1]!, end),
    );
    if (!(off <= tolerance)) return null;
  }
  return vertices;
}

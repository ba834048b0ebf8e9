/**
 * Traced points to smooth lines and arcs, each shape once: the corners of a symmetric tray have congruent
 * contours, so a contour that is the image of one fitted before takes that one's path, moved.
 */

import { biarcPath } from './biarcPath.ts';
import { hypotenuse } from './hypotenuse.ts';
import type { Path } from './path.ts';

/** Farthest that two congruent curves may lie apart, mm. */
const CONGRUENT = 1e-5;

interface Fitted {
  readonly points: Float64Array;
  readonly path: Path;
}

/** A turn or reflection with a shift: x' = cx·x − m·s·y + dx, y' = s·x + m·c·y + dy with m = ±1. */
interface Motion {
  readonly c: number;
  readonly s: number;
  readonly mirror: 1 | -1;
  readonly dx: number;
  readonly dy: number;
  readonly reversed: boolean;
}

/** Fits curves and remembers them by shape. */
export class CurveFitter {
  private readonly known: Fitted[] = [];

  /** The open curve through the points as lines and arcs. */
  open(points: Float64Array): Path {
    for (const { points: from, path } of this.known) {
      const motion = motionBetween(from, points);
      if (motion !== null) return moved(path, motion);
    }
    const path = biarcPath(points, false);
    this.known.push({ points, path });
    return path;
  }

  /** The closed curve through the points, the first one not repeated. */
  closed(points: Float64Array): Path {
    return biarcPath(points, true);
  }
}

/** The motion that takes one row of points to the other, forwards or backwards, or null. */
function motionBetween(from: Float64Array, to: Float64Array): Motion | null {
  if (from.length !== to.length || from.length < 4) return null;
  for (const [mirror, reversed] of [
    [-1, true],
    [1, false],
    [1, true],
    [-1, false],
  ] as const) {
    const motion = motionOfEnds(from, to, mirror, reversed);
    if (motion !== null && carries(from, to, motion)) return motion;
  }
  return null;
}

function motionOfEnds(
  from: Float64Array,
  to: Float64Array,
  mirror: 1 | -1,
  reversed: boolean,
): Motion | null {
  const n = from.length;
  const [first, last] = reversed ? [n - 2, 0] : [0, n - 2];
  const ux = from[n - 2]! - from[0]!;
  const uy = mirror * (from[n - 1]! - from[1]!);
  const vx = to[last]! - to[first]!;
  const vy = to[last + 1]! - to[first + 1]!;
  const length = hypotenuse(ux, uy);
  if (length < CONGRUENT || Math.abs(length - hypotenuse(vx, vy)) > CONGRUENT) return null;
  const c = (ux * vx + uy * vy) / (length * length);
  const s = (ux * vy - uy * vx) / (length * length);
  const x = from[0]!;
  const y = mirror * from[1]!;
  return { c, s, mirror, dx: to[first]! - (c * x - s * y), dy: to[first + 1]! - (s * x + c * y), reversed };
}

function move(x: number, y: number, { c, s, mirror, dx, dy }: Motion): [number, number] {
  return [c * x - s * mirror * y + dx, s * x + c * mirror * y + dy];
}

function carries(from: Float64Array, to: Float64Array, motion: Motion): boolean {
  const n = from.length;
  for (let i = 0; i < n; i += 2) {
    const [x, y] = move(from[i]!, from[i + 1]!, motion);
    const at = motion.reversed ? n - 2 - i : i;
    if (hypotenuse(x - to[at]!, y - to[at + 1]!) > CONGRUENT) return false;
  }
  return true;
}

/** An open path moved; reversed when the motion runs its points backwards. */
function moved(path: Path, motion: Motion): Path {
  const vertices = path.vertices.map(({ x, y, bulge }) => {
    const [px, py] = move(x, y, motion);
    return { x: px, y: py, bulge: motion.mirror * bulge };
  });
  if (!motion.reversed) return { vertices, closed: false };
  return {
    vertices: vertices
      .map(({ x, y }, i) => ({ x, y, bulge: i === 0 ? 0 : -vertices[i - 1]!.bulge }))
      .reverse(),
    closed: false,
  };
}

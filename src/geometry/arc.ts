/**
 * One piece of a path, a line or an arc, in formulas that do not fall apart as the arc gets flat.
 *
 * Lengths mm, angles radians, counter-clockwise positive. A piece is its two end points and its bulge
 * b = tan(sweep / 4) (DXF Reference, LWPOLYLINE, group code 42). A line is b = 0 in the same formulas:
 * they use the chord and the bulge, never a centre that runs away to infinity. They are plain circle
 * geometry, derived here; tests/outline holds them against closed forms and fine polygons.
 */
import { hypotenuse } from './hypotenuse.ts';
import type { Path, Point, Vertex } from './path.ts';

/** A circular arc. Angles are those of the radius from the centre to the point, radians. */
export interface Arc {
  readonly centre: Point;
  /** mm, positive */
  readonly radius: number;
  readonly startAngle: number;
  /** startAngle + sweep, not wrapped */
  readonly endAngle: number;
  /** Positive counter-clockwise; between -2π and 2π. */
  readonly sweep: number;
}

/** An arc of a smaller bulge than this is a line to within a nanometre over a metre, and has no centre to speak of. */
const FLAT = 1e-12;

/** The circle of the arc from a point to another of a bulge, or null for a straight line. */
export function circleOf(from: Point, to: Point, b: number): Pick<Arc, 'centre' | 'radius'> | null {
  if (Math.abs(b) < FLAT) return null;
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const h = (1 - b * b) / (4 * b); // centre's distance left of the chord, in chord lengths
  return {
    centre: { x: (from.x + to.x) / 2 - h * dy, y: (from.y + to.y) / 2 + h * dx },
    radius: (hypotenuse(dx, dy) * (1 + b * b)) / (4 * Math.abs(b)),
  };
}

/** The arc from a vertex to the next one, or null for a straight line. */
export function arcOf(from: Vertex, to: Point): Arc | null {
  const circle = circleOf(from, to, from.bulge);
  if (circle === null) return null;
  const { centre, radius } = circle;
  const startAngle = Math.atan2(from.y - centre.y, from.x - centre.x);
  const sweep = 4 * Math.atan(from.bulge);
  return { centre, radius, startAngle, endAngle: startAngle + sweep, sweep };
}

/** How many lines and arcs the path has. */
export function pieceCount(path: Path): number {
  const n = path.vertices.length;
  return path.closed ? n : Math.max(0, n - 1);
}

/** The vertex where piece `index` ends. */
export function pieceEnd(path: Path, index: number): Vertex {
  const next = index + 1;
  return path.vertices[next < path.vertices.length ? next : 0]!;
}

/** Length of a piece, mm. */
export function pieceLength(from: Vertex, to: Point): number {
  const chord = hypotenuse(to.x - from.x, to.y - from.y);
  const b = from.bulge;
  return b === 0 ? chord : (chord * (1 + b * b) * Math.atan(b)) / b;
}

/** Direction of travel where the piece starts, radians, not wrapped. */
export function startDirection(from: Vertex, to: Point): number {
  return Math.atan2(to.y - from.y, to.x - from.x) - 2 * Math.atan(from.bulge);
}

/** Direction of travel where the piece ends, radians, not wrapped. */
export function endDirection(from: Vertex, to: Point): number {
  return Math.atan2(to.y - from.y, to.x - from.x) + 2 * Math.atan(from.bulge);
}

/**
 * Direction of travel where the piece starts, as a unit vector. By products and a root only, so that mirrored
 * pieces have mirrored directions to the last bit.
 */
export function startTangent(from: Vertex, to: Point): Point {
  return turnedChord(from, to, -1);
}

/** Direction of travel where the piece ends, as a unit vector. */
export function endTangent(from: Vertex, to: Point): Point {
  return turnedChord(from, to, 1);
}

/** The chord's direction turned by half the sweep, to one side or the other. */
function turnedChord(from: Vertex, to: Point, side: 1 | -1): Point {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const b = from.bulge;
  const size = hypotenuse(dx, dy) * (1 + b * b);
  const c = 1 - b * b;
  const s = side * 2 * b;
  return { x: (c * dx - s * dy) / size, y: (s * dx + c * dy) / size };
}

/** An angle brought into (-π, π]. */
export function wrapAngle(angle: number): number {
  const turns = Math.round(angle / (2 * Math.PI));
  const wrapped = angle - turns * 2 * Math.PI;
  return wrapped <= -Math.PI ? wrapped + 2 * Math.PI : wrapped;
}

/** The point at `fraction` (0 to 1) of the piece's length, and the direction of travel there, radians. */
export function pointOnPiece(
  from: Vertex,
  to: Point,
  fraction: number,
): { x: number; y: number; tangent: number } {
  const half = 2 * Math.atan(from.bulge); // half the sweep
  const swept = half * fraction; // half of what is swept so far
  // The chord to the point turns by `swept`; its length is that of the arc times sin(swept)/swept.
  const reach = half === 0 ? fraction : Math.sin(swept) / Math.sin(half);
  const turn = swept - half;
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const c = Math.cos(turn) * reach;
  const s = Math.sin(turn) * reach;
  return {
    x: from.x + c * dx - s * dy,
    y: from.y + s * dx + c * dy,
    tangent: Math.atan2(dy, dx) + 2 * swept - half,
  };
}

/** Distance from a point to the nearest point of a piece, mm. */
export function distanceToPiece(px: number, py: number, from: Vertex, to: Point): number {
  const b = from.bulge;
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const chord = hypotenuse(dx, dy);
  const toStart = hypotenuse(px - from.x, py - from.y);
  if (chord === 0) return toStart;
  // The point seen from the middle of the chord, u along it and v to its left.
  const mx = px - (from.x + to.x) / 2;
  const my = py - (from.y + to.y) / 2;
  const u = (mx * dx + my * dy) / chord;
  const v = (my * dx - mx * dy) / chord;
  const k = 1 - b * b;
  const w = k * chord - 4 * b * v;
  if (2 * Math.abs(u) * k <= w) {
    // Inside the angle of the arc: (d² - r²) / (d + r), all times 4|b|.
    const power = 4 * b * (u * u + v * v - (chord * chord) / 4) - 2 * k * chord * v;
    return Math.abs(power) / (hypotenuse(4 * b * u, w) + chord * (1 + b * b));
  }
  return Math.min(toStart, hypotenuse(px - to.x, py - to.y));
}

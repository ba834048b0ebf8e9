/**
 * What drawing programs leave in an outline and nobody means: corners drawn twice a hair apart, points on a
 * straight line, and curves broken into many short lines.
 */
import { arcOf, endDirection, startDirection, wrapAngle } from '../geometry/arc.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';

/** Shorter edges than this are a corner drawn twice, mm; half of what ends may miss each other by. */
const SHORTEST = 0.05;

/** Nearer than this to the line through its neighbours, a vertex between straight edges is left out, mm. */
const ON_LINE = 1e-3;

/** How far the ends of short lines may lie from the arc they stand for, mm. */
export const FACET_TOLERANCE = 0.02;

/**
 * Lines that turn by more than this from one to the next are meant as they are, radians: a plan with 24 equal
 * corners would be the first to be mistaken, and the note tells.
 */
const FACET_TURN = (15 * Math.PI) / 180 + 1e-6;

/** Fewer lines than this are meant as they are. */
const FEWEST_FACETS = 4;

/** Widest arc that is made in one, so that its bulge stays small. */
const WIDEST_SWEEP = 1.5 * Math.PI;

export interface Tidied {
  readonly path: Path;
  /** Where edges too short to mean anything were left out. */
  readonly short: readonly Point[];
  /** Arcs that stand for short lines: how many lines, about where, with which radius. */
  readonly fitted: readonly (Point & { readonly lines: number; readonly radius: number })[];
}

/** A closed path without what nobody means; it starts with the edge it started with, as far as that is left. */
export function tidied(path: Path): Tidied {
  const merged = withoutShort(path.vertices);
  const fitted = withArcs(withoutStraight(merged.vertices));
  return {
    path: { vertices: withoutStraight(fitted.vertices), closed: true },
    short: merged.short,
    fitted: fitted.fitted,
  };
}

const at = <T>(list: readonly T[], i: number): T => list[((i % list.length) + list.length) % list.length]!;

const apart = (a: Point, b: Point): number => Math.hypot(b.x - a.x, b.y - a.y);

/** Both ends of a short edge become one: where the edges beside it meet, or the middle between them. */
function withoutShort(given: readonly Vertex[]): { vertices: readonly Vertex[]; short: Point[] } {
  let vertices = [...given];
  const short: Point[] = [];
  for (;;) {
    const i = vertices.findIndex(
      (vertex, k) =>
        vertices.length > 2 && apart(vertex, at(vertices, k + 1)) < SHORTEST && !isRound(vertices, k),
    );
    if (i < 0) return { vertices, short };
    const [from, to] = [vertices[i]!, at(vertices, i + 1)];
    const joint = meeting(at(vertices, i - 1), from, to, at(vertices, i + 2)) ?? {
      x: (from.x + to.x) / 2,
      y: (from.y + to.y) / 2,
    };
    short.push(joint);
    const next = (i + 1) % vertices.length;
    vertices = vertices.map((vertex, k) => (k === i ? { ...joint, bulge: to.bulge } : vertex));
    vertices.splice(next, 1);
  }
}

/** Whether an edge is an arc that is long although its ends are near each other. */
const isRound = (vertices: readonly Vertex[], i: number): boolean => Math.abs(vertices[i]!.bulge) > 1;

/** Where the straight edges before and after a short one meet, if that is near it. */
function meeting(before: Vertex, from: Vertex, to: Vertex, after: Vertex): Point | null {
  if (before.bulge !== 0 || to.bulge !== 0) return null;
  const [ux, uy] = [from.x - before.x, from.y - before.y];
  const [vx, vy] = [after.x - to.x, after.y - to.y];
  const cross = ux * vy - uy * vx;
  if (cross === 0) return null;
  const share = ((to.x - from.x) * vy - (to.y - from.y) * vx) / cross;
  const joint = { x: from.x + share * ux, y: from.y + share * uy };
  return apart(joint, from) <= 2 * SHORTEST ? joint : null;
}

function withoutStraight(vertices: readonly Vertex[]): readonly Vertex[] {
  return vertices.filter((vertex, i) => {
    const before = at(vertices, i - 1);
    if (before.bulge !== 0 || vertex.bulge !== 0) return true;
    return awayFromLine(vertex, before, at(vertices, i + 1)) > ON_LINE;
  });
}

/** Distance of a point from the line through two others; infinite when it does not lie between them. */
function awayFromLine(point: Point, from: Point, to: Point): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  const along = ((point.x - from.x) * dx + (point.y - from.y) * dy) / length;
  if (!(along > 0 && along < length)) return Number.POSITIVE_INFINITY;
  return Math.abs((point.x - from.x) * dy - (point.y - from.y) * dx) / length;
}

/** Runs of short lines that turn a little each time become the arc on which their ends lie. */
function withArcs(vertices: readonly Vertex[]): Pick<Tidied, 'fitted'> & { vertices: readonly Vertex[] } {
  const count = vertices.length;
  const small = vertices.map((vertex, i) => {
    const before = at(vertices, i - 1);
    if (before.bulge !== 0 || vertex.bulge !== 0) return false;
    const turn = wrapAngle(startDirection(vertex, at(vertices, i + 1)) - endDirection(before, vertex));
    return Math.abs(turn) <= FACET_TURN;
  });
  const fitted: { x: number; y: number; lines: number; radius: number }[] = [];
  if (small.every((each) => each) && runOf(vertices, 0, count) === count) return wholeCircle(vertices);
  // Begun behind the longest edge, which is no facet, so that no arc is cut in two by the start of the loop.
  const lengths = vertices.map((vertex, i) => apart(vertex, at(vertices, i + 1)));
  const start = 1 + lengths.indexOf(Math.max(...lengths));
  const out: { vertex: Vertex; index: number }[] = [];
  for (let k = 0; k < count; ) {
    const i = start + k;
    let room = 1;
    while (k + room < count && small[(i + room) % count]!) room++;
    if (at(vertices, i).bulge !== 0) room = 0;
    const lines = room >= FEWEST_FACETS ? runOf(vertices, i, room) : 0;
    if (lines < FEWEST_FACETS) {
      out.push({ vertex: at(vertices, i), index: i % count });
      k++;
      continue;
    }
    const arcs = arcsThrough(vertices, i, lines);
    const middle = at(vertices, i + (lines >> 1));
    fitted.push({
      x: middle.x,
      y: middle.y,
      lines,
      radius: arcOf(arcs[0]!.vertex, at(vertices, arcs[0]!.to))!.radius,
    });
    for (const { vertex, index } of arcs) out.push({ vertex, index });
    k += lines;
  }
  // The loop starts where it started, or at the first vertex after that which is left.
  const first = out.reduce((best, each, k) => (each.index < out[best]!.index ? k : best), 0);
  return { vertices: [...out.slice(first), ...out.slice(0, first)].map(({ vertex }) => vertex), fitted };
}

/**
 * How many of the lines from vertex `i` on have their ends on one circle and turn evenly; 0 when fewer than the
 * fewest.
 */
function runOf(vertices: readonly Vertex[], i: number, room: number): number {
  let best = 0;
  for (let lines = FEWEST_FACETS; lines <= room; lines++) {
    const circle = circleThrough(
      at(vertices, i),
      at(vertices, i + (lines >> 1)),
      at(vertices, i + lines - (lines === vertices.length ? 1 : 0)),
    );
    if (circle === null) break;
    let [shortest, longest] = [Number.POSITIVE_INFINITY, 0];
    let near = true;
    let left = 0;
    for (let k = 0; k <= lines && near; k++) {
      const point = at(vertices, i + k);
      near = Math.abs(Math.hypot(point.x - circle.x, point.y - circle.y) - circle.radius) <= FACET_TOLERANCE;
      if (k === lines) break;
      const next = at(vertices, i + k + 1);
      const chord = apart(point, next);
      [shortest, longest] = [Math.min(shortest, chord), Math.max(longest, chord)];
      left += Math.sign(
        (point.x - circle.x) * (next.y - circle.y) - (point.y - circle.y) * (next.x - circle.x),
      );
    }
    // All one way round, each within the turn of a facet, and no long straight among short ones.
    if (!near || Math.abs(left) !== lines || longest > 2 * circle.radius * Math.sin(FACET_TURN / 2)) break;
    if (longest > 3 * shortest) break;
    best = lines;
  }
  return best;
}

/** The arc, or two, from vertex `i` over so many lines, with the numbers of the vertices where they start and end. */
function arcsThrough(
  vertices: readonly Vertex[],
  i: number,
  lines: number,
): { vertex: Vertex; index: number; to: number }[] {
  const [from, half, to] = [at(vertices, i), at(vertices, i + (lines >> 1)), at(vertices, i + lines)];
  const circle = circleThrough(from, half, to)!;
  const sweepTo = (a: Point, b: Point): number => {
    const [start, end] = [
      Math.atan2(a.y - circle.y, a.x - circle.x),
      Math.atan2(b.y - circle.y, b.x - circle.x),
    ];
    const turn = end - start;
    return circle.left
      ? turn - 2 * Math.PI * Math.floor(turn / (2 * Math.PI))
      : turn - 2 * Math.PI * Math.ceil(turn / (2 * Math.PI));
  };
  const index = (k: number): number => (i + k) % vertices.length;
  const whole = sweepTo(from, half) + sweepTo(half, to);
  const arc = (start: number, end: number, sweep: number) => {
    const { x, y } = at(vertices, i + start);
    return { vertex: { x, y, bulge: Math.tan(sweep / 4) }, index: index(start), to: index(end) };
  };
  if (Math.abs(whole) <= WIDEST_SWEEP) return [arc(0, lines, whole)];
  return [arc(0, lines >> 1, sweepTo(from, half)), arc(lines >> 1, lines, sweepTo(half, to))];
}

/** A wheel of short lines all round. */
function wholeCircle(vertices: readonly Vertex[]): Pick<Tidied, 'fitted'> & { vertices: readonly Vertex[] } {
  const count = vertices.length;
  const half = count >> 1;
  const circle = circleThrough(
    vertices[0]!,
    vertices[Math.floor(count / 3)]!,
    vertices[Math.floor((2 * count) / 3)]!,
  )!;
  const from = vertices[0]!;
  const opposite = { x: 2 * circle.x - from.x, y: 2 * circle.y - from.y };
  const bulge = circle.left ? 1 : -1;
  const { x, y } = vertices[half]!;
  return {
    vertices: [
      { ...from, bulge },
      { ...opposite, bulge },
    ],
    fitted: [{ x, y, lines: count, radius: circle.radius }],
  };
}

/** The circle through three points, and whether one goes round it to the left; null when they are in line. */
function circleThrough(
  a: Point,
  b: Point,
  c: Point,
): { x: number; y: number; radius: number; left: boolean } | null {
  const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y];
  const cross = 2 * (ux * vy - uy * vx);
  if (cross === 0) return null;
  const [u2, v2] = [ux * ux + uy * uy, vx * vx + vy * vy];
  const [dx, dy] = [(vy * u2 - uy * v2) / cross, (ux * v2 - vx * u2) / cross];
  return { x: a.x + dx, y: a.y + dy, radius: Math.hypot(dx, dy), left: cross > 0 };
}

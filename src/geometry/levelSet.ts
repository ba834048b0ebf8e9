/**
 * Where a nodal value of the solved field is above a level: directed loops around such regions, traced over the
 * six-node triangles of the blank.
 *
 * Every triangle is cut into its four sub-triangles (the usual marching over a simplex mesh); where an edge
 * crosses the level, the crossing is found on the triangle's own quadratic interpolation, of the value and of
 * the flat position alike, so the lines carry no facet error. Loops keep the region on their left: outer ones
 * run counter-clockwise, those around a gap clockwise.
 */

import { chainsOf } from './chain.ts';
import type { FlatField } from './flatField.ts';
import { hypotenuse } from './hypotenuse.ts';
import { alongEdge, QUARTERS, shapeFunctions } from './shapeFunctions.ts';

/** A free edge of the blank that belongs to one triangle: corner, middle, corner, counter-clockwise. */
export interface FreeEdge {
  readonly from: number;
  readonly middle: number;
  readonly to: number;
}

/** A stretch of one free edge, as fractions from its start. */
export interface EdgePart {
  readonly edge: FreeEdge;
  readonly start: number;
  readonly end: number;
}

/** A piece of a loop that runs either along the level or along the free edge of the blank. */
export interface Run {
  readonly kind: 'level' | 'edge';
  /** mm, x y per point; a run that is a whole loop does not repeat its first point. */
  readonly points: Float64Array;
  readonly closed: boolean;
  /** For an edge run, the stretches it is made of, in order. */
  readonly parts: readonly EdgePart[];
}

export interface Loop {
  readonly runs: readonly Run[];
  /** Signed area of the polygon through its points, mm². */
  readonly area: number;
  /** A node of the region, next to the loop. */
  readonly node: number;
}

/** (u, v) of the six local nodes. */
const LOCAL = [
  [0, 0],
  [1, 0],
  [0, 1],
  [0.5, 0],
  [0.5, 0.5],
  [0, 0.5],
] as const;

/** The free edges of a field: those that one triangle alone has. */
export function freeEdges(field: Pick<FlatField, 'flat' | 'triangles'>): FreeEdge[] {
  const { triangles } = field;
  const owners = new Uint8Array(field.flat.length / 2);
  for (let t = 0; t < triangles.length; t += 6)
    for (let e = 3; e < 6; e++) owners[triangles[t + e]!] = owners[triangles[t + e]!]! + 1;
  const out: FreeEdge[] = [];
  for (let t = 0; t < triangles.length; t += 6) {
    for (let e = 0; e < 3; e++) {
      const middle = triangles[t + 3 + e]!;
      if (owners[middle] !== 1) continue;
      out.push({ from: triangles[t + e]!, middle, to: triangles[t + ((e + 1) % 3)]! });
    }
  }
  return out;
}

/** Number of the region above the level that each node belongs to, -1 below it. */
export function regions(field: FlatField, values: Float64Array, level: number): Int32Array {
  const { triangles } = field;
  const parent = new Int32Array(values.length);
  for (let i = 0; i < parent.length; i++) parent[i] = values[i]! >= level ? i : -1;
  const root = (node: number): number => {
    let at = node;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!;
      at = parent[at]!;
    }
    return at;
  };
  for (let t = 0; t < triangles.length; t += 6) {
    let above = 0;
    for (let k = 0; k < 6; k++) if (parent[triangles[t + k]!]! >= 0) above++;
    if (above < 2) continue;
    for (const [a, b, c] of QUARTERS) {
      const nodes = [triangles[t + a]!, triangles[t + b]!, triangles[t + c]!];
      for (let k = 0; k < 3; k++) {
        const from = nodes[k]!;
        const to = nodes[(k + 1) % 3]!;
        if (parent[from]! < 0 || parent[to]! < 0) continue;
        const [p, q] = [root(from), root(to)];
        if (p !== q) parent[Math.max(p, q)] = Math.min(p, q);
      }
    }
  }
  for (let i = 0; i < parent.length; i++) if (parent[i]! >= 0) parent[i] = root(i);
  return parent;
}

interface Link {
  readonly to: number;
  readonly kind: Run['kind'];
  readonly x: number;
  readonly y: number;
  /** A node above the level beside the link. */
  readonly node: number;
  readonly part: EdgePart | null;
}

const shape = new Float64Array(6);

/**
 * The loops around the regions in which a value is at or above a level.
 *
 * @param values one per node; not changed
 * @param edges  the field's free edges (`freeEdges`)
 */
export function levelLoops(
  field: FlatField,
  values: Float64Array,
  level: number,
  edges: readonly FreeEdge[],
): Loop[] {
  const { flat, triangles } = field;
  const count = values.length;
  const links = new Map<number, Link>();
  // Crossing points are known by the two nodes of their sub-edge, nodes by their own number.
  const crossingKey = (a: number, b: number): number => count + Math.min(a, b) * count + Math.max(a, b);
  const at = new Float64Array(2);
  const crossing = (t: number, i: number, j: number): number =>
    crossingOn(flat, triangles, values, level, t, i, j, at);
  for (let t = 0; t < triangles.length; t += 6) {
    let above = 0;
    for (let k = 0; k < 6; k++) if (values[triangles[t + k]!]! >= level) above++;
    if (above === 0 || above === 6) continue;
    for (const sub of QUARTERS) {
      const h0 = values[triangles[t + sub[0]]!]! >= level;
      const h1 = values[triangles[t + sub[1]]!]! >= level;
      const h2 = values[triangles[t + sub[2]]!]! >= level;
      const highs = Number(h0) + Number(h1) + Number(h2);
      if (highs === 0 || highs === 3) continue;
      // The corner that stands alone, then the other two counter-clockwise.
      const alone = h0 === (highs === 1) ? 0 : h1 === (highs === 1) ? 1 : 2;
      const [a, b, c] = [sub[alone]!, sub[(alone + 1) % 3]!, sub[(alone + 2) % 3]!];
      const nodes = [triangles[t + a]!, triangles[t + b]!, triangles[t + c]!] as const;
      const first = crossingKey(nodes[0], nodes[1]);
      const second = crossingKey(nodes[2], nodes[0]);
      if (highs === 1) {
        crossing(t, a, b);
        links.set(first, { to: second, kind: 'level', x: at[0]!, y: at[1]!, node: nodes[0], part: null });
      } else {
        crossing(t, c, a);
        links.set(second, { to: first, kind: 'level', x: at[0]!, y: at[1]!, node: nodes[1], part: null });
      }
    }
  }
  for (const edge of edges) {
    const nodes = [edge.from, edge.middle, edge.to] as const;
    const over = nodes.map((node) => values[node]! - level) as [number, number, number];
    for (const half of [0, 1] as const) {
      const part = partAbove(edge, over, half);
      if (part === null) continue;
      const [a, b] = [nodes[half], nodes[half + 1]!];
      const begins = over[half] >= 0;
      const along = (axis: 0 | 1): number =>
        alongEdge(part.start, ...(nodes.map((node) => flat[2 * node + axis]!) as [number, number, number]));
      links.set(begins ? a : crossingKey(a, b), {
        to: over[half + 1]! >= 0 ? b : crossingKey(a, b),
        kind: 'edge',
        x: along(0),
        y: along(1),
        node: begins ? a : b,
        part,
      });
    }
  }
  return chain(links);
}

/**
 * Crossing of the level between two local nodes of a triangle, as the fraction of the way; its flat position
 * goes into `at`.
 */
function crossingOn(
  flat: Float64Array,
  triangles: Uint32Array,
  values: Float64Array,
  level: number,
  t: number,
  i: number,
  j: number,
  at: Float64Array,
): number {
  const [ui, vi] = LOCAL[i]!;
  const [uj, vj] = LOCAL[j]!;
  shapeFunctions((ui + uj) / 2, (vi + vj) / 2, shape);
  let middle = -level;
  for (let k = 0; k < 6; k++) middle += shape[k]! * values[triangles[t + k]!]!;
  const s = quadraticRoot(values[triangles[t + i]!]! - level, middle, values[triangles[t + j]!]! - level);
  shapeFunctions(ui + s * (uj - ui), vi + s * (vj - vi), shape);
  at[0] = 0;
  at[1] = 0;
  for (let k = 0; k < 6; k++) {
    const node = triangles[t + k]!;
    at[0] += shape[k]! * flat[2 * node]!;
    at[1] += shape[k]! * flat[2 * node + 1]!;
  }
  return s;
}

/** Root in 0 … 1 of the parabola through f(0), f(½), f(1), the first and last of unlike sign. */
function quadraticRoot(start: number, middle: number, end: number): number {
  const a = 2 * (start + end - 2 * middle);
  const b = 4 * middle - 3 * start - end;
  const root = Math.sqrt(Math.max(0, b * b - 4 * a * start));
  // The form without cancellation; of the two roots the one between 0 and 1.
  const q = -(b + (b >= 0 ? root : -root)) / 2;
  for (const s of [q === 0 ? Number.NaN : start / q, a === 0 ? Number.NaN : q / a])
    if (s >= -1e-12 && s <= 1 + 1e-12) return Math.min(1, Math.max(0, s));
  return start / (start - end);
}

/** The stretch of one half of a free edge that is above the level, from the values over it at the edge's nodes. */
function partAbove(edge: FreeEdge, over: readonly [number, number, number], half: 0 | 1): EdgePart | null {
  const [a, b] = [over[half], over[half + 1]!];
  if (a < 0 && b < 0) return null;
  const [start, end] = [half / 2, half / 2 + 0.5];
  if (a >= 0 && b >= 0) return { edge, start, end };
  // The value half-way along the half edge, by the parabola of the whole edge.
  const [f0, f1, f2] = over;
  const middle = half === 0 ? (3 * f0 + 6 * f1 - f2) / 8 : (-f0 + 6 * f1 + 3 * f2) / 8;
  const crossing = start + quadraticRoot(a, middle, b) / 2;
  return a >= 0 ? { edge, start, end: crossing } : { edge, start: crossing, end };
}

/** Follows the links into loops and cuts each loop where it changes between level and edge. */
function chain(links: Map<number, Link>): Loop[] {
  const loops: Loop[] = [];
  for (const { keys } of chainsOf(new Map(Array.from(links, ([key, { to }]) => [key, to])))) {
    const loop = keys.flatMap((key) => links.get(key) ?? []);
    if (loop.length < 3) continue;
    let twice = 0;
    for (let i = 0; i < loop.length; i++) {
      const a = loop[i]!;
      const b = loop[(i + 1) % loop.length]!;
      twice += a.x * b.y - b.x * a.y;
    }
    loops.push({ runs: runsOf(loop), area: twice / 2, node: loop[0]!.node });
  }
  return loops;
}

function runsOf(loop: readonly Link[]): Run[] {
  const first = loop.findIndex((link, i) => link.kind !== loop[(i + loop.length - 1) % loop.length]!.kind);
  if (first < 0) return [run(loop, loop[0]!.kind, true)];
  const turned = [...loop.slice(first), ...loop.slice(0, first)];
  const runs: Run[] = [];
  for (let from = 0; from < turned.length; ) {
    let to = from;
    while (to < turned.length && turned[to]!.kind === turned[from]!.kind) to++;
    const links = [...turned.slice(from, to), turned[to % turned.length]!];
    runs.push(run(links, turned[from]!.kind, false));
    from = to;
  }
  return runs;
}

/** Points closer than this to the one before are left out, mm. */
const SAME_POINT = 1e-6;

/** An open run's last link only lends its position. */
function run(links: readonly Link[], kind: Run['kind'], closed: boolean): Run {
  const points: number[] = [];
  for (const [i, { x, y }] of links.entries()) {
    const k = points.length;
    const near = k > 0 && hypotenuse(x - points[k - 2]!, y - points[k - 1]!) < SAME_POINT;
    if (near && (i < links.length - 1 || k <= 2)) continue;
    if (near) points.splice(-2);
    points.push(x, y);
  }
  const own = closed ? links : links.slice(0, -1);
  return {
    kind,
    points: Float64Array.from(points),
    closed,
    parts: own.flatMap(({ part }) => (part === null ? [] : [part])),
  };
}

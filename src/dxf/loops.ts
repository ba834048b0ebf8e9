/** Edges of a drawing joined into closed loops. */
import { GatherpanError } from '../errors.ts';
import type { Path, Vertex } from '../geometry/path.ts';
import { words } from '../words/language.ts';
import { type DrawnEdge, SAME } from './edges.ts';

/** Ends up to this far apart are joined, mm: common practice, no source. */
export const JOINED = 0.1;

/** Most pairs of loose ends that are compared; a drawing with more is no outline. */
const MOST_PAIRS = 100_000;

/** A closed loop that runs from the edge drawn first, in the direction it is drawn. */
export interface Loop {
  readonly path: Path;
  readonly layer: string;
}

/** A place where ends did not quite meet. */
export interface Gap {
  readonly x: number;
  readonly y: number;
  /** mm */
  readonly width: number;
}

/** An end of an edge: number 2·edge is its start, 2·edge + 1 its end. */
interface End {
  readonly index: number;
  readonly x: number;
  readonly y: number;
}

/**
 * The loops that edges make, in the order in which their first edges are drawn; ends that nearly meet are joined
 * midway.
 *
 * @throws GatherpanError BAD_INPUT when an end is loose, or more than two meet; the sentence goes after the
 *   drawing's name
 */
export function closedLoops(edges: readonly DrawnEdge[]): { loops: Loop[]; gaps: Gap[] } {
  if (edges.length < 2) throw new GatherpanError('BAD_INPUT', words().messages.dxf.empty);
  const ends = edges.flatMap((edge, i): End[] => [
    { index: 2 * i, x: edge.x0, y: edge.y0 },
    { index: 2 * i + 1, x: edge.x1, y: edge.y1 },
  ]);
  const partner = partners(ends, edges);
  const gaps: Gap[] = [];
  const joints = ends.map((end) => {
    const other = ends[partner[end.index]!]!;
    const joint = { x: (end.x + other.x) / 2, y: (end.y + other.y) / 2 };
    const width = distance(end, other);
    if (width > SAME && end.index < other.index) gaps.push({ ...joint, width });
    return joint;
  });
  const seen = new Set<number>();
  const loops: Loop[] = [];
  for (let first = 0; first < edges.length; first++) {
    if (seen.has(first)) continue;
    const vertices: Vertex[] = [];
    // The end at which an edge is entered.
    let at = 2 * first;
    do {
      const edge = at >> 1;
      seen.add(edge);
      const { bulge } = edges[edge]!;
      vertices.push({ ...joints[at]!, bulge: at % 2 === 0 ? bulge : -bulge });
      at = partner[at ^ 1]!;
    } while (at >> 1 !== first);
    loops.push({ path: { vertices, closed: true }, layer: edges[first]!.layer });
  }
  return { loops, gaps };
}

const distance = (a: End, b: End): number => Math.hypot(a.x - b.x, a.y - b.y);

/**
 * For every end the one it is joined to: the one at the same place, else the nearest loose one, nearest pairs
 * first, so that neither a short edge nor a gap that is smaller than another one leads astray.
 */
function partners(ends: readonly End[], edges: readonly DrawnEdge[]): number[] {
  const partner = ends.map(() => -1);
  const join = (a: End, b: End): void => {
    partner[a.index] = b.index;
    partner[b.index] = a.index;
  };
  for (const [a, b] of nearPairs(ends, SAME)) {
    if (partner[a.index] !== -1 || partner[b.index] !== -1) throw branches(a, ends, SAME, edges);
    join(a, b);
  }
  const loose = ends.filter((end) => partner[end.index] === -1);
  const pairs = nearPairs(loose, JOINED).map(([a, b]) => ({ a, b, width: distance(a, b) }));
  pairs.sort((p, q) => p.width - q.width || p.a.index - q.a.index || p.b.index - q.b.index);
  for (const { a, b } of pairs) {
    if (partner[a.index] === -1 && partner[b.index] === -1) join(a, b);
  }
  const left = loose.filter((end) => partner[end.index] === -1);
  if (left.length === 0) return partner;
  const branching = left.find((end) => near(end, ends, JOINED).length > 0);
  throw branching === undefined ? open(left) : branches(branching, ends, JOINED, edges);
}

const near = (at: End, ends: readonly End[], reach: number): End[] =>
  ends.filter((end) => end.index >> 1 !== at.index >> 1 && distance(end, at) <= reach);

/** Pairs of ends that are not farther apart, found along x; the ends of one edge are no pair. */
function nearPairs(ends: readonly End[], reach: number): (readonly [End, End])[] {
  const sorted = [...ends].sort((a, b) => a.x - b.x || a.index - b.index);
  const pairs: (readonly [End, End])[] = [];
  for (const [i, a] of sorted.entries()) {
    for (let j = i + 1; j < sorted.length && sorted[j]!.x - a.x <= reach; j++) {
      const b = sorted[j]!;
      if (a.index >> 1 === b.index >> 1 || distance(a, b) > reach) continue;
      pairs.push([a, b]);
      if (pairs.length > MOST_PAIRS) {
        throw new GatherpanError('BAD_INPUT', words().messages.dxf.branches(String(pairs.length), place(a)));
      }
    }
  }
  return pairs;
}

export const place = ({ x, y }: { readonly x: number; readonly y: number }): string =>
  words().messages.dxf.place(String(rounded(x)), String(rounded(y)));

const rounded = (value: number): number => Math.round(value * 1e3) / 1e3 + 0;

function open(loose: readonly End[]): GatherpanError {
  let [gap, from, to] = [Number.POSITIVE_INFINITY, loose[0]!, loose[0]!];
  // Of very many, the first ones will do to name a place.
  const shown = loose.slice(0, 1000);
  for (const a of shown) {
    for (const b of shown) {
      if (a !== b && distance(a, b) < gap) [gap, from, to] = [distance(a, b), a, b];
    }
  }
  return new GatherpanError(
    'BAD_INPUT',
    words().messages.dxf.open(place(from), place(to), String(rounded(gap)), String(JOINED)),
  );
}

function branches(at: End, ends: readonly End[], reach: number, edges: readonly DrawnEdge[]): GatherpanError {
  const others = near(at, ends, reach);
  const far = ends[at.index ^ 1]!;
  const same = others.some((other) => {
    const [a, b] = [edges[at.index >> 1]!, edges[other.index >> 1]!];
    return (
      a !== b &&
      Math.abs(Math.abs(a.bulge) - Math.abs(b.bulge)) < 1e-3 &&
      distance(ends[other.index ^ 1]!, far) <= reach
    );
  });
  const say = words().messages.dxf;
  return new GatherpanError(
    'BAD_INPUT',
    same ? say.twice(place(at)) : say.branches(String(others.length + 1), place(at)),
  );
}

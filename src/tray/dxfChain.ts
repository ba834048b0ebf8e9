/** Edges of a drawing joined into the one closed chain they have to be. */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import type { DrawnEdge } from './dxfEdges.ts';
import { shown } from './sentences.ts';

/** Ends nearer to each other than this are joined, mm. */
const JOINED = 0.01;

/** An end of an edge: 0 its start, 1 its end. */
interface End {
  readonly edge: number;
  readonly end: 0 | 1;
  readonly x: number;
  readonly y: number;
}

/**
 * The edges in the order and the direction in which one walks around, the first one first and as drawn, with
 * ends that meet exactly.
 *
 * @throws GatherpanError BAD_INPUT when they are not one closed chain; the sentence goes after the drawing's name
 */
export function chained(edges: readonly DrawnEdge[]): DrawnEdge[] {
  if (edges.length < 2) {
    throw new GatherpanError('BAD_INPUT', words().messages.tray.drawing.empty);
  }
  const ends = edges.flatMap((edge, i): End[] => [
    { edge: i, end: 0, x: edge.x0, y: edge.y0 },
    { edge: i, end: 1, x: edge.x1, y: edge.y1 },
  ]);
  const partners = ends.map((at) => partnersOf(at, ends));
  const branching = partners.findIndex((others) => others.length > 1);
  if (branching >= 0) throw branches(ends[branching]!, partners[branching]!, edges);
  const loose = ends.filter((_, i) => partners[i]!.length === 0);
  if (loose.length > 0) throw open(loose);
  const order = walk(partners, edges.length);
  if (order.length < edges.length) throw severalChains(edges, partners);
  const joints = order.map(({ edge, reversed }, i) => {
    const before = order[(i + order.length - 1) % order.length]!;
    const [a, b] = [startOf(edges[edge]!, reversed), startOf(edges[before.edge]!, !before.reversed)];
    return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as const;
  });
  return order.map(({ edge, reversed }, i) => {
    const [x0, y0] = joints[i]!;
    const [x1, y1] = joints[(i + 1) % joints.length]!;
    const { bulge, layer } = edges[edge]!;
    return { x0, y0, x1, y1, bulge: reversed ? -bulge : bulge, layer };
  });
}

const startOf = (edge: DrawnEdge, reversed: boolean): readonly [number, number] =>
  reversed ? [edge.x1, edge.y1] : [edge.x0, edge.y0];

const distance = (a: End, b: End): number => Math.hypot(a.x - b.x, a.y - b.y);

const partnersOf = (at: End, ends: readonly End[]): End[] =>
  ends.filter((other) => other !== at && distance(at, other) <= JOINED);

interface Step {
  readonly edge: number;
  readonly reversed: boolean;
}

/** Walks on from the first edge until it is back. Every end has one partner. */
function walk(partners: readonly (readonly End[])[], count: number, from = 0): Step[] {
  const order: Step[] = [];
  let step: Step = { edge: from, reversed: false };
  do {
    order.push(step);
    const { edge, end } = partners[2 * step.edge + (step.reversed ? 0 : 1)]![0]!;
    step = { edge, reversed: end === 1 };
  } while (step.edge !== from && order.length < count);
  return order;
}

const place = ({ x, y }: End): string =>
  words().messages.tray.drawing.place(String(rounded(x)), String(rounded(y)));

const rounded = (value: number): number => Math.round(value * 1e3) / 1e3 + 0;

function open(loose: readonly End[]): GatherpanError {
  let [gap, from, to] = [Number.POSITIVE_INFINITY, loose[0]!, loose[0]!];
  for (const a of loose) {
    for (const b of loose) {
      if (a !== b && distance(a, b) < gap) [gap, from, to] = [distance(a, b), a, b];
    }
  }
  return new GatherpanError(
    'BAD_INPUT',
    words().messages.tray.drawing.open(place(from), place(to), String(rounded(gap)), String(JOINED)),
  );
}

function branches(at: End, others: readonly End[], edges: readonly DrawnEdge[]): GatherpanError {
  const same = others.find((other) => {
    const [a, b] = [edges[at.edge]!, edges[other.edge]!];
    const [p, q] = [startOf(a, at.end === 0), startOf(b, other.end === 0)];
    return Math.hypot(p[0] - q[0], p[1] - q[1]) <= JOINED;
  });
  const say = words().messages.tray.drawing;
  return new GatherpanError(
    'BAD_INPUT',
    same === undefined ? say.branches(String(others.length + 1), place(at)) : say.twice(place(at)),
  );
}

function severalChains(edges: readonly DrawnEdge[], partners: readonly (readonly End[])[]): GatherpanError {
  const seen = new Set<number>();
  let chains = 0;
  for (let i = 0; i < edges.length; i++) {
    if (seen.has(i)) continue;
    chains++;
    for (const { edge } of walk(partners, edges.length, i)) seen.add(edge);
  }
  const layers = [...new Set(edges.map((edge) => edge.layer))];
  const say = words().messages.tray.drawing;
  return new GatherpanError(
    'BAD_INPUT',
    layers.length > 1
      ? say.severalChainsOnLayers(String(chains), layers.slice(0, 10).map(shown).join(', '))
      : say.severalChains(String(chains)),
  );
}
